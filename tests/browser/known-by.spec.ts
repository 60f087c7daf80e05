import { jest } from '@jest/globals';
import type { Page } from 'playwright-core';
import type * as z from 'zod';
import type { UnidentifiedList } from '../../libs/contracts/src/identify.js';
import { phonePhotograph } from '../support/pictures.js';
import { openScene, type Scene } from './scene.js';

jest.setTimeout(180_000);

let scene: Scene;
let page: Page;
let unknownId: string;

beforeAll(async () => {
  scene = await openScene('known');
  page = await scene.page();
  const { units } = (await scene.owner.get<z.infer<typeof UnidentifiedList>>('/api/units/unidentified')).body;
  unknownId = units.find(({ words }) => words.includes('six wheel studs'))!.id;
});
afterAll(async () => {
  expect(scene.complaints).toEqual([]);
  await scene.stop();
});

const section = () => page.getByRole('region', { name: 'What a unit type is known by', exact: true });
const chooseType = async () => {
  await page.goto('/settings');
  await section().getByLabel('Unit type').selectOption({ label: 'Brantock WD5 5-ton, Overhead-worm axle' });
  await section().getByRole('button', { name: 'Add a sign' }).waitFor();
};
const fold = (words: string | RegExp) => section().getByRole('button', { name: words });

describe('what a unit type is known by, in Settings', () => {
  it('is added to by a feature, which says what it lacks first', async () => {
    await chooseType();
    await section().getByRole('button', { name: 'Add a sign' }).click();
    const form = section().getByRole('form', { name: 'A new sign' });
    await form.getByLabel('Kind of sign').selectOption('feature');
    await form.getByRole('button', { name: 'Keep the sign' }).click();
    await form.getByText('Say what to look for, so that somebody can answer yes or no.').waitFor();
    await form.getByLabel('What to look for').fill('A filler plug stands on the nose');
    await form.getByRole('button', { name: 'Keep the sign' }).click();
    await fold('A filler plug stands on the nose; good').waitFor();
  });

  it('is photographed there, and the photograph stands beside the question where a unit is identified', async () => {
    await fold('A filler plug stands on the nose; good').click();
    const file = { name: 'plug.jpg', mimeType: 'image/jpeg', buffer: await phonePhotograph() };
    // each sign has the two; those of the open fold are last, as the newest sign is
    await section().locator('input[type=file][multiple]').last().setInputFiles(file);
    await fold('A filler plug stands on the nose; good; 1 photograph').waitFor();
    await page.goto(`/stores/things/${unknownId}/identify`);
    await page.getByLabel('A filler plug stands on the nose', { exact: true }).waitFor();
    const picture = page.getByRole('img', { name: 'A filler plug stands on the nose, Brantock WD5 5-ton, photograph 1 in full' });
    await picture.waitFor();
    expect(await picture.evaluate((image: HTMLImageElement) => image.decode().then(() => image.naturalWidth > 0))).toBe(true);
  });

  it('is changed, and a sign that is withdrawn is asked for no longer', async () => {
    await chooseType();
    await fold(/^A filler plug stands on the nose/).click();
    const form = section().getByRole('form', { name: 'Change A filler plug stands on the nose' });
    await form.getByLabel('What it weighs').selectOption('decisive');
    await form.getByRole('button', { name: 'Keep the sign' }).click();
    await fold('A filler plug stands on the nose; decisive; 1 photograph').waitFor();
    await section().getByRole('button', { name: 'Withdraw: A filler plug stands on the nose' }).click();
    await fold('A filler plug stands on the nose; withdrawn; 1 photograph').waitFor();
    await page.goto(`/stores/things/${unknownId}/identify`);
    await page.getByLabel('The worm lies above the wheel').waitFor();
    expect(await page.getByLabel('A filler plug stands on the nose', { exact: true }).count()).toBe(0);
  });

  it('has its serial numbers and its teeth keyed, the ratio reckoned beside them', async () => {
    await chooseType();
    const form = section().getByRole('form', { name: 'Serial numbers and teeth of Brantock WD5 5-ton' });
    await form.getByRole('button', { name: 'Add serial numbers' }).click();
    await form.getByLabel('Serial numbers 1, letters before').fill('WD5');
    await form.getByLabel('Serial numbers 1, first').fill('900');
    await form.getByLabel('Serial numbers 1, last').fill('1');
    await form.getByRole('button', { name: 'Keep the numbers' }).click();
    await form.getByText('The last is less than the first. Key the lower number first.').waitFor();
    await form.getByLabel('Serial numbers 1, first').fill('1');
    await form.getByLabel('Serial numbers 1, last').fill('900');
    await form.getByLabel('Ratio 1, teeth').fill('4/26');
    await form.getByText('6.5 : 1', { exact: true }).waitFor();
    await form.getByRole('button', { name: 'Keep the numbers' }).click();
    await page.goto(`/stores/things/${unknownId}/identify`);
    await page.getByLabel('Serial number').fill('WD5 77');
    await page.getByText('Serial WD5 77 lies within WD5 1 to 900.', { exact: false }).first().waitFor();
  });
});
