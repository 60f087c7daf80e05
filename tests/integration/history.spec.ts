import { newId } from '../../apps/api/src/platform/new-id.js';
import { countDifferenceId } from '../../apps/api/src/stores/ledger.js';
import type { HistoryEntry, HistoryPage } from '../../libs/contracts/src/history.js';
import type { Thing } from '../../libs/contracts/src/stores.js';
import { addPerson, type BareServer, startBareServer, type Visitor } from '../support/bare-server.js';
import { Stock } from '../support/stock.js';

let server: BareServer;
let owner: Visitor;
let bench: Visitor;
let stock: Stock;

beforeAll(async () => {
  server = await startBareServer('history');
  owner = await server.setUp();
  bench = await addPerson(server, owner, 'bench', 'tom', 'Tom Hasleby');
  stock = await Stock.open(server.testDatabase.ownerUrl);
});
afterAll(async () => {
  await stock.close();
  await server.stop();
});

const historyOf = async (of: 'things' | 'parts' | 'places', id: string, query = '', who = owner): Promise<HistoryPage> => {
  const answer = await who.get<HistoryPage>(`/api/${of}/${id}/history${query}`);
  expect(answer.status).toBe(200);
  return answer.body;
};
const words = (entries: readonly HistoryEntry[]) => entries.map(({ kind, title }) => `${kind}: ${title}`);
const ok = async (answer: Promise<{ status: number }>) => expect((await answer).status).toBe(200);

async function everyPage(of: 'things' | 'parts' | 'places', id: string, limit: number): Promise<HistoryEntry[]> {
  const entries: HistoryEntry[] = [];
  let cursor: string | null = '';
  while (cursor !== null) {
    const page: HistoryPage = await historyOf(of, id, `?limit=${limit}&cursor=${cursor}`);
    expect(page.entries.length).toBeLessThanOrEqual(limit);
    entries.push(...page.entries);
    cursor = page.cursor;
  }
  return entries;
}

/** Moved back and forth, several at a time at one instant. */
async function moveAbout(thingId: string, places: readonly [string, string], times: number): Promise<void> {
  const [command] = await stock.query<{ key: string }>('SELECT key FROM commands LIMIT 1');
  for (let number = 0; number < times; number += 1)
    await stock.query(
      `INSERT INTO movements (id, command_key, thing_id, quantity, from_holder_id, to_holder_id, reason, occurred_at, recorded_at)
       VALUES ($1, $2, $3, 1, $4, $5, 'put away', now(), timestamptz '2024-05-01' + $6 * interval '1 microsecond')`,
      [newId(), command!.key, thingId, places[number % 2], places[(number + 1) % 2], Math.floor(number / 4)],
    );
}

describe('the history of a thing', () => {
  it('has everything that is on record of it, newest first, each by whom it was done', async () => {
    const lot = await stock.lot(await stock.part({ name: 'Rocker shaft' }), { quantity: '4' });
    const elsewhere = await stock.place();
    await ok(bench.post('/api/put-aways', { code: lot.code, placeId: elsewhere.id, quantity: '1' }));
    await ok(owner.post(`/api/things/${lot.id}/hold`, { reason: 'bore looks scored' }));
    await ok(owner.post(`/api/things/${lot.id}/hold-lift`, { reason: 'measured, and good' }));
    const { body: before } = await owner.get<Thing>(`/api/things/${lot.id}`);
    await ok(bench.post(`/api/things/${lot.id}/not-there`, { placeId: null }, { ifMatch: before.version }));
    await ok(bench.post(`/api/things/${lot.id}/found`, { placeId: elsewhere.id }));
    const customer = await stock.customer('Orla Penrice');
    await stock.giveAway(lot.id, customer);
    const page = await historyOf('things', lot.id);
    const titles = words(page.entries);
    expect(titles[0]).toBe('owners: Now Orla Penrice’s');
    for (const expected of [
      'missing: No longer missing',
      'missing: Looked for and not found',
      'holds: No longer held back',
      'holds: Held back',
    ])
      expect(titles).toContain(expected);
    expect(titles.filter((title) => title.startsWith('moves:')).length).toBeGreaterThanOrEqual(2);
    expect(page.entries.find(({ title }) => title === 'Held back')).toMatchObject({
      detail: 'bore looks scored',
      by: 'Edie Marrack',
      thing: null,
    });
    const instants = page.entries.map(({ at }) => at);
    expect(instants).toEqual(instants.toSorted().reverse());
    expect(page.kinds.map(({ kind }) => kind)).toEqual(
      expect.arrayContaining([
        'moves',
        'holds',
        'missing',
        'inspections',
        'labels',
        'arrival',
        'reservations',
        'strip-downs',
        'grades',
      ]),
    );
  });

  it('is shown of some kinds only, where they are named', async () => {
    const lot = await stock.lot(null, { quantity: '2' });
    await ok(owner.post(`/api/things/${lot.id}/hold`, { reason: 'no paper with it' }));
    expect(words((await historyOf('things', lot.id, '?kinds=holds')).entries)).toEqual(['holds: Held back']);
    expect((await historyOf('things', lot.id, '?kinds=holds,moves')).entries).toHaveLength(2);
    const strange = await owner.get<{ detail: string }>(`/api/things/${lot.id}/history?kinds=weather`);
    expect(strange.status).toBe(422);
    expect(strange.body.detail).toMatch(/weather/);
  });

  it('tells what it cost to those alone who keep the books', async () => {
    const [lot, [person]] = [
      await stock.lot(null, { quantity: '2' }),
      await stock.query<{ id: string }>("SELECT id FROM people WHERE sign_in_name = 'edie'"),
    ];
    await stock.query(
      `INSERT INTO cost_entries (id, command_key, thing_id, amount_minor, currency, kind, why, person_id)
       VALUES ($1, (SELECT key FROM commands LIMIT 1), $2, 1250, 'GBP', 'adjustment', 'carriage', $3)`,
      [newId(), lot.id, person!.id],
    );
    expect(words((await historyOf('things', lot.id)).entries)[0]).toMatch(/^costs: Cost 12\.50 GBP$/);
    const seen = await historyOf('things', lot.id, '', bench);
    expect(words(seen.entries).some((title) => title.startsWith('costs'))).toBe(false);
    expect(seen.kinds.some(({ kind }) => kind === 'costs')).toBe(false);
    expect((await bench.get(`/api/things/${lot.id}/history?kinds=costs`)).status).toBe(422);
  });

  it('goes on page after page, each entry once, also where many were recorded at one instant', async () => {
    const [lot, one, other] = [await stock.lot(null, { quantity: '0' }), await stock.place(), await stock.place()];
    await stock.query(
      `INSERT INTO movements (id, command_key, thing_id, quantity, from_holder_id, to_holder_id, reason, occurred_at, recorded_at)
       VALUES ($1, (SELECT key FROM commands LIMIT 1), $2, 5, $3, $4, 'opening stock', now(), '2024-04-01')`,
      [newId(), lot.id, countDifferenceId, one.id],
    );
    await moveAbout(lot.id, [one.id, other.id], 120);
    const all = (await historyOf('things', lot.id, '?limit=500')).entries;
    expect(all).toHaveLength(121);
    for (const limit of [1, 3, 50])
      expect((await everyPage('things', lot.id, limit)).map(({ id }) => id)).toEqual(all.map(({ id }) => id));
    const atPlace = await everyPage('places', one.id, 7);
    expect(new Set(atPlace.map(({ id }) => id)).size).toBe(121);
    expect(atPlace).toHaveLength(121);
  });

  it('strikes through what was taken back', async () => {
    const [lot, place] = [await stock.lot(null, { quantity: '1' }), await stock.place()];
    await stock.query(
      `WITH moved AS (SELECT * FROM movements WHERE thing_id = $2 LIMIT 1)
       INSERT INTO movements (id, command_key, thing_id, quantity, from_holder_id, to_holder_id, reason, occurred_at, reverses_id)
       SELECT $1, command_key, thing_id, quantity, to_holder_id, from_holder_id, 'a slip', now(), id FROM moved`,
      [newId(), lot.id],
    );
    const { entries } = await historyOf('things', lot.id, '?kinds=moves');
    expect(entries.map(({ isTakenBack }) => isTakenBack)).toEqual([false, true]);
    expect(entries[0]?.detail).toBe('a slip, taking back');
    expect((await historyOf('places', place.id)).entries).toEqual([]);
  });
});

describe('the history of a part', () => {
  it('goes over all its lots, and names each', async () => {
    const partId = await stock.part({ name: 'Layshaft' });
    const lots = [await stock.lot(partId, { quantity: '1' }), await stock.lot(partId, { quantity: '2' })];
    await ok(owner.post(`/api/things/${lots[1]!.id}/hold`, { reason: 'chipped' }));
    const { entries } = await historyOf('parts', partId);
    expect(new Set(entries.map(({ thing }) => thing?.id))).toEqual(new Set(lots.map(({ id }) => id)));
    expect(entries[0]).toMatchObject({ title: 'Held back', thing: { id: lots[1]!.id, code: lots[1]!.code, name: 'Layshaft' } });
    expect((await historyOf('parts', await stock.part())).entries).toEqual([]);
  });
});

describe('the history of a place', () => {
  it('says what came and what went', async () => {
    const [place, lot] = [await stock.place(), await stock.lot(await stock.part({ name: 'Spider' }), { quantity: '3' })];
    await ok(bench.post('/api/put-aways', { code: lot.code, placeId: place.id }));
    await ok(bench.post('/api/put-aways', { code: lot.code, placeId: stock.placeId, quantity: '1' }));
    const { entries } = await historyOf('places', place.id);
    expect(entries.map(({ title }) => title)).toEqual([
      expect.stringMatching(/^1 went to Bin /),
      expect.stringMatching(/^3 came from Bin /),
    ]);
    expect(entries[0]).toMatchObject({ by: 'Tom Hasleby', thing: { code: lot.code, name: 'Spider' } });
  });

  it('is not of what is not in the books, nor for who is not signed in', async () => {
    for (const kind of ['things', 'parts', 'places'])
      expect((await owner.get(`/api/${kind}/${newId()}/history`)).status).toBe(404);
    const lot = await stock.lot(null, { quantity: '1' });
    expect((await server.visitor().get(`/api/things/${lot.id}/history`)).status).toBe(401);
    expect((await owner.get(`/api/things/${lot.id}/history?limit=501`)).status).toBe(422);
    expect((await owner.get(`/api/things/${lot.id}/history?cursor=nonsense`)).status).toBe(422);
  });
});
