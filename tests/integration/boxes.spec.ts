import { jest } from '@jest/globals';
import { newId } from '../../apps/api/src/platform/new-id.js';
import { verifyBooks } from '../../apps/api/src/stores/verify/verify-books.js';
import type { BoxPage, NamedOutOfBox } from '../../libs/contracts/src/boxes.js';
import type { Thing } from '../../libs/contracts/src/stores.js';
import { type Answer, addPerson, type BareServer, startBareServer, type Visitor } from '../support/bare-server.js';
import { balancesOf, keyRow, openLoad, unitType, unsortedRow } from '../support/load-stock.js';
import { Stock } from '../support/stock.js';
import type { Problem } from '../support/strip-bench.js';

jest.setTimeout(60_000);

let server: BareServer;
let owner: Visitor;
let bench: Visitor;
let stock: Stock;
let washerId: string;

beforeAll(async () => {
  server = await startBareServer('boxes');
  owner = await server.setUp();
  stock = await Stock.open(server.testDatabase.ownerUrl);
  bench = await addPerson(server, owner, 'bench', 'tomh', 'Tom Hasleby');
  washerId = await stock.part({ name: 'Lock tab' });
});
afterEach(async () => {
  expect(await verifyBooks(server.database)).toEqual([]);
});
afterAll(async () => {
  await stock.close();
  await server.stop();
});

interface Box {
  id: string;
  code: string;
  loadId: string;
}

async function box(pieceCount: number | null = 1000, fields: Record<string, unknown> = {}): Promise<Box> {
  const load = await openLoad(owner);
  const row = await keyRow(owner, load.id, unsortedRow({ pieceCount, placeId: stock.placeId, ...fields }));
  expect(row.status).toBe(200);
  return { id: row.body.id, code: row.body.code, loadId: load.id };
}

const washers = (fields: Record<string, unknown> = {}) => ({
  kind: 'lot',
  id: newId(),
  partId: washerId,
  quantity: '12',
  source: 'old stock',
  condition: 'as new',
  packetRead: '1961',
  packetCondition: 'sealed',
  ...fields,
});

function name(of: Box, body: Record<string, unknown>, who: Visitor = bench): Promise<Answer<NamedOutOfBox & Problem>> {
  return who.post(`/api/boxes/${of.id}/takings`, body);
}

async function named(of: Box, body: Record<string, unknown> = washers()): Promise<NamedOutOfBox> {
  const answer = await name(of, body);
  if (answer.status !== 200) throw new Error(`The naming was refused: ${JSON.stringify(answer.body)}`);
  return answer.body;
}

const empty = (of: Box, why = '') => bench.post<BoxPage & Problem>(`/api/boxes/${of.id}/emptying`, { why });
const undo = (of: Box, takingId: string, why = 'the wrong part was picked') =>
  bench.post<BoxPage & Problem>(`/api/boxes/${of.id}/takings/${takingId}/undoing`, { why });
const thingOf = async (id: string) => (await owner.get<Thing>(`/api/things/${id}`)).body;

describe('a box that is emptied', () => {
  it('of a thousand gives up twelve and keeps 988; what came out is a lot with its own label, out of that box and of its load', async () => {
    const counted = await box();
    const lot = washers();
    const answer = await named(counted, lot);
    expect(answer.words).toContain('988 are left unsorted');
    expect(answer.box).toMatchObject({ pieceCount: 1000, piecesLeft: 988, saidEmpty: false });
    expect(answer.box.takings).toMatchObject([{ kind: 'named', quantity: '12', pieces: 12, labelled: false, by: 'Tom Hasleby' }]);
    const thing = await thingOf(lot.id);
    expect(thing).toMatchObject({
      kind: 'lot',
      held: '12',
      owner: null,
      source: 'old stock',
      condition: 'as new',
      packet: { asRead: '1961' },
      outOfBox: { id: counted.id, code: counted.code },
      load: { id: counted.loadId },
    });
    expect(thing.code).toBe(answer.thing.code);
    expect(thing.code).toMatch(/^L/);
    // from the seller into the box, from the box to where it lies: nothing comes from nowhere
    expect(await balancesOf(stock, lot.id)).toEqual({ place: '12', supplier: '-12' });
    expect(await balancesOf(stock, counted.id)).toEqual({ place: '1', supplier: '-1' });
  });

  it('gives a unit too, identified or not, and is called otherwise from then on', async () => {
    const crate = await box(null, { words: 'a crate of gears' });
    const typeId = await unitType(stock);
    const known = await named(crate, { kind: 'unit', id: newId(), unitTypeId: typeId, grade: '', marks: 'WD7 5544' });
    const unknown = await named(crate, {
      kind: 'unit',
      id: newId(),
      unitTypeId: null,
      words: 'small box, two shafts',
      wordsLeft: 'gears',
    });
    expect([known.thing.code[0], unknown.thing.code[0]]).toEqual(['U', 'U']);
    expect(unknown.box).toMatchObject({ words: 'gears', pieceCount: null, piecesLeft: null });
    expect(await thingOf(unknown.thing.id)).toMatchObject({
      kind: 'unit',
      unitType: null,
      held: '1',
      outOfBox: { id: crate.id },
    });
  });

  it('keeps its goods in the label queue of the load until their labels are printed', async () => {
    const counted = await box();
    const { thing } = await named(counted);
    const waiting = async () => {
      const { items } = (await owner.get<{ items?: { words?: string; title?: string }[] }>('/api/today')).body;
      return JSON.stringify(items ?? (await owner.get('/api/today')).body);
    };
    const number = (await owner.get<{ number: number }>(`/api/loads/${counted.loadId}`)).body.number;
    expect(await waiting()).toContain(`load ${number}`);
    const run = {
      id: newId(),
      codes: [thing.code, counted.code],
      onlyUnlabelled: true,
      stock: 'bag label',
      dotsPerInch: 203,
      startCell: 1,
    };
    expect((await owner.post('/api/label-runs', run)).status).toBe(200);
    expect(await waiting()).not.toContain(`load ${number}`);
    expect((await owner.get<BoxPage>(`/api/boxes/${counted.id}`)).body.takings[0]).toMatchObject({ labelled: true });
  });

  it('whose things are a customer’s gives things of that customer', async () => {
    const customerId = await stock.customer('Hask & Sons');
    const theirs = await box(10, { ownerName: 'Hask & Sons' });
    const { thing } = await named(theirs, washers({ quantity: '2' }));
    expect(await thingOf(thing.id)).toMatchObject({ owner: { id: customerId } });
  });
});

describe('what is refused', () => {
  it.each([
    ['more than the box holds', { quantity: '1001' }, 'more-than-in-box'],
    ['a part of a piece', { quantity: '1.5' }, 'bad-input'],
    ['no name at all', { partId: null }, 'bad-input'],
    ['a place that is in no book', { placeId: newId() }, 'bad-input'],
  ])('%s', async (_, fields, code) => {
    const counted = await box();
    const answer = await name(counted, washers(fields));
    expect(answer.body).toMatchObject({ code });
    expect(answer.body.detail).not.toBe('');
    expect((await owner.get<BoxPage>(`/api/boxes/${counted.id}`)).body).toMatchObject({ piecesLeft: 1000, takings: [] });
  });

  it('a label that is no blank label, a box that is held back, and what is no box', async () => {
    const counted = await box();
    expect((await name(counted, washers({ code: counted.code }))).body).toMatchObject({ code: 'code-of-another-kind' });
    await owner.post(`/api/things/${counted.id}/hold`, { reason: 'the seller wants it back' }, { ifMatch: 1 });
    expect((await name(counted, washers())).body).toMatchObject({
      code: 'held',
      detail: expect.stringContaining('Lift the hold'),
    });
    const lot = await stock.lot(washerId);
    expect((await name({ ...counted, id: lot.id }, washers())).status).toBe(404);
    const viewer = await addPerson(server, owner, 'viewer', 'vera', 'Vera Quill');
    expect((await name(counted, washers(), viewer)).status).toBe(403);
  });

  it('a box scanned onto a job, with what to do instead', async () => {
    const counted = await box();
    const job = await stock.job([{ partId: washerId }]);
    const answer = await bench.post<Problem>('/api/fits', { code: counted.code, jobId: job.id });
    expect(answer).toMatchObject({ status: 409, body: { code: 'unnamed', detail: expect.stringContaining('on its page') } });
  });

  it('striking out an opened box, giving it to somebody else, and counting fewer in it than were named', async () => {
    const counted = await box();
    await named(counted);
    await stock.customer('Pellow Haulage');
    const path = `/api/loads/${counted.loadId}/rows/${counted.id}`;
    const rows = async () => (await owner.get<{ rows: { version: number }[] }>(`/api/loads/${counted.loadId}`)).body.rows;
    const [{ version }] = (await rows()) as [{ version: number }];
    const keyed = { ...unsortedRow({ pieceCount: 1000, placeId: stock.placeId }) };
    expect((await owner.post(`${path}/strike`, { reason: 'keyed twice' }, { ifMatch: version })).body).toMatchObject({
      code: 'in-use',
    });
    const others = await owner.put(path, { ...keyed, ownerName: 'Pellow Haulage' }, { ifMatch: version });
    expect(others.body).toMatchObject({ code: 'in-use' });
    const fewer = await owner.put(path, { ...keyed, pieceCount: 11 }, { ifMatch: version });
    expect(fewer).toMatchObject({ status: 422, body: { detail: expect.stringContaining('12 pieces were named') } });
    expect((await owner.put(path, { ...keyed, pieceCount: 13 }, { ifMatch: version })).status).toBe(200);
    expect((await owner.get<BoxPage>(`/api/boxes/${counted.id}`)).body.piecesLeft).toBe(1);
  });
});

describe('two people at one box', () => {
  it('both want the last twelve: one has them, the other is told how many are left', async () => {
    const tin = await box(12);
    const answers = await Promise.all([name(tin, washers(), bench), name(tin, washers(), owner)]);
    expect(answers.map((answer) => answer.status).sort()).toEqual([200, 409]);
    const refused = answers.find((answer) => answer.status === 409)!.body;
    expect(refused).toMatchObject({ code: 'more-than-in-box', detail: expect.stringContaining('all of them are named') });
  });

  it('one names and one says that it is empty: whichever is first, the other is told', async () => {
    const tin = await box(12);
    const [naming, emptying] = await Promise.all([name(tin, washers()), empty(tin, 'nothing left')]);
    if (naming.status === 200) expect(emptying.status).toBe(200);
    else expect([naming.body.code, emptying.status]).toEqual(['box-empty', 200]);
  });
});

describe('a box that is said to be empty', () => {
  it('leaves the stores for what came out of it when all of it is named, and is closed then', async () => {
    const tin = await box(12);
    await named(tin);
    expect((await empty(tin)).body).toMatchObject({ saidEmpty: true, piecesLeft: 0 });
    expect(await balancesOf(stock, tin.id)).toEqual({ box: '1', supplier: '-1' });
    expect((await name(tin, washers())).body).toMatchObject({ code: 'box-empty' });
    expect((await empty(tin)).body).toMatchObject({ code: 'box-empty' });
  });

  it('with things unaccounted for is a loss with a reason, and with none it is refused', async () => {
    const tin = await box(12);
    await named(tin, washers({ quantity: '5' }));
    expect((await empty(tin)).body).toMatchObject({
      code: 'needs-reason',
      detail: expect.stringContaining('7 of them are not named'),
    });
    const done = await empty(tin, 'rusted to nothing');
    expect(done.body.takings[0]).toMatchObject({ kind: 'emptied', pieces: 7, why: 'rusted to nothing' });
    expect(await balancesOf(stock, tin.id)).toEqual({ 'count-difference': '1', supplier: '-1' });
    const { movements } = (await owner.get<{ movements: { reason: string }[] }>(`/api/things/${tin.id}/movements`)).body;
    expect(movements[0]!.reason).toBe('said empty, 7 not found: rusted to nothing');
  });

  it('that nobody counted stays until somebody says so, and without anything named needs a reason', async () => {
    const crate = await box(null, { words: 'a crate of gears' });
    expect((await empty(crate)).body).toMatchObject({ code: 'needs-reason' });
    await named(crate, washers({ quantity: '3' }));
    expect((await empty(crate)).body).toMatchObject({ saidEmpty: true });
  });

  it('and is not empty after all lies where it lay, and goes on', async () => {
    const tin = await box(12);
    await named(tin, washers({ quantity: '5' }));
    const { takings } = (await empty(tin, 'cannot find the rest')).body;
    expect((await undo(tin, takings[0]!.id, 'they were under the rag')).body).toMatchObject({ saidEmpty: false, piecesLeft: 7 });
    expect(await balancesOf(stock, tin.id)).toMatchObject({ place: '1' });
    expect((await undo(tin, takings[0]!.id)).body).toMatchObject({ code: 'undone-already' });
    expect((await named(tin, washers({ quantity: '7' }))).box.piecesLeft).toBe(0);
  });
});

describe('a naming that was a mistake', () => {
  it('goes back into the box by movements that undo it, and its label says what it was on', async () => {
    const counted = await box();
    const { thing, takingId } = await named(counted);
    expect((await undo(counted, takingId)).body).toMatchObject({ piecesLeft: 1000 });
    expect(await balancesOf(stock, thing.id)).toEqual({});
    const rows = await stock.query<{ reverses: boolean }>(
      'SELECT reverses_id IS NOT NULL AS reverses FROM movements WHERE thing_id = $1 ORDER BY sequence',
      [thing.id],
    );
    expect(rows.map((row) => row.reverses)).toEqual([false, false, true, true]);
    const scan = await bench.get<Problem>(`/api/scan/${thing.code}`);
    expect(JSON.stringify(scan.body)).toContain('12 of Lock tab, named out of');
    expect((await undo(counted, takingId)).body).toMatchObject({ code: 'undone-already' });
  });

  it('stays where some of it is used, promised or elsewhere', async () => {
    const counted = await box();
    const { thing, takingId } = await named(counted);
    const job = await stock.job([{ partId: washerId, quantity: '4' }]);
    expect((await bench.post('/api/fits', { code: thing.code, jobId: job.id, quantity: '4' })).status).toBe(200);
    expect((await undo(counted, takingId)).body).toMatchObject({ code: 'in-use' });
    expect((await owner.get<BoxPage>(`/api/boxes/${counted.id}`)).body.piecesLeft).toBe(988);
  });
});
