import { jest } from '@jest/globals';
import type { Page } from 'playwright-core';
import { verifyBooks } from '../../apps/api/src/stores/verify/verify-books.js';
import { addPerson, ownerPassPhrase } from '../support/bare-server.js';
import { PassDesk } from '../support/pass-desk.js';
import { eventually, openScene, type Scene } from './scene.js';

jest.setTimeout(180_000);

let scene: Scene;
let page: Page;
let desk: PassDesk;
let boxId: string;
let keysId: string;

beforeAll(async () => {
  scene = await openScene('passing');
  desk = new PassDesk(scene.owner);
  boxId = (await desk.bought('box', '10')).id;
  keysId = (await desk.named(boxId, 'taper keys', '12')).id;
  page = await scene.page();
  await page.goto(`/stores/things/${boxId}`);
});
afterAll(async () => {
  expect(await verifyBooks(scene.server.database)).toEqual([]);
  expect(scene.complaints).toEqual([]);
  await scene.stop();
});

const section = () => page.getByRole('region', { name: 'Its cost, passed on' });
const rowOf = (words: string) => section().getByRole('row').filter({ hasText: words });
const choose = (way: string) => section().getByText(way, { exact: true }).click();
const press = (name: string) => section().getByRole('button', { name, exact: true }).click();

describe('the cost of what was opened', () => {
  it('says whose worth is lacking, takes worths row by row, and is shared by them', async () => {
    await section().getByText('Nobody has said what rows 1 and 2 are worth', { exact: false }).waitFor();
    await page.getByLabel('worth of row 1').fill('1');
    await page.getByLabel('worth of row 1').press('Enter');
    await page.getByLabel('worth of row 2').fill('2');
    await page.getByLabel('worth of row 2').press('Enter');
    await rowOf('taper keys').getByText('£6.67').waitFor();
    await press('Share it so');
    await section().getByRole('button', { name: 'Share it again so' }).waitFor();
    await eventually(async () => expect(await desk.of(boxId)).toMatchObject({ bore: '10.00', kept: '3.33' }));
  });

  it('is shared anew by hand, where what is left is said while it is keyed', async () => {
    await choose('hand, row by row');
    await page.getByLabel('share of row 1').fill('2.50');
    await page.getByLabel('share of row 2').fill('7');
    await page.getByLabel('share of row 2').press('Tab');
    await section().getByText('£0.50 is left to be named.').waitFor();
    await page.getByLabel('share of row 2').fill('7.50');
    await page.getByLabel('share of row 2').press('Tab');
    await section().getByLabel('Why it is shared so').fill('the rest is scrap');
    await press('Share it again so');
    await eventually(async () => expect(await desk.of(boxId)).toMatchObject({ kept: '2.50' }));
    expect((await desk.of(boxId)).sharings.map(({ way, why }) => [way, why])).toEqual([
      ['by hand', 'the rest is scrap'],
      ['relative value', ''],
    ]);
  });

  it('is on the page of what came out with its source', async () => {
    await page.goto(`/stores/things/${keysId}`);
    const cost = page.getByRole('region', { name: 'What it cost' });
    await cost.getByText('£7.50').first().waitFor();
    await cost.getByText('its share of £10.00 by hand, row by row', { exact: false }).waitFor();
  });

  it('is not shown to hands at the bench', async () => {
    await addPerson(scene.server, scene.owner, 'bench', 'tomh', 'Tom Hasleby');
    const other = await (await scene.context()).newPage();
    await other.goto('/sign-in');
    await other.getByLabel('Sign-in name').fill('tomh');
    await other.getByLabel('Pass phrase').fill(`${ownerPassPhrase} of tomh`);
    await other.getByRole('button', { name: 'Sign in' }).click();
    await other.getByRole('navigation', { name: 'Places' }).waitFor();
    await other.goto(`/stores/things/${boxId}`);
    await other.getByRole('button', { name: 'Name something out of it' }).waitFor();
    expect(await other.getByText('£').count()).toBe(0);
    expect(await other.getByRole('region', { name: 'Its cost, passed on' }).count()).toBe(0);
  });
});
