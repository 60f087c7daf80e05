import { jest } from '@jest/globals';
import type { Page } from 'playwright-core';
import { keyInto, pressByKey } from './keying.js';
import { openScene, type Scene } from './scene.js';

jest.setTimeout(180_000);

let scene: Scene;
let page: Page;

beforeAll(async () => {
  scene = await openScene('ratio');
  page = await scene.page();
});
afterAll(async () => {
  await scene.stop();
});

describe('a ratio, by keyboard alone', () => {
  it('is reckoned from counted teeth, and says that the set hunts', async () => {
    await pressByKey(page, page.getByRole('link', { name: 'Cross-reference' }));
    await pressByKey(page, page.getByRole('link', { name: 'By ratio' }));
    await page.getByRole('heading', { name: 'A ratio by counted teeth' }).waitFor();
    await keyInto(page, 'Teeth of the driver', '8');
    await keyInto(page, 'Teeth of the driven', '39');
    await page.keyboard.press('Enter');
    await page.getByRole('heading', { name: '4.875 to 1' }).waitFor();
    const mesh = await page.getByRole('row').filter({ hasText: '8 and 39' }).textContent();
    expect(mesh).toMatch(/Hunting.*meet again after 39 turns of the driver/);
  });

  it('goes through several meshes in turn, and says of each whether it hunts', async () => {
    await pressByKey(page, page.getByRole('button', { name: 'Another mesh behind it' }));
    await keyInto(page, 'Teeth of the driver', '18');
    await keyInto(page, 'Teeth of the driven', '36');
    await keyInto(page, 'Teeth of the driver, mesh 2', '13');
    await keyInto(page, 'Teeth of the driven, mesh 2', '37');
    await page.keyboard.press('Enter');
    await page.getByRole('heading', { name: '5.692 to 1' }).waitFor();
    expect(await page.getByRole('row').filter({ hasText: '18 and 36' }).textContent()).toMatch(/Not hunting.*after 2 turns/);
  });

  it('names the unit types of the books that have the ratio, a gearbox by its gear', async () => {
    await keyInto(page, 'Teeth of the driver', '18');
    await keyInto(page, 'Teeth of the driven', '32');
    await page.keyboard.press('Enter');
    await page.getByText('In the books: Ostrey-Kell 4G 4G/2, coach lid, first.').waitFor();
  });

  it('says how to count what is no count of teeth', async () => {
    await keyInto(page, 'Teeth of the driver', 'x');
    await page.keyboard.press('Enter');
    await page.getByText('Count the teeth: a whole number, one at least; of a worm, its starts.').waitFor();
  });

  it('finds the pairs that fit counted turns, and how far to turn to be sure', async () => {
    await keyInto(page, 'Turns of the input', '48 3/4');
    await keyInto(page, 'Turns of the output', '10');
    await keyInto(page, 'Driver’s teeth between', '6 to 14');
    await keyInto(page, 'Driven’s teeth between', '30 to 60');
    await page.keyboard.press('Enter');
    await page.getByRole('heading', { name: 'Between 4.862 and 4.888 to 1' }).waitFor();
    const first = page
      .getByRole('table', { name: /Pairs of teeth/ })
      .getByRole('row')
      .nth(1);
    expect(await first.textContent()).toMatch(/^8 and 39.*hunting.*no type in the books$/);
  });

  it('takes half the turns where one side was held, and keeps what is asked when the page is loaded again', async () => {
    await page.getByRole('radio', { name: 'one side, the other held' }).check({ force: true });
    await page.getByRole('button', { name: 'Find the teeth' }).press('Enter');
    await page.getByRole('heading', { name: 'Between 9.725 and 9.775 to 1' }).waitFor();
    await page.reload();
    await page.getByText('No pair of teeth fits').waitFor();
    expect(await page.getByLabel('Turns of the input').inputValue()).toBe('48 3/4');
  });

  it('asks for more turns where the reading says nothing', async () => {
    await keyInto(page, 'Turns of the output', '0');
    await page.keyboard.press('Enter');
    await page.getByText('Turn the output once at least: from nothing no ratio follows.').waitFor();
  });
});
