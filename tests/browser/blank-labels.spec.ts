import { jest } from '@jest/globals';
import type { Page } from 'playwright-core';
import type { LoadPage, LoadRow } from '../../libs/contracts/src/goods-in.js';
import type { CodeBlock } from '../../libs/contracts/src/labels.js';
import { openLoad } from '../support/load-stock.js';
import { eventually, openScene, type Scene, scan } from './scene.js';

jest.setTimeout(120_000);

let scene: Scene;
let page: Page;
let loadId: string;
let block: CodeBlock;

beforeAll(async () => {
  scene = await openScene('blanks');
  page = await scene.page();
  loadId = (await openLoad(scene.owner, 'what lay in the yard')).id;
});
afterAll(async () => {
  expect(scene.complaints).toEqual([]);
  await scene.stop();
});

const rows = async (): Promise<LoadRow[]> => (await scene.owner.get<LoadPage>(`/api/loads/${loadId}`)).body.rows;
const said = (code: string) => code.replace(/^(.)(.*)(..)$/, '$1 $2 $3');
const inHand = () => page.getByRole('rowgroup', { name: /in hand$/ });

it('are printed before anything bears them, and listed until all are on something', async () => {
  await page.goto('/goods-in');
  const section = page.getByRole('region', { name: 'Blank labels' });
  await section.getByLabel('How many').fill('5');
  await section.getByRole('button', { name: 'Print on A4' }).click();
  await section.getByText('10 labels on 1 page').waitFor();
  await section.getByText('5 of 5').waitFor();
  const { blocks } = (await scene.owner.get<{ blocks: CodeBlock[] }>('/api/code-blocks')).body;
  block = blocks[0]!;
  expect(block).toMatchObject({ kind: 'unit', count: 5, printed: 5 });
});

it('begin a row each at the first scan, and go back to it at the next', async () => {
  await page.goto(`/goods-in/${loadId}`);
  await page.getByRole('button', { name: 'Key a row' }).waitFor();
  const [first, second] = block.free as [string, string];
  await scan(page, first);
  await inHand().getByText(said(first)).first().waitFor();
  await inHand().getByLabel('what it is').fill('axle, drums on, no shafts');
  await scan(page, second);
  await inHand().getByText(said(second)).first().waitFor();
  await inHand().getByLabel('what it is').fill('gearbox, lid lost');
  await scan(page, first);
  await eventually(async () =>
    expect((await rows()).map(({ code, words }) => [code, words])).toEqual([
      [first, 'axle, drums on, no shafts'],
      [second, 'gearbox, lid lost'],
    ]),
  );
});

it('are taken without a network, and claimed when it is back', async () => {
  const third = block.free[2]!;
  await page.context().setOffline(true);
  await scan(page, third);
  await inHand().getByText(said(third)).first().waitFor();
  await inHand().getByLabel('what it is').fill('casing alone');
  await page.getByRole('button', { name: /^Save, next row/ }).click();
  await page.getByText('kept on this device', { exact: false }).first().waitFor();
  expect(await rows()).toHaveLength(2);
  await page.context().setOffline(false);
  await eventually(async () => expect((await rows()).map(({ code }) => code)).toContain(third), 30_000);
});

it('are refused where another row was quicker, and what was keyed is kept for another label', async () => {
  const fourth = block.free[3]!;
  await page.context().setOffline(true);
  await scan(page, fourth);
  await inHand().getByText(said(fourth)).first().waitFor();
  await inHand().getByLabel('what it is').fill('half shaft, bent');
  await page.getByRole('button', { name: /^Save, next row/ }).click();
  await scene.owner.put(`/api/loads/${loadId}/rows/${crypto.randomUUID()}`, {
    kind: 'unit',
    position: 90,
    unitTypeId: null,
    words: 'keyed elsewhere',
    code: fourth,
  });
  await page.context().setOffline(false);
  await page.getByText('Not saved: open the row and see why.').waitFor();
  await page.getByRole('row').filter({ hasText: 'half shaft, bent' }).getByRole('button').first().click();
  await page.getByText('This label is on something else').waitFor();
  await inHand().getByRole('button', { name: 'Not that label' }).click();
  await page.getByRole('button', { name: /^Save, next row/ }).click();
  await eventually(async () => {
    const kept = (await rows()).find(({ words }) => words === 'half shaft, bent');
    expect(kept?.code).toMatch(/^U/);
    expect(kept?.code).not.toBe(fourth);
  });
});
