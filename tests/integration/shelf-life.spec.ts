import type { ShelfLife } from '../../libs/contracts/src/shelf-life.js';
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
