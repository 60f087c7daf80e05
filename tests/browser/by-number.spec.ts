import { jest } from '@jest/globals';
import type { Page } from 'playwright-core';
import { focusedName, keyInto, pressByKey } from './keying.js';
import { openScene, type Scene } from './scene.js';

jest.setTimeout(180_000);

let scene: Scene;
let page: Page;

beforeAll(async () => {
  scene = await openScene('number');
  page = await scene.page();
});
afterAll(async () => {
  await scene.stop();
});

const rowWith = (text: string) => page.getByRole('row').filter({ hasText: text }).first();

async function ask(number: string): Promise<void> {
  await keyInto(page, 'Number', number);
  await page.keyboard.press('Enter');
}

describe('a part by its number, by keyboard alone', () => {
  it('is the first page of Cross-reference, and an old number leads to what it became', async () => {
    await pressByKey(page, page.getByRole('link', { name: 'Cross-reference' }));
    await page.getByRole('heading', { name: 'A part by its number' }).waitFor();
    await ask('brantock 48 1817');
    await page.getByRole('heading', { name: 'This number' }).waitFor();
    const row = rowWith('48-1817, Brantock');
    expect(await row.textContent()).toMatch(/48-1817 of Brantock became 48-2017 of Brantock in 1934\..*Now 48-2217/);
  });

  it('of another maker leads to the part that goes by ours, and says what is in stores and where', async () => {
    await ask('AM7101');
    const row = rowWith('AM 7/101, Aldermoor');
    await row.waitFor();
    expect(await row.textContent()).toMatch(/goes by 48-2205, Brantock.*Axle casing, banjo/);
    await ask('48-2230');
    await rowWith('48-2230, Brantock').waitFor();
    expect(await rowWith('48-2230, Brantock').textContent()).toMatch(/4 free.*Rack 4, Bin 14/);
  });

  it('is found by the arrow keys, and opens with Enter', async () => {
    await page.getByLabel('Number', { exact: true }).focus();
    await page.keyboard.press('ArrowDown');
    expect(await focusedName(page)).toBe('48-2230, Brantock');
    await page.keyboard.press('ArrowUp');
    await page.keyboard.press('ArrowDown');
    await page.keyboard.press('Enter');
    await page.getByRole('heading', { name: /Oil seal, worm input/ }).waitFor();
    await page.goBack();
    await rowWith('48-2230, Brantock').waitFor();
    expect(await page.getByLabel('Number', { exact: true }).inputValue()).toBe('48-2230');
  });

  it('that is misspelt is said not to be there, with what it is like', async () => {
    await ask('48-22Q30');
    await page.getByRole('heading', { name: 'Nothing is numbered so. Like it:' }).waitFor();
    expect(await rowWith('48-2230, Brantock').textContent()).toMatch(/one character otherwise/);
    await ask('QXJ-7788-ZZ');
    await page.getByRole('heading', { name: 'Nothing like QXJ-7788-ZZ' }).waitFor();
  });

  it('says so where what is like it could not be fetched, and fetches it when asked again', async () => {
    const further = /\/api\/parts\?.*cursor=/;
    const refusal = { title: 'Not now', detail: 'The books are being copied.', code: 'not-now' };
    await page.route(further, (route) => route.fulfill({ status: 409, json: refusal }));
    await ask('48-2217');
    await page.getByRole('alert').getByText('Not now').waitFor();
    await rowWith('48-2217, Brantock').waitFor();
    await page.unroute(further);
    await pressByKey(page, page.getByRole('button', { name: 'Try again' }));
    await page.getByRole('alert').waitFor({ state: 'detached' });
    await page.getByRole('button', { name: 'Try again' }).waitFor({ state: 'detached' });
  });

  it('is asked of one maker alone, and stays when the page is loaded again', async () => {
    await page.getByLabel('Whose number').selectOption({ label: 'Aldermoor' });
    await ask('7/101');
    await page.getByRole('heading', { name: 'This number' }).waitFor();
    await page.reload();
    await rowWith('AM 7/101, Aldermoor').waitFor();
    expect(await rowWith('AM 7/101, Aldermoor').textContent()).toMatch(/the same but for zeros, or for its maker/);
    expect(await page.getByLabel('Whose number').inputValue()).not.toBe('');
    expect(scene.complaints).toEqual([]);
  });
});
