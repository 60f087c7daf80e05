import { jest } from '@jest/globals';
import type { Page } from 'playwright-core';
import { keyInto, pressByKey, tabTo } from './keying.js';
import { openScene, type Scene } from './scene.js';

jest.setTimeout(180_000);

let scene: Scene;
let page: Page;

beforeAll(async () => {
  scene = await openScene('thread');
  page = await scene.page();
});
afterAll(async () => {
  await scene.stop();
});

describe('a screw by its thread, by keyboard alone', () => {
  it('is found from the rail, and the tie of Whitworth and Unified is said in words', async () => {
    await pressByKey(page, page.getByRole('link', { name: 'Cross-reference' }));
    await pressByKey(page, page.getByRole('link', { name: 'By thread' }));
    await page.getByRole('heading', { name: 'A screw by its thread' }).waitFor();
    await keyInto(page, 'Outside diameter', '7.9');
    await keyInto(page, 'Pitch', '18');
    await page.keyboard.press('Enter');
    const tied = page.getByRole('row').filter({ hasText: '5/16 in BSW' }).first();
    await tied.waitFor();
    expect(await tied.textContent()).toMatch(/a tie: check the flanks.*55°.*A tie with 5\/16 in UNC/);
    expect(await page.getByRole('note').textContent()).toMatch(/maker's manual/);
  });

  it('stays when the page is loaded again', async () => {
    await page.reload();
    await page.getByRole('cell', { name: '5/16 in UNC', exact: true }).waitFor();
    expect(await page.getByLabel('Outside diameter', { exact: true }).inputValue()).toBe('7.9');
  });

  it('tells the tie apart once the flanks are known', async () => {
    await tabTo(page, page.getByLabel('Flank angle'));
    await page.keyboard.type('60');
    await page.keyboard.press('Tab');
    await pressByKey(page, page.getByRole('button', { name: 'Find the thread' }));
    const left = page.getByRole('row').filter({ hasText: 'this alone fits' });
    await left.waitFor();
    expect(await left.textContent()).toMatch(/^5\/16 in UNC.*at 60 degrees, not 55, tell them apart/);
    await page.goBack();
    await page.getByRole('cell', { name: '5/16 in BSW', exact: true }).waitFor();
  });

  it('asks whether a measurement was meant in inches', async () => {
    await keyInto(page, 'Outside diameter', '0.3125');
    await page.keyboard.press('Enter');
    await page.getByText('Is the outside 0.3125 inches? Then it would be 5/16 in BSW.').waitFor();
  });

  it('brings the last answer when the browser goes back', async () => {
    await page.goBack();
    await page.getByRole('cell', { name: '5/16 in UNC', exact: true }).waitFor();
    expect(await page.getByLabel('Outside diameter', { exact: true }).inputValue()).toBe('7.9');
  });
});
