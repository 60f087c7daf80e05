import { jest } from '@jest/globals';
import type { Page } from 'playwright-core';
import { keyInto, pressByKey, tabTo } from './keying.js';
import { openScene, type Scene } from './scene.js';

jest.setTimeout(180_000);

let scene: Scene;
let page: Page;

beforeAll(async () => {
  scene = await openScene('owntables');
  page = await scene.page();
});
afterAll(async () => {
  await scene.stop();
});

describe('the tables of bearings, by keyboard alone', () => {
  it('take a bearing of our own, which its number then finds, with what it contradicts', async () => {
    await pressByKey(page, page.getByRole('link', { name: 'Cross-reference' }));
    await pressByKey(page, page.getByRole('link', { name: 'Bearing tables' }));
    await pressByKey(page, page.getByRole('button', { name: 'Key a bearing' }));
    for (const [label, text] of [
      ['Number', '6208'],
      ['Bore, d', '40'],
      ['Outside, D', '81'],
      ['Width, B or T', '18'],
      ['Source', 'measured with the micrometer'],
    ] as const)
      await keyInto(page, label, text);
    await page.keyboard.press('Enter');
    const row = page.getByRole('row').filter({ has: page.getByRole('cell', { name: '6208', exact: true }) });
    await row.getByText(/The shipped row has outside diameter 80 mm .* this one has 81 mm/).waitFor();
  });

  it('let it be struck out with a reason, and take a suffix', async () => {
    await pressByKey(page, page.getByRole('button', { name: 'Strike out 6208' }));
    await keyInto(page, 'Why 6208 is struck out', 'it was a worn one');
    await page.keyboard.press('Enter');
    await page.getByText('None yet. What the tables lack').waitFor();
    await pressByKey(page, page.getByRole('button', { name: 'Key a suffix' }));
    await keyInto(page, 'Suffix', 'QV');
    await tabTo(page, page.getByLabel('It means'));
    await page.keyboard.type('two contact');
    await keyInto(page, 'In words', 'rubber lips on both sides');
    await keyInto(page, 'Source', 'the box');
    await page.keyboard.press('Enter');
    await page.getByRole('button', { name: 'Change QV' }).waitFor();
    expect(scene.complaints).toEqual([]);
  });
});
