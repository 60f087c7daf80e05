import { jest } from '@jest/globals';
import type { Page } from 'playwright-core';
import type { z } from 'zod';
import { makeCode } from '../../libs/codes/src/label-code.js';
import type { JobCard, JobList } from '../../libs/contracts/src/jobs.js';
import type { PictureShown } from '../../libs/contracts/src/pictures.js';
import type { Thing } from '../../libs/contracts/src/stores.js';
import { grainyPhotograph, phonePhotograph } from '../support/pictures.js';
import { unfoldActs } from './acts.js';
import { eventually, openScene, type Scene } from './scene.js';
import { sendWhatWaits } from './send-photographs.js';

jest.setTimeout(180_000);

let scene: Scene;
let page: Page;
let unitId: string;
let jobId: string;

beforeAll(async () => {
  scene = await openScene('photos');
  page = await scene.page();
  const { jobs } = (await scene.owner.get<z.infer<typeof JobList>>('/api/jobs')).body;
  const job = jobs.find((each) => each.code === makeCode('J', 107))!;
  jobId = job.id;
  unitId = job.unit.id;
});
afterAll(() => scene.stop());

async function photographs(): Promise<PictureShown[]> {
  return (await scene.owner.get<Thing>(`/api/things/${unitId}`)).body.pictures;
}

async function jpegs(...sizes: number[]) {
  return Promise.all(
    sizes.map(async (side) => ({
      name: `unit-${side}.jpg`,
      mimeType: 'image/jpeg',
      buffer: await phonePhotograph(side, 400, `#${(0x445566 + side).toString(16)}`),
    })),
  );
}

const opened = () => page.getByRole('dialog');

describe('photographs of a unit', () => {
  it('are taken with the camera and chosen several at once, and stand on its page', async () => {
    await page.goto(`/stores/things/${unitId}`);
    await page.getByLabel('Photograph', { exact: true }).setInputFiles(await jpegs(500));
    await unfoldActs(page);
    await page.getByLabel('Choose pictures').setInputFiles(await jpegs(600, 700));
    await page.getByRole('heading', { name: 'Photographs, 3' }).waitFor();
    for (const number of [1, 2, 3]) await page.getByRole('button', { name: new RegExp(`^Photograph ${number} of`) }).waitFor();
    await page.getByText('Photograph: 3 taken').waitFor();
    expect(await photographs()).toHaveLength(3);
  });

  it('open in full, go on with the arrow keys, and give the focus back', async () => {
    const first = page.getByRole('button', { name: /^Photograph 1 of/ });
    await first.focus();
    await page.keyboard.press('Enter');
    await opened().getByText('1 of 3').waitFor();
    await page.keyboard.press('ArrowRight');
    await opened().getByText('2 of 3').waitFor();
    const shown = opened().getByRole('img', { name: /^Photograph 2 of/ });
    await eventually(async () => expect(await shown.evaluate((image) => (image as HTMLImageElement).naturalHeight)).toBe(600));
    await page.keyboard.press('Escape');
    await opened().waitFor({ state: 'detached' });
    expect(await first.evaluate((button) => button === document.activeElement)).toBe(true);
  });

  it('bear words, which are what they are called, and say that they show the marks', async () => {
    await page.getByRole('button', { name: /^Photograph 1 of/ }).click();
    await opened().getByRole('button', { name: 'Write under it' }).click();
    await opened().getByLabel('What it shows').fill('stamp on the nose');
    await opened().getByText('it shows the marks').click();
    await opened().getByRole('button', { name: 'Write it' }).click();
    await opened().getByText('Shows the marks.').waitFor();
    await opened().getByRole('button', { name: 'Close' }).click();
    await page.getByRole('button', { name: 'Marks: stamp on the nose' }).waitFor();
    expect((await photographs())[0]).toMatchObject({ words: 'stamp on the nose', shows: 'marks' });
  });

  it('are struck out with a reason, and folded away', async () => {
    await page.getByRole('button', { name: /^Photograph 3 of/ }).click();
    await opened().getByRole('button', { name: 'Strike it out' }).click();
    await opened().getByRole('button', { name: 'Strike it out' }).click();
    await opened().getByText('Say why.').waitFor();
    await opened().getByLabel('Why it is struck out').fill('of another axle');
    await opened().getByRole('button', { name: 'Strike it out' }).click();
    await page.getByRole('heading', { name: 'Photographs, 2' }).waitFor();
    await page.getByRole('button', { name: '1 photograph struck out' }).click();
    await page.getByText('of another axle', { exact: false }).first().waitFor();
    expect((await photographs()).map(({ struckOut }) => struckOut?.why ?? null)).toEqual([null, null, 'of another axle']);
  });

  it('stand on the card of its job too, beside those of the job', async () => {
    await page.goto(`/jobs/${jobId}`);
    await page.getByRole('heading', { name: 'Photographs, 2' }).waitFor();
    await page.getByLabel('Photograph', { exact: true }).setInputFiles(await jpegs(512));
    await page.getByRole('heading', { name: 'Photographs, 3' }).waitFor();
    const card = (await scene.owner.get<JobCard>(`/api/jobs/${jobId}`)).body;
    expect(card.pictures.filter(({ shows }) => shows === 'job')).toHaveLength(1);
  });
});

describe('an upload that is interrupted', () => {
  /** The bytes from which each piece that the server took was sent, in order. */
  const taken: number[] = [];

  it('goes on where it was after the page is loaded anew, and arrives once', async () => {
    const buffer = await grainyPhotograph(3000, 2000);
    const pieces = Math.ceil(buffer.length / (1024 * 1024));
    expect(pieces).toBeGreaterThan(3);
    page.on('response', (response) => {
      if (response.request().method() !== 'PUT' || response.status() !== 200) return;
      taken.push(Number(new URL(response.url()).searchParams.get('offset')));
    });
    await page.goto(`/stores/things/${unitId}`);
    const before = (await photographs()).length;
    await page.route('**/api/uploads/*', (route) =>
      route.request().method() === 'PUT' && taken.length === 2 ? route.abort('connectionreset') : route.fallback(),
    );
    await page.getByLabel(/^Photograph(:|$)/).setInputFiles({ name: 'axle.jpg', mimeType: 'image/jpeg', buffer });
    await page.getByText('1 photograph kept on this device: no network').waitFor();
    await page.getByRole('img', { name: 'Photograph that is on its way' }).waitFor();
    expect(taken).toEqual([0, 1024 * 1024]);
    await page.reload();
    await page.getByRole('img', { name: 'Photograph that is on its way' }).waitFor();
    expect(await photographs()).toHaveLength(before);
    await page.unroute('**/api/uploads/*');
    await page.goto('/');
    await sendWhatWaits(page, async () => expect(await photographs()).toHaveLength(before + 1));
    await page.getByText('nothing waits').first().waitFor();
    // none was sent twice; the answer to one may have been lost with the page that it was for
    const all = Array.from({ length: pieces }, (_, index) => index * 1024 * 1024);
    expect(taken).toEqual(all.filter((offset) => taken.includes(offset)));
    expect(taken.length).toBeGreaterThanOrEqual(pieces - 1);
    const arrived = (await photographs()).find(({ width }) => width === 3000);
    expect(arrived).toMatchObject({ height: 2000, struckOut: null });
  });

  it('that is refused waits for a person, and the consoles are silent', async () => {
    await page.goto(`/stores/things/${unitId}`);
    const before = (await photographs()).length;
    await unfoldActs(page);
    await page.getByLabel('Choose pictures').setInputFiles({
      name: 'drawing.svg',
      mimeType: 'image/svg+xml',
      buffer: Buffer.from('<svg xmlns="http://www.w3.org/2000/svg"/>'),
    });
    await page.getByRole('alert').getByText('Not a picture that can be kept').waitFor();
    await page.getByRole('button', { name: 'throw it away' }).click();
    await page.getByRole('alert').waitFor({ state: 'detached' });
    expect(await photographs()).toHaveLength(before);
    expect(scene.complaints).toEqual([]);
  });
});
