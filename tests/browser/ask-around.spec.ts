import { jest } from '@jest/globals';
import type { Page } from 'playwright-core';
import type { AskAround } from '../../libs/contracts/src/ask-around.js';
import { eventually, openScene, type Scene } from './scene.js';

jest.setTimeout(120_000);

let scene: Scene;
let page: Page;

beforeAll(async () => {
  scene = await openScene('asking');
  page = await scene.page();
  await page.goto('/stores/ask-around');
});
afterAll(async () => {
  expect(scene.complaints).toEqual([]);
  await scene.stop();
});

const list = async () => (await scene.owner.get<AskAround>('/api/ask-around')).body;

it('keeps who said what a thing is, and shows it on the list and on the page of the thing', async () => {
  const tin = (await list()).things.find(({ words }) => words.startsWith('Biscuit tin'))!;
  const entry = page.getByRole('article', { name: /^Biscuit tin/ });
  await entry.getByRole('button', { name: /^Somebody knows/ }).click();
  await entry.getByRole('button', { name: 'Keep the answer' }).click();
  await entry.getByText('Say who it was.').waitFor();
  await entry.getByLabel('Who said so').fill('Mrs Ockley');
  await entry.getByLabel('It is', { exact: true }).fill('nipples off a Pellow plough');
  await entry.getByRole('button', { name: 'Keep the answer' }).click();
  await entry.getByText('nipples off a Pellow plough').waitFor();
  await eventually(async () =>
    expect((await list()).things.find(({ id }) => id === tin.id)?.answers).toMatchObject([{ toldBy: 'Mrs Ockley' }]),
  );
  await page.goto(`/stores/things/${tin.id}`);
  await page.getByRole('region', { name: 'What others said it is' }).getByText('nipples off a Pellow plough').waitFor();
});

it('prints all of it with a code and a line to write on, without what is only pressed', async () => {
  await page.goto('/stores/ask-around');
  await page.getByRole('article').first().waitFor();
  await page.emulateMedia({ media: 'print' });
  const { things } = await list();
  await eventually(async () => expect(await page.getByRole('article').count()).toBe(things.length));
  expect(await page.getByText('It is:').filter({ visible: true }).count()).toBe(things.length);
  expect(await page.getByRole('button').filter({ visible: true }).count()).toBe(0);
  await page.emulateMedia({ media: 'screen' });
});
