import { jest } from '@jest/globals';
import { newId } from '../../apps/api/src/platform/new-id.js';
import { verifyBooks } from '../../apps/api/src/stores/verify/verify-books.js';
import { addPerson, type BareServer, startBareServer, type Visitor } from '../support/bare-server.js';
import { keyRow, openLoad, unitRow } from '../support/load-stock.js';
import { PassDesk, sharesOf } from '../support/pass-desk.js';
import { saidIn } from '../support/said-in.js';
import { Stock } from '../support/stock.js';
import { StripBench, unitTypeOf } from '../support/strip-bench.js';

jest.setTimeout(60_000);

let server: BareServer;
let owner: Visitor;
let bench: Visitor;
let stock: Stock;
let desk: PassDesk;
let typeId: string;

beforeAll(async () => {
  server = await startBareServer('passed');
  owner = await server.setUp();
  stock = await Stock.open(server.testDatabase.ownerUrl);
  bench = await addPerson(server, owner, 'bench', 'tomh', 'Tom Hasleby');
  desk = new PassDesk(owner);
  typeId = await unitTypeOf(stock, [
    { name: 'Cross', partId: await stock.part({ name: 'Cross' }), usualFate: 'to stores' },
    { name: 'Worm', partId: await stock.part({ name: 'Worm' }), usualFate: 'to stores' },
    { name: 'Seal', usualFate: 'replace' },
    { name: 'Shaft', usualFate: 'hold' },
    { name: 'Casing', usualFate: 'left in place' },
  ]);
});
afterEach(async () => {
  // what each unit bore is what it kept and what it passed on
  expect(await verifyBooks(server.database)).toEqual([]);
});
afterAll(async () => {
  await stock.close();
  await server.stop();
});

const core = (price = '100') => desk.bought('unit', price, { unitTypeId: typeId, words: '', placeId: stock.placeId });
const strip = async (unit: { id: string; code: string }) => (await StripBench.open(bench, unit)).under(bench);
const toStores = (open: StripBench, position: number, more: Record<string, unknown> = {}) =>
  open.recorded(position, 'to stores', { placeId: stock.placeId, finding: 'good', ...more });

/** A core of 100 with its cross and its worm in stores and its seal scrapped. */
async function stripped(price = '100') {
  const unit = await core(price);
  const open = await strip(unit);
  const cross = (await toStores(open, 1)).thing!;
  const worm = (await toStores(open, 2)).thing!;
  const seal = (await open.recorded(3, 'scrap', { finding: 'torn' })).thing!;
  return { unit, open, cross, worm, seal };
}

describe('what a unit cost is passed on', () => {
  it('equally, exact to the last minor unit: what is left in it has a share, and what is scrapped carries nothing', async () => {
    const { unit, cross, worm, seal } = await stripped();
    const passed = await desk.pass(unit.id, 'equally');
    expect(passed.status).toBe(200);
    expect(passed.body).toMatchObject({ bore: '100.00', kept: '33.34', outOfDate: [] });
    expect(passed.body.rows.map(({ id, bearsNone, share }) => [id, bearsNone, share])).toEqual([
      [unit.id, null, '33.34'],
      [cross.id, null, '33.33'],
      [worm.id, null, '33.33'],
      [seal.id, 'scrapped', null],
    ]);
    expect(passed.body.sharings).toMatchObject([{ way: 'equally', cost: '100.00', by: 'Edie Marrack' }]);
    const cost = await desk.costOf(cross.id);
    expect(cost).toMatchObject({ amount: '33.33', words: expect.stringContaining('Its share of what U') });
    expect(cost.entries).toMatchObject([
      { kind: 'passed on', amount: '33.33', passing: { whole: { id: unit.id }, bore: '100.00', way: 'equally' } },
    ]);
    expect((await desk.costOf(unit.id)).amount).toBe('33.34');
  });

  it('by worth and by weight, of the parts and of what is left in it; what nobody keyed is not taken for nought', async () => {
    const { unit, cross, worm } = await stripped();
    expect((await desk.pass(unit.id, 'relative value')).body).toMatchObject({
      code: 'share-not-known',
      detail: expect.stringContaining('rows 1, 2 and 3'),
    });
    for (const [id, worth, weightKg] of [
      [unit.id, '0', '150'],
      [cross.id, '20', '10'],
      [worm.id, '60', '40'],
    ] as const)
      expect((await desk.worth(unit.id, id, { worth, weightKg })).status).toBe(200);
    expect(sharesOf((await desk.pass(unit.id, 'relative value')).body)).toMatchObject({
      'what is left in it': '0.00',
      [(await desk.of(unit.id)).rows[1]!.name]: '25.00',
    });
    expect((await desk.pass(unit.id, 'weight')).body.rows.map((row) => row.share)).toEqual(['75.00', '5.00', '20.00', null]);
    expect((await desk.of(unit.id)).sharings.map(({ way }) => way)).toEqual(['weight', 'relative value']);
  });

  it('by hand, where the shares must add up and name each once', async () => {
    const { unit, cross, worm, seal } = await stripped();
    const by = (...shares: [string, string][]) =>
      desk.pass(unit.id, 'by hand', { shares: shares.map(([rowId, amount]) => ({ rowId, amount })) });
    expect((await by([unit.id, '10'], [cross.id, '40'], [worm.id, '49.99'])).body).toMatchObject({
      code: 'shares-do-not-add-up',
    });
    expect((await by([unit.id, '10'], [cross.id, '90'])).body).toMatchObject({ code: 'share-not-named' });
    expect((await by([unit.id, '10'], [cross.id, '40'], [worm.id, '50'], [seal.id, '0'])).body).toMatchObject({
      code: 'share-not-a-row',
    });
    expect((await by([unit.id, '10'], [cross.id, '40'], [cross.id, '50'])).body).toMatchObject({ code: 'bad-input' });
    expect((await by([unit.id, '10'], [cross.id, '40'], [worm.id, '50'])).body.rows.map((row) => row.share)).toEqual([
      '10.00',
      '40.00',
      '50.00',
      null,
    ]);
    expect((await by([unit.id, '10'], [cross.id, '40'], [worm.id, '50'])).body).toMatchObject({ code: 'shared-so-already' });
  });

  it('and what was fitted or sold since carries its share', async () => {
    const { unit, cross } = await stripped();
    await desk.pass(unit.id, 'equally');
    const [lot] = await stock.query<{ partId: string }>('SELECT part_id AS "partId" FROM lots WHERE thing_id = $1', [cross.id]);
    const job = await stock.job([{ partId: lot!.partId }]);
    const fitted = await bench.post<{ fittingId: string }>('/api/fits', { code: cross.code, jobId: job.id });
    expect(fitted.status).toBe(200);
    const { loadId } = unit;
    const { version } = (await owner.get<{ version: number }>(`/api/loads/${loadId}/cost`)).body;
    const dearer = { price: '130', haulage: '0', fees: '0', currency: 'GBP' };
    await owner.patch(`/api/loads/${loadId}/cost`, dearer, { ifMatch: version });
    await owner.post(`/api/loads/${loadId}/cost-shares`, { way: 'equally' });
    expect(await desk.of(unit.id)).toMatchObject({
      bore: '130.00',
      kept: '63.34',
      outOfDate: [expect.stringContaining('130.00 GBP by now')],
    });
    await desk.pass(unit.id, 'equally');
    expect((await desk.costOf(cross.id)).amount).toBe('43.33');
    // taken out again it goes on as another lot, which carries what this one cost: it bears no second share
    const out = { lotId: newId(), quantity: '1', placeId: stock.placeId, why: 'too tight' };
    const taken = await bench.post<{ thing: { id: string } }>(`/api/fittings/${fitted.body.fittingId}/removal`, out);
    expect(taken.status).toBe(200);
    expect((await desk.of(unit.id)).rows.map((row) => row.share)).toEqual(['43.34', '43.33', '43.33', null]);
    expect(await desk.costOf(taken.body.thing.id)).toMatchObject({ amount: '43.33', carriedFrom: { id: cross.id } });
  });
});

describe('it follows what comes later', () => {
  it('by the same way when a later component goes to stores, with the earlier sharing kept', async () => {
    const unit = await core('90');
    const open = await strip(unit);
    const first = await toStores(open, 1);
    expect(first.cost).toBe('Its share of the unit’s cost is not worked out yet.');
    await desk.pass(unit.id, 'equally');
    const later = await toStores(open, 2);
    expect(later.cost).toBe('Its share of the unit’s cost was worked out anew.');
    expect(saidIn(later)).not.toMatch(/30\.00|90\.00|GBP/);
    const passed = await desk.of(unit.id);
    expect(passed.rows.map((row) => row.share)).toEqual(['30.00', '30.00', '30.00']);
    expect(passed.sharings.map(({ by, why }) => [by, why])).toEqual([
      ['Tom Hasleby', 'strip-down: Worm'],
      ['Edie Marrack', ''],
    ]);
  });

  it('and when a finding is put right its share goes back, whichever way it was shared', async () => {
    const { unit, open, cross, worm } = await stripped();
    const shares = [
      { rowId: unit.id, amount: '10' },
      { rowId: cross.id, amount: '40' },
      { rowId: worm.id, amount: '50' },
    ];
    await desk.pass(unit.id, 'by hand', { shares });
    const [finding] = (await open.shown()).components[1]!.findings;
    await open.recorded(2, 'scrap', { finding: 'scored', supersedesId: finding!.id });
    expect(await desk.of(unit.id)).toMatchObject({ kept: '60.00', bore: '100.00' });
    expect((await desk.costOf(worm.id)).amount).toBe('0.00');
    expect((await desk.costOf(cross.id)).amount).toBe('40.00');
  });

  it('with everything that gets its usual fate in one act', async () => {
    const unit = await core('90');
    const open = await strip(unit);
    await toStores(open, 1);
    await desk.pass(unit.id, 'equally');
    expect((await open.rest(stock.placeId)).status).toBe(200);
    const passed = await desk.of(unit.id);
    // the worm in stores, the shaft with its tag; the seal was scrapped, the casing is what is left
    expect(passed.rows.map(({ share, bearsNone }) => share ?? bearsNone)).toEqual([
      '22.50',
      '22.50',
      '22.50',
      'scrapped',
      '22.50',
    ]);
    expect(passed.sharings).toHaveLength(2);
  });
});

describe('what is not known or not ours', () => {
  it('is unknown and not nought, and cannot be passed on', async () => {
    const unit = await stock.unit({ unitTypeId: typeId });
    const open = await strip(unit);
    const { thing, cost } = await toStores(open, 1);
    expect(cost).toBe('Its share of the unit’s cost is not known.');
    expect((await desk.pass(unit.id, 'equally')).body).toMatchObject({ code: 'cost-not-known' });
    expect(await desk.of(unit.id)).toMatchObject({ bore: null, kept: null, cannot: expect.stringContaining('not nought') });
    expect(await desk.costOf(thing!.id)).toMatchObject({
      amount: null,
      words: expect.stringContaining('not known or not passed on'),
    });
  });

  it('of a customer’s unit is no cost of ours', async () => {
    await stock.customer('Hask & Sons');
    const load = await openLoad(owner);
    const row = await keyRow(
      owner,
      load.id,
      unitRow({ unitTypeId: typeId, words: '', ownerName: 'Hask & Sons', placeId: stock.placeId }),
    );
    expect((await desk.pass(row.body.id, 'equally')).body).toMatchObject({
      code: 'cost-not-known',
      detail: expect.stringContaining('Hask & Sons'),
    });
  });

  it('is for those who keep the books: hands at the bench see and share none of it', async () => {
    const { unit } = await stripped();
    expect((await bench.get(`/api/things/${unit.id}/passed-on`)).status).toBe(403);
    expect((await bench.post(`/api/things/${unit.id}/passed-on`, { way: 'equally' })).status).toBe(403);
    expect((await owner.get(`/api/things/${newId()}/passed-on`)).status).toBe(404);
  });

  it('stays with a unit that is being rebuilt: only what leaves it for the stores takes a share', async () => {
    const unit = await core('100');
    const job = { id: newId(), unitCode: unit.code, buildStandard: 'serviceable' };
    expect((await owner.post('/api/jobs', job)).status).toBe(200);
    const open = await strip(unit);
    await toStores(open, 1);
    await open.recorded(4, 're-use here', { finding: 'good' });
    const passed = (await desk.pass(unit.id, 'equally')).body;
    expect(passed.rows.map(({ share, bearsNone }) => share ?? bearsNone)).toEqual(['50.00', '50.00', 'stays with its unit']);
  });
});

describe('a box that is emptied', () => {
  it('passes its cost on in the same ways, keeps a share for the rest until it is empty, and follows a mistake', async () => {
    const box = await desk.bought('box', '10', { placeId: stock.placeId, pieceCount: 40 });
    const keys = await desk.named(box.id, 'taper keys', '12');
    expect((await desk.pass(box.id, 'equally')).body.rows.map((row) => row.share)).toEqual(['5.00', '5.00']);
    const tabs = await desk.named(box.id, 'lock tabs', '3');
    expect((await desk.of(box.id)).rows.map((row) => row.share)).toEqual(['3.34', '3.33', '3.33']);
    const undone = await owner.post(`/api/boxes/${box.id}/takings/${tabs.takingId}/undoing`, { why: 'they are shims' });
    expect(undone.status).toBe(200);
    expect((await desk.of(box.id)).rows.map((row) => row.share)).toEqual(['5.00', '5.00']);
    expect((await owner.post(`/api/boxes/${box.id}/emptying`, { why: 'the rest was rust' })).status).toBe(200);
    expect((await desk.of(box.id)).rows.map(({ share, bearsNone }) => [share, bearsNone])).toEqual([
      ['0.00', 'empty'],
      ['10.00', null],
    ]);
    expect((await desk.costOf(keys.id)).amount).toBe('10.00');
  });

  it('gives a unit whose share is passed on again when that is stripped', async () => {
    const box = await desk.bought('box', '80', { placeId: stock.placeId, pieceCount: null });
    const inside = { kind: 'unit', id: newId(), unitTypeId: typeId, words: '' };
    const named = await owner.post<{ thing: { id: string; code: string } }>(`/api/boxes/${box.id}/takings`, inside);
    await desk.pass(box.id, 'equally');
    const open = await strip(named.body.thing);
    const cross = (await toStores(open, 1)).thing!;
    expect((await desk.pass(inside.id, 'equally')).body).toMatchObject({ bore: '40.00', kept: '20.00' });
    expect((await desk.costOf(cross.id)).amount).toBe('20.00');
    expect(await desk.of(box.id)).toMatchObject({ kept: '40.00', outOfDate: [] });
  });
});

describe('the books', () => {
  it('find what was passed on to something that never came out of it, and the database refuses what does not come to nought', async () => {
    const { unit } = await stripped();
    await desk.pass(unit.id, 'equally');
    const [passing] = await stock.query<{ id: string; key: string; person: string }>(
      'SELECT id, command_key AS key, person_id AS person FROM cost_passings WHERE whole_id = $1',
      [unit.id],
    );
    const stranger = await stock.lot(await stock.part());
    const entry = (thing: string, amount: number) =>
      `('${newId()}', '${passing!.key}', '${thing}', ${amount}, 'GBP', 'passed on', '${unit.id}', '${passing!.id}', '${passing!.person}')`;
    const insert = (rows: string) =>
      stock.query(
        `INSERT INTO cost_entries (id, command_key, thing_id, amount_minor, currency, kind, whole_id, passing_id, person_id) VALUES ${rows}`,
      );
    await expect(insert(entry(stranger.id, 100))).rejects.toMatchObject({ code: 'CW004' });
    await insert(`${entry(stranger.id, 100)}, ${entry(unit.id, -100)}`);
    expect((await verifyBooks(server.database)).map(({ what }) => what)).toEqual(['bearer of what was passed on']);
    await insert(`${entry(stranger.id, -100)}, ${entry(unit.id, 100)}`);
    await stock.query('ALTER TABLE cost_entries DISABLE TRIGGER cost_entries_kept');
    await stock.query('DELETE FROM cost_entries WHERE thing_id = $1', [stranger.id]);
    await stock.query('ALTER TABLE cost_entries ENABLE TRIGGER cost_entries_kept');
    expect(await verifyBooks(server.database)).toEqual([]);
  });
});
