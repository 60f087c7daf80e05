import type { MayServe } from '../../libs/contracts/src/relations.js';
import type { ScanAnswer } from '../../libs/contracts/src/scanning.js';
import type { ShelfLife } from '../../libs/contracts/src/shelf-life.js';
import type { Thing } from '../../libs/contracts/src/stores.js';
import type { Today } from '../../libs/contracts/src/today.js';
import { addDays, addMonths, addYears } from '../../libs/quantities/src/plain-date.js';
import { type BareServer, startBareServer, type Visitor } from '../support/bare-server.js';
import { type LotFacts, type Made, Stock } from '../support/stock.js';

let server: BareServer;
let owner: Visitor;
let stock: Stock;
let today: string;
let nitrile: string;

beforeAll(async () => {
  server = await startBareServer('shelflife');
  owner = await server.setUp();
  stock = await Stock.open(server.testDatabase.ownerUrl);
  today = (await owner.get<{ today: string }>('/api/workshop')).body.today;
  nitrile = await stock.part({ name: 'Oil seal', material: 'rubber', polymer: 'NBR' });
});
afterAll(async () => {
  await stock.close();
  await server.stop();
});

/** A lot of nitrile, which keeps for seven years, packed on a day. */
const packedOn = (day: string, facts: LotFacts = {}): Promise<Made> =>
  stock.lot(nitrile, { packetRead: day, packetEarliest: day, packetLatest: day, ...facts });
const listOn = async (on?: string): Promise<ShelfLife> =>
  (await owner.get<ShelfLife>(`/api/shelf-life${on === undefined ? '' : `?on=${on}`}`)).body;

/** What the list says of one lot; null where it is not on it. */
function standingIn(list: ShelfLife, { id }: Made) {
  const found = list.places.flatMap(({ place, lots }) => lots.filter((lot) => lot.id === id).map((lot) => ({ place, lot })))[0];
  return found === undefined ? null : { standing: found.lot.standing, endsOn: found.lot.endsOn, placeId: found.place?.id };
}

describe('the list of what has aged', () => {
  it('has what is past, extendable, ends within six months or has no date, at its place; and nothing else', async () => {
    const bin = await stock.place();
    const [past, extendable, undated, soon, later] = [
      await packedOn(addYears(today, -11), { placeId: bin.id }),
      await packedOn(addYears(today, -8)),
      await stock.lot(nitrile),
      await packedOn(addYears(addMonths(today, 6), -7)),
      await packedOn(addDays(addYears(addMonths(today, 6), -7), 1)),
    ];
    const gone = await packedOn(addYears(today, -11), { quantity: '0' });
    const steel = await stock.lot(await stock.part(), {
      packetRead: '1953',
      packetEarliest: '1953-01-01',
      packetLatest: '1953-12-31',
    });
    const list = await listOn();
    expect(list).toMatchObject({ on: today, more: false, counts: { past: 1, extendable: 1, 'unknown date': 1, 'ends soon': 1 } });
    expect([past, extendable, undated, soon].map((lot) => standingIn(list, lot))).toEqual([
      { standing: 'past', endsOn: addYears(today, -4), placeId: bin.id },
      { standing: 'extendable', endsOn: addYears(today, -1), placeId: stock.placeId },
      { standing: 'unknown date', endsOn: null, placeId: stock.placeId },
      { standing: 'ends soon', endsOn: addMonths(today, 6), placeId: stock.placeId },
    ]);
    expect([later, gone, steel].map((lot) => standingIn(list, lot))).toEqual([null, null, null]);
  });

  it('takes any day, and an inspection from the day on which it was made', async () => {
    const lot = await packedOn(addYears(today, -8));
    const standing = async (on: string) => standingIn(await listOn(on), lot)?.standing ?? null;
    const inspection = { inspectedOn: today, lookedAt: 'every one', passed: true, words: 'supple' };
    expect((await owner.post(`/api/things/${lot.id}/inspections`, inspection)).status).toBe(200);
    expect(await standing(today)).toBeNull();
    expect(await standing(addDays(today, -1))).toBe('extendable');
    expect(await standing(addYears(today, -3))).toBeNull();
    expect(await standing(addMonths(today, 18))).toBe('ends soon');
    expect(await standing(addYears(today, 2))).toBe('past');
  });

  it('refuses what is no day', async () => {
    for (const on of ['2026-02-30', 'tomorrow', '']) expect((await owner.get(`/api/shelf-life?on=${on}`)).status).toBe(422);
  });

  it('goes by place as somebody walks, Bin 2 before Bin 10', async () => {
    const bins = [await stock.place(), await stock.place()];
    for (const [index, name] of ['Bin 10', 'Bin 2'].entries()) {
      await stock.query('UPDATE places SET name = $2 WHERE holder_id = $1', [bins[index]!.id, name]);
      await stock.lot(nitrile, { placeId: bins[index]!.id });
    }
    const names = (await listOn()).places.map(({ place }) => place?.name);
    expect(names.indexOf('Bin 2')).toBeLessThan(names.indexOf('Bin 10'));
    expect(names).toContain('Bin 2');
  });

  it('is told on Today as one number, of those that nobody holds back yet', async () => {
    const told = async () => (await owner.get<Today>('/api/today')).body.items.find((item) => item.id === 'aged');
    const count = async () => Number(/^\d+/.exec((await told())!.title)![0]);
    const before = await count();
    const lot = await stock.lot(nitrile);
    expect(await count()).toBe(before + 1);
    expect((await told())!.action.path).toBe('/stores/shelf-life');
    await owner.post(`/api/things/${lot.id}/hold`, { reason: 'for display' });
    expect(await count()).toBe(before);
  });
});

describe('what its age keeps from being fitted', () => {
  it('is not counted as free by a build standard, which says so of each lot', async () => {
    const rubber = await stock.part({ name: 'Oil seal', material: 'rubber', polymer: 'NBR' });
    const old = await stock.lot(rubber, { packetRead: '1962', packetEarliest: '1962-01-01', packetLatest: '1962-12-31' });
    const undated = await stock.lot(rubber, { quantity: '3' });
    const { candidates } = (await owner.get<MayServe>(`/api/parts/${rubber}/may-serve?standard=serviceable`)).body;
    expect(candidates).toMatchObject([{ part: { id: rubber }, free: '0' }]);
    const said = candidates[0]!.declined.map((words) => words.replaceAll(' ', ''));
    expect(said).toEqual([
      expect.stringMatching(new RegExp(`^${old.code}.*1:rubber,pastlife`)),
      expect.stringMatching(new RegExp(`^${undated.code}.*3:rubber,dateunknown`)),
    ]);
  });
});

describe('a lot of preserved bearings', () => {
  const preserve = (id: string, body: Record<string, unknown>, ifMatch?: number) =>
    owner.post<Thing & { code: string }>(`/api/things/${id}/preservation`, body, ifMatch === undefined ? {} : { ifMatch });
  const bearing = async (years: number, days = 0) => {
    const partId = await stock.part({ name: 'Ball bearing, single row' });
    const day = addDays(addYears(today, -years), -days);
    const lot = await stock.lot(partId, { packetRead: day, packetEarliest: day, packetLatest: day });
    await stock.query("UPDATE lots SET packet_condition = 'sealed' WHERE thing_id = $1", [lot.id]);
    return { ...lot, partId };
  };
  const fit = async (lot: Made & { partId: string }, override?: { reason: string }) => {
    const job = await stock.job([{ partId: lot.partId }]);
    return owner.post<{ code: string }>('/api/fits', { code: lot.code, jobId: job.id, ...(override ? { override } : {}) });
  };

  it('whose period is over is warned of, listed, and fitted only over somebody’s name, until it is preserved anew', async () => {
    const lot = await bearing(6);
    expect(await preserve(lot.id, { packing: 'open-preserved', store: 'humid' })).toMatchObject({
      status: 200,
      body: {
        preservation: { packing: 'open-preserved', store: 'humid' },
        storageLife: { state: 'extendable', stops: true, sentence: expect.stringMatching(/^Look again/) },
      },
    });
    expect(standingIn(await listOn(), lot)).toMatchObject({ standing: 'extendable', endsOn: addYears(today, -1) });
    expect((await owner.get<ScanAnswer>(`/api/scan/${lot.code}`)).body.warning).toMatch(/^bearing, past life/);
    expect(await fit(lot)).toMatchObject({ status: 409, body: { code: 'past-storage-life' } });
    const inspection = {
      inspectedOn: today,
      lookedAt: 'rings and balls',
      passed: true,
      words: 'bright, cleaned, new preservative',
    };
    const { body } = await owner.post<Thing>(`/api/things/${lot.id}/inspections`, inspection);
    expect(body).toMatchObject({ storageLife: { state: 'in life', stops: false } });
    expect(standingIn(await listOn(), lot)).toBeNull();
    expect((await fit(lot)).status).toBe(200);
  });

  it('of which nobody knows how it was stored warns by the shortest period, and stops only where the longest is over', async () => {
    const [doubtful, old] = [await bearing(6), await bearing(10)];
    for (const lot of [doubtful, old]) await preserve(lot.id, { packing: 'open-preserved', store: null });
    const lifeOf = async ({ id }: Made) =>
      (await owner.get<Extract<Thing, { kind: 'lot' }>>(`/api/things/${id}`)).body.storageLife;
    expect(await lifeOf(doubtful)).toMatchObject({ state: 'extendable', stops: false });
    expect(await lifeOf(old)).toMatchObject({ state: 'extendable', stops: true });
    expect((await fit(doubtful)).status).toBe(200);
    expect((await fit(old, { reason: 'a display axle' })).status).toBe(200);
  });

  it('without a date is unknown, and stops nothing', async () => {
    const partId = await stock.part();
    const lot = { ...(await stock.lot(partId)), partId };
    const { body } = await preserve(lot.id, { packing: 'sealed-greased', store: null });
    expect(body).toMatchObject({ storageLife: { state: 'unknown date', stops: false } });
    expect(standingIn(await listOn(), lot)).toBeNull();
    expect((await fit(lot)).status).toBe(200);
  });

  it('without a date that was preserved anew counts from that day, and is listed when that is over', async () => {
    const partId = await stock.part();
    const lot = { ...(await stock.lot(partId)), partId };
    await preserve(lot.id, { packing: 'open-preserved', store: 'humid' });
    const inspection = { inspectedOn: addYears(today, -6), lookedAt: 'all', passed: true, words: 'new preservative' };
    const { body } = await owner.post<Thing>(`/api/things/${lot.id}/inspections`, inspection);
    expect(body).toMatchObject({ storageLife: { state: 'extendable', stops: true } });
    expect(standingIn(await listOn(), lot)).toMatchObject({ standing: 'extendable', endsOn: addYears(today, -1) });
    expect(standingIn(await listOn(addYears(today, -3)), lot)).toBeNull();
  });

  it('is none any more where its part turns out to be of felt', async () => {
    const lot = await bearing(6);
    expect((await preserve(lot.id, { packing: 'open-preserved', store: 'humid' })).body).toMatchObject({
      storageLife: { stops: true },
    });
    await stock.query("UPDATE parts SET material = 'felt' WHERE id = $1", [lot.partId]);
    expect((await owner.get<Thing>(`/api/things/${lot.id}`)).body).toMatchObject({ storageLife: { state: 'no limit' } });
  });

  it('greased behind seals is past after two years, and no inspection renews it', async () => {
    const lot = await bearing(2);
    // a plain look before anybody knew that it is a preserved bearing renews nothing either
    const inspection = { inspectedOn: today, lookedAt: 'the box', passed: true, words: 'dry' };
    expect((await owner.post(`/api/things/${lot.id}/inspections`, inspection)).status).toBe(200);
    const { body } = await preserve(lot.id, { packing: 'sealed-greased', store: null });
    expect(body).toMatchObject({ storageLife: { state: 'past', stops: true } });
    expect(await owner.post(`/api/things/${lot.id}/inspections`, inspection)).toMatchObject({
      status: 409,
      body: { code: 'inspection-behind-seals' },
    });
    expect((await preserve(lot.id, { packing: null, store: null })).body).toMatchObject({ storageLife: { state: 'no limit' } });
  });

  it('is refused for rubber and felt, for what is no lot, on an old page, and with a store alone', async () => {
    const lot = await stock.lot(nitrile);
    const refusals = await Promise.all([
      preserve(lot.id, { packing: 'open-preserved', store: null }),
      preserve((await stock.lot(await stock.part({ material: 'felt' }))).id, { packing: 'sealed-greased', store: null }),
      preserve((await stock.unit()).id, { packing: 'open-preserved', store: null }),
      preserve(lot.id, { packing: null, store: null }, 7),
      preserve(lot.id, { packing: null, store: 'dry' }),
      preserve(lot.id, { packing: 'wax', store: null }),
    ]);
    expect(refusals.map(({ status }) => status)).toEqual([409, 409, 404, 412, 422, 422]);
  });
});
