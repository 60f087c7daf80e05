import { newId } from '../../apps/api/src/platform/new-id.js';
import { verifyBooks } from '../../apps/api/src/stores/verify/verify-books.js';
import { makeCode } from '../../libs/codes/src/label-code.js';
import type { ThingCost } from '../../libs/contracts/src/costs.js';
import type { Thing } from '../../libs/contracts/src/stores.js';
import { addPerson, type BareServer, startBareServer, type Visitor } from '../support/bare-server.js';
import { CountingDesk } from '../support/counting-desk.js';
import { OpeningDesk } from '../support/opening-desk.js';
import { phonePhotograph, sendPicture } from '../support/pictures.js';
import { Stock } from '../support/stock.js';
import { accepted } from '../support/write-making.js';

let server: BareServer;
let owner: Visitor;
let bench: Visitor & { id: string };
let stock: Stock;
let desk: OpeningDesk;

beforeAll(async () => {
  server = await startBareServer('opening');
  owner = await server.setUp();
  bench = await addPerson(server, owner, 'bench', 'tom', 'Tom Hasleby');
  stock = await Stock.open(server.testDatabase.ownerUrl);
  desk = new OpeningDesk(owner);
});
afterAll(async () => {
  expect(await verifyBooks(server.database)).toEqual([]);
  await stock.close();
  await server.stop();
});

const thing = async (id: string) => (await owner.get<Thing>(`/api/things/${id}`)).body;
const cost = async (id: string) => (await owner.get<ThingCost>(`/api/things/${id}/cost`)).body;
const rowsOf = async (placeId: string) => (await desk.page(placeId)).rows;

describe('a shelf', () => {
  it('is opened by whoever stands at it, holds what is keyed there, is done, and is opened again', async () => {
    const tom = desk.as(bench);
    const shelf = await tom.shelf();
    expect(await tom.page(shelf)).toMatchObject({ state: 'begun', by: 'Tom Hasleby', rows: [] });
    const row = await tom.keyed(shelf, { words: 'cover plates', count: '12' });
    expect(row).toMatchObject({ quantity: '12', standing: 'to name', costStanding: 'not looked at', canBeChanged: true });
    expect((await thing(row.id)).holdings).toMatchObject([{ holderId: shelf, quantity: '12' }]);
    expect((await tom.done(shelf)).body).toMatchObject({ state: 'done', by: 'Tom Hasleby' });
    expect((await tom.done(shelf)).status).toBe(200);
    expect((await tom.open(shelf)).body).toMatchObject({ state: 'begun' });
  });

  it('that was done is begun again by a row that waited for the network, and says so', async () => {
    const shelf = await desk.shelf();
    await desk.done(shelf);
    await desk.keyed(shelf, { words: 'late from the phone' });
    expect(await desk.page(shelf)).toMatchObject({ state: 'begun', rows: [{ words: 'late from the phone' }] });
  });

  it('shows each of two who key at once what the other keys', async () => {
    const shelf = await desk.shelf();
    const tom = desk.as(bench);
    await Promise.all(
      Array.from({ length: 8 }, (_, index) => (index % 2 ? desk : tom).keyed(shelf, { words: `row ${index}`, count: '2' })),
    );
    const rows = await rowsOf(shelf);
    expect(rows).toHaveLength(8);
    expect(new Set(rows.map(({ code }) => code)).size).toBe(8);
    expect(new Set(rows.map(({ keyedBy }) => keyedBy))).toEqual(new Set(['Edie Marrack', 'Tom Hasleby']));
  });

  it('counts in its rack: done, begun and not yet, with what is left to name and to cost', async () => {
    const rack = await desk.shelf('Rack Q', null, 'rack');
    const [first, second] = [await desk.shelf('Q1', rack), await desk.shelf('Q2', rack)];
    await accepted(owner.post('/api/places', { id: newId(), parentId: rack, name: 'Q3', kind: 'bin' }));
    await desk.keyed(first, { words: 'shims', count: '5' });
    await desk.done(first);
    const part = await stock.part();
    await desk.keyed(second, { partId: part });
    const found = (await desk.progress()).racks.find(({ id }) => id === rack);
    expect(found).toMatchObject({ name: 'Rack Q', state: 'begun', done: 1, things: 2, toName: 1, notCosted: 2 });
    expect(found!.shelves.map(({ name, state }) => [name, state])).toEqual([
      ['Q1', 'done'],
      ['Q2', 'begun'],
      ['Q3', 'not yet'],
    ]);
    expect((await desk.done(rack, { inside: true })).status).toBe(200);
    expect((await desk.progress()).racks.find(({ id }) => id === rack)).toMatchObject({ state: 'done', begun: 0, notYet: 0 });
  });
});

describe('a row', () => {
  it('needs a photograph, a word, a mark or a number, and no more', async () => {
    const shelf = await desk.shelf();
    expect((await desk.put(shelf, {})).body).toMatchObject({
      code: 'bad-input',
      detail: expect.stringContaining('Photograph it'),
    });
    const row = await desk.keyed(shelf, { photographed: true });
    await sendPicture(server.url, owner, row.id, await phonePhotograph(300, 200));
    expect((await rowsOf(shelf))[0]).toMatchObject({ name: 'Unnamed part', quantity: '1', pictures: [expect.any(String)] });
    expect(await desk.keyed(shelf, { kind: 'unit', marks: 'WD71?' })).toMatchObject({ kind: 'unit', standing: 'to name' });
    expect(await desk.keyed(shelf, { kind: 'unsorted', photographed: true, count: '40' })).toMatchObject({
      kind: 'unsorted',
      pieceCount: 40,
      standing: 'named',
    });
  });

  it('bears a blank label that was scanned, and the same is never on two', async () => {
    const [blank] = await desk.blanks('lot', 2);
    const shelf = await desk.shelf();
    expect((await desk.keyed(shelf, { words: 'yokes', code: blank })).code).toBe(blank);
    const second = await desk.put(shelf, { words: 'other yokes', code: blank });
    expect(second).toMatchObject({ status: 409, body: { code: 'code-claimed' } });
    expect(await rowsOf(shelf)).toHaveLength(1);
  });

  it('is not taken twice: sent again under its key it is answered alike, under another it is refused', async () => {
    const shelf = await desk.shelf();
    const [id, key] = [newId(), newId()];
    const once = await desk.put(shelf, { words: 'gaskets', count: '3' }, id, { key });
    expect((await desk.put(shelf, { words: 'gaskets', count: '3' }, id, { key })).body).toEqual(once.body);
    expect((await desk.put(shelf, { words: 'gaskets', count: '3' }, id)).body.code).toBe('row-there');
    expect((await thing(id)).held).toBe('3');
  });

  it('is put right and struck out as long as it lies there, by the version that was seen', async () => {
    const shelf = await desk.shelf();
    const row = await desk.keyed(shelf, { words: 'spring washers', count: '12' });
    const right = (await desk.correct(row, { words: 'wave washers', count: '10' })).body;
    expect(right).toMatchObject({ words: 'wave washers', quantity: '10' });
    expect((await thing(row.id)).held).toBe('10');
    expect((await desk.correct(right, { words: 'wave washers', count: '14' })).body.quantity).toBe('14');
    expect((await desk.correct(row, { words: 'too late' })).status).toBe(412);
    const [now] = await rowsOf(shelf);
    expect((await desk.strike(now!)).body).toMatchObject({ standing: 'struck out' });
    expect((await thing(row.id)).held).toBe('0');
    const [struck] = await rowsOf(shelf);
    expect((await desk.correct(struck!, { words: 'back' })).body.code).toBe('struck-out');
  });

  it('stays once some of it has gone on', async () => {
    const shelf = await desk.shelf();
    const row = await desk.keyed(shelf, { words: 'thrust races', count: '6' });
    await accepted(owner.post('/api/put-aways', { code: row.code, placeId: stock.placeId, quantity: '2' }));
    expect((await desk.correct(row, { words: 'thrust races', count: '9' })).body).toMatchObject({ code: 'in-use' });
    expect((await desk.strike(row)).body).toMatchObject({ code: 'in-use' });
    expect((await rowsOf(shelf))[0]).toMatchObject({ quantity: '6', canBeChanged: false });
  });

  it('stays once a count has put right what lies there, which it would do a second time', async () => {
    const { id: placeId, code } = await stock.place();
    const row = await desk.keyed(placeId, { words: 'thrust races', count: '6' });
    const counting = new CountingDesk(owner);
    const countId = await counting.counted({ id: placeId, code }, [[row, '4']]);
    await accepted(counting.decide(countId, await counting.line(countId, row, { id: placeId, code }), 'post'));
    expect((await desk.correct(row, { words: 'thrust races', count: '4' })).body).toMatchObject({ code: 'counted-since' });
    const { code: why, detail } = (await desk.strike(row)).body;
    expect([why, detail]).toEqual(['counted-since', expect.stringMatching(/^6 stand in the row, and by the books 4 lie there/)]);
    expect((await rowsOf(placeId))[0]).toMatchObject({ quantity: '6', canBeChanged: false });
    expect((await thing(row.id)).held).toBe('4');
  });

  it('is a customer’s by one choice, and then no cost of ours', async () => {
    const name = 'Ockley & Sons';
    await stock.customer(name);
    const shelf = await desk.shelf();
    const row = await desk.keyed(shelf, { words: 'their spare ring', ownerName: name });
    expect(row.owner).toMatchObject({ name });
    const said = await desk.name(row, { words: 'crown ring', cost: { standing: 'figure', amount: '5' } });
    expect(said.body).toMatchObject({ code: 'bad-input', detail: expect.stringContaining('no cost of ours') });
    expect((await desk.scrap(row)).body.code).toBe('not-ours');
  });

  it.each<[string, Record<string, unknown>, number, string]>([
    ['a label in place of a count', { words: 'x', count: makeCode('L', 412) }, 422, 'is a label and no count'],
    ['the number of a packet in place of a count', { words: 'x', count: '5012345678900' }, 422, 'number off a packet'],
    ['half a thing', { words: 'x', count: '2.5' }, 422, 'Each comes whole'],
    ['nought', { words: 'x', count: '0' }, 422, 'Nought'],
    ['a thousand with nothing else said', { words: 'x', count: '1000' }, 409, 'Say that you are sure'],
    ['two units in one row', { kind: 'unit', words: 'x', count: '2' }, 422, 'A unit is one'],
    ['a place scanned as a thing', { words: 'x', code: makeCode('P', 412) }, 422, 'here a lot is scanned'],
    ['an owner whom nobody knows', { words: 'x', ownerName: 'Nobody & Daughters' }, 422, 'No customer called'],
  ])('is refused with %s, in words', async (_, fields, status, words) => {
    const shelf = await desk.shelf();
    const answer = await desk.put(shelf, fields);
    expect(answer.status).toBe(status);
    expect(answer.body.detail).toContain(words);
    expect(await rowsOf(shelf)).toEqual([]);
  });

  it('takes a thousand from whoever is sure', async () => {
    expect((await desk.keyed(await desk.shelf(), { words: 'split pins', count: '1000', sure: true })).quantity).toBe('1000');
  });

  it('lies in a place of the stores: no tray, no thing, and no place inside itself', async () => {
    const job = await stock.job([{ partId: await stock.part() }]);
    expect((await desk.put(job.trayId, { words: 'x' })).body.detail).toContain('kit tray');
    expect((await desk.put(job.unit.id, { words: 'x' })).body.detail).toContain('not in the books');
    const id = newId();
    const inItself = await owner.post('/api/opening/places', { id, parentId: id, name: 'Round', kind: 'bin' });
    expect(inItself.status).toBe(422);
  });

  it('of something in the books already is no row: it is put away here, and is not there twice', async () => {
    const lot = await stock.lot(await stock.part(), { quantity: '3' });
    const shelf = await desk.shelf();
    expect((await desk.put(shelf, { words: 'again', code: lot.code })).body.code).toBe('code-claimed');
    await accepted(owner.post('/api/put-aways', { code: lot.code, placeId: shelf }));
    expect((await thing(lot.id)).holdings).toMatchObject([{ holderId: shelf, quantity: '3' }]);
  });
});

describe('work that goes on meanwhile', () => {
  it('takes what no shelf has yet straight onto a job, remembered against its shelf', async () => {
    const partId = await stock.part();
    const job = await stock.job([{ partId, quantity: '2' }]);
    const place = await stock.place();
    const row = await desk.as(bench).keyed(place.id, { partId, count: '2', jobId: job.id });
    expect(row).toMatchObject({ job: { code: job.code }, place: { id: place.id }, canBeChanged: false });
    const found = await thing(row.id);
    expect(found.holdings).toMatchObject([{ holderId: job.trayId, quantity: '2' }]);
    expect(found.claims).toMatchObject([{ quantity: '2', claimant: { id: job.id } }]);
    expect((await desk.page(place.id)).state).toBe('not yet');
    const fit = await bench.post<{ line: { lineNo: number } }>('/api/fits', { code: row.code, jobId: job.id, quantity: '2' });
    expect(fit.body.line).toMatchObject({ lineNo: 1 });
    expect((await thing(row.id)).claimed).toBe('0');
  });

  it('refuses that for a closed job, a whole unit, and a customer’s goods on another’s job', async () => {
    const closed = await stock.job([{ partId: await stock.part() }], { state: 'released' });
    const job = await stock.job([{ partId: await stock.part() }]);
    const place = await stock.place();
    await stock.customer('Halse Haulage');
    const put = (fields: Record<string, unknown>) => desk.put(place.id, { words: 'x', ...fields });
    expect((await put({ jobId: closed.id })).body.code).toBe('job-closed');
    expect((await put({ jobId: job.id, kind: 'unit' })).status).toBe(422);
    expect((await put({ jobId: job.id, ownerName: 'Halse Haulage' })).body.code).toBe('goods-of-another-customer');
    expect((await put({ jobId: newId() })).status).toBe(404);
    expect(await rowsOf(place.id)).toEqual([]);
  });

  it('uses some of an unnamed row before it is named and costed: its cost follows what was fitted', async () => {
    const partId = await stock.part({ name: 'Worm thrust race' });
    const job = await stock.job([{ partId, quantity: '1' }]);
    const shelf = await desk.shelf();
    const row = await desk.keyed(shelf, { words: 'races in brown paper', count: '4' });
    const inPlaceOf = { lineId: job.lineIds[0], why: 'the same race', evidence: 'measured with the micrometer' };
    await accepted(bench.post('/api/fits', { code: row.code, jobId: job.id, quantity: '1', inPlaceOf }));
    expect((await cost(row.id)).amount).toBeNull();

    const named = await desk.name(row, {
      partId,
      source: 'old stock',
      make: 'genuine',
      condition: 'as new',
      cost: { standing: 'figure', amount: '10.00' },
    });
    expect(named.body).toMatchObject({
      standing: 'named',
      part: { id: partId },
      costStanding: 'figure',
      cost: '10.00',
      quantity: '4',
    });
    const known = await cost(row.id);
    expect(known).toMatchObject({ amount: '10.00', entries: [{ kind: 'opening stock', amount: '10.00' }] });
    const inUnit = (await thing(row.id)).holdings.find(({ holderId }) => holderId === job.unit.id)!;
    expect(known.parts.find(({ words }) => words === inUnit.words)).toMatchObject({ quantity: '1', amount: '2.50' });
    expect(known.parts.map(({ amount }) => amount).sort()).toEqual(['2.50', '7.50']);
    expect((await desk.name(named.body, { partId: await stock.part() })).body.code).toBe('in-use');
  });
});

it('the database itself refuses a cost that the row does not say, another shelf, and a row taken away', async () => {
  const row = await desk.keyed(await desk.shelf(), { words: 'guarded' });
  const by = (text: string, values: unknown[]) => server.database.rows(text, values);
  await expect(
    by('UPDATE opening_rows SET cost_minor = 5, cost_standing = $2 WHERE thing_id = $1', [row.id, 'figure']),
  ).rejects.toThrow(/entries of cost/);
  await expect(by('UPDATE opening_rows SET place_id = $2 WHERE thing_id = $1', [row.id, stock.placeId])).rejects.toThrow(
    /stays with the shelf/,
  );
  await expect(by('DELETE FROM opening_rows WHERE thing_id = $1', [row.id])).rejects.toThrow(/permission denied/);
  await expect(by('UPDATE opening_acts SET kind = $1', ['done'])).rejects.toThrow(/permission denied/);
});
