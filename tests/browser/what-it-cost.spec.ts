import { jest } from '@jest/globals';
import type { Page } from 'playwright-core';
import { newId } from '../../apps/api/src/platform/new-id.js';
import { verifyBooks } from '../../apps/api/src/stores/verify/verify-books.js';
import type { LoadCost } from '../../libs/contracts/src/costs.js';
import { addPerson, ownerPassPhrase } from '../support/bare-server.js';
import { eventually, openScene, type Scene } from './scene.js';

jest.setTimeout(180_000);

let scene: Scene;
let page: Page;
let loadId: string;

beforeAll(async () => {
  scene = await openScene('cost');
  page = await scene.page();
  loadId = newId();
  const load = {
    id: loadId,
    words: 'Clearance at Upper Quelling',
    sellerName: 'Dray & Tolliver, sale rooms',
    boughtOn: '2026-11-21',
  };
  expect((await scene.owner.post('/api/loads', load)).status).toBe(200);
  for (const [index, words] of ['worm axle', 'gearbox, lid off', 'tin of shims'].entries()) await keyRow(index + 1, words);
  await page.goto(`/goods-in/${loadId}`);
});
afterAll(async () => {
  expect(await verifyBooks(scene.server.database)).toEqual([]);
  expect(scene.complaints).toEqual([]);
  await scene.stop();
});

async function keyRow(position: number, words: string): Promise<void> {
  const row = { kind: 'unit', position, unitTypeId: null, words };
  expect((await scene.owner.put(`/api/loads/${loadId}/rows/${newId()}`, row)).status).toBe(200);
}

const cost = async (): Promise<LoadCost> => (await scene.owner.get<LoadCost>(`/api/loads/${loadId}/cost`)).body;
const section = () => page.getByRole('region', { name: 'What it cost' });
const rowOf = (words: string) => section().getByRole('row').filter({ hasText: words });

describe('what a load cost', () => {
  it('is keyed in another currency, and what was said to be in it beside what was found', async () => {
    await section().getByRole('button', { name: 'Key what was paid' }).click();
    await page.getByLabel('Price').fill('0');
    await page.getByLabel('Haulage').fill('100');
    await page.getByLabel('Currency').fill('eur');
    await page.getByLabel('What 1 EUR came to, in GBP').fill('0.5');
    await page.getByRole('button', { name: 'Key what was said to be in it' }).click();
    await page.getByLabel('Said to be in it').fill('Worm axle');
    await page.getByLabel('How many').fill('2');
    await page.getByRole('button', { name: 'Keep it' }).click();
    await page.getByText('A price of nought is no price', { exact: false }).waitFor();
    await page.getByLabel('Price').fill('1900.02');
    await page.getByText('it comes to £1,000.01').waitFor();
    await page.getByRole('button', { name: 'Keep it' }).click();
    await section().getByText('so far: fees are not known').waitFor();
    const said = page.getByRole('region', { name: 'Said and found' }).getByRole('row').filter({ hasText: 'Worm axle' });
    await said.getByText('1 short').waitFor();
  });

  it('is shared by worth, keyed down the column by Enter, and kept as each cell is left', async () => {
    await section().getByText('Nobody has said what rows 1, 2 and 3 are worth', { exact: false }).waitFor();
    await section().getByLabel('worth of row 1').fill('600');
    await page.keyboard.press('Enter');
    await page.keyboard.type('a fiver');
    await page.keyboard.press('Enter');
    await section().getByText('"a fiver" is not an amount', { exact: false }).waitFor();
    expect(await section().getByLabel('worth of row 2').inputValue()).toBe('a fiver');
    await section().getByLabel('worth of row 2').fill('200');
    await page.keyboard.press('Enter');
    await page.keyboard.type('200');
    await page.keyboard.press('Enter');
    await rowOf('tin of shims').getByText('£200.00').waitFor();
    await section().getByLabel('Why it is shared so').fill('by the sale room’s guide');
    await section().getByRole('button', { name: 'Share it so' }).click();
    await section().getByRole('button', { name: 'Share it again so' }).waitFor();
    expect((await cost()).rows.map((row) => row.share)).toEqual(['600.01', '200.00', '200.00']);
  });

  it('stands on the page of a thing with where it comes from', async () => {
    await rowOf('worm axle').getByRole('link').click();
    const thing = page.getByRole('region', { name: 'What it cost' });
    await thing.getByText('£600.01').first().waitFor();
    await thing.getByText('So far: fees are not known.').waitFor();
    await thing.getByText('by the sale room’s guide', { exact: false }).waitFor();
    await thing.getByRole('link', { name: /^load \d+$/ }).click();
    await section().getByRole('button', { name: 'Share it again so' }).waitFor();
  });

  it('no longer fits when a row comes later, and is shared again by hand with the history kept', async () => {
    await keyRow(4, 'half shaft');
    await section().getByText('What was shared no longer fits', { exact: false }).waitFor();
    await section().getByText('hand, row by row').click();
    await section().getByText('Row 4 has no share', { exact: false }).waitFor();
    await section().getByLabel('share of row 4').fill('100');
    await page.keyboard.press('Enter');
    await section().getByText('£100.00 too much is named.').waitFor();
    expect(await section().getByRole('button', { name: 'Share it again so' }).isDisabled()).toBe(true);
    await section().getByLabel('share of row 1').fill('500.01');
    await page.keyboard.press('Enter');
    await section().getByRole('button', { name: 'Share it again so' }).click();
    await section().getByRole('button', { name: 'How it was shared, 2 times' }).click();
    await section().getByText('row 1, worm axle: −£100.00').waitFor();
    await section().getByText('row 1, worm axle: +£600.01').waitFor();
    await eventually(async () =>
      expect((await cost()).rows.map((row) => row.share)).toEqual(['500.01', '200.00', '200.00', '100.00']),
    );
  });
});

describe('somebody who does not keep the books', () => {
  it('sees the load and the thing without their cost, and nothing is asked for', async () => {
    await addPerson(scene.server, scene.owner, 'bench', 'benchhand', 'Bench Hand');
    const theirs = await (await scene.context()).newPage();
    await theirs.goto('/sign-in');
    await theirs.getByRole('heading', { name: 'Sign in' }).waitFor();
    await theirs.keyboard.type('benchhand');
    await theirs.keyboard.press('Tab');
    await theirs.keyboard.type(`${ownerPassPhrase} of benchhand`);
    await theirs.keyboard.press('Enter');
    await theirs.getByRole('navigation', { name: 'Places' }).waitFor();
    const asked: string[] = [];
    theirs.on('request', (request) => asked.push(new URL(request.url()).pathname));
    await theirs.goto(`/goods-in/${loadId}`);
    await theirs.getByText('worm axle').first().waitFor();
    const { rows } = await cost();
    await theirs.goto(`/stores/things/${rows[0]?.id}`);
    await theirs.getByRole('heading', { name: 'Where it has been' }).waitFor();
    expect(await theirs.getByRole('heading', { name: 'What it cost' }).count()).toBe(0);
    expect(asked.filter((path) => path.endsWith('/cost'))).toEqual([]);
  });
});
