import { jest } from '@jest/globals';
import type { Page } from 'playwright-core';
import { verifyBooks } from '../../apps/api/src/stores/verify/verify-books.js';
import type { Thing } from '../../libs/contracts/src/stores.js';
import { type Made, Stock } from '../support/stock.js';
import { choosePlace } from './keying.js';
import { eventually, openScene, type Scene, scan } from './scene.js';

jest.setTimeout(120_000);

let scene: Scene;
let stock: Stock;
let page: Page;
let job: Awaited<ReturnType<Stock['job']>>;
let lots: { washers: Made; seals: Made; instead: Made };
let bins: { washers: Made; seals: Made };

/** A job whose parts lie in two bins; of a third there is none, but another part that would go in its place. */
beforeAll(async () => {
  scene = await openScene('unkit');
  stock = await Stock.open(scene.server.testDatabase.ownerUrl);
  const [washer, seal, plate, other] = [
    await stock.part({ name: 'Thrust washer' }),
    await stock.part({ name: 'Oil seal, hub' }),
    await stock.part({ name: 'Lock plate' }),
    await stock.part({ name: 'Lock plate, later', number: '51-0099' }),
  ];
  bins = { washers: await stock.place(), seals: await stock.place() };
  lots = {
    washers: await stock.lot(washer, { quantity: '6', placeId: bins.washers.id }),
    seals: await stock.lot(seal, { quantity: '2', placeId: bins.seals.id }),
    instead: await stock.lot(other, { placeId: bins.seals.id }),
  };
  const relation = { kind: 'will serve for', toPartIds: [plate], evidence: { kind: 'measured', words: 'the same holes' } };
  expect((await scene.owner.post(`/api/parts/${other}/relations`, relation)).status).toBe(200);
  job = await stock.job([{ partId: washer, quantity: '4' }, { partId: seal, quantity: '2' }, { partId: plate }]);
  page = await scene.page();
});
afterAll(async () => {
  expect(await verifyBooks(scene.server.database)).toEqual([]);
  expect(scene.complaints).toEqual([]);
  await stock.close();
  await scene.stop();
});

const spoken = (code: string) => `${code.slice(0, 1)} ${code.slice(1, -2)} ${code.slice(-2)}`;
const holdings = async (lot: Made) =>
  (await scene.owner.get<Thing>(`/api/things/${lot.id}`)).body.holdings.map(({ holderId, quantity }) => [holderId, quantity]);

it('kits a job by scan with one short: the other part is offered at the very stop, and the lists say partly kitted', async () => {
  await page.goto(`/jobs/pick-list?jobs=${job.id}`);
  const offered = page.getByRole('list', { name: /^In place of what is short, at / });
  await offered.getByText('Short: Lock plate').waitFor();
  await offered.getByText(spoken(lots.instead.code)).waitFor();
  await page.keyboard.press('F4');
  await page.getByRole('button', { name: 'Mode: pick' }).waitFor();
  await scan(page, job.code);
  await page.getByRole('region', { name: 'Scan' }).getByRole('status').filter({ hasText: 'This job' }).waitFor();
  await scan(page, lots.washers.code);
  await page.getByText('4 of 7 in the tray', { exact: false }).first().waitFor();
  await scan(page, lots.seals.code);
  await page.getByText('6 of 7 in the tray', { exact: false }).first().waitFor();

  await page.goto('/jobs');
  await page
    .getByRole('row')
    .filter({ hasText: spoken(job.code) })
    .getByText('partly kitted')
    .waitFor();
});

it('goes back by scan of a place and a label, then all at once, and comes into the tray again as one', async () => {
  await page.goto(`/jobs/${job.id}`);
  await page.getByRole('link', { name: 'Empty the tray' }).click();
  const list = page.getByRole('list', { name: 'In the walking order of where it came from' });
  await list.getByText(spoken(lots.washers.code), { exact: true }).waitFor();
  await page.keyboard.press('F2');
  await scan(page, bins.seals.code);
  await page.getByText(/: scan each label that you put back here\./).waitFor();
  await scan(page, lots.seals.code);
  await page.getByText(/1 row back in stores/).waitFor();
  expect(await holdings(lots.seals)).toEqual([[bins.seals.id, '2']]);

  await page.getByRole('button', { name: 'All back where it came from' }).click();
  await page.getByText('Nothing lies in this tray').waitFor();
  expect(await holdings(lots.washers)).toEqual([[bins.washers.id, '6']]);
  await page.getByRole('button', { name: 'Undo that: all of it into the tray again' }).click();
  await list.getByText(spoken(lots.washers.code), { exact: true }).waitFor();
  await eventually(async () => expect(await holdings(lots.washers)).toContainEqual([job.trayId, '4']));
});

it('may go to another place than it came from, and a job that is called off keeps nothing', async () => {
  await stock.query("UPDATE jobs SET state = 'called off' WHERE id = $1", [job.id]);
  await page.reload();
  await page.getByText(/This job is called off: what goes back is promised to it no longer/).waitFor();
  const field = page.getByRole('combobox', { name: `Where ${spoken(lots.washers.code)} goes`, exact: true });
  expect(await field.inputValue()).toContain(bins.washers.id);
  await field.fill('no such bin');
  await page.getByRole('button', { name: 'Say first where 1 row goes' }).waitFor();
  await choosePlace(page, `Where ${spoken(lots.washers.code)} goes`, bins.seals.id);
  await page.getByRole('button', { name: 'All of it back, as it stands above' }).click();
  await page.getByText('Nothing lies in this tray').waitFor();
  expect(await holdings(lots.washers)).toEqual(
    expect.arrayContaining([
      [bins.seals.id, '4'],
      [bins.washers.id, '2'],
    ]),
  );
  const { body } = await scene.owner.get<Thing>(`/api/things/${lots.washers.id}`);
  expect(body.claimed).toBe('0');
});
