import { jest } from '@jest/globals';
import type { Page } from 'playwright-core';
import { newId } from '../../apps/api/src/platform/new-id.js';
import { verifyBooks } from '../../apps/api/src/stores/verify/verify-books.js';
import type { BoxPage } from '../../libs/contracts/src/boxes.js';
import type { CodeBlock } from '../../libs/contracts/src/labels.js';
import type { Thing } from '../../libs/contracts/src/stores.js';
import { keyRow, openLoad, unsortedRow } from '../support/load-stock.js';
import { eventually, openScene, type Scene, scan } from './scene.js';

jest.setTimeout(120_000);

let scene: Scene;
let page: Page;
let box: { id: string; code: string };
let bag: string;

beforeAll(async () => {
  scene = await openScene('boxes');
  page = await scene.page();
  const load = await openLoad(scene.owner, 'a shed at Netherstrake');
  box = (await keyRow(scene.owner, load.id, unsortedRow({ pieceCount: 20 }))).body;
  const body = { id: newId(), kind: 'lot', count: 3 };
  bag = (await scene.owner.post<CodeBlock>('/api/code-blocks', body)).body.free[0]!;
});
afterAll(async () => {
  expect(await verifyBooks(scene.server.database)).toEqual([]);
  expect(scene.complaints).toEqual([]);
  await scene.stop();
});

const shown = async () => (await scene.owner.get<BoxPage>(`/api/boxes/${box.id}`)).body;
const press = (name: string) => page.getByRole('button', { name, exact: true }).click();

it('opens at the scan of its label, and the scan of a blank bag label begins what goes into that bag', async () => {
  await page.goto('/');
  await page.getByLabel('Scan, or key a code').waitFor();
  const blanksKnown = page.waitForResponse((response) => response.url().endsWith('/api/code-blocks'));
  await scan(page, box.code);
  await blanksKnown;
  const section = page.getByRole('region', { name: 'In the box' });
  await section.getByText('20 of about 20 left').waitFor();
  await scan(page, bag);
  const form = page.getByRole('form', { name: 'Name something out of it' });
  await form.getByText('It bears the label').waitFor();
  await form.getByLabel('Part number').fill('48-2230');
  await page
    .getByRole('option', { name: /48-2230/ })
    .first()
    .click();
  await form.getByLabel('How many').fill('12');
  await form.getByLabel('What the rest is called now').fill('tobacco tin: shims and keys');
  await press('Take it out and name it');
  await section.getByRole('status').getByText('8 are left unsorted', { exact: false }).waitFor();
  const { takings, piecesLeft, words } = await shown();
  expect({ piecesLeft, words, code: takings[0]!.thing!.code }).toEqual({
    piecesLeft: 8,
    words: 'tobacco tin: shims and keys',
    code: bag,
  });
  const thing = (await scene.owner.get<Thing>(`/api/things/${takings[0]!.thing!.id}`)).body;
  expect(thing).toMatchObject({ held: '12', outOfBox: { code: box.code } });
});

it('is refused in words when more is keyed than is left, and what was keyed is kept', async () => {
  const form = page.getByRole('form', { name: 'Name something out of it' });
  await form.getByLabel('In words').fill('keys, taper');
  await form.getByLabel('How many').fill('9');
  await press('Take it out and name it');
  await form.getByText('8 of them are not named yet', { exact: false }).waitFor();
  expect(await form.getByLabel('In words').inputValue()).toBe('keys, taper');
  await form.getByLabel('How many').fill('3');
  await press('Take it out and name it');
  await eventually(async () => expect((await shown()).piecesLeft).toBe(5));
  await press('Leave it');
});

it('takes a mistake back with a reason, and is emptied with a loss that somebody stands for', async () => {
  await page.getByRole('button', { name: 'Undo it: keys, taper' }).click();
  await page.getByLabel('Why it goes back into the box').fill('they are lock tabs');
  await press('Undo it');
  await eventually(async () => expect((await shown()).piecesLeft).toBe(8));
  await press('It is empty');
  await page.getByLabel('What became of the 8 that nobody named').fill('rusted together');
  await press('Say that it is empty');
  await page.getByText('said to be empty, 8 not found').first().waitFor();
  expect(await shown()).toMatchObject({ saidEmpty: true, piecesLeft: 0 });
});
