import { newId } from '../../apps/api/src/platform/new-id.js';
import { makeCode } from '../../libs/codes/src/label-code.js';
import type { CodeBlock } from '../../libs/contracts/src/labels.js';
import { type BareServer, startBareServer, type Visitor } from '../support/bare-server.js';
import { closeDrawing, drawPages, openReader, readPicture } from '../support/label-reader.js';
import { keyRow, lotRow, openLoad, type RowShown, unitRow, unsortedRow } from '../support/load-stock.js';
import { Stock } from '../support/stock.js';

let server: BareServer;
let owner: Visitor;
let stock: Stock;
let loadId: string;

beforeAll(async () => {
  openReader();
  server = await startBareServer('blanks');
  owner = await server.setUp();
  stock = await Stock.open(server.testDatabase.ownerUrl);
  loadId = (await openLoad(owner)).id;
});
afterAll(async () => {
  closeDrawing();
  await stock.close();
  await server.stop();
});

async function block(kind: CodeBlock['kind'], count: number): Promise<CodeBlock> {
  return (await owner.post<CodeBlock>('/api/code-blocks', { id: newId(), kind, count })).body;
}
const openBlocks = async () => (await owner.get<{ blocks: CodeBlock[] }>('/api/code-blocks')).body.blocks;
const key = (row: Record<string, unknown>, id = newId()) => keyRow(owner, loadId, row, id);

describe('a block of blank labels', () => {
  it('has codes of its own, in order, which no row is given', async () => {
    const { first, last, count, free, printed, by } = await block('unit', 12);
    expect({ count, printed, by, free: free.length, ends: [free[0], free.at(-1)] }).toEqual({
      count: 12,
      printed: 0,
      by: 'Edie Marrack',
      free: 12,
      ends: [first, last],
    });
    const given = (await key(unitRow())).body.code;
    expect(free).not.toContain(given);
  });

  it('of two that are set aside at once shares no code', async () => {
    const blocks = await Promise.all(Array.from({ length: 6 }, () => block('lot', 40)));
    expect(new Set(blocks.flatMap(({ free }) => free)).size).toBe(240);
  });

  it('is printed, two tags a unit, and read back; claimed ones are not printed again', async () => {
    const made = await block('unit', 3);
    const print = async () => {
      const run = await owner.post<{ labelCount: number; pdfPath: string }>('/api/label-runs', {
        id: newId(),
        blockId: made.id,
        stock: 'tie-on tag',
        dotsPerInch: 203,
      });
      expect(run).toMatchObject({ status: 200, body: { labelCount: expect.any(Number) } });
      const answer = await fetch(`${server.url}${run.body.pdfPath}`, { headers: { cookie: owner.cookie ?? '' } });
      return { run: run.body, pages: await drawPages(Buffer.from(await answer.arrayBuffer()), 203) };
    };
    const { run, pages } = await print();
    expect([run.labelCount, pages.length]).toEqual([6, 6]);
    const read = new Set<string>();
    for (const page of pages) for (const { text } of await readPicture(page, 2)) read.add(text);
    expect([...read].sort()).toEqual(made.free);
    await key(unitRow({ code: made.free[1] }));
    expect((await print()).run.labelCount).toBe(4);
    expect((await openBlocks()).find(({ id }) => id === made.id)).toMatchObject({ printed: 3, free: [made.first, made.last] });
  });

  it('is gone from the list when all of it is on something', async () => {
    const made = await block('unsorted', 1);
    await key(unsortedRow({ code: made.first }));
    expect((await openBlocks()).map(({ id }) => id)).not.toContain(made.id);
  });

  it('is neither empty nor more than anybody carries', async () => {
    for (const count of [0, -1, 501, 2.5])
      expect((await owner.post('/api/code-blocks', { id: newId(), kind: 'lot', count })).status).toBe(422);
  });

  it('is kept for good by the database itself', async () => {
    await expect(stock.query('DELETE FROM blank_codes')).rejects.toThrow(/kept for good/);
    await expect(stock.query("UPDATE code_blocks SET kind = 'U'")).rejects.toThrow(/kept for good/);
  });
});

describe('the first scan of a blank label', () => {
  it('begins a row that bears it: a unit, a lot, a box', async () => {
    for (const [kind, row] of [
      ['unit', unitRow()],
      ['lot', lotRow(await stock.part())],
      ['unsorted', unsortedRow()],
    ] as const) {
      const { first } = await block(kind, 2);
      expect((await owner.get<{ code: string; detail: string }>(`/api/scan/${first}`)).body).toMatchObject({
        code: 'code-blank',
        detail: expect.stringContaining('begins a row'),
      });
      const kept = await key({ ...row, code: first });
      expect([kept.status, kept.body.code]).toEqual([200, first]);
      expect((await owner.get<{ id: string }>(`/api/scan/${first}`)).body.id).toBe(kept.body.id);
    }
  });

  it('takes it however it is keyed, and says the same again to who sends it again', async () => {
    const { first } = await block('unit', 1);
    const [id, row] = [newId(), unitRow({ code: first.toLowerCase().replace(/(.)(......)(..)/, '$1 $2 $3') })];
    const kept = await key(row, id);
    expect(kept.body.code).toBe(first);
    const edit = (code: string | null) =>
      owner.put<RowShown>(`/api/loads/${loadId}/rows/${id}`, unitRow({ code, words: 'a case' }), { ifMatch: kept.body.version });
    expect((await edit((await block('unit', 1)).first)).body).toMatchObject({ code: 'label-stays' });
    expect((await edit(first)).status).toBe(200);
  });

  it('is refused of one that was claimed, of one of another kind, and of one that nobody printed', async () => {
    const { first, last } = await block('lot', 2);
    const part = await stock.part();
    await key(lotRow(part, { code: first }));
    expect((await key(lotRow(part, { code: first }))).body).toMatchObject({
      code: 'code-claimed',
      detail: expect.stringMatching(/^L .* was claimed before/),
    });
    expect((await key(unitRow({ code: last }))).body).toMatchObject({ code: 'code-of-another-kind' });
    expect((await key(lotRow(part, { code: makeCode('L', 987_654) }))).body).toMatchObject({ code: 'code-never-printed' });
    expect((await key(lotRow(part, { code: 'L00000000' }))).status).toBe(422);
    const given = (await key(lotRow(part))).body.code;
    expect((await key(lotRow(part, { code: given }))).body).toMatchObject({ code: 'code-claimed' });
    expect((await key(lotRow(part, { code: last }))).body.code).toBe(last);
  });

  it('by many at once is one row’s, and the others change nothing', async () => {
    const { first } = await block('unit', 1);
    const ids = Array.from({ length: 12 }, newId);
    const answers = await Promise.all(ids.map((id) => key(unitRow({ code: first }), id)));
    expect(answers.map(({ status }) => status).sort()).toEqual([200, ...Array<number>(11).fill(409)]);
    const there = await stock.query<{ id: string }>('SELECT id FROM things WHERE id = ANY ($1)', [ids]);
    expect(there).toHaveLength(1);
  });

  it('of a row that is struck out is void, and says what it was on', async () => {
    const { first } = await block('unit', 1);
    const { body } = await key(unitRow({ code: first }));
    await owner.post(`/api/loads/${loadId}/rows/${body.id}/strike`, { reason: 'counted twice' }, { ifMatch: body.version });
    expect((await owner.get<{ code: string }>(`/api/scan/${first}`)).body.code).toBe('code-void');
    expect((await key(unitRow({ code: first }))).body).toMatchObject({ code: 'code-claimed' });
  });
});
