import { newId } from '../../apps/api/src/platform/new-id.js';
import {
  entriesFor,
  HistoryRegistry,
  type HistoryRow,
  type HistorySubject,
} from '../../apps/api/src/stores/history/history-registry.js';
import { type BareServer, startBareServer, type Visitor } from '../support/bare-server.js';
import { HistoryReader } from '../support/history-reader.js';
import { type Made, Stock } from '../support/stock.js';
import { writeCases } from '../support/write-cases.js';

let server: BareServer;
let owner: Visitor;
let stock: Stock;
let history: HistoryReader;

beforeAll(async () => {
  server = await startBareServer('histsources');
  owner = await server.setUp();
  stock = await Stock.open(server.testDatabase.ownerUrl);
  history = new HistoryReader(owner);
});
afterAll(async () => {
  await stock.close();
  await server.stop();
});

/** What is done once each, so that every source has something on record. */
const acts = [
  'POST /api/count-closings',
  'POST /api/counts/:id/decisions',
  'POST /api/counts/:id/end',
  'POST /api/count-findings/:id/end',
  'POST /api/labels/:code/replacement',
  'POST /api/labels/:code/further',
  'POST /api/things/:id/splitting',
  'POST /api/things/:id/merging',
  'POST /api/things/:id/putting-right',
  'POST /api/opening/rows/:id/name',
  'POST /api/opening/rows/:id/split',
  'POST /api/opening/places/:id/done',
  'POST /api/sales/:id/taking-back',
  'POST /api/kept-for-jobs/:id/lifting',
  'POST /api/kept-for-jobs',
  'POST /api/things/:id/container-end',
  'POST /api/consumable-uses/:id/putting-right',
  'POST /api/things/:id/hold-on',
  'POST /api/things/:id/disposal',
  'POST /api/things/:id/owner',
  'POST /api/kept-for-owners/:id/notes',
  'POST /api/kept-for-owners/:id/ending',
  'POST /api/things/:id/not-there',
  'POST /api/places/:id/carrying',
  'POST /api/fittings/:id/removal',
  'POST /api/relations/:id/withdrawal',
] as const;

const idsOf: Record<HistorySubject, string> = {
  thing: 'SELECT id FROM things',
  part: 'SELECT id FROM parts',
  place: 'SELECT holder_id AS id FROM places',
};
const everything = async (of: HistorySubject) => (await stock.query<{ id: string }>(idsOf[of])).map(({ id }) => id);

async function rowsOf(kind: string, of: HistorySubject, ids: readonly string[]): Promise<HistoryRow[]> {
  const source = server.app
    .get(HistoryRegistry, { strict: false })
    .of(of)
    .find((each) => each.kind === kind)!;
  const ways = entriesFor(source, of).filter(({ by }) => of !== 'part' || by === 'itself');
  const found = await Promise.all(ways.map(({ entries }) => entries(server.database, { ids, before: null, limit: 5000 })));
  return found.flat();
}

describe('every area that has something on record', () => {
  beforeAll(async () => {
    for (const act of acts) {
      const { path, body, ifMatch } = await writeCases[act]!({ server, owner, stock });
      const sent = await owner.post<{ detail?: string }>(path, body, ifMatch === undefined ? {} : { ifMatch });
      if (sent.status !== 200) throw new Error(`${act}: ${sent.status} ${sent.body.detail}`);
    }
  }, 120_000);

  it('has a kind and words of its own', () => {
    const registry = server.app.get(HistoryRegistry, { strict: false });
    for (const subject of ['thing', 'part', 'place'] as const) {
      const kinds = registry.of(subject).map(({ kind }) => kind);
      const words = registry.of(subject).map((source) => source.words);
      expect(new Set(kinds).size).toBe(kinds.length);
      expect(new Set(words).size).toBe(words.length);
      for (const kind of kinds) expect(kind).toMatch(/^[a-z]+(-[a-z]+)*$/);
      // the address of the history of all kinds but one stays within what it takes
      expect(kinds.join(',').length).toBeLessThan(400);
    }
  });

  it.each(['thing', 'part', 'place'] as const)(
    'answers of a %s in words, no two entries of an instant with one id',
    async (of) => {
      const ids = await everything(of);
      for (const { kind } of server.app.get(HistoryRegistry, { strict: false }).of(of)) {
        const rows = await rowsOf(kind, of, ids);
        const keys = rows.map(({ point, id }) => `${point} ${id}`);
        expect({ kind, doubled: keys.length - new Set(keys).size }).toEqual({ kind, doubled: 0 });
        expect({ kind, wordless: rows.filter(({ title, detail }) => (title ?? '') === '' || detail === null) }).toEqual({
          kind,
          wordless: [],
        });
        for (const { point } of rows) expect(point).toMatch(/^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d\.\d{6}Z$/);
      }
    },
  );

  it.each([
    ['thing', 'counts'],
    ['thing', 'labels'],
    ['thing', 'regrouping'],
    ['thing', 'opening-stock'],
    ['thing', 'sales'],
    ['thing', 'prices'],
    ['thing', 'kept-for-jobs'],
    ['thing', 'consumables'],
    ['thing', 'holds'],
    ['thing', 'condemned'],
    ['thing', 'kept-for-owners'],
    ['thing', 'fittings'],
    ['thing', 'owners'],
    ['part', 'kept-for-jobs'],
    ['place', 'counts'],
    ['place', 'opening-stock'],
    ['place', 'arranged'],
  ] as const)('has on record of a %s what was done of the kind %s', async (of, kind) => {
    expect((await rowsOf(kind, of, await everything(of))).length).toBeGreaterThan(0);
  });
});

/** Of each lot, all at one and the same instant: what several areas have on record. */
const sameInstant = [
  `INSERT INTO hold_changes (id, command_key, thing_id, held_back, reason, person_id, recorded_at)
   SELECT $1, key, $2, true, 'looked at', (SELECT id FROM people LIMIT 1), $3 FROM commands LIMIT 1`,
  `INSERT INTO use_by_readings (id, command_key, thing_id, use_by, person_id, recorded_at)
   SELECT $1, key, $2, '2099-01-05', (SELECT id FROM people LIMIT 1), $3 FROM commands LIMIT 1`,
  `INSERT INTO lot_corrections (id, command_key, lot_id, was, words, why, person_id, recorded_at)
   SELECT $1, key, $2, '{}', 'the maker', 'read again', (SELECT id FROM people LIMIT 1), $3 FROM commands LIMIT 1`,
  `INSERT INTO kept_for_jobs (id, command_key, thing_id, reason, kept_by, kept_at, lifted_at, lifted_by, lifted_why)
   SELECT $1, key, $2, 'the last', people.id, $3, $3, people.id, 'no more' FROM commands, people LIMIT 1`,
  `INSERT INTO cost_entries (id, command_key, thing_id, amount_minor, currency, kind, why, person_id, recorded_at)
   SELECT $1, key, $2, 125, 'GBP', 'adjustment', 'carriage', (SELECT id FROM people LIMIT 1), $3 FROM commands LIMIT 1`,
] as const;
/** How many entries each of them is. */
const entriesEach = sameInstant.length + 1;

describe('a history in which much was recorded at one instant', () => {
  it('goes on page after page over all areas, each entry once', async () => {
    const partId = await stock.part({ name: 'Rocker shaft' });
    const lots: Made[] = [];
    while (lots.length < 12) lots.push(await stock.lot(partId, { quantity: '0' }));
    const instants = ['2024-05-01T10:00:00.000001Z', '2024-05-01T10:00:00.000002Z'];
    for (const at of instants)
      for (const { id } of lots) for (const statement of sameInstant) await stock.query(statement, [newId(), id, at]);
    const expected = instants.length * lots.length * entriesEach;
    const key = ({ kind, id, thing }: { kind: string; id: string; thing: { id: string } | null }) => `${kind} ${id} ${thing?.id}`;
    const whole = (await history.all('parts', partId)).map(key);
    expect(whole).toHaveLength(expected);
    expect(new Set(whole).size).toBe(expected);
    for (const limit of [50, 7]) expect((await history.all('parts', partId, limit)).map(key)).toEqual(whole);
    const [first] = lots;
    const ofOne = (await history.all('things', first!.id)).map(key);
    expect(ofOne).toHaveLength(instants.length * entriesEach);
    for (const limit of [5, 1]) expect((await history.all('things', first!.id, limit)).map(key)).toEqual(ofOne);
  });
});
