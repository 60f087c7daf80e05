import { jest } from '@jest/globals';
import type { Page } from 'playwright-core';
import { verifyBooks } from '../../apps/api/src/stores/verify/verify-books.js';
import { opened, sealantIn } from '../support/sealant.js';
import { Stock } from '../support/stock.js';
import { choosePlace } from './keying.js';
import { openScene, type Scene, scan } from './scene.js';

jest.setTimeout(120_000);

let scene: Scene;
let stock: Stock;

beforeAll(async () => {
  scene = await openScene('consumables');
  stock = await Stock.open(scene.server.testDatabase.ownerUrl);
});
afterAll(async () => {
  expect(await verifyBooks(scene.server.database)).toEqual([]);
  expect(scene.complaints).toEqual([]);
  await stock.close();
  await scene.stop();
});

async function atBench(page: Page, jobCode: string) {
  await page.goto('/bench');
  await page.getByRole('button', { name: /^Mode: / }).waitFor();
  await page.keyboard.press('F8');
  await page.getByRole('button', { name: 'Mode: fit' }).waitFor();
  await scan(page, jobCode);
  const last = page.getByRole('region', { name: 'The last scan' });
  await last.getByText('This job', { exact: true }).waitFor();
  return last;
}

it('is opened by a scan that charges its use, and stands on the open job card, where it is put right', async () => {
  const { lot } = await sealantIn(scene.owner, 'Case-joint sealant');
  const job = await stock.job([]);
  const [card, bench] = [await scene.page(), await scene.page()];
  await card.goto(`/jobs/${job.id}`);
  const section = card.getByRole('region', { name: 'Consumables' });
  // what every job is charged of the example's grease
  await section.getByRole('listitem').first().waitFor();

  const last = await atBench(bench, job.code);
  await scan(bench, lot.code);
  await last.getByText(/No cartridge of Case-joint sealant is open\./).waitFor();
  await last.getByRole('button', { name: /Open one now, and charge its use/ }).click();
  await last.getByText('Used', { exact: true }).waitFor();
  await last.getByText(/1 use is charged to the job\. Use by .* One was opened\. Write on it: L /).waitFor();
  await bench.getByRole('listitem').filter({ hasText: 'Case-joint sealant' }).getByText('Used', { exact: true }).waitFor();

  const row = section.getByRole('listitem').filter({ hasText: '1 use of Case-joint sealant' });
  await row.getByText('cost not known').waitFor();
  await row.getByText(/a use is about 1\/20 of what the container \(cartridge\) cost; Mary Fenwright/).waitFor();
  await row.getByRole('button', { name: 'Put right: 1 use of Case-joint sealant' }).click();
  await row.getByLabel('Why it counts no more').fill('it was for the other axle');
  await row.getByRole('button', { name: 'It counts no more' }).click();
  await row.getByText(/Counts no more: it was for the other axle \(Mary Fenwright/).waitFor();
});

it('is charged from the job card, past its use-by date over a name alone', async () => {
  const { lot } = await sealantIn(scene.owner, 'Stud lock', { keepsDays: 5 });
  await opened(scene.owner, lot.id, '2020-02-01');
  const job = await stock.job([]);
  const page = await scene.page();
  await page.goto(`/jobs/${job.id}`);
  const section = page.getByRole('region', { name: 'Consumables' });
  await section.getByRole('button', { name: 'Used on this job' }).click();
  const stud = section.getByLabel('What was used').locator('option', { hasText: 'Stud lock' });
  await section.getByLabel('What was used').selectOption((await stud.getAttribute('value')) ?? '');
  await section.getByLabel('How many uses').fill('2');
  await section.getByRole('button', { name: 'Charge it to the job' }).click();
  await section.getByText(/Past use-by since 6 Feb 2020/).waitFor();
  await section.getByLabel('Why it is used all the same').fill('for the stand, not the axle');
  await section.getByRole('button', { name: 'Use it all the same, in my name' }).click();
  const row = section.getByRole('listitem').filter({ hasText: '2 uses of Stud lock' });
  await row.getByText('all the same: for the stand, not the axle').waitFor();
});

it('is opened from its page, says what to write on it, is empty, and is found with something left in it', async () => {
  const { lot } = await sealantIn(scene.owner, 'Marking blue', { quantity: '1' });
  const page = await scene.page();
  await page.goto('/');
  await page.getByRole('navigation', { name: 'Places' }).waitFor();
  await scan(page, lot.code);
  const section = page.getByRole('region', { name: 'Container' });
  await section.getByRole('button', { name: 'Open one' }).click();
  await section.getByRole('button', { name: 'Open it' }).click();
  await section.getByText(/^Opened\. Write on it: L .* opened .* use by /).waitFor();
  await section.getByRole('button', { name: `It is empty: ${lot.code}` }).click();
  await section.getByRole('button', { name: 'Something is left in it' }).click();
  await section.getByLabel('How much is left').fill('a third');
  await section.getByRole('button', { name: 'It is here' }).click();
  await section.getByText('Scan the place, or choose it from the list.').waitFor();
  await choosePlace(page, 'Where it stands', 'B12');
  await section.getByRole('button', { name: 'It is here' }).click();
  await section.getByText(/Mary Fenwright: found again, a third/).waitFor();
  await section.getByRole('button', { name: `Thrown away: ${lot.code}` }).waitFor();
});

it('becomes one on the page of its part, with its minimum', async () => {
  const partId = await stock.part({ name: 'Wiping rags', material: 'other' });
  const page = await scene.page();
  await page.goto(`/stores/parts/${partId}`);
  await page.getByRole('button', { name: 'It goes by the container' }).click();
  const form = page.getByRole('form', { name: 'Kept by the container' });
  await form.getByLabel('What a container is').fill('pack of fifty');
  await form.getByText('so much a job', { exact: true }).click();
  await form.getByLabel('So much a job, of any type').fill('2.50');
  await form.getByRole('button', { name: 'Keep it' }).click();
  const section = page.getByRole('region', { name: 'Consumable' });
  await section.getByText(/So much a job is charged by rule: £2\.50 for any type from /).waitFor();
  await section.getByText(/Rags soaked with oil or solvent can take fire by themselves/).waitFor();
  const minimum = page.getByRole('region', { name: 'Minimum' });
  await minimum.getByRole('button', { name: 'Set a minimum' }).click();
  await minimum.getByLabel('Buy when fewer than').fill('2');
  await minimum.getByLabel('Buy up to').fill('4');
  await minimum.getByRole('button', { name: 'Keep it' }).click();
  await minimum.getByText(/Below 2 it stands on the list to buy, up to 4/).waitFor();
});

it('stands on the list to buy on a phone, firm by firm, until its order is written down', async () => {
  await sealantIn(scene.owner, 'Flange sealant');
  const page = await scene.page({ viewport: { width: 360, height: 760 } });
  await page.goto('/stores/to-buy');
  const firm = page.getByRole('region', { name: 'Veldrow Supplies' });
  const row = firm.getByRole('listitem').filter({ hasText: 'Flange sealant' });
  await row.getByText('9 cartridge').waitFor();
  await row.getByText('3 full; minimum 10, up to 12').waitFor();
  const overflow = await page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);
  expect(overflow).toBeLessThanOrEqual(0);
  await row.getByRole('button', { name: 'It is ordered: Flange sealant' }).click();
  await row.getByLabel('Order reference').fill('VS 118');
  await row.getByRole('button', { name: 'Write the order down' }).click();
  await row.waitFor({ state: 'detached' });
});

it('is asked for by a line of a job that nobody waits for', async () => {
  const { partId } = await sealantIn(scene.owner, 'Axle grease');
  const job = await stock.job([{ partId, critical: true, quantity: '9' }]);
  const page = await scene.page();
  await page.goto(`/jobs/${job.id}`);
  const line = page.getByRole('listitem').filter({ has: page.getByRole('button', { name: /about line 1$/ }) });
  await line.getByText('consumable, not waited for').waitFor();
  expect(await line.getByText('lacking').count()).toBe(0);
});
