import type { Page } from 'playwright-core';
import type { z } from 'zod';
import type { JobList } from '../../libs/contracts/src/jobs.js';
import type { WhatIf } from '../../libs/contracts/src/what-if.js';
import { openScene, type Scene } from './scene.js';

let scene: Scene;
let jobs: z.infer<typeof JobList>['jobs'];
beforeAll(async () => {
  scene = await openScene('whatif');
  jobs = (await scene.owner.get<z.infer<typeof JobList>>('/api/jobs?limit=200')).body.jobs;
});
afterAll(async () => {
  expect(scene.complaints).toEqual([]);
  await scene.stop();
});

/** A job of the example by the number that the workshop gave it. */
const numbered = (number: number) => jobs.find(({ code }) => Number(code.slice(1, -2)) === number)!;

async function choose(page: Page, field: string, typed: string): Promise<void> {
  await page.getByLabel(field, { exact: true }).fill(typed);
  await page.getByRole('listbox').getByRole('option').first().click();
}

it('shows who wins and who loses if a job came first, from its card, with the job filled in', async () => {
  const [wins, loses] = [numbered(106), numbered(104)];
  const page = await scene.page();
  await page.goto(`/jobs/${wins.id}`);
  await page.getByRole('link', { name: 'What if', exact: true }).click();
  await page.waitForURL(new RegExp(`job=${wins.id}`));
  await page.getByText('Nothing is supposed yet').waitFor();
  expect(await page.getByLabel('Job', { exact: true }).inputValue()).toContain(wins.title);
  await page.getByRole('button', { name: 'Suppose this' }).click();
  await page.waitForURL(new RegExp(`suppose=first\\.${wins.id}`));
  const winner = page.getByRole('article', { name: `Job ${wins.title}` });
  const loser = page.getByRole('article', { name: `Job ${loses.title}` });
  await winner.getByText('better', { exact: true }).first().waitFor();
  await loser.getByText('worse', { exact: true }).first().waitFor();
  await loser.getByText('it is supposed to come first', { exact: false }).first().waitFor();
  const [asItIs, asItWould] = ['As it is', 'As it would be'].map((name) => loser.getByRole('heading', { name, exact: true }));
  const [left, right] = [(await asItIs!.boundingBox())!, (await asItWould!.boundingBox())!];
  expect(right.x).toBeGreaterThan(left.x + 100);
  expect(Math.abs(right.y - left.y)).toBeLessThan(4);
});

it('opens anew from the address that somebody sent, and says the same', async () => {
  const suppose = `first.${numbered(106).id}`;
  const { words, jobs: differ } = (await scene.owner.get<WhatIf>(`/api/what-if?suppose=${suppose}`)).body;
  const page = await scene.page();
  await page.goto(`/jobs/what-if?suppose=${suppose}`);
  await page.getByText(words).waitFor();
  expect(await page.getByRole('article').count()).toBe(differ.length);
  await page.reload();
  await page.getByText(words).waitFor();
});

it('takes several suppositions, folds the lines, and takes one away again', async () => {
  const page = await scene.page();
  await page.goto(`/jobs/what-if?suppose=first.${numbered(106).id}`);
  const supposed = page.getByRole('list', { name: 'Supposed' });
  await supposed.getByText('comes first', { exact: false }).waitFor();
  await page.getByLabel('Suppose that').selectOption('order');
  await page.getByRole('button', { name: 'Suppose this as well' }).click();
  await page.getByRole('alert').getByText('Choose the order from the list.').waitFor();
  await choose(page, 'Order', '219');
  await page.getByRole('radio', { name: 'not at all' }).click({ force: true });
  await page.getByRole('button', { name: 'Suppose this as well' }).click();
  await page.waitForURL(/order-never/);
  await supposed.getByText('does not come at all', { exact: false }).waitFor();
  const folded = page.getByRole('button', { name: /covered otherwise/ }).first();
  expect(await folded.getAttribute('aria-expanded')).toBe('true');
  await folded.press('Enter');
  expect(await folded.getAttribute('aria-expanded')).toBe('false');
  await supposed.getByRole('button', { name: /^Take away: Job/ }).click();
  await page.waitForURL((url) => !url.search.includes('first'));
  expect(await supposed.getByRole('listitem').count()).toBe(1);
});

it('says plainly when nothing changes, and refuses in words what cannot be supposed', async () => {
  const page = await scene.page();
  await page.goto(`/jobs/what-if?suppose=first.${numbered(98).id}`);
  await page.getByRole('heading', { name: 'Nothing changes' }).waitFor();
  const closed = numbered(95);
  await page.goto(`/jobs/what-if?suppose=first.${closed.id}`);
  await page.getByText('it wants nothing any more', { exact: false }).waitFor();
  await page.getByRole('button', { name: /^Take away/ }).click();
  await page.getByText('Nothing is supposed yet').waitFor();
});

it('breaks a core by keys alone', async () => {
  const page = await scene.page();
  await page.goto('/jobs/what-if');
  const kind = page.getByLabel('Suppose that');
  await kind.focus();
  await kind.selectOption('core');
  await page.keyboard.press('Tab');
  await page.keyboard.type('U 000001');
  await page.getByRole('listbox').getByRole('option').first().waitFor();
  await page.keyboard.press('ArrowDown');
  await page.keyboard.press('Enter');
  await page.keyboard.press('Tab');
  await page.keyboard.press('ArrowRight');
  await page.keyboard.press('Enter');
  await page.waitForURL(/suppose=core\.[^.]+\.all/);
  await page.getByText('gives all that its type has', { exact: false }).waitFor();
});

it('puts the two columns one under the other on a phone', async () => {
  const page = await scene.page({ viewport: { width: 360, height: 800 } });
  await page.goto(`/jobs/what-if?suppose=first.${numbered(106).id}`);
  const job = page.getByRole('article').first();
  const before = (await job.getByRole('heading', { name: 'As it is', exact: true }).boundingBox())!;
  const after = (await job.getByRole('heading', { name: 'As it would be', exact: true }).boundingBox())!;
  expect(after.y).toBeGreaterThan(before.y + 40);
  expect(Math.abs(after.x - before.x)).toBeLessThan(4);
  expect(await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth)).toBeLessThanOrEqual(0);
});
