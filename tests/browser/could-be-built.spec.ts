import type { Buildable } from '../../libs/contracts/src/buildable.js';
import { openScene, type Scene } from './scene.js';

let scene: Scene;
beforeAll(async () => {
  scene = await openScene('built');
});
afterAll(async () => {
  expect(scene.complaints).toEqual([]);
  await scene.stop();
});

it('says how many of each type, what stops the next one, and leads to the part that is lacking', async () => {
  const { types, total } = (await scene.owner.get<Buildable>('/api/buildable')).body;
  const stopped = types.find(({ lacking }) => lacking.parts.length > 0)!;
  const page = await scene.page();
  await page.goto('/jobs');
  await page.getByRole('link', { name: 'What could be built' }).click();
  await page.getByRole('heading', { name: `${total} in all` }).waitFor();
  const row = page.getByRole('row').filter({ hasText: stopped.unitType.name });
  await row.getByText(String(stopped.builds), { exact: true }).first().waitFor();
  await page.getByLabel('Asked for').selectOption('critical');
  await page.waitForURL(/lines=critical/);
  await page.getByText('the critical lines alone', { exact: false }).waitFor();
  await page.getByLabel('What may be used again').selectOption('replaced');
  const replaced = (await scene.owner.get<Buildable>('/api/buildable?lines=critical&own=replaced')).body;
  await page.getByRole('heading', { name: `${replaced.total} in all` }).waitFor();
  const [type] = replaced.types.filter(({ lacking }) => lacking.parts.length > 0);
  const part = type!.lacking.parts[0]!.part;
  await page
    .getByRole('link', { name: new RegExp(part.number) })
    .first()
    .click();
  await page
    .getByRole('heading', { name: new RegExp(part.name) })
    .first()
    .waitFor();
});

it('counts on what cores surely give when that is asked, keeps it in the address, and says what it is counted by', async () => {
  const page = await scene.page();
  await page.goto('/jobs/could-be-built');
  await page.getByLabel('Other cores in the yard').selectOption('broken');
  await page.waitForURL(/donors=broken/);
  await page.getByRole('heading', { name: 'What rests on cores not yet stripped' }).waitFor();
  const { donors } = (await scene.owner.get<Buildable>('/api/buildable?donors=broken')).body;
  await page.getByText(donors!.words).waitFor();
  await page.getByRole('button', { name: 'What is counted on' }).click();
  await page.getByText('the sure number, not the mean', { exact: false }).waitFor();
});
