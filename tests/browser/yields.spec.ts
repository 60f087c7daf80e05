import type { Disposition } from '../../libs/contracts/src/cores.js';
import type { YieldChoices } from '../../libs/contracts/src/yields.js';
import { keyRow, openLoad, unitRow } from '../support/load-stock.js';
import { StripBench } from '../support/strip-bench.js';
import { openScene, type Scene } from './scene.js';

let scene: Scene;
beforeAll(async () => {
  scene = await openScene('yields');
});
afterAll(async () => {
  expect(scene.complaints).toEqual([]);
  await scene.stop();
});

/** A load of six axles of one type, of each of which the worm wheel was looked at. */
async function sixStripped(): Promise<{ loadId: string; typeId: string; otherTypeId: string }> {
  const { owner } = scene;
  const { unitTypes } = (await owner.get<YieldChoices>('/api/yield-choices')).body;
  const type = unitTypes.find(({ name }) => name.includes('WD7'))!;
  const other = unitTypes.find(({ name }) => name.includes('S11'))!;
  const [place] = (await owner.get<{ places: { id: string }[] }>('/api/places?q=R3%20B12')).body.places;
  const load = await openLoad(owner, 'six axles for their wheels');
  const fates: Disposition[] = ['left in place', 'replace', 'left in place', 'scrap', 'left in place', 'replace'];
  for (const [index, fate] of fates.entries()) {
    const keyed = unitRow({ position: index + 1, unitTypeId: type.id, words: '', grade: 'B', placeId: place!.id });
    const { id, code } = (await keyRow(owner, load.id, keyed)).body;
    const bench = await StripBench.open(owner, { id, code });
    await bench.recorded(4, fate, { finding: 'worn' });
  }
  return { loadId: load.id, typeId: type.id, otherTypeId: other.id };
}

it('leads from a load to what came out of its cores, says the range to eyes and ears, and keeps what is asked in the address', async () => {
  const { loadId, typeId, otherTypeId } = await sixStripped();
  const page = await scene.page();
  await page.goto(`/goods-in/${loadId}`);
  await page.getByRole('link', { name: 'What came out of its cores' }).click();
  const row = page.getByRole('row').filter({ hasText: 'Worm wheel' });
  await row.getByText('3 of 6', { exact: true }).waitFor();
  await row
    .getByRole('img', { name: '3 of 6 that were looked at were serviceable: between 20 and 80 in 100; expect 50.' })
    .waitFor();
  const cores = await row.getByRole('cell').last().textContent();
  await page.getByLabel('Good ones wanted').fill('4');
  await page.getByLabel('Good ones wanted').press('Enter');
  await page.getByRole('columnheader', { name: 'cores to buy for 4' }).waitFor();
  expect(new URL(page.url()).searchParams.get('wanted')).toContain('4');
  expect(Number(await row.getByRole('cell').last().textContent())).toBeGreaterThan(Number(cores));
  await page.getByLabel('Load', { exact: true }).selectOption({ label: 'all loads' });
  await page.getByLabel('Unit type').selectOption(typeId);
  await page.waitForURL((url) => url.searchParams.get('type') === typeId && !url.searchParams.has('load'));
  // with those that the example took apart
  await row.getByText('9 of 15', { exact: true }).waitFor();
  await page.getByLabel('Unit type').selectOption(otherTypeId);
  await page.getByText('nobody has looked at one yet').first().waitFor();
  await page.getByLabel('Unit type').selectOption(typeId);
  await row.getByText('9 of 15', { exact: true }).waitFor();
  await page.getByLabel('Grade of the core').selectOption('B');
  await page.waitForURL(/grade=B/);
  await page.getByLabel('Good ones wanted').fill('many');
  await page.getByRole('button', { name: 'Reckon it' }).click();
  await page.getByText('Not counted').waitFor();
});
