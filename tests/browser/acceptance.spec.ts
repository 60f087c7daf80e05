import { jest } from '@jest/globals';
import type { Page } from 'playwright-core';
import type * as z from 'zod';
import { verifyBooks } from '../../apps/api/src/stores/verify/verify-books.js';
import type { SearchAnswer } from '../../libs/contracts/src/stores.js';
import { addPerson, ownerPassPhrase } from '../support/bare-server.js';
import { pressFolded } from './acts.js';
import { openScene, type Scene } from './scene.js';

jest.setTimeout(180_000);

let scene: Scene;
let page: Page;
let unitId: string;

beforeAll(async () => {
  scene = await openScene('acceptance');
  page = await scene.page();
  const { hits } = (await scene.owner.get<z.infer<typeof SearchAnswer>>('/api/search?q=S1118820')).body;
  unitId = hits.find(({ kind }) => kind === 'unit')!.id;
});
afterAll(async () => {
  expect(await verifyBooks(scene.server.database)).toEqual([]);
  expect(scene.complaints).toEqual([]);
  await scene.stop();
});

const asked = (words: string, on = page) => on.getByRole('group', { name: words });
const answer = (words: string, said: string, on = page) =>
  asked(words, on).getByRole('button', { name: said, exact: true }).click();
const suggested = (on = page) => on.getByRole('form', { name: 'Acceptance sheet' }).getByRole('status').first();
const settingsOf = (title: string) => page.getByRole('region', { name: title, exact: true });

describe('what is asked of a core of a type', () => {
  it('is keyed in Settings, with the share that hangs on each component, and refused in words above a hundred', async () => {
    await page.goto('/settings');
    const section = settingsOf('What is asked of a core');
    await section.getByLabel('Unit type').selectOption({ label: 'Dunmarrow S11, Spiral-bevel axle' });
    await section.getByText('The casing and the rest: 25 %').waitFor();
    await section.getByLabel('Share of 6, Coupling flange').fill('30');
    await section.getByText('The shares are more than 100 % together').waitFor();
    await section.getByRole('button', { name: 'Keep it' }).click();
    await section.getByText('The shares are 105 percent together', { exact: false }).waitFor();
    await section.getByLabel('Share of 6, Coupling flange').fill('5');
    await section.getByLabel('No weld').fill('None but the maker’s seam; a patch on the pan is a weld');
    await section.getByRole('button', { name: 'Keep it' }).click();
    await section.getByText('The casing and the rest: 20 %').waitFor();
    await page.reload();
    await section.getByLabel('Unit type').selectOption({ label: 'Dunmarrow S11, Spiral-bevel axle' });
    await section.getByText('The casing and the rest: 20 %').waitFor();
    expect(await section.getByLabel('No weld').inputValue()).toContain('a patch on the pan');
  });

  it('is copied from another type by the names of its components, and kept only when somebody keeps it', async () => {
    const section = settingsOf('What is asked of a core');
    await section.getByLabel('Unit type').selectOption({ label: 'Dunmarrow S9, Spiral-bevel axle' });
    await section.getByLabel('Copy from another type').selectOption({ label: 'Dunmarrow S11' });
    await section.getByText(/^Copied from Dunmarrow S11.*Nothing is kept yet\.$/).waitFor();
    expect(await section.getByLabel('Credit for a full acceptable core').inputValue()).toBe('150.00');
    await section.getByRole('button', { name: 'Keep it' }).click();
    await page.reload();
    await section.getByLabel('Unit type').selectOption({ label: 'Dunmarrow S9, Spiral-bevel axle' });
    await section.getByText('what is acceptable').first().waitFor();
    expect(await section.getByLabel('Credit for a full acceptable core').inputValue()).toBe('150.00');
  });
});

describe('a core in the yard, on a phone', () => {
  it('is looked over by the bench, who is told no money', async () => {
    await addPerson(scene.server, scene.owner, 'bench', 'edwin', 'Edwin Marsh');
    const phone = await (await scene.context({ viewport: { width: 360, height: 740 }, hasTouch: true })).newPage();
    await phone.goto('/sign-in');
    await phone.getByLabel('Name').fill('edwin');
    await phone.getByLabel('Pass phrase', { exact: true }).fill(`${ownerPassPhrase} of edwin`);
    await phone.getByRole('button', { name: 'Sign in' }).click();
    await phone.getByRole('navigation', { name: 'Places' }).waitFor();
    await phone.goto(`/stores/things/${unitId}`);
    await pressFolded(phone, 'Acceptance sheet');
    await answer('No cracks', 'no', phone);
    await phone.getByLabel('Note on: No cracks').fill('hair line by the filler');
    await answer('Re-usable: Crown wheel and pinion', 'yes', phone);
    await suggested(phone)
      .getByText(/^grade C, 35 %; provisional, for 10 were not looked at: up to grade B, 80 % if it is all good$/)
      .waitFor();
    const small = await asked('No weld', phone).getByRole('button', { name: 'yes', exact: true }).boundingBox();
    expect(small!.height).toBeGreaterThanOrEqual(48);
    await phone.getByRole('button', { name: 'Keep the sheet' }).click();
    await phone.getByText('Whoever keeps the books decides its grade and its credit.').waitFor();
    expect(await phone.getByText('£').count()).toBe(0);
    await phone.context().close();
  });

  it('is decided otherwise than suggested with a reason alone, and its page says so', async () => {
    await page.goto(`/stores/things/${unitId}/acceptance`);
    await page.getByText('hair line by the filler').waitFor();
    await page.getByLabel('Grade').selectOption('B');
    await page.getByRole('button', { name: 'Decide, in my name' }).click();
    await page.getByText('the grade is B and not C', { exact: false }).waitFor();
    await page.getByLabel('Why it differs from what is suggested').fill('the crack is in the paint');
    await page.getByRole('button', { name: 'Decide, in my name' }).click();
    await page.getByText('grade B, £52.50, by Mary Fenwright, because: the crack is in the paint').waitFor();
    await page.getByRole('link', { name: 'Its page' }).click();
    const record = page.getByRole('table', { name: 'Acceptance sheets' });
    await record.getByText('cracks: hair line by the filler').waitFor();
    expect(await record.textContent()).toContain('Edwin Marsh');
    await page.getByText('grade B', { exact: true }).first().waitFor();
  });

  it('is looked over anew: the second sheet stands, the first stays on record', async () => {
    await pressFolded(page, 'Acceptance sheet');
    await page.getByRole('button', { name: 'Fill in another sheet' }).click();
    for (const words of ['Complete', 'Assembled', 'No cracks', 'No holes', 'No heat damage', 'No weld'])
      await answer(words, 'yes');
    for (const group of await page.getByRole('group', { name: /^Re-usable/ }).all())
      await group.getByRole('button', { name: 'yes', exact: true }).click();
    await suggested().getByText('grade A, 100 %, £150.00', { exact: true }).waitFor();
    await page.getByRole('button', { name: 'Keep the sheet' }).click();
    await page.getByRole('button', { name: 'Decide, in my name' }).click();
    await page.getByText('grade A, £150.00, by Mary Fenwright').first().waitFor();
    const rows = page.getByRole('table', { name: 'Acceptance sheets' }).getByRole('row');
    expect(await rows.count()).toBe(3);
    expect(await rows.nth(2).textContent()).toContain('the crack is in the paint');
  });
});

describe('the scale of grades', () => {
  it('is edited in Settings: a letter in use stays, what it means changes, and what is no longer offered says so', async () => {
    await page.goto('/settings');
    const section = settingsOf('Grades');
    await section.getByRole('button', { name: /^Grades of cores/ }).click();
    await section.getByRole('button', { name: 'Change grade C of cores' }).click();
    await section.getByLabel('Letter').fill('S');
    await section.getByRole('button', { name: 'Keep it' }).click();
    await section.getByText(/Grade C is borne by \d+ units/).waitFor();
    await section.getByLabel('Letter').fill('C');
    await section.getByLabel('What it means').fill('Seized or part missing.');
    await section.getByRole('button', { name: 'Keep it' }).click();
    await section.getByRole('cell', { name: 'Seized or part missing.' }).waitFor();
    await section.getByRole('button', { name: 'No longer offer it: grade C of cores' }).click();
    await section.getByRole('button', { name: 'Grades of cores: A, B, D' }).waitFor();
    await section.getByRole('button', { name: 'Add a grade for cores' }).click();
    await section.getByLabel('Letter').fill('C2');
    await section.getByLabel('Stands').selectOption('3');
    await section.getByLabel('What it means').fill('Seized, nothing missing.');
    await section.getByRole('button', { name: 'Keep it' }).click();
    await section.getByRole('button', { name: 'Grades of cores: A, B, C2, D' }).waitFor();
  });
});
