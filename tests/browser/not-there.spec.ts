import { jest } from '@jest/globals';
import type { Page } from 'playwright-core';
import { verifyBooks } from '../../apps/api/src/stores/verify/verify-books.js';
import { Stock } from '../support/stock.js';
import { pressFolded } from './acts.js';
import { coveredJob } from './covered-job.js';
import { pressByKey, tabTo } from './keying.js';
import { openScene, type Scene, scan } from './scene.js';

jest.setTimeout(120_000);

let scene: Scene;
let stock: Stock;
/** The job card, which nobody touches, and the screen at the rack. */
let card: Page;
let rack: Page;

beforeAll(async () => {
  scene = await openScene('notthere');
  stock = await Stock.open(scene.server.testDatabase.ownerUrl);
  [card, rack] = [await scene.page(), await scene.page()];
});
afterAll(async () => {
  expect(await verifyBooks(scene.server.database)).toEqual([]);
  expect(scene.complaints).toEqual([]);
  await stock.close();
  await scene.stop();
});

const line = () => card.getByRole('listitem').filter({ has: card.getByRole('button', { name: /about line 1$/ }) });
const warnings = () => card.getByRole('region', { name: /^Warnings/ });

async function openCard(jobId: string): Promise<void> {
  await card.goto(`/jobs/${jobId}`);
  await line().getByText('free in stores').first().waitFor();
}

it('is said at the place, stands on the open job card with its warning and on Today, and a scan onto the job finds it again', async () => {
  const { lot, job } = await coveredJob(scene, stock, 'Differential cross');
  await openCard(job.id);

  await rack.goto(`/stores/places/${stock.placeId}`);
  await rack.getByRole('button', { name: `Not there: ${lot.code}`, exact: true }).click();
  await rack.getByLabel('What whoever looks next should know').fill('Not in the next bin either.');
  await rack.getByRole('button', { name: 'It is not there' }).click();
  await rack.getByRole('link', { name: /Differential cross not found/ }).waitFor();

  await line().getByText('lacking').first().waitFor();
  await warnings()
    .getByText(/was not found where the books have it\./)
    .waitFor();

  await rack.goto('/');
  const flag = rack
    .getByRole('listitem')
    .filter({ hasText: /Differential cross: Looked for in Bin .*Not in the next bin either/ });
  await flag.getByRole('link', { name: 'Look at it' }).click();
  await rack.getByText(/^Missing since .*, Mary Fenwright\. Looked for in Bin/).waitFor();

  await rack.goto('/bench');
  await rack.getByRole('button', { name: /^Mode: / }).waitFor();
  await rack.keyboard.press('F8');
  await rack.getByRole('button', { name: 'Mode: fit' }).waitFor();
  await scan(rack, job.code);
  const last = rack.getByRole('region', { name: 'The last scan' });
  await last.getByText('This job', { exact: true }).waitFor();
  await scan(rack, lot.code);
  await last.getByText(/It was missing, and Mary Fenwright looked for it: it is found, and the mark is gone\./).waitFor();
  await warnings().waitFor({ state: 'detached' });
  await line().getByText('fitted').first().waitFor();
});

it('is said on the job card, shows on the page of the thing, and is found there in another place', async () => {
  const { lot, job } = await coveredJob(scene, stock, 'Intermediate lever');
  const place = await stock.place();
  await openCard(job.id);
  await rack.goto(`/stores/things/${lot.id}`);
  await rack.getByRole('button', { name: 'Not there', exact: true }).waitFor();

  await card.getByRole('button', { name: /^more about line 1$/ }).click();
  await card.getByRole('button', { name: `Not there: ${lot.code}`, exact: true }).click();
  await card.getByRole('button', { name: 'It is not there' }).click();
  await line().getByText('lacking').first().waitFor();

  await rack.getByText(/^Missing since .*, Mary Fenwright\./).waitFor();
  await rack.getByText('1 not found').first().waitFor();
  await rack.getByRole('button', { name: 'It is here' }).click();
  // where the books have it stands there at once: it must not come into what is being keyed
  expect(await rack.getByRole('combobox', { name: 'Where it is' }).inputValue()).toMatch(/^Bin /);
  await rack.getByRole('combobox', { name: 'Where it is' }).fill(`Bin ${place.id}`);
  await rack.getByRole('option', { name: new RegExp(`Bin ${place.id}`) }).click();
  await rack.getByRole('button', { name: 'It is here' }).click();
  await rack.getByText(/^Missing since/).waitFor({ state: 'detached' });
  await rack
    .getByRole('link', { name: `Bin ${place.id}` })
    .first()
    .waitFor();
  await line().getByText('free in stores').first().waitFor();
});

it('is answered late, and the form that was opened meanwhile stays with what is keyed in it', async () => {
  const lot = await stock.lot(await stock.part({ name: 'Speedometer worm' }));
  let answer = () => undefined as unknown;
  const isHeldUp = new Promise((resolve) => {
    answer = () => resolve(undefined);
  });
  await rack.route('**/not-there', async (route) => {
    await isHeldUp;
    await route.continue();
  });
  await rack.goto(`/stores/things/${lot.id}`);
  await rack.getByRole('button', { name: 'Not there', exact: true }).click();
  await rack.getByRole('button', { name: 'It is not there' }).click();
  await pressFolded(rack, 'Inspect it');
  expect(await rack.getByRole('form', { name: `Not there: ${lot.code}` }).count()).toBe(0);
  await rack.getByLabel('What was looked at').fill('the thread');
  answer();
  await rack.getByText(/^Missing since/).waitFor();
  await rack.getByText('Passed', { exact: true }).click();
  await rack.getByLabel('What was found').fill('no wear');
  expect(await rack.getByLabel('What was looked at').inputValue()).toBe('the thread');
  await rack.getByRole('button', { name: 'Put it on the record' }).click();
  await rack.getByRole('cell', { name: 'the thread' }).waitFor();
  await rack.unroute('**/not-there');
});

it('gives the focus to a form that is opened by keys, and takes it back where the acts are', async () => {
  const lot = await stock.lot(await stock.part({ name: 'Speedometer wheel' }));
  await rack.goto(`/stores/things/${lot.id}`);
  const more = rack.getByRole('button', { name: 'More to do with it' });
  await pressByKey(rack, more);
  await pressByKey(rack, rack.getByRole('button', { name: 'Two bags in one' }));
  const leave = rack.getByRole('button', { name: 'Leave it' });
  await leave.waitFor();
  expect(await more.getAttribute('aria-expanded')).toBe('false');
  await pressByKey(rack, leave, 12);
  await leave.waitFor({ state: 'detached' });
  await tabTo(rack, more, 8);
});
