import { jest } from '@jest/globals';
import type * as z from 'zod';
import { newId } from '../../apps/api/src/platform/new-id.js';
import type { PartList, PartPage } from '../../libs/contracts/src/catalogue.js';
import { addPerson, type BareServer, startBareServer, type Visitor } from '../support/bare-server.js';
import { listenTo } from '../support/news.js';
import { Stock } from '../support/stock.js';

jest.setTimeout(60_000);

let server: BareServer;
let owner: Visitor;

beforeAll(async () => {
  server = await startBareServer('edit_part');
  owner = await server.setUp();
});
afterAll(async () => {
  await server.stop();
});

interface Changed {
  id: string;
  version: number;
  code: string;
  detail: string;
  values: { part?: { id: string }; fields?: { path: string }[] };
}
const add = (more: Record<string, unknown> = {}) =>
  owner.post<Changed>('/api/parts', {
    id: newId(),
    makerName: 'Halloran Seals',
    number: `HS ${newId().slice(-6)}`,
    name: 'Seal, worm input',
    unitOfMeasure: 'each',
    material: 'leather',
    ...more,
  });
const addNumber = (partId: string, more: Record<string, unknown>) =>
  owner.post<Changed>(`/api/parts/${partId}/numbers`, { makerName: 'Halloran Seals', ...more });
const page = async (partId: string) => (await owner.get<PartPage>(`/api/parts/${partId}`)).body;
const found = async (q: string) =>
  (await owner.get<z.infer<typeof PartList>>(`/api/parts?q=${encodeURIComponent(q)}`)).body.parts.map((part) => part.id);

describe('a part that is written down', () => {
  it('is found by its number however keyed, by its name and by what it is called in the shop', async () => {
    const { id } = (await add({ number: 'HS 17-04', name: 'Seal, pinion nose', nicknames: 'the leather one' })).body;
    for (const keyed of ['hs1704', 'HS 17 04', '17-04', 'pinion nose', 'leather one']) expect(await found(keyed)).toContain(id);
    expect(await page(id)).toMatchObject({
      name: 'Seal, pinion nose',
      material: 'leather',
      version: 1,
      numbers: [{ maker: 'Halloran Seals', number: 'HS 17-04', isMain: true }],
    });
  });

  it('is not written down twice under one number of a maker; another maker may have it', async () => {
    const first = (await add({ number: 'K 88/2' })).body;
    const again = await add({ number: 'K 88/2' });
    expect(again).toMatchObject({ status: 409, body: { code: 'numbered-already', values: { part: { id: first.id } } } });
    const other = await add({ number: 'K 88/2', makerName: 'Veldrow Bearings' });
    expect(other.status).toBe(200);
    expect((await found('K88/2')).toSorted()).toEqual([first.id, other.body.id].toSorted());
  });

  it('is asked about where the maker has a number that differs only in how it is written', async () => {
    await add({ number: 'M-21 4' });
    const asked = await add({ number: 'M 214' });
    expect(asked.body).toMatchObject({ code: 'written-otherwise', detail: expect.stringContaining('M-21 4') });
    expect((await add({ number: 'M 214', isAnother: true })).status).toBe(200);
  });

  it.each([
    ['without letters or figures in its number', { number: ' -- ' }],
    ['without a number', { number: ' ' }],
    ['without a name', { name: '' }],
    ['of leather and a kind of rubber', { polymer: 'NBR' }],
    ['of a stuff that is none', { material: 'moonshine' }],
    ['counted in pints', { unitOfMeasure: 'pint' }],
  ])('is refused %s, and leaves no maker behind', async (_case, more) => {
    const makerName = `Nobody ${newId()}`;
    expect((await add({ makerName, ...more })).status).toBe(422);
    const { makers } = (await owner.get<{ makers: { name: string }[] }>('/api/makers')).body;
    expect(makers.map(({ name }) => name)).not.toContain(makerName);
  });

  it('is raced: of two that write one number each in another way, one is written and the other asked', async () => {
    const makerName = 'Ostrey-Kell';
    await add({ makerName });
    const stock = await Stock.open(server.testDatabase.ownerUrl);
    // nobody can write a number of a maker who is locked, so both have looked by the time that the first writes
    await stock.query('BEGIN');
    await stock.query('SELECT 1 FROM makers WHERE name = $1 FOR UPDATE', [makerName]);
    const adding = ['48-2217', '482217'].map((number) => add({ makerName, number }));
    await new Promise((settle) => setTimeout(settle, 500));
    await stock.query('COMMIT');
    await stock.close();
    const codes = (await Promise.all(adding)).map(({ body }) => body.code ?? 'written');
    expect(codes.toSorted()).toEqual(['written', 'written-otherwise']);
  });

  it('is raced: of ten that write one number at once, one is written', async () => {
    const number = `R ${newId().slice(-8)}`;
    const answers = await Promise.all(Array.from({ length: 10 }, () => add({ number })));
    expect(answers.filter(({ status }) => status === 200)).toHaveLength(1);
    expect(answers.filter(({ status }) => status === 409)).toHaveLength(9);
  });
});

describe('a further number', () => {
  it('leads to the part, with its maker and years', async () => {
    const { id } = (await add()).body;
    const added = await addNumber(id, { makerName: 'Ostrey-Kell', number: '7G-1', yearFirst: 1948, yearLast: 1952 });
    expect(added.status).toBe(200);
    expect(await found('7G1')).toEqual([id]);
    expect((await page(id)).numbers[1]).toEqual({
      maker: 'Ostrey-Kell',
      number: '7G-1',
      yearFirst: 1948,
      yearLast: 1952,
      isMain: false,
    });
  });

  it.each([
    ['before the trade', { yearFirst: 1879, yearLast: null }, 'yearFirst'],
    ['to come', { yearFirst: null, yearLast: 2999 }, 'yearLast'],
    ['the wrong way round', { yearFirst: 1950, yearLast: 1948 }, 'yearLast'],
  ])('is refused with years %s', async (_case, years, path) => {
    const { id } = (await add()).body;
    const answer = await addNumber(id, { number: '9 X', ...years });
    expect(answer).toMatchObject({ status: 422, body: { values: { fields: [{ path }] } } });
    expect((await page(id)).numbers).toHaveLength(1);
  });

  it('of a part that is not in the books is refused', async () => {
    expect((await addNumber(newId(), { number: '9 X', yearFirst: null, yearLast: null })).status).toBe(404);
  });
});

describe('what a part is', () => {
  it('is put right by the version that was seen, by who keeps the books', async () => {
    const { id } = (await add()).body;
    const changed = { name: 'Seal, worm output', description: 'two lips', nicknames: '', material: 'rubber', polymer: 'nbr' };
    const edit = (visitor: Visitor, ifMatch?: number) =>
      visitor.patch(`/api/parts/${id}`, changed, ifMatch === undefined ? {} : { ifMatch });
    expect((await edit(owner)).status).toBe(428);
    expect((await edit(owner, 7)).status).toBe(412);
    const bench = await addPerson(server, owner, 'bench', 'tom', 'Tom Hasleby');
    expect((await edit(bench, 1)).status).toBe(403);
    const news = await listenTo(server.url, owner);
    expect((await edit(owner, 1)).status).toBe(200);
    // how long it keeps is told on the rows of loads too
    await news.until((topics) => ['stores', 'jobs', 'loads', 'today'].every((topic) => topics.includes(topic)));
    news.stop();
    expect(await page(id)).toMatchObject({ name: 'Seal, worm output', material: 'rubber', polymer: 'NBR', version: 2 });
  });
});
