import type { CoreAges } from '../../libs/contracts/src/core-ages.js';
import { eventually, openScene, type Scene } from './scene.js';

let scene: Scene;
beforeAll(async () => {
  scene = await openScene('ages');
});
afterAll(async () => {
  expect(scene.complaints).toEqual([]);
  await scene.stop();
});

const ages = async () => (await scene.owner.get<CoreAges>('/api/core-ages')).body;

it('shows how old a core is, takes down what somebody decided of it, and keeps that on the page of the unit', async () => {
  const [oldest] = (await ages()).cores;
  const page = await scene.page();
  await page.goto('/stores');
  await page.getByRole('link', { name: 'Cores by age' }).click();
  await page.getByRole('heading', { name: 'The oldest first' }).waitFor();
  await page
    .getByText('worth whole', { exact: false })
    .or(page.getByText('whole,', { exact: false }))
    .first()
    .waitFor();
  await page.getByRole('button', { name: `Look it through, ${oldest!.code}` }).click();
  await page.getByRole('button', { name: 'Put it on the record' }).click();
  await page.getByText('Say what becomes of it.', { exact: true }).waitFor();
  await page.getByText('Keep it', { exact: true }).click();
  await page.getByLabel('What was seen, and why').fill('dry inside, worth waiting for');
  await page.getByRole('button', { name: 'Put it on the record' }).click();
  await page.getByText('keep, dry inside, worth waiting for', { exact: false }).waitFor();
  await page.getByLabel('First', { exact: true }).selectOption('worth');
  await page.waitForURL(/order=worth/);
  await page.getByRole('heading', { name: 'Those worth most first' }).waitFor();
  await page.goto(`/stores/things/${oldest!.id}`);
  await page.getByRole('heading', { name: 'Looked through' }).waitFor();
  expect((await ages()).cores.find(({ id }) => id === oldest!.id)).toMatchObject({ standing: 'looked through' });
});

it('lets the marks be set', async () => {
  const page = await scene.page();
  await page.goto('/settings');
  await page.getByLabel('Look a core through after, in months').fill('9');
  await page.getByLabel('At the latest after, in months').fill('18');
  await page.getByRole('button', { name: 'Keep these marks' }).click();
  await eventually(async () => expect((await ages()).marks).toMatchObject({ firstMonths: 9, secondMonths: 18 }));
});
