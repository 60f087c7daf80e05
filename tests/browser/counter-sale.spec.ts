import { PDFiumLibrary } from '@hyzyla/pdfium';
import { jest } from '@jest/globals';
import type { Page } from 'playwright-core';
import { verifyBooks } from '../../apps/api/src/stores/verify/verify-books.js';
import type { SaleList } from '../../libs/contracts/src/selling.js';
import { Stock } from '../support/stock.js';
import { pressFolded } from './acts.js';
import { choosePlace } from './keying.js';
import { openScene, type Scene, scan } from './scene.js';

jest.setTimeout(120_000);

let scene: Scene;
let stock: Stock;
let page: Page;

beforeAll(async () => {
  scene = await openScene('counter');
  stock = await Stock.open(scene.server.testDatabase.ownerUrl);
  page = await scene.page();
});
afterAll(async () => {
  expect(await verifyBooks(scene.server.database)).toEqual([]);
  expect(scene.complaints).toEqual([]);
  await stock.close();
  await scene.stop();
});

const spoken = (code: string) => `${code.slice(0, 1)} ${code.slice(1, -2)} ${code.slice(-2)}`;

/** What other people's program reads in the document that a link opens. */
async function textBehind(name: string): Promise<string> {
  const path = await page.getByRole('link', { name }).getAttribute('href');
  const bytes = await (await page.request.get(path!)).body();
  const library = await PDFiumLibrary.init();
  const document = await library.loadDocument(bytes);
  const text = [...document.pages()].map((each) => each.getText()).join(' ');
  document.destroy();
  library.destroy();
  return text.replace(/\s+/g, ' ');
}

it('is scanned onto one receipt, which is opened and read; some of it comes back', async () => {
  const [seals, plates] = [
    await stock.lot(await stock.part({ name: 'Felt seal, rear' }), { quantity: '3' }),
    await stock.lot(await stock.part({ name: 'Lock plate' }), { quantity: '1' }),
  ];
  await page.goto('/stores/sell');
  await page.getByText('Nothing stands on this receipt yet').waitFor();
  for (const { code } of [seals, plates, seals]) await scan(page, code);
  const line = page.getByRole('listitem', { name: `Felt seal, rear, ${seals.code}` });
  await line.getByText('3 here', { exact: false }).waitFor();
  expect(await line.getByLabel(`How many of ${spoken(seals.code)}`).inputValue()).toBe('2');
  await line.getByLabel(`Price of ${spoken(seals.code)}`).fill('9.5');
  // a form left half done is kept
  await page.reload();
  expect(await line.getByLabel(`Price of ${spoken(seals.code)}`).inputValue()).toBe('9.5');
  await page.getByText('£9.50, and a price to key').waitFor();
  await page.getByLabel(`Price of ${spoken(plates.code)}`).fill('1.25');
  await page.getByLabel('Sold to').fill('Mr Penhale');
  await page.getByLabel('How it is paid').fill('cash');
  await page.getByText('£10.75').waitFor();
  await page.getByRole('button', { name: 'Sell it', exact: true }).click();

  await page.getByRole('heading', { name: /^Receipt \d+$/ }).waitFor();
  const text = await textBehind('The receipt, A4');
  for (const words of [
    '2 × Felt seal, rear',
    '1 × Lock plate',
    'Sold to Mr Penhale',
    'Paid: cash',
    'GBP 10.75',
    'maker’s manual',
  ])
    expect(text).toContain(words);
  expect(await textBehind('On a narrow roll')).toContain('GBP 10.75');
  await page.getByText('What it cost is unknown', { exact: false }).first().waitFor();

  await page.getByRole('button', { name: `Take back ${seals.code}` }).click();
  await page.getByLabel('How many come back').fill('1');
  await page.getByLabel('Given back').fill('4.75');
  await page.getByLabel('Why it comes back').fill('one too many');
  await page.getByRole('button', { name: 'Take it back' }).click();
  await page.getByText('Choose a place from the list, or scan it.').waitFor();
  await choosePlace(page, 'Where it lies from now on', stock.placeId);
  await page.getByRole('button', { name: 'Take it back' }).click();
  await page.getByText(/Taken back .*one too many; £4\.75 given back/).waitFor();
  expect(await textBehind('The receipt, A4')).toMatch(/Taken back .*1 × Felt seal, rear/);

  await page.getByRole('link', { name: 'What was sold' }).click();
  await page.getByRole('row').filter({ hasText: 'in part: £4.75' }).getByText('Mr Penhale').waitFor();
});

it('says before it is pressed which job would lose it, and is sold only over that', async () => {
  const partId = await stock.part({ name: 'Worm wheel, bronze' });
  const lot = await stock.lot(partId);
  const job = await stock.job([{ partId, critical: true }]);
  await page.goto(`/stores/things/${lot.id}`);
  await pressFolded(page, 'Sell it');
  const losing = page.getByRole('list', { name: 'Jobs that would be worse off' });
  await losing.getByText(/^line 1, Worm wheel, bronze .*would turn from 1 free in stores to/).waitFor();
  await losing.getByText('1 lacking', { exact: true }).waitFor();
  await losing.getByText(spoken(job.code)).waitFor();
  await page.getByLabel(`Price of ${spoken(lot.code)}`).fill('120');
  const before = (await scene.owner.get<SaleList>('/api/sales')).body.sales.length;
  await page.getByRole('button', { name: 'Sell it all the same' }).click();
  await page.getByRole('heading', { name: /^Receipt \d+$/ }).waitFor();
  expect((await scene.owner.get<SaleList>('/api/sales')).body.sales).toHaveLength(before + 1);
});

it('does not sell what is kept for own jobs before that is lifted', async () => {
  const partId = await stock.part({ name: 'Pinion, 7 teeth' });
  const lot = await stock.lot(partId);
  await page.goto(`/stores/parts/${partId}`);
  await page.getByRole('button', { name: 'Keep it for own jobs' }).click();
  await page.getByLabel('Why it is kept').fill('None are made any more.');
  await page.getByRole('button', { name: 'Keep it for own jobs' }).click();
  await page.getByText('None are made any more.').first().waitFor();
  await page.goto(`/stores/sell?code=${lot.code}`);
  await page.getByText(/Mary Fenwright keeps this part for own jobs: None are made any more\./).waitFor();
  await page.getByLabel(`Price of ${spoken(lot.code)}`).fill('80');
  await page.getByRole('button', { name: 'Sell it', exact: true }).click();
  await page.getByText('Not sold', { exact: true }).waitFor();
  await page.getByRole('button', { name: 'Lift it' }).click();
  await page.getByLabel('Why it may be sold').fill('a second one came in');
  await page.getByRole('button', { name: 'Lift it' }).click();
  const line = page.getByRole('listitem', { name: `Pinion, 7 teeth, ${lot.code}` });
  await line.getByText(/keeps this part for own jobs/).waitFor({ state: 'detached' });
  await page.getByRole('button', { name: 'Sell it', exact: true }).click();
  await page.getByRole('heading', { name: /^Receipt \d+$/ }).waitFor();
});
