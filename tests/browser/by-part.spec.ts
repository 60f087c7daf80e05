import type { ByPart } from '../../libs/contracts/src/by-part.js';
import type { JobCard } from '../../libs/contracts/src/jobs.js';
import { openScene, type Scene } from './scene.js';

let scene: Scene;
beforeAll(async () => {
  scene = await openScene('bypart');
});
afterAll(async () => {
  expect(scene.complaints).toEqual([]);
  await scene.stop();
});

const board = async () => (await scene.owner.get<ByPart>('/api/coverage/by-part')).body;
const spoken = (code: string) => `${code.slice(0, 1)} ${code.slice(1, -2)} ${code.slice(-2)}`;

/** The part of which there is one, who gets it and who goes without. */
async function contested() {
  const { parts, jobs } = await board();
  const row = parts.find(({ there, cells }) => there.free === '1' && cells.some(({ stops }) => stops))!;
  const loses = row.cells.find(({ stops }) => stops)!;
  const job = (id: string) => jobs.find((each) => each.id === id)!;
  const first = loses.elsewhere.find(({ how }) => how === 'goes to it first')!;
  return { part: row.part, loses: job(loses.jobId), line: loses.lineNo, wins: job(first.job.id), words: first.words };
}

it('hangs the jobs over the parts, and says of the last one who gets it, who goes without, and why', async () => {
  const { part, loses, wins, words } = await contested();
  const page = await scene.page();
  await page.goto('/jobs');
  await page.getByRole('link', { name: 'Parts in conflict' }).click();
  const row = page.getByRole('article', { name: `${part.number} ${part.name}` });
  await row.getByText(`${spoken(loses.code)} goes without`).waitFor();
  await row.getByText(words).waitFor();
  await row.getByText('served first').waitFor();
  const hung = page.getByRole('list', { name: /^Jobs on this board/ });
  expect(await hung.getByRole('link').count()).toBe((await board()).jobs.length);
  // each mark stands under the tag of its job
  const middle = async (locator: ReturnType<typeof row.getByRole>) => {
    const box = (await locator.boundingBox())!;
    return box.x + box.width / 2;
  };
  for (const { id, code } of [wins, loses]) {
    const tag = hung.getByRole('link', { name: new RegExp(`^${spoken(code)}`) });
    const cell = row.locator(`a[href^="/jobs/${id}#"]`);
    expect(Math.abs((await middle(tag)) - (await middle(cell)))).toBeLessThan(3);
  }
});

it('leads to the part, to the job’s line, and to what would be if the job that goes without came first', async () => {
  const { part, loses, line } = await contested();
  const page = await scene.page();
  await page.goto('/jobs/by-part');
  const row = page.getByRole('article', { name: `${part.number} ${part.name}` });
  await row.locator(`a[href="/jobs/${loses.id}#line-${line}"]`).click();
  await page.getByRole('heading', { name: new RegExp(`^Job card ${loses.code}`) }).waitFor({ state: 'attached' });
  await page.waitForFunction((id) => {
    const box = document.getElementById(id)?.getBoundingClientRect();
    return box !== undefined && box.top >= 0 && box.bottom <= window.innerHeight;
  }, `line-${line}`);
  await page.goBack();
  await row.getByRole('link', { name: `What if ${spoken(loses.code)} came first?` }).click();
  await page.waitForURL(new RegExp(`suppose=first\\.${loses.id}`));
  await page.getByRole('heading', { name: 'Who wins, who loses' }).waitFor();
  await page.goBack();
  await row.getByRole('link', { name: part.name }).click();
  await page.waitForURL(/\/stores\/parts\//);
});

it('is a list by part on a phone, with the jobs named in it', async () => {
  const { part, loses } = await contested();
  const page = await scene.page({ viewport: { width: 360, height: 800 } });
  await page.goto('/jobs/by-part');
  const row = page.getByRole('article', { name: `${part.number} ${part.name}` });
  await row.getByText(loses.name, { exact: false }).first().waitFor();
  expect(await page.getByRole('list', { name: /^Jobs on this board/ }).isVisible()).toBe(false);
  expect(await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth)).toBeLessThanOrEqual(0);
  await page.keyboard.press('End');
  const last = (await board()).parts.at(-1)!.part;
  await page.getByRole('article', { name: `${last.number} ${last.name}` }).scrollIntoViewIfNeeded();
});

it('is fresh: once the other job comes first, it is the other that goes without', async () => {
  const { part, loses, wins } = await contested();
  const page = await scene.page();
  await page.goto('/jobs/by-part');
  const row = page.getByRole('article', { name: `${part.number} ${part.name}` });
  await row.getByText(`${spoken(loses.code)} goes without`).waitFor();
  const { title, wanted, buildStandard, state, version } = (await scene.owner.get<JobCard>(`/api/jobs/${loses.id}`)).body;
  const body = { title, wanted, buildStandard, state, priority: 1 };
  expect((await scene.owner.patch(`/api/jobs/${loses.id}`, body, { ifMatch: version })).status).toBe(200);
  await row.getByText(`${spoken(wins.code)} goes without`).waitFor();
});
