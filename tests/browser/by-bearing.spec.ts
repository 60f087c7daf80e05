import { jest } from '@jest/globals';
import type { Page } from 'playwright-core';
import { keyInto, pressByKey } from './keying.js';
import { openScene, type Scene } from './scene.js';

jest.setTimeout(180_000);

let scene: Scene;
let page: Page;

beforeAll(async () => {
  scene = await openScene('bearing');
  page = await scene.page();
});
afterAll(async () => {
  await scene.stop();
});

describe('a bearing in the hand, by keyboard alone', () => {
  it('leads from its measures to its number, and to the box on the shelf that another maker filled', async () => {
    await pressByKey(page, page.getByRole('link', { name: 'Cross-reference' }));
    await pressByKey(page, page.getByRole('link', { name: 'Bearing by measurement' }));
    await page.getByRole('heading', { name: 'A bearing by measurement' }).waitFor();
    await keyInto(page, 'Bore', '40');
    await keyInto(page, 'Outside diameter', '80');
    await page.keyboard.press('Enter');
    await pressByKey(page, page.getByRole('link', { name: '6208', exact: true }));
    await page.getByRole('heading', { name: '6208', exact: true }).waitFor();
    // the shelf knows it by an invented maker's own number
    await pressByKey(page, page.getByRole('link', { name: /208, Corvane/ }));
    await page.getByRole('heading', { name: /Ball bearing, single row, 40 x 80 x 18 mm/ }).waitFor();
    await page.getByRole('heading', { name: 'In stores' }).waitFor();
  });

  it('says of another one point by point whether it may go in its place, and what nobody knows', async () => {
    await page.goto('/cross-reference/bearing');
    await keyInto(page, 'Number on the bearing', '6311');
    await keyInto(page, 'Compare with', '6311-2RS C3');
    await page.keyboard.press('Enter');
    await page.getByText('6311-2RS C3 in place of 6311', { exact: true }).waitFor();
    const answerTo = async (point: string) =>
      page
        .getByRole('row')
        .filter({ has: page.getByRole('cell', { name: point, exact: true }) })
        .getByRole('cell')
        .nth(1)
        .textContent();
    expect(await Promise.all(['bore', 'seals', 'clearance', 'cage'].map(answerTo))).toEqual([
      'serves',
      'with care',
      'with care',
      'unknown',
    ]);
    expect(await page.getByRole('note').textContent()).toMatch(/maker's manual/);
    await page.reload();
    await page.getByText('6311-2RS C3 in place of 6311', { exact: true }).waitFor();
  });

  it('asks about the unit where nothing fits as keyed', async () => {
    await page.goto('/cross-reference/measured?bore=1&outside=2');
    await page.getByRole('heading', { name: 'Nothing fits as keyed. Did you measure in inches?' }).waitFor();
  });

  it('says how long one keeps in its packet, by the shortest period where nobody knows how it lay', async () => {
    await page.goto('/cross-reference/packet');
    await keyInto(page, 'Date on the packet', '1953');
    await page.getByRole('heading', { name: 'Look again before it is fitted' }).waitFor();
    await page.getByText('How it was stored is not known, so the shortest period counts: 1 year.').waitFor();
    expect(scene.complaints).toEqual([]);
  });
});
