import { newId } from '../../apps/api/src/platform/new-id.js';
import { verifyBooks } from '../../apps/api/src/stores/verify/verify-books.js';
import { Bags, type Lot } from '../support/bags.js';
import { addPerson, type BareServer, startBareServer, type Visitor } from '../support/bare-server.js';
import { LabelDesk } from '../support/label-changes.js';
import { opened } from '../support/sealant.js';
import { Stock } from '../support/stock.js';

let server: BareServer;
let owner: Visitor;
let bench: Visitor;
let stock: Stock;
let desk: LabelDesk;
let keeper: LabelDesk;
let bags: Bags;
let partId: string;

beforeAll(async () => {
  server = await startBareServer('regrouping');
  owner = await server.setUp();
  bench = await addPerson(server, owner, 'bench', 'tom', 'Tom Hasleby');
  stock = await Stock.open(server.testDatabase.ownerUrl);
  [desk, keeper] = [new LabelDesk(bench), new LabelDesk(owner)];
  partId = await stock.part({ name: 'Big seal' });
  bags = new Bags(bench, stock, partId);
});
afterEach(async () => {
  expect(await verifyBooks(server.database)).toEqual([]);
});
afterAll(async () => {
  await stock.close();
  await server.stop();
});

describe('a bag that turns out to be two', () => {
  it('is split: so many are a lot of their own with the same facts, where they lie', async () => {
    const lot = await bags.bag('10', {
      source: 'old stock',
      packetRead: '1962',
      packetEarliest: '1962-01-01',
      packetLatest: '1962-12-31',
    });
    const [blank] = await desk.blanks('lot', 1);
    const key = newId();
    const split = await desk.split(lot.id, '4', stock.placeId, blank!, key);
    expect([split.status, split.body.lot.code]).toEqual([200, blank]);
    const other = await bags.page(split.body.lot.id);
    expect(await bags.held(lot.id, other.id)).toEqual(['6', '4']);
    const facts = ({ source, make, condition, packet, owner: of, part, fittedOnce }: Lot) => ({
      source,
      make,
      condition,
      packet,
      of,
      part,
      fittedOnce,
    });
    expect(facts(other)).toEqual(facts(await bags.page(lot.id)));
    expect(other.holdings).toMatchObject([{ holderId: stock.placeId, quantity: '4' }]);
    expect((await desk.regroupings(other.id)).changes).toMatchObject([
      {
        kind: 'split',
        from: { id: lot.id },
        to: { id: other.id },
        quantity: '4',
        by: 'Tom Hasleby',
        why: 'two bags under one label',
      },
    ]);
    expect((await desk.regroupings(lot.id)).changes).toHaveLength(1);
  });

  it('keeps its hold and its inspections on both', async () => {
    const lot = await bags.bag();
    await owner.post(`/api/things/${lot.id}/hold`, { reason: 'a look at the packing' });
    const inspection = { inspectedOn: '2026-01-05', lookedAt: 'two of them', passed: true, words: 'sound' };
    await owner.post(`/api/things/${lot.id}/inspections`, inspection);
    const { lot: made } = (await desk.split(lot.id, '1', stock.placeId)).body;
    const other = await bags.page(made.id);
    expect(other.heldBack).toMatchObject({ reason: 'a look at the packing' });
    expect(other.inspections).toMatchObject([inspection]);
  });

  it('leaves what is promised with what can bear it, and says whose it is where it cannot', async () => {
    const lot = await bags.bag();
    await bags.reserve(lot.id, '7');
    expect((await desk.split(lot.id, '4', stock.placeId)).body).toMatchObject({
      code: 'claimed-for-another-job',
      detail: expect.stringContaining('7 for Overhead-worm axle'),
    });
    const split = await desk.split(lot.id, '3', stock.placeId);
    expect(split.status).toBe(200);
    expect([await bags.page(lot.id), await bags.page(split.body.lot.id)].map(({ claimed }) => claimed)).toEqual(['7', '0']);
  });

  it('is refused for what is no lot, of a set, missing, elsewhere, all of it or no quantity', async () => {
    const [lot, unit, place] = [await bags.bag(), await stock.unit(), await stock.place()];
    const code = async (sent: ReturnType<LabelDesk['split']>) => (await sent).body.code;
    expect(await code(desk.split(unit.id, '1', stock.placeId))).toBe('not-a-lot');
    expect(await code(desk.split(lot.id, '1', place.id))).toBe('not-in-stores');
    expect(await code(desk.split(lot.id, '10', stock.placeId))).toBe('all-of-it');
    expect(await code(desk.split(lot.id, '11', stock.placeId))).toBe('not-enough');
    expect(await code(desk.split(lot.id, '1.5', stock.placeId))).toBe('bad-input');
    expect(await code(desk.split(lot.id, '0', stock.placeId))).toBe('bad-input');
    expect(await code(desk.split(newId(), '1', stock.placeId))).toBe('not-found');
    expect(await code(desk.split(lot.id, '1', stock.placeId, lot.code))).toBe('last-label');
    expect(await code(desk.split(lot.id, '1', stock.placeId, unit.code))).toBe('code-of-another-kind');
    await bench.post(`/api/things/${lot.id}/not-there`, { placeId: null });
    expect(await code(desk.split(lot.id, '1', stock.placeId))).toBe('missing');
    expect((await bags.page(lot.id)).held).toBe('10');
  });

  it('raced with picks conserves: nothing appears and nothing vanishes', async () => {
    for (let round = 0; round < 6; round += 1) {
      const lot = await bags.bag('4');
      const job = await stock.job([{ partId, quantity: '4' }]);
      const [split, pick] = await Promise.all([
        desk.split(lot.id, '2', stock.placeId),
        bench.post<{ code?: string }>('/api/picks', { code: lot.code, jobId: job.id, quantity: '3' }),
      ]);
      expect([split.status, pick.status].sort()).toEqual([200, 409]);
      const here = await bags.held(lot.id, ...(split.status === 200 ? [split.body.lot.id] : []));
      expect(here.map(Number).reduce((a, b) => a + b)).toBe(4);
    }
  });
});

describe('what was split off and is something else', () => {
  it('is put right by those who keep the books, and what it was said to be stays on the record', async () => {
    const lot = await bags.bag();
    const { lot: made } = (await desk.split(lot.id, '2', stock.placeId)).body;
    const facts = { partId, make: 'pattern', makerName: 'Halloran Seals', condition: 'worn', marks: 'HS 4' };
    expect((await desk.putRight(made.id, facts)).status).toBe(403);
    const { version } = await bags.page(made.id);
    expect((await keeper.putRight(made.id, facts, version + 1)).status).toBe(412);
    const right = await keeper.putRight(made.id, facts, version);
    expect([right.status, right.body]).toMatchObject([
      200,
      { make: 'pattern', maker: 'Halloran Seals', condition: 'worn', marks: 'HS 4' },
    ]);
    const { putRight, wasSplitOff } = await desk.regroupings(made.id);
    expect(wasSplitOff).toBe(true);
    expect(putRight).toMatchObject([
      {
        words:
          'make: genuine, now pattern; maker: not said, now Halloran Seals; marks: none, now HS 4; condition: as new, now worn',
        why: 'another maker’s',
      },
    ]);
    expect((await bags.page(lot.id)).make).toBe('genuine');
    expect((await keeper.putRight(made.id, facts)).body.code).toBe('nothing-new');
    expect((await keeper.merge(made.id, lot.code)).body.code).toBe('facts-differ');
  });

  it('is refused for what has a row of its own, for another part of what is promised, and for no packet date', async () => {
    const lot = await bags.bag();
    expect((await keeper.putRight(lot.id, { partId })).body.code).toBe('not-split-off');
    const { lot: made } = (await desk.split(lot.id, '2', stock.placeId)).body;
    expect((await keeper.putRight(made.id, { partId, packetRead: 'the year of the flood' })).body.code).toBe('bad-input');
    expect((await keeper.putRight(made.id, { partId: null })).body.code).toBe('bad-input');
    expect((await keeper.putRight(made.id, { partId: await stock.part({ unit: 'mm' }) })).body.code).toBe('bad-input');
    const other = await stock.part({ name: 'Small seal' });
    await bags.reserve(made.id, '1');
    expect((await keeper.putRight(made.id, { partId: other })).body.code).toBe('in-use');
    await expect(stock.query('DELETE FROM lot_corrections')).rejects.toThrow(/kept for good/);
    const { lot: free } = (await desk.split(lot.id, '2', stock.placeId)).body;
    expect((await keeper.putRight(free.id, { partId: other })).body).toMatchObject({ name: 'Small seal' });
  });
});

describe('what else is said of a bag', () => {
  it('goes with what is split off: who may lift its hold, and that it is kept for own jobs', async () => {
    const lot = await bags.bag('5');
    const [tom] = await stock.query<{ id: string }>("SELECT id FROM people WHERE display_name = 'Tom Hasleby'");
    const hold = { reason: 'to be measured', mayLiftId: tom!.id, lookAgainOn: '2031-02-03' };
    expect((await owner.post(`/api/things/${lot.id}/hold`, hold)).status).toBe(200);
    expect((await owner.post('/api/kept-for-jobs', { id: newId(), thingId: lot.id, reason: 'the last ones' })).status).toBe(200);
    const split = (await desk.split(lot.id, '2', stock.placeId)).body.lot;
    const facts = await stock.query(
      `SELECT hold_lifter_id AS lifter, hold_look_again_on AS day, held_back_since IS NOT NULL AS dated, reason
         FROM things JOIN kept_for_jobs ON thing_id = things.id WHERE things.id = $1`,
      [split.id],
    );
    expect(facts).toEqual([{ lifter: tom!.id, day: '2031-02-03', dated: true, reason: 'the last ones' }]);
    const merged = await keeper.merge(split.id, lot.code);
    expect(merged.status).toBe(200);
  });

  it('keeps bags apart where one is held for another to lift, is kept for own jobs, or stands open', async () => {
    const [one, other, kept] = [await bags.bag('2'), await bags.bag('2'), await bags.bag('2')];
    const [tom] = await stock.query<{ id: string }>("SELECT id FROM people WHERE display_name = 'Tom Hasleby'");
    await owner.post(`/api/things/${one.id}/hold`, { reason: 'to be measured', mayLiftId: tom!.id });
    await owner.post(`/api/things/${other.id}/hold`, { reason: 'to be measured' });
    await owner.post('/api/kept-for-jobs', { id: newId(), thingId: kept.id, reason: 'the last ones' });
    expect(await keeper.merge(one.id, other.code)).toMatchObject({
      status: 409,
      body: { code: 'facts-differ', values: { differing: [{ what: 'who may lift the hold', one: 'Tom Hasleby' }] } },
    });
    expect((await keeper.merge(kept.id, (await bags.bag('1')).code)).body).toMatchObject({
      code: 'facts-differ',
      values: { differing: [{ what: 'kept for own jobs', one: 'the last ones', other: 'no' }] },
    });
    const sealant = await stock.part({ name: 'Flange sealant' });
    const how = {
      container: 'cartridge',
      keepsDays: 90,
      oneAtATime: true,
      charged: 'by use',
      useAmount: '',
      usesPerContainer: 20,
    };
    expect((await owner.put(`/api/parts/${sealant}/consumable`, how)).status).toBe(200);
    const full = await stock.lot(sealant, { quantity: '3' });
    const open = await opened(owner, full.id, '2026-01-05');
    expect((await keeper.merge(open.thing.id, full.code)).body.code).toBe('open-container');
    // it was opened, and is used, as what it is
    expect((await keeper.putRight(open.thing.id, { partId: await stock.part() })).body.code).toBe('in-use');
  });
});
