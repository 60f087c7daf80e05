import { jest } from '@jest/globals';
import type { Page } from 'playwright-core';
import { newId } from '../../apps/api/src/platform/new-id.js';
import { countDifferenceId } from '../../apps/api/src/stores/ledger.js';
import { Stock } from '../support/stock.js';
import { pressFolded } from './acts.js';
import { openScene, type Scene } from './scene.js';

jest.setTimeout(120_000);

let scene: Scene;
let stock: Stock;
let page: Page;

beforeAll(async () => {
  scene = await openScene('asitstood');
  stock = await Stock.open(scene.server.testDatabase.ownerUrl);
  page = await scene.page();
});
afterAll(async () => {
  expect(scene.complaints).toEqual([]);
  await stock.close();
  await scene.stop();
});

async function moved(thingId: string, quantity: string, from: string, to: string, at: string): Promise<void> {
  await stock.query(
    `INSERT INTO movements (id, command_key, thing_id, quantity, from_holder_id, to_holder_id, reason, occurred_at, recorded_at)
     VALUES ($1, (SELECT key FROM commands LIMIT 1), $2, $3, $4, $5, 'put away', $6, $6)`,
    [newId(), thingId, quantity, from, to, at],
  );
}

it('shows what lay in a place at the end of a minute, and what was moved since is not there', async () => {
  const lot = await stock.lot(await stock.part({ name: 'Kingpin bush' }), { quantity: '0' });
  const [first, second] = [await stock.place(), await stock.place()];
  await moved(lot.id, '12', countDifferenceId, first.id, '2024-03-01T09:00:00Z');
  await moved(lot.id, '5', first.id, second.id, '2024-03-04T09:00:30Z');

  await page.goto(`/stores/places/${first.id}`);
  await page.getByRole('heading', { name: 'What came and what went' }).waitFor();
  await page
    .getByText(/: 5 went to Bin/)
    .first()
    .waitFor();
  await page
    .getByText(/: 12 came from the count/)
    .first()
    .waitFor();

  await pressFolded(page, 'As it stood');
  await page.getByRole('heading', { name: 'Which day?' }).waitFor();
  await page.getByLabel('Day').fill('2024-03-02');
  await page.getByRole('button', { name: 'Show it' }).click();
  await page.getByRole('link', { name: /Kingpin bush.*12$/ }).waitFor();
  await page.getByRole('cell', { name: '12' }).first().waitFor();

  await page.getByLabel('Day').fill('2024-03-05');
  await page.getByLabel('Time').fill('10:00');
  await page.getByRole('button', { name: 'Show it' }).click();
  await page.getByRole('link', { name: /Kingpin bush.*7$/ }).waitFor();
  expect(new URL(page.url()).searchParams.get('on')).toBe('2024-03-05');

  await page.getByLabel('Day').fill('2024-02-01');
  await page.getByRole('button', { name: 'Show it' }).click();
  await page.getByText('By what is on record nothing lay here then.').waitFor();
});

it('shows of a thing what happened to it, all of it or of one kind', async () => {
  const lot = await stock.lot(await stock.part({ name: 'Trunnion' }), { quantity: '3' });
  expect((await scene.owner.post(`/api/things/${lot.id}/hold`, { reason: 'thread is stripped' })).status).toBe(200);
  await page.goto(`/stores/things/${lot.id}`);
  const history = page.getByRole('list', { name: 'Where it has been, and what was done' });
  await history.getByText('thread is stripped', { exact: false }).waitFor();
  await history.getByText(/^3 from the count to Bin/).waitFor();
  await page.getByLabel('Show').selectOption('Held back or lifted');
  await history.getByText(/^3 from the count/).waitFor({ state: 'detached' });
  expect(await history.getByRole('listitem').count()).toBe(1);
});

it('learns a name that nothing was found by', async () => {
  const partId = await stock.part({ name: 'Torque reaction plate', number: 'TRP-9911' });
  await page.goto('/stores?q=the+frying+pan');
  await page.getByRole('button', { name: 'It has another name in the books' }).click();
  await page.getByLabel('What is called “the frying pan”').fill('TRP-9911');
  await page.getByRole('option', { name: /Torque reaction plate/ }).click();
  await page.getByRole('button', { name: 'Call it that' }).click();
  await page.getByRole('link', { name: /Torque reaction plate/ }).click();
  await page.getByText('the frying pan').waitFor();
  expect(new URL(page.url()).pathname).toBe(`/stores/parts/${partId}`);
});
