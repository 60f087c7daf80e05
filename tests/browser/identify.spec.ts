import { jest } from '@jest/globals';
import type { Page } from 'playwright-core';
import { keyInto, pressByKey } from './keying.js';
import { openScene, type Scene } from './scene.js';

jest.setTimeout(180_000);

let scene: Scene;
let page: Page;

beforeAll(async () => {
  scene = await openScene('identify');
  page = await scene.page();
});
afterAll(async () => {
  await scene.stop();
});

const candidates = () => page.getByRole('region', { name: 'It may be' });

describe('a unit that nobody has identified, by keyboard alone', () => {
  it('is found in its list, and its marks are the first reading', async () => {
    await pressByKey(page, page.getByRole('link', { name: 'Stores', exact: true }));
    await pressByKey(page, page.getByRole('link', { name: 'Not yet identified' }), 600);
    await pressByKey(page, page.getByRole('link', { name: /six wheel studs, smaller cover/ }).first());
    await page.getByRole('heading', { name: 'What is it?' }).waitFor();
    expect(await page.getByLabel('Serial number').inputValue()).toBe('WD5?');
    expect(await page.getByLabel('Other marks').inputValue()).toBe('48 A 2');
    const first = candidates().getByRole('listitem').first();
    expect(await first.textContent()).toMatch(
      /^Brantock WD5 5-ton, \d+ points.*48 A 2, on the carrier, which means 1931 to 1939/,
    );
  });

  it('asks what tells the types apart, and says what an answer contradicts', async () => {
    await keyInto(page, 'How many wheel studs on each hub', '6');
    const contradicted = page.getByRole('region', { name: 'Contradicted' });
    await contradicted.getByText('6 wheel studs on each hub; it has 8.').waitFor();
    expect(await candidates().textContent()).not.toContain('WD7');
  });

  it('is said to be one of them in one press, and its page says by whom and by what', async () => {
    await pressByKey(page, candidates().getByRole('button', { name: 'It is Brantock WD5 5-ton' }));
    const said = page.getByRole('table', { name: 'What it is, by whom' }).getByRole('row').nth(1);
    await said.waitFor();
    expect(await said.textContent()).toMatch(/Brantock WD5 5-ton.*Mary Fenwright.*6 wheel studs on each hub, as it has/);
  });

  it('is put right with a reason, which stays', async () => {
    await pressByKey(page, page.getByRole('button', { name: 'More to do with it' }));
    await pressByKey(page, page.getByRole('link', { name: 'What is it?' }));
    await pressByKey(page, page.getByRole('button', { name: 'Nobody knows after all' }));
    await keyInto(page, 'Why it is no Brantock WD5 5-ton', 'the hub is off another');
    await page.keyboard.press('Enter');
    const newest = page
      .getByRole('table', { name: 'What it is, by whom' })
      .getByRole('row')
      .filter({ hasText: 'not known after all' });
    await newest.waitFor();
    expect(await newest.textContent()).toContain('the hub is off another');
  });
});
