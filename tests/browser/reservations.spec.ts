import { verifyBooks } from '../../apps/api/src/stores/verify/verify-books.js';
import type { ByPart } from '../../libs/contracts/src/by-part.js';
import type { JobCard } from '../../libs/contracts/src/jobs.js';
import type { ReservationList } from '../../libs/contracts/src/reservations.js';
import type { ToReserve } from '../../libs/contracts/src/to-reserve.js';
import { openScene, type Scene } from './scene.js';

let scene: Scene;
beforeAll(async () => {
  scene = await openScene('reserve');
});
afterAll(async () => {
  expect(await verifyBooks(scene.server.database)).toEqual([]);
  expect(scene.complaints).toEqual([]);
  await scene.stop();
});

const cardOf = async (id: string) => (await scene.owner.get<JobCard>(`/api/jobs/${id}`)).body;
/** What a job has reserved that does not lie in its tray. */
const reservedOf = async (id: string) =>
  (await scene.owner.get<ReservationList>(`/api/jobs/${id}/reservations`)).body.reservations.filter(
    ({ inTray }) => inTray === '0',
  );
const suggested = async () => (await scene.owner.get<ToReserve>('/api/coverage/to-reserve')).body.jobs;

/** The last of a part, the job that it goes to and the one that goes without. */
async function contested() {
  const { parts, jobs } = (await scene.owner.get<ByPart>('/api/coverage/by-part')).body;
  const row = parts.find(({ there, cells }) => there.free === '1' && cells.some(({ stops }) => stops))!;
  const loses = row.cells.find(({ stops }) => stops)!;
  const wins = loses.elsewhere.find(({ how }) => how === 'goes to it first')!.job;
  const winning = row.cells.find(({ jobId }) => jobId === wins.id)!;
  return {
    part: row.part,
    wins,
    winningLine: winning.lineNo,
    loses: jobs.find(({ id }) => id === loses.jobId)!,
    losingLine: loses.lineNo,
  };
}

it('keeps the last of a part for a line by one press, gives it to another job only with a reason, and lets it go again', async () => {
  const { wins, winningLine, loses, losingLine } = await contested();
  const page = await scene.page();
  await page.goto(`/jobs/${wins.id}`);
  await page.getByRole('button', { name: `more about line ${winningLine}`, exact: true }).click();
  await page.getByRole('button', { name: 'Reserve it' }).click();
  await page.getByRole('button', { name: `Reserve for line ${winningLine}`, exact: true }).click();
  await page.getByText('Reserved for this line').waitFor();
  expect(await reservedOf(wins.id)).toMatchObject([
    { line: { lineNo: winningLine }, quantity: '1', until: null, by: expect.any(String) },
  ]);

  // the other job sees who has it, and takes it with a reason
  const other = await scene.page();
  await other.goto(`/jobs/${loses.id}`);
  const stops = other.getByRole('article', { name: new RegExp(`^Line ${losingLine},`) });
  await stops.getByText(/is reserved for it/).waitFor();
  await stops.getByRole('button', { name: `Take it from ${wins.name}` }).click();
  await other.getByRole('button', { name: 'Take 1' }).click();
  await other.getByText('Say why.').waitFor();
  await other.getByLabel(`Why ${wins.name} has to wait`).fill('its owner comes on Friday');
  await other.getByRole('button', { name: 'Take 1' }).click();
  await stops.waitFor({ state: 'detached' });
  expect(await reservedOf(wins.id)).toEqual([]);
  expect(await reservedOf(loses.id)).toMatchObject([{ line: { lineNo: losingLine }, quantity: '1' }]);
  // the first page hears of it: its line stops the job now, and its record says who took it and why
  await page.getByRole('article', { name: new RegExp(`^Line ${winningLine},`) }).waitFor();
  expect((await cardOf(wins.id)).record.map(({ words }) => words).join(' ')).toContain('its owner comes on Friday');

  // and it is let go again
  await other.getByRole('button', { name: `more about line ${losingLine}`, exact: true }).click();
  await other.getByRole('button', { name: /^Release / }).click();
  await other.getByLabel('Why it is released').fill('he brings his own');
  await other.getByRole('button', { name: 'Release it' }).click();
  await other.getByText('Reserved for this line').waitFor({ state: 'detached' });
  expect(await reservedOf(loses.id)).toEqual([]);
});

it('reserves what a whole job counts on, then what all jobs count on, and says what is left', async () => {
  const page = await scene.page();
  const [first] = await suggested();
  await page.goto(`/jobs/${first!.job.id}`);
  await page.getByRole('button', { name: /^Reserve what .* on …$/ }).click();
  await page.getByRole('button', { name: /^Reserve what .* on$/ }).click();
  await page.getByRole('button', { name: /^Reserve what / }).waitFor({ state: 'detached' });
  expect((await suggested()).map(({ job }) => job.id)).not.toContain(first!.job.id);

  const rest = await suggested();
  await page.goto('/jobs/to-reserve');
  await page.getByRole('button', { name: `Reserve for all ${rest.length} jobs` }).click();
  await page.getByText(`Reserved for ${rest.length} jobs.`).waitFor();
  await page.getByText('Nothing is left to reserve').waitFor();
  expect(await suggested()).toEqual([]);
  for (const { job, counted, state } of rest) {
    const kept = await reservedOf(job.id);
    expect(kept.length).toBeGreaterThanOrEqual(counted.length);
    // an estimate keeps nothing for good
    expect(kept.every(({ until }) => (state === 'estimate') === (until !== null))).toBe(true);
  }
});

it('fits a phone, by the thumb', async () => {
  const page = await scene.page({ viewport: { width: 360, height: 800 } });
  const { loses } = await contested().catch(async () => ({
    loses: (await scene.owner.get<{ jobs: { id: string }[] }>('/api/jobs')).body.jobs[0]!,
  }));
  for (const path of [`/jobs/${loses.id}`, '/jobs/to-reserve']) {
    await page.goto(path);
    await page.getByRole('heading', { level: 1 }).waitFor({ state: 'attached' });
    expect(await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth)).toBeLessThanOrEqual(0);
  }
});
