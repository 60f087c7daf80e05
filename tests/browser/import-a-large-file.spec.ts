import { jest } from '@jest/globals';
import type { Page } from 'playwright-core';
import { lines } from '../support/small-workshop.js';
import { openScene, type Scene } from './scene.js';

jest.setTimeout(240_000);

// large enough that it is seen on its way
const partCount = process.env.CW_LONG === '1' ? 50_000 : 15_000;
const content = lines(
  'maker,number,name',
  ...Array.from({ length: partCount }, (_, index) => `Brantock,${index}/80,Washer ${index}`),
);
const file = { name: 'parts.csv', mimeType: 'text/csv', buffer: Buffer.from(content) };

let scene: Scene;
let page: Page;

beforeAll(async () => {
  scene = await openScene('large_file');
  page = await scene.page();
  await page.goto('/settings');
});
afterAll(async () => {
  expect(scene.complaints).toEqual([]);
  await scene.stop();
});

const partsThere = async (): Promise<number> =>
  (await scene.server.database.row<{ n: number }>('SELECT count(*)::int AS n FROM parts'))?.n ?? -1;

const section = (on = page) => on.getByRole('region', { name: 'Bring in files' });
const rowsRead = (on = page) => section(on).getByRole('progressbar', { name: /Reading parts\.csv, [1-9]\d* rows so far/ });
const press = (name: string) => section().getByRole('button', { name, exact: true }).click();

describe('a large file', () => {
  it('shows how far it has come while it is tried and while it is brought in, also to another device, and stopped leaves nothing', async () => {
    const before = await partsThere();
    await section().getByLabel('Files').setInputFiles(file);
    await press('Try them');
    await rowsRead().waitFor();
    await section()
      .getByText(`No fault found: ${partCount} rows would be added. Nothing is changed yet.`)
      .waitFor({ timeout: 120_000 });
    expect(await partsThere()).toBe(before);

    const elsewhere = await scene.page({ viewport: { width: 360, height: 780 } });
    await elsewhere.goto('/settings');
    await section(elsewhere).waitFor();
    await press('Bring them in');
    await Promise.all([rowsRead().waitFor(), rowsRead(elsewhere).waitFor()]);
    await press('Stop it and keep nothing');
    await section().getByRole('alert').getByText('Nothing of it was brought in').waitFor({ timeout: 60_000 });
    expect(await partsThere()).toBe(before);
    await elsewhere.close();
  });

  it('comes in whole when it is sent again', async () => {
    const before = await partsThere();
    await section().getByLabel('Files').setInputFiles(file);
    await press('Try them');
    await section().getByRole('button', { name: 'Bring them in', exact: true }).click({ timeout: 120_000 });
    await section().getByText(`Brought in: ${partCount} rows`).waitFor({ timeout: 120_000 });
    expect(await partsThere()).toBe(before + partCount);
    await page.goto(`/stores?q=${partCount - 1}%2F80`);
    await page
      .getByText(`Washer ${partCount - 1}`)
      .first()
      .waitFor();
  });
});
