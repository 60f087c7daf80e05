import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { jest } from '@jest/globals';
import type { Browser, BrowserContext, Page } from 'playwright-core';
import { verifyBooks } from '../../apps/api/src/stores/verify/verify-books.js';
import { startBrowser } from '../support/browser.js';
import { labelFor, playWhereThereAreNoCameras, type Shot, type Still, stillsOf, writeFilm } from '../support/camera-film.js';
import { ownersPath } from '../support/example-server.js';
import { closeDrawing } from '../support/label-reader.js';
import { Stock } from '../support/stock.js';
import { coveredJob } from './covered-job.js';
import { eventually, openScene, type Scene } from './scene.js';

jest.setTimeout(120_000);

const phone = { width: 360, height: 780 };

let scene: Scene;
let stock: Stock;
let folder: string;
let stills: Still[];
let made: { lot: { id: string; code: string }; job: { id: string; code: string } };
/** Chromium with a film in place of its camera. */
let browser: Browser;

beforeAll(async () => {
  scene = await openScene('camera');
  stock = await Stock.open(scene.server.testDatabase.ownerUrl);
  folder = await mkdtemp(join(tmpdir(), 'corewright-film-'));
  made = await coveredJob(scene, stock, 'Differential cross');
  const film = join(folder, 'bench.mjpeg');
  const away: Shot = { label: null, seconds: 2.5 };
  stills = await stillsOf([
    { label: labelFor(made.job.code, 'Overhead-worm axle'), seconds: 1.5, turned: 4 },
    away,
    { label: labelFor(made.lot.code, 'Differential cross'), seconds: 1.5, turned: -11 },
    away,
  ]);
  await writeFilm(film, stills);
  browser = await startBrowser(['--use-fake-device-for-media-stream', `--use-file-for-fake-video-capture=${film}`]);
});
afterAll(async () => {
  expect(await verifyBooks(scene.server.database)).toEqual([]);
  expect(scene.complaints).toEqual([]);
  await browser.close();
  closeDrawing();
  await stock.close();
  await scene.stop();
  await rm(folder, { recursive: true });
});

async function phoneOf(prepare: (context: BrowserContext) => Promise<unknown>): Promise<{ context: BrowserContext; page: Page }> {
  const context = await browser.newContext({ baseURL: scene.server.url, viewport: phone, permissions: ['camera'] });
  await prepare(context);
  context.on('weberror', (error) => scene.complaints.push(String(error.error())));
  context.on('console', (message) => {
    if (message.type() === 'error' && !message.text().startsWith('Failed to load')) scene.complaints.push(message.text());
  });
  const page = await context.newPage();
  await page.goto(await ownersPath(scene.server));
  await page.getByRole('navigation', { name: 'Places' }).waitFor();
  return { context, page };
}

const camera = (page: Page) => page.getByRole('region', { name: 'Camera' });

it('of a phone scans a job card and a part onto the job, each once while it is in view', async () => {
  const { context, page } = await phoneOf((each) => playWhereThereAreNoCameras(each, stills));
  const fits: string[] = [];
  page.on('request', (request) => {
    if (request.method() === 'POST' && request.url().endsWith('/api/fits')) fits.push(request.postData() ?? '');
  });
  await page.getByRole('button', { name: /Change the mode/ }).click();
  await page.getByRole('group', { name: 'What a scan does' }).getByRole('button', { name: /^fit/i }).click();
  await page.getByRole('button', { name: 'Camera', exact: true }).click();
  await camera(page)
    .getByText(/^Hold a label in the frame/)
    .waitFor();
  await eventually(async () => {
    const fitted = await stock.query('SELECT 1 FROM fittings WHERE thing_id = $1', [made.lot.id]);
    expect(fitted).toHaveLength(1);
  }, 45_000);
  // it stays before the camera for longer than it takes to read it ten times
  await page.waitForTimeout(1_200);
  expect(fits).toHaveLength(1);
  await page
    .getByRole('region', { name: 'Scan', exact: true })
    .getByText(/Differential cross/)
    .first()
    .waitFor();

  await camera(page).getByRole('button', { name: 'Close the camera' }).click();
  await camera(page).waitFor({ state: 'detached' });
  await context.close();
});

it('says what to do where the browser does not let it look', async () => {
  const { context, page } = await phoneOf((each) =>
    each.addInitScript(() => {
      if (!isSecureContext || !('mediaDevices' in navigator)) return;
      navigator.mediaDevices.getUserMedia = () => Promise.reject(new DOMException('Permission denied', 'NotAllowedError'));
    }),
  );
  await page.getByRole('button', { name: 'Camera', exact: true }).click();
  await camera(page)
    .getByRole('status')
    .getByText(/does not let this page use the camera/)
    .waitFor();
  await camera(page).getByRole('button', { name: 'Open it again' }).click();
  await camera(page)
    .getByRole('status')
    .getByText(/does not let this page use the camera/)
    .waitFor();
  await camera(page).getByRole('button', { name: 'Close the camera' }).click();
  await camera(page).waitFor({ state: 'detached' });
  await context.close();
});
