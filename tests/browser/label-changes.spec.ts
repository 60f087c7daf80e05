import { jest } from '@jest/globals';
import type { Page } from 'playwright-core';
import { verifyBooks } from '../../apps/api/src/stores/verify/verify-books.js';
import { LabelDesk } from '../support/label-changes.js';
import { type Made, Stock } from '../support/stock.js';
import { pressFolded } from './acts.js';
import { openScene, type Scene, scan } from './scene.js';

jest.setTimeout(120_000);

let scene: Scene;
let stock: Stock;
let page: Page;
let desk: LabelDesk;

beforeAll(async () => {
  scene = await openScene('labelsborne');
  stock = await Stock.open(scene.server.testDatabase.ownerUrl);
  desk = new LabelDesk(scene.owner);
  page = await scene.page();
});
afterAll(async () => {
  expect(await verifyBooks(scene.server.database)).toEqual([]);
  expect(scene.complaints).toEqual([]);
  await stock.close();
  await scene.stop();
});

const said = (code: string) => code.replace(/^(.)(.*)(..)$/, '$1 $2 $3');
const seal = async (quantity = '1'): Promise<Made> => stock.lot(await stock.part({ name: 'Big seal' }), { quantity });
const labels = () => page.getByRole('region', { name: 'Labels of this' });
const rowOf = (code: string) =>
  labels()
    .getByRole('row')
    .filter({ hasText: said(code) });

it('a lost label is replaced by scans: the blank one, then the place; the lost one says what it was on and is now', async () => {
  const [[blank], place] = [await desk.blanks('lot', 1), await stock.place()];
  const lot = await stock.lot(await stock.part({ name: 'Big seal' }), { placeId: place.id });
  await page.goto('/stores');
  await page.getByRole('heading', { name: 'Stores' }).waitFor();
  await scan(page, blank!);
  await page.getByRole('heading', { name: /^Blank label/ }).waitFor();
  await scan(page, place.code);
  await page.getByRole('link', { name: `It has lost ${lot.code}` }).click();
  await page.getByRole('heading', { name: /^Another label for/ }).waitFor();
  expect(await page.getByLabel('Scan or key the blank label').inputValue()).toBe(blank);
  await page.getByRole('button', { name: 'Put this label in its place' }).click();
  await page.getByText(`${said(lot.code)} is void. Big seal is now ${said(blank!)}.`).waitFor();

  await page.goto('/stores');
  await page.getByRole('heading', { name: 'Stores' }).waitFor();
  await scan(page, lot.code);
  const strip = page.getByRole('region', { name: 'Scan' });
  await strip.getByText(/It was on Big seal: this label was lost.*it is now/).waitFor();
  await strip.getByRole('link', { name: `Open ${said(blank!)}` }).click();
  await rowOf(blank!).getByText('in use', { exact: true }).waitFor();
  await rowOf(lot.code).getByText('void', { exact: true }).waitFor();
});

it('a spoiled label of a place is replaced from its page by a new one, which is printed', async () => {
  const place = await stock.place();
  await page.goto(`/stores/places/${place.id}`);
  await labels()
    .getByRole('link', { name: /^Lost or spoiled/ })
    .click();
  await page.getByRole('radio', { name: /^spoiled/ }).check({ force: true });
  await page.getByRole('button', { name: 'Give it a new code' }).click();
  await page.getByText(`${said(place.code)} is void.`, { exact: false }).waitFor();
  await page.getByRole('button', { name: 'Print its label' }).click();
  await page
    .getByText(/1 label/)
    .first()
    .waitFor();
  await page.getByRole('link', { name: 'Look at it' }).click();
  await rowOf(place.code).getByText('void', { exact: true }).waitFor();
});

it('a blank label of another kind is refused in words, and what was keyed stays', async () => {
  const [lot, [box]] = [await seal(), await desk.blanks('unsorted', 1)];
  await page.goto(`/labels/${lot.code}/replace`);
  await page.getByLabel('What else to know').fill('torn off at the press');
  await scan(page, box!);
  await page.getByRole('button', { name: 'Put this label in its place' }).click();
  await page.getByText('Another kind of code').waitFor();
  expect(await page.getByLabel('What else to know').inputValue()).toBe('torn off at the press');
});

it('a second label is put on by a scan, and one of the two is taken off', async () => {
  const [lot, [blank]] = [await seal(), await desk.blanks('lot', 1)];
  await page.goto(`/stores/things/${lot.id}`);
  await labels().getByRole('button', { name: 'A further label' }).click();
  await scan(page, blank!);
  await page.getByLabel('What the further label is for').fill('its paperwork');
  await page.getByRole('button', { name: 'Put it on' }).click();
  await page.getByText(/both labels open it/).waitFor();
  await labels().getByRole('button', { name: 'Done' }).click();
  await labels()
    .getByRole('button', { name: `Take off ${lot.code}` })
    .click();
  await page.getByLabel(`Why ${lot.code} is taken off`).fill('it came off in the bath');
  await page.getByRole('button', { name: 'Take it off', exact: true }).click();
  await rowOf(lot.code).getByText('void', { exact: true }).waitFor();
  await rowOf(blank!).getByText('in use', { exact: true }).waitFor();
});

it('a bag is split with a blank label, and put together with the other again', async () => {
  const [lot, [blank]] = [await seal('5'), await desk.blanks('lot', 1)];
  await page.goto(`/stores/things/${lot.id}`);
  await pressFolded(page, 'Two bags in one');
  await page.getByLabel('How many are to be a lot of their own').fill('2');
  await scan(page, blank!);
  await page.getByLabel('Why it is split').fill('two packets');
  await page.getByRole('button', { name: 'Split it' }).click();
  await page.getByText(`2 of ${said(lot.code)} are ${said(blank!)} now`, { exact: false }).waitFor();
  await page.getByRole('link', { name: 'Look at it' }).click();
  await page.getByRole('region', { name: 'Parted and joined' }).getByText('2 split off').waitFor();

  await page.getByRole('button', { name: 'Put right what it is' }).click();
  await page.getByLabel('Condition').fill('worn');
  await page.getByLabel('Why it is put right').fill('looked at again');
  await page.getByRole('button', { name: 'Put it right' }).click();
  await page.getByRole('region', { name: 'Parted and joined' }).getByText('put right: condition: as new, now worn').waitFor();
  await pressFolded(page, 'The same as another');
  await scan(page, lot.code);
  await page.getByLabel('Why the two are one').fill('one packet after all');
  await page.getByRole('button', { name: 'Make this part of the other' }).click();
  await page.getByText(/condition, worn against as new/).waitFor();
  await page.getByRole('button', { name: 'Leave it' }).click();
  await page.getByRole('button', { name: 'Put right what it is' }).click();
  await page.getByLabel('Condition').fill('as new');
  await page.getByLabel('Why it is put right').fill('it was dirt');
  await page.getByRole('button', { name: 'Put it right' }).click();
  await page.getByRole('region', { name: 'Parted and joined' }).getByText('put right: condition: worn, now as new').waitFor();
  await pressFolded(page, 'The same as another');
  await scan(page, lot.code);
  await page.getByLabel('Why the two are one').fill('one packet after all');
  await page.getByRole('button', { name: 'Make this part of the other' }).click();
  await page.getByText('It turned out to be the same as', { exact: false }).waitFor();
  await page.getByRole('form', { name: 'The same as another' }).waitFor({ state: 'detached' });
  await scan(page, blank!);
  await page.getByRole('heading', { name: `${lot.code}, Big seal` }).waitFor({ state: 'attached' });
  await rowOf(blank!).getByText('in use, a further one').waitFor();
});
