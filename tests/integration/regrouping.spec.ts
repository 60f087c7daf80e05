import type * as z from 'zod';
import { newId } from '../../apps/api/src/platform/new-id.js';
import { verifyBooks } from '../../apps/api/src/stores/verify/verify-books.js';
import { formatCode, type LabelCode } from '../../libs/codes/src/label-code.js';
import type { ThingCost } from '../../libs/contracts/src/costs.js';
import type { LotThing } from '../../libs/contracts/src/stores.js';
import { addPerson, type BareServer, startBareServer, type Visitor } from '../support/bare-server.js';
import { CostDesk } from '../support/cost-desk.js';
import { LabelDesk } from '../support/label-changes.js';
import { keyRow, lotRow, openLoad } from '../support/load-stock.js';
import { phonePhotograph, sendPicture } from '../support/pictures.js';
import { opened } from '../support/sealant.js';
import { type LotFacts, Stock } from '../support/stock.js';

type Lot = z.infer<typeof LotThing>;

let server: BareServer;
let owner: Visitor;
let bench: Visitor;
let stock: Stock;
let desk: LabelDesk;
let keeper: LabelDesk;
let partId: string;

beforeAll(async () => {
  server = await startBareServer('regrouping');
  owner = await server.setUp();
  bench = await addPerson(server, owner, 'bench', 'tom', 'Tom Hasleby');
  stock = await Stock.open(server.testDatabase.ownerUrl);
  [desk, keeper] = [new LabelDesk(bench), new LabelDesk(owner)];
  partId = await stock.part({ name: 'Big seal' });
});
afterEach(async () => {
  expect(await verifyBooks(server.database)).toEqual([]);
});
afterAll(async () => {
  await stock.close();
  await server.stop();
});

const bag = (quantity = '10', facts: LotFacts = {}) => stock.lot(partId, { quantity, ...facts });
const page = async (id: string) => (await bench.get<Lot>(`/api/things/${id}`)).body;
const said = (code: string) => formatCode(code as LabelCode);
const differing = ({ values }: { values?: Record<string, unknown> }) => (values?.differing ?? []) as { what: string }[];
const held = async (...ids: string[]) => Promise.all(ids.map(async (id) => (await page(id)).held));
const reserve = async (lotId: string, quantity: string) => {
  const job = await stock.job([{ partId, quantity }]);
  const lines = [{ lineId: job.lineIds[0], thingId: lotId, quantity }];
  expect((await bench.post(`/api/jobs/${job.id}/reservations`, { until: null, lines })).status).toBe(200);
  return job;
};

describe('a bag that turns out to be two', () => {
  it('is split: so many are a lot of their own with the same facts, where they lie', async () => {
    const lot = await bag('10', {
      source: 'old stock',
      packetRead: '1962',
      packetEarliest: '1962-01-01',
      packetLatest: '1962-12-31',
    });
    const [blank] = await desk.blanks('lot', 1);
    const key = newId();
    const split = await desk.split(lot.id, '4', stock.placeId, blank!, key);
    expect([split.status, split.body.lot.code]).toEqual([200, blank]);
    const other = await page(split.body.lot.id);
    expect(await held(lot.id, other.id)).toEqual(['6', '4']);
    const facts = ({ source, make, condition, packet, owner: of, part, fittedOnce }: Lot) => ({
      source,
      make,
      condition,
      packet,
      of,
      part,
      fittedOnce,
    });
    expect(facts(other)).toEqual(facts(await page(lot.id)));
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
    const lot = await bag();
    await owner.post(`/api/things/${lot.id}/hold`, { reason: 'a look at the packing' });
    const inspection = { inspectedOn: '2026-01-05', lookedAt: 'two of them', passed: true, words: 'sound' };
    await owner.post(`/api/things/${lot.id}/inspections`, inspection);
    const { lot: made } = (await desk.split(lot.id, '1', stock.placeId)).body;
    const other = await page(made.id);
    expect(other.heldBack).toMatchObject({ reason: 'a look at the packing' });
    expect(other.inspections).toMatchObject([inspection]);
  });

  it('leaves what is promised with what can bear it, and says whose it is where it cannot', async () => {
    const lot = await bag();
    await reserve(lot.id, '7');
    expect((await desk.split(lot.id, '4', stock.placeId)).body).toMatchObject({
      code: 'claimed-for-another-job',
      detail: expect.stringContaining('7 for Overhead-worm axle'),
    });
    const split = await desk.split(lot.id, '3', stock.placeId);
    expect(split.status).toBe(200);
    expect([await page(lot.id), await page(split.body.lot.id)].map(({ claimed }) => claimed)).toEqual(['7', '0']);
  });

  it('is refused for what is no lot, of a set, missing, elsewhere, all of it or no quantity', async () => {
    const [lot, unit, place] = [await bag(), await stock.unit(), await stock.place()];
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
    expect((await page(lot.id)).held).toBe('10');
  });

  it('raced with picks conserves: nothing appears and nothing vanishes', async () => {
    for (let round = 0; round < 6; round += 1) {
      const lot = await bag('4');
      const job = await stock.job([{ partId, quantity: '4' }]);
      const [split, pick] = await Promise.all([
        desk.split(lot.id, '2', stock.placeId),
        bench.post<{ code?: string }>('/api/picks', { code: lot.code, jobId: job.id, quantity: '3' }),
      ]);
      expect([split.status, pick.status].sort()).toEqual([200, 409]);
      const here = await held(lot.id, ...(split.status === 200 ? [split.body.lot.id] : []));
      expect(here.map(Number).reduce((a, b) => a + b)).toBe(4);
    }
  });
});

describe('what was split off and is something else', () => {
  it('is put right by those who keep the books, and what it was said to be stays on the record', async () => {
    const lot = await bag();
    const { lot: made } = (await desk.split(lot.id, '2', stock.placeId)).body;
    const facts = { partId, make: 'pattern', makerName: 'Halloran Seals', condition: 'worn', marks: 'HS 4' };
    expect((await desk.putRight(made.id, facts)).status).toBe(403);
    const { version } = await page(made.id);
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
    expect((await page(lot.id)).make).toBe('genuine');
    expect((await keeper.putRight(made.id, facts)).body.code).toBe('nothing-new');
    expect((await keeper.merge(made.id, lot.code)).body.code).toBe('facts-differ');
  });

  it('is refused for what has a row of its own, for another part of what is promised, and for no packet date', async () => {
    const lot = await bag();
    expect((await keeper.putRight(lot.id, { partId })).body.code).toBe('not-split-off');
    const { lot: made } = (await desk.split(lot.id, '2', stock.placeId)).body;
    expect((await keeper.putRight(made.id, { partId, packetRead: 'the year of the flood' })).body.code).toBe('bad-input');
    expect((await keeper.putRight(made.id, { partId: null })).body.code).toBe('bad-input');
    expect((await keeper.putRight(made.id, { partId: await stock.part({ unit: 'mm' }) })).body.code).toBe('bad-input');
    const other = await stock.part({ name: 'Small seal' });
    await reserve(made.id, '1');
    expect((await keeper.putRight(made.id, { partId: other })).body.code).toBe('in-use');
    await expect(stock.query('DELETE FROM lot_corrections')).rejects.toThrow(/kept for good/);
    const { lot: free } = (await desk.split(lot.id, '2', stock.placeId)).body;
    expect((await keeper.putRight(free.id, { partId: other })).body).toMatchObject({ name: 'Small seal' });
  });
});

describe('two bags that turn out to be one', () => {
  it('become one: both codes open it, and its quantity, claims, photographs and flags go over', async () => {
    const [goes, stays, place] = [await bag('3'), await bag('5'), await stock.place()];
    await bench.post('/api/put-aways', { code: goes.code, placeId: place.id, quantity: '1' });
    const job = await reserve(goes.id, '2');
    await sendPicture(server.url, owner, goes.id, await phonePhotograph(40, 30));
    await stock.query("INSERT INTO stores_flags (id, thing_id, kind, words) VALUES ($1, $2, 'found in hand', 'one more')", [
      newId(),
      goes.id,
    ]);
    const key = newId();
    expect((await desk.merge(goes.id, stays.code)).status).toBe(403);
    const merged = await keeper.merge(goes.id, stays.code, key);
    expect([merged.status, merged.body.lot?.id]).toEqual([200, stays.id]);
    expect((await keeper.merge(goes.id, stays.code, key)).body).toEqual(merged.body);
    for (const code of [goes.code, stays.code]) expect(await desk.scan(code)).toMatchObject({ id: stays.id });
    const one = await page(stays.id);
    expect([one.held, one.claimed, one.code]).toEqual(['8', '2', stays.code]);
    expect(one.claims).toMatchObject([{ claimant: { id: job.id }, quantity: '2' }]);
    expect(one.pictures).toHaveLength(1);
    expect(new Map(one.holdings.map(({ holderId, quantity }) => [holderId, quantity]))).toEqual(
      new Map([
        [stock.placeId, '7'],
        [place.id, '1'],
      ]),
    );
    expect(await stock.query('SELECT 1 FROM stores_flags WHERE thing_id = $1 AND settled_at IS NULL', [stays.id])).toHaveLength(
      1,
    );
    expect(await desk.regroupings(goes.id)).toMatchObject({
      partOf: { id: stays.id, code: stays.code },
      changes: [{ kind: 'merged', quantity: '3', to: { id: stays.id } }],
    });
    const gone = await page(goes.id);
    expect([gone.held, gone.claimed, gone.code]).toEqual(['0', '0', goes.code]);
    expect((await desk.borne(goes.id)).labels).toMatchObject([{ code: goes.code, state: 'went over', opens: { id: stays.id } }]);
    expect((await bench.post('/api/picks', { code: goes.code, jobId: job.id })).status).toBe(200);
  });

  it('are split again, with the label that came over', async () => {
    const [goes, stays] = [await bag('3'), await bag('5')];
    await keeper.merge(goes.id, stays.code);
    const split = await desk.split(stays.id, '3', stock.placeId, goes.code);
    expect(split.body.lot.code).toBe(goes.code);
    expect(await desk.scan(goes.code)).toMatchObject({ id: split.body.lot.id });
    expect(await held(stays.id, split.body.lot.id)).toEqual(['5', '3']);
    expect((await keeper.merge(goes.id, stays.code)).body.code).toBe('part-of-another-lot');
  });

  it('are refused where a fact differs, naming each with both values and no other', async () => {
    const otherPart = await stock.part({ name: 'Small seal' });
    const customer = await stock.customer('Miss Applegarth');
    const variants: [string, () => Promise<{ id: string; code: string }>][] = [
      ['part', () => stock.lot(otherPart, { quantity: '5' })],
      ['owner', () => bag('5', { ownerId: customer })],
      ['source', () => bag('5', { source: 'old stock' })],
      ['make', () => bag('5', { make: 'pattern' })],
      ['condition', () => bag('5', { condition: 'worn' })],
      ['packet date', () => bag('5', { packetRead: '1971', packetEarliest: '1971-01-01', packetLatest: '1971-12-31' })],
    ];
    const stays = await bag('5');
    for (const [what, make] of variants) {
      const { body, status } = await keeper.merge((await make()).id, stays.code);
      expect([what, status, body.code]).toEqual([what, 409, 'facts-differ']);
      expect(differing(body).map((each) => each.what)).toEqual([what]);
    }
    const owned = await keeper.merge((await bag('5', { ownerId: customer })).id, stays.code);
    expect(owned.body.detail).toContain('owner, Miss Applegarth against the workshop');
    const heldBack = await bag('5');
    await owner.post(`/api/things/${heldBack.id}/hold`, { reason: 'to be looked at' });
    expect((await keeper.merge(heldBack.id, stays.code)).body.detail).toContain('held back, to be looked at against no');
    const several = await bag('5', { source: 'unknown', make: 'pattern', condition: 'worn' });
    expect(differing((await keeper.merge(several.id, stays.code)).body).map(({ what }) => what)).toEqual([
      'source',
      'make',
      'condition',
    ]);
  });

  it('are refused where one is missing, unnamed, no lot, the same, or not all in stores, and say which way round it goes', async () => {
    const [goes, stays, missing] = [await bag('3'), await bag('5'), await bag('2')];
    const unnamed = [await stock.lot(null), await stock.lot(null)];
    expect((await keeper.merge(unnamed[0]!.id, unnamed[1]!.code)).body.code).toBe('not-named');
    await bench.post(`/api/things/${missing.id}/not-there`, { placeId: null });
    expect((await keeper.merge(missing.id, stays.code)).body.code).toBe('missing');
    expect((await keeper.merge(stays.id, missing.code)).body.code).toBe('missing');
    expect((await keeper.merge(stays.id, stays.code)).body.code).toBe('one-already');
    expect((await keeper.merge((await stock.unit()).id, stays.code)).body.code).toBe('not-a-lot');
    expect((await keeper.merge(goes.id, (await stock.unit()).code)).body.code).toBe('code-of-another-kind');
    const job = await stock.job([{ partId, quantity: '1' }]);
    expect((await bench.post('/api/picks', { code: goes.code, jobId: job.id })).status).toBe(200);
    const refused = (await keeper.merge(goes.id, stays.code)).body;
    expect(refused.code).toBe('not-all-here');
    expect(refused.detail).toContain(`Make ${said(stays.code)} part of ${said(goes.code)} instead`);
    expect((await keeper.merge(stays.id, goes.code)).status).toBe(200);
    expect((await page(goes.id)).held).toBe('8');
  });

  it('raced with a pick and with one another conserve', async () => {
    for (let round = 0; round < 6; round += 1) {
      const [goes, stays] = [await bag('3'), await bag('5')];
      const job = await stock.job([{ partId, quantity: '2' }]);
      const [, , pick] = await Promise.all([
        keeper.merge(goes.id, stays.code),
        keeper.merge(stays.id, goes.code),
        bench.post<{ code?: string }>('/api/picks', { code: goes.code, jobId: job.id, quantity: '2' }),
      ]);
      expect([200, 409]).toContain(pick.status);
      const sums = (await held(goes.id, stays.id)).map(Number);
      expect(sums.reduce((a, b) => a + b)).toBe(8);
    }
  });

  it('stay so whatever the code does: the database lets nothing back, and nothing go between that does not arrive', async () => {
    const [goes, stays] = [await bag('3'), await bag('5')];
    await keeper.merge(goes.id, stays.code);
    await expect(stock.bring(goes.id, '1', stock.placeId)).rejects.toThrow(/merged_is_gone/);
    const lone = stock.query(
      `INSERT INTO movements (id, command_key, thing_id, quantity, from_holder_id, to_holder_id, reason, occurred_at)
       SELECT $1, key, $2, 1, $3, '00000000-0000-7000-8000-0000000a1107', 'lost between', now() FROM commands LIMIT 1`,
      [newId(), stays.id, stock.placeId],
    );
    await expect(lone).rejects.toThrow(/comes into the other/);
  });
});

describe('what parted and joined lots cost', () => {
  const amounts = async (...ids: string[]) =>
    Promise.all(ids.map(async (id) => (await owner.get<ThingCost>(`/api/things/${id}/cost`)).body));

  it('goes with the goods to the last minor unit, and follows when the load is shared anew', async () => {
    const costs = new CostDesk(owner, newId(), partId);
    const load = await openLoad(owner);
    const placed = { placeId: stock.placeId, source: 'new', quantity: '7' };
    const first = (await keyRow(owner, load.id, lotRow(partId, { ...placed, position: 1 }))).body;
    const second = (await keyRow(owner, load.id, lotRow(partId, { ...placed, position: 2, quantity: '3' }))).body;
    const split = (await desk.split(first.id, '2', stock.placeId)).body.lot;
    expect((await amounts(split.id))[0]).toMatchObject({ amount: null, words: expect.stringContaining('was part of') });
    await costs.pay(load.id, { price: '100' });
    expect((await costs.share(load.id, 'equally')).status).toBe(200);
    const [whole, part] = await amounts(first.id, split.id);
    expect([whole!.amount, part!.amount]).toEqual(['50.00', '14.29']);
    expect(whole!.parts.map(({ amount }) => amount).sort()).toEqual(['14.29', '35.71']);
    expect((await keeper.merge(second.id, split.code)).status).toBe(200);
    expect((await amounts(split.id))[0]).toMatchObject({
      amount: '64.29',
      words: expect.stringContaining('which became part of it'),
    });
    await costs.pay(load.id, { price: '120' });
    await costs.share(load.id, 'equally');
    expect((await amounts(split.id))[0]!.amount).toBe('77.14');
    expect((await keeper.merge(split.id, first.code)).status).toBe(200);
    expect((await amounts(first.id))[0]).toMatchObject({ amount: '120.00', parts: [{ quantity: '10', amount: '120.00' }] });
  });

  it('is not known where a part of it is not known', async () => {
    const load = await openLoad(owner);
    const costs = new CostDesk(owner, newId(), partId);
    const row = (await keyRow(owner, load.id, lotRow(partId, { placeId: stock.placeId, source: 'new' }))).body;
    await costs.pay(load.id, { price: '8' });
    await costs.share(load.id, 'equally');
    const unknown = await bag('4', { condition: '' });
    expect((await keeper.merge(unknown.id, row.code)).status).toBe(200);
    expect((await amounts(row.id))[0]).toMatchObject({ amount: null, words: expect.stringMatching(/became part of it/) });
  });
});

describe('what else is said of a bag', () => {
  it('goes with what is split off: who may lift its hold, and that it is kept for own jobs', async () => {
    const lot = await bag('5');
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
    const [one, other, kept] = [await bag('2'), await bag('2'), await bag('2')];
    const [tom] = await stock.query<{ id: string }>("SELECT id FROM people WHERE display_name = 'Tom Hasleby'");
    await owner.post(`/api/things/${one.id}/hold`, { reason: 'to be measured', mayLiftId: tom!.id });
    await owner.post(`/api/things/${other.id}/hold`, { reason: 'to be measured' });
    await owner.post('/api/kept-for-jobs', { id: newId(), thingId: kept.id, reason: 'the last ones' });
    expect(await keeper.merge(one.id, other.code)).toMatchObject({
      status: 409,
      body: { code: 'facts-differ', values: { differing: [{ what: 'who may lift the hold', one: 'Tom Hasleby' }] } },
    });
    expect((await keeper.merge(kept.id, (await bag('1')).code)).body).toMatchObject({
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
