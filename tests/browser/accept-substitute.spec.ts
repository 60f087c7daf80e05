import { jest } from '@jest/globals';
import type { Page } from 'playwright-core';
import type * as z from 'zod';
import { makeCode } from '../../libs/codes/src/label-code.js';
import type { PartList } from '../../libs/contracts/src/catalogue.js';
import type { JobCard, JobList } from '../../libs/contracts/src/jobs.js';
import { keyInto, pressByKey } from './keying.js';
import { openScene, type Scene } from './scene.js';

jest.setTimeout(180_000);

let scene: Scene;
let page: Page;
let jobId: string;

const cardOfJob = async () => (await scene.owner.get<JobCard>(`/api/jobs/${jobId}`)).body;
const focusedLabel = () =>
  page.evaluate(() =>
    document.activeElement instanceof HTMLInputElement ? document.activeElement.labels?.[0]?.textContent : null,
  );
const line15 = async () => (await cardOfJob()).coverage.lines.find((line) => line.lineNo === 15)!;

beforeAll(async () => {
  scene = await openScene('substitute');
  page = await scene.page();
  const { jobs } = (await scene.owner.get<z.infer<typeof JobList>>('/api/jobs')).body;
  jobId = jobs.find((job) => job.code === makeCode('J', 105))!.id;
});
afterAll(async () => {
  await scene.stop();
});

describe('a number of one maker, by keyboard alone', () => {
  it('leads to another maker’s box on its shelf', async () => {
    await page.goto('/stores?q=48-2218');
    await pressByKey(page, page.getByRole('link', { name: /48-2218/ }).first());
    const table = page.getByRole('table', { name: 'Parts that will serve in place of this one' });
    await table.getByRole('row').filter({ hasText: 'NU 310' }).getByText('Stores, Rack 3, Bin 15').waitFor();
  });

  it('is not offered for a job as original, and the reason stands beside it', async () => {
    await page.getByLabel('For a job built').selectOption('as original');
    await page.getByText('No other part is on the record as one that will serve for it.').waitFor();
    await pressByKey(page, page.getByRole('button', { name: /looked at and refused/ }));
    await page
      .getByText(/NU 310 of Corvane will serve for 48-2218 of Brantock\. A job that is built so does not take that/)
      .waitFor();
  });

  it('is accepted for the line of a job with what was measured, and shows on the job', async () => {
    const { parts } = (await scene.owner.get<z.infer<typeof PartList>>('/api/parts?q=B%202000')).body;
    const related = await scene.owner.post(`/api/parts/${parts[0]!.id}/relations`, {
      kind: 'will serve for',
      toPartIds: [(await line15()).part.id],
      evidence: { kind: 'told', words: 'by the man who sold it' },
      conditions: 'with a sleeve',
    });
    expect(related.status).toBe(200);
    await page.goto(`/jobs/${jobId}`);
    await pressByKey(page, page.getByRole('button', { name: 'more about line 15', exact: true }), 400);
    await pressByKey(page, page.getByRole('link', { name: 'Find or accept another part in its place' }));
    await page.getByRole('heading', { name: 'Another part for line 15' }).waitFor();
    await pressByKey(page, page.getByRole('button', { name: 'Choose B 2000' }));
    await keyInto(page, 'Marking of the old one', 'CX 31?-R');
    await keyInto(page, 'Bore, as measured', '2 in');
    expect(await page.getByLabel('In what it differs').inputValue()).toBe('with a sleeve');
    // another choice brings its own evidence, and keeps what was keyed of the old one
    await pressByKey(page, page.getByRole('button', { name: 'Choose NU 310' }));
    expect(await focusedLabel()).toBe('Marking of the old one');
    expect(await page.getByLabel('Marking of the old one').inputValue()).toBe('CX 31?-R');
    expect(await page.getByLabel('Bore, as measured').inputValue()).toBe('2 in');
    expect(await page.getByLabel('In what it differs').inputValue()).not.toBe('with a sleeve');
    const compare = await page.getByRole('link', { name: 'Compare the two as bearings' }).getAttribute('href');
    expect(new URLSearchParams(compare?.split('?')[1]).get('with')).toBe('NU 310');
    await keyInto(page, 'Outside', '110');
    await keyInto(page, 'Width', '27');
    await page.keyboard.press('Enter');
    await page.getByText('Say where it goes.').waitFor();
    await keyInto(page, 'Where it goes', 'worm, front');
    await page.keyboard.press('Enter');
    await page.getByRole('heading', { name: 'Lines', exact: true }).waitFor();
    expect((await line15()).substitutes).toMatchObject([
      {
        part: { number: 'NU 310', maker: 'Corvane' },
        marking: 'CX 31?-R',
        measured: '50.8 × 110 × 27 mm',
        evidence: { kind: 'trial fitted' },
        position: 'worm, front',
        acceptedBy: 'Mary Fenwright',
      },
    ]);
    await page
      .getByText(/accepted NU 310 of Corvane in place of line 15; old one marked CX 31\?-R measured 2 in × 110 × 27/)
      .waitFor();
    await pressByKey(page, page.getByRole('button', { name: 'more about line 15', exact: true }), 400);
    await page.getByText('Accepted in its place').waitFor();
  });

  it('is withdrawn with a reason, and both stay on the record', async () => {
    await pressByKey(page, page.getByRole('button', { name: 'Withdraw NU 310' }));
    await page.keyboard.press('Enter');
    await page.getByText('Say why.').waitFor();
    await page.keyboard.type('the front bearing locates the worm after all');
    await page.keyboard.press('Enter');
    await page.getByText(/no longer accepts NU 310 of Corvane in place of line 15: the front bearing locates/).waitFor();
    expect((await line15()).substitutes).toEqual([]);
  });
});

describe('two bearings that were compared', () => {
  it('lead on to the job whose line asks for the one', async () => {
    await page.goto('/cross-reference/bearing?number=311&with=NU%20310');
    await page.getByRole('heading', { name: 'Accept it for a job' }).waitFor();
    await pressByKey(page, page.getByRole('link', { name: /NU 310.* in place of line 22 of J 000103 93/ }));
    await page.getByRole('heading', { name: 'Accept a part for line 22' }).waitFor();
    expect(await page.getByLabel('The part that is to go there').inputValue()).toMatch(/^NU 310 /);
    await keyInto(page, 'Bore, as measured', '55');
    await keyInto(page, 'In words', 'with the micrometer');
    await keyInto(page, 'Where it goes', 'pinion, tail');
    await page.keyboard.press('Enter');
    // 50 mm bore is no 55 mm bore: that must be said
    await page.getByText('They differ').waitFor();
    expect(scene.complaints).toEqual([]);
  });
});
