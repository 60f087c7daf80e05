import fc from 'fast-check';
import { newId } from '../../apps/api/src/platform/new-id.js';
import { countDifferenceId, scrapId } from '../../apps/api/src/stores/ledger.js';
import type { AsOfLine, AsOfPage, AsOfTotals } from '../../libs/contracts/src/stock-as-of.js';
import { addPerson, type BareServer, startBareServer, type Visitor } from '../support/bare-server.js';
import { Stock } from '../support/stock.js';

/** A program of its own: every movement that was recorded by then, one after another, in tens of thousandths. */
interface Step {
  thingId: string;
  quantity: bigint;
  from: string;
  to: string;
  /** microseconds since the beginning of the test's time */
  at: number;
}

const began = Date.parse('2019-03-01T08:00:00Z');
const runs = process.env.CW_LONG ? 400 : 60;

let server: BareServer;
let viewer: Visitor;
let stock: Stock;
let steps: Step[];
/** what counts, by the place that is asked for */
let inPlace: Map<string | null, ReadonlySet<string>>;
let ownerOf: Map<string, string | null>;

beforeAll(async () => {
  server = await startBareServer('asof');
  const owner = await server.setUp();
  viewer = await addPerson(server, owner, 'viewer', 'una', 'Una Sproat');
  stock = await Stock.open(server.testDatabase.ownerUrl);
  steps = await fill();
});
afterAll(async () => {
  await stock.close();
  await server.stop();
});

async function placeIn(parentId: string | null, name: string): Promise<string> {
  const id = newId();
  await stock.query("INSERT INTO holders (id, kind) VALUES ($1, 'place')", [id]);
  await stock.query("INSERT INTO places (holder_id, parent_id, name, kind) VALUES ($1, $2, $3, 'bin')", [id, parentId, name]);
  return id;
}

/** So many that the ledger is read through for the place, instead of by its index for each. */
async function emptyDrawersIn(parentId: string, count: number): Promise<void> {
  await stock.query(
    `WITH made AS (INSERT INTO holders (id, kind) SELECT gen_random_uuid(), 'place' FROM generate_series(1, $2::integer) RETURNING id)
     INSERT INTO places (holder_id, parent_id, name, kind) SELECT id, $1, 'Drawer ' || row_number() OVER (), 'bin' FROM made`,
    [parentId, count],
  );
}

/** Things moved about at random among a rack, its bins, another place, an outworker and what is beyond the books; many at one instant. */
async function fill(): Promise<Step[]> {
  const rack = await placeIn(null, 'Rack A');
  const [left, right] = [await placeIn(rack, 'Left bin'), await placeIn(rack, 'Right bin')];
  const inner = await placeIn(left, 'Tin');
  const bench = await placeIn(null, 'Bench');
  await emptyDrawersIn(bench, 520);
  const outworker = newId();
  await stock.query("INSERT INTO parties (id, name, is_outworker) VALUES ($1, 'Fettle & Sons', true)", [outworker]);
  await stock.query("INSERT INTO holders (id, kind) VALUES ($1, 'outworker')", [outworker]);
  const ours = [rack, left, right, inner, bench, outworker];
  inPlace = new Map<string | null, ReadonlySet<string>>([
    [null, new Set(ours)],
    [rack, new Set([rack, left, right, inner])],
    [left, new Set([left, inner])],
    [bench, new Set([bench])],
  ]);
  const customerId = await stock.customer('Orla Penrice');
  const grease = await stock.part({ name: 'Grease', unit: 'g' });
  const washer = await stock.part({ name: 'Thrust washer' });
  const things: string[] = [];
  ownerOf = new Map();
  for (let number = 0; number < 14; number += 1) {
    const ownerId = number % 5 === 4 ? customerId : null;
    const lot = await stock.lot(number % 2 === 0 ? grease : washer, { quantity: '0', ownerId });
    things.push(lot.id);
    ownerOf.set(lot.id, ownerId);
  }
  const [command] = await stock.query<{ key: string }>('SELECT key FROM commands LIMIT 1');
  const made: Step[] = [];
  const held = new Map<string, bigint>();
  let at = 0;
  let seed = 20_260_101;
  const pick = (count: number): number => {
    seed = (seed * 1_103_515_245 + 12_345) % 2_147_483_648;
    return Math.floor((seed / 2_147_483_648) * count);
  };
  for (let number = 0; number < 420; number += 1) {
    // a third at the same instant as the one before, a third within the same millisecond
    at += [0, 1 + pick(400), 1_000 * (1 + pick(50_000))][pick(3)]!;
    const thingId = things[pick(things.length)]!;
    const from = [countDifferenceId, ...ours][pick(ours.length + 1)]!;
    const has = held.get(`${thingId} ${from}`) ?? 0n;
    const isIn = from === countDifferenceId || has === 0n;
    const source = isIn ? countDifferenceId : from;
    const to = isIn ? ours[pick(ours.length)]! : [...ours, scrapId].filter((id) => id !== source)[pick(ours.length)]!;
    const quantity = isIn ? BigInt(1 + pick(90_000)) : pick(2) === 0 ? has : 1n + (has - 1n) / 2n;
    held.set(`${thingId} ${source}`, (held.get(`${thingId} ${source}`) ?? 0n) - quantity);
    held.set(`${thingId} ${to}`, (held.get(`${thingId} ${to}`) ?? 0n) + quantity);
    made.push({ thingId, quantity, from: source, to, at });
    await stock.query(
      `INSERT INTO movements (id, command_key, thing_id, quantity, from_holder_id, to_holder_id, reason, occurred_at, recorded_at)
       VALUES ($1, $2, $3, $4::numeric / 10000, $5, $6, 'moved', now(), $7::timestamptz + $8 * interval '1 microsecond')`,
      [newId(), command!.key, thingId, quantity.toString(), source, to, new Date(began).toISOString(), at],
    );
  }
  return made;
}

/** "thing holder" and so many ten-thousandths, of what counts as it was at the end of a millisecond. */
function replay(millisecond: number, holders: ReadonlySet<string>): Record<string, string> {
  const there = new Map<string, bigint>();
  for (const step of steps) {
    if (Math.floor(step.at / 1000) > millisecond) continue;
    for (const [holder, sign] of [
      [step.from, -1n],
      [step.to, 1n],
    ] as const)
      if (holders.has(holder)) {
        const key = `${step.thingId} ${holder}`;
        there.set(key, (there.get(key) ?? 0n) + sign * step.quantity);
      }
  }
  return Object.fromEntries(
    [...there].filter(([, quantity]) => quantity !== 0n).map(([key, quantity]) => [key, String(quantity)]),
  );
}

function inTenThousandths(quantity: string): bigint {
  const [whole, rest = ''] = quantity.split('.');
  return BigInt(`${whole}${rest.padEnd(4, '0')}`);
}

const asked = (millisecond: number, placeId: string | null): string =>
  `at=${new Date(began + millisecond).toISOString()}${placeId === null ? '' : `&placeId=${placeId}`}`;

async function linesAt(millisecond: number, placeId: string | null): Promise<AsOfLine[]> {
  const lines: AsOfLine[] = [];
  let cursor: string | null = '';
  while (cursor !== null) {
    const { status, body }: { status: number; body: AsOfPage } = await viewer.get<AsOfPage>(
      `/api/stock-as-of?${asked(millisecond, placeId)}&cursor=${cursor}`,
    );
    expect(status).toBe(200);
    expect(body.isSettled).toBe(true);
    lines.push(...body.lines);
    cursor = body.cursor;
  }
  return lines;
}

/** Every instant of a movement, the milliseconds around it, and any other. */
const instants = () => {
  const of = steps.map(({ at }) => Math.floor(at / 1000));
  return fc.oneof(
    fc.tuple(fc.constantFrom(...of), fc.constantFrom(-1, 0, 1)).map(([at, by]) => at + by),
    fc.integer({ min: -10, max: of.at(-1)! + 10 }),
  );
};

describe('stock as it was', () => {
  it('is what a replay of the movements gives, at any instant and in any place, by lines and by sums', async () => {
    await fc.assert(
      fc.asyncProperty(instants(), fc.constantFrom(...inPlace.keys()), async (millisecond, placeId) => {
        const expected = replay(millisecond, inPlace.get(placeId)!);
        const lines = await linesAt(millisecond, placeId);
        expect(
          Object.fromEntries(lines.map((line) => [`${line.thingId} ${line.where.id}`, String(inTenThousandths(line.quantity))])),
        ).toEqual(expected);
        expect(lines).toHaveLength(Object.keys(expected).length);
        for (const line of lines) expect(line.owner?.id ?? null).toBe(ownerOf.get(line.thingId));
        const { body } = await viewer.get<AsOfTotals>(`/api/stock-as-of/totals?${asked(millisecond, placeId)}`);
        const sumOf = (of: { quantity: string }[]) => of.reduce((sum, { quantity }) => sum + inTenThousandths(quantity), 0n);
        for (const isCustomers of [false, true])
          for (const unit of ['each', 'g'])
            expect(sumOf(body.sums.filter((sum) => sum.isCustomers === isCustomers && sum.unitOfMeasure === unit))).toBe(
              sumOf(lines.filter((line) => (line.owner !== null) === isCustomers && line.unitOfMeasure === unit)),
            );
        expect(body.places).toBe(new Set(lines.map((line) => line.where.id)).size);
      }),
      { numRuns: runs, verbose: true },
    );
  });

  it('goes into a file line by line, the same as on the pages', async () => {
    const last = Math.floor(steps.at(-1)!.at / 1000);
    for (const millisecond of [Math.floor(last / 3), last]) {
      const lines = await linesAt(millisecond, null);
      const file = (await viewer.get<string>(`/api/stock-as-of/file?${asked(millisecond, null)}`)) as unknown as { body: string };
      const rows = file.body.trim().split('\r\n').slice(1);
      expect(rows.map((row) => row.split(',')[0])).toEqual(
        lines.map((line) => line.where.name.split(',')[0]!).map((name) => expect.stringContaining(name)),
      );
      expect(rows).toHaveLength(lines.length);
    }
  });

  it('goes on page after page where there are more lines than one page holds, each once', async () => {
    const [command] = await stock.query<{ key: string }>('SELECT key FROM commands LIMIT 1');
    const placeId = await placeIn(null, 'Long shelf');
    for (let number = 0; number < 230; number += 1) {
      const lot = await stock.lot(null, { quantity: '0' });
      await stock.query(
        `INSERT INTO movements (id, command_key, thing_id, quantity, from_holder_id, to_holder_id, reason, occurred_at, recorded_at)
         VALUES ($1, $2, $3, 2, $4, $5, 'moved', now(), '2020-01-01')`,
        [newId(), command!.key, lot.id, countDifferenceId, placeId],
      );
    }
    const at = Date.parse('2020-01-02T00:00:00Z') - began;
    const lines = await linesAt(at, placeId);
    expect(new Set(lines.map(({ thingId }) => thingId)).size).toBe(230);
    expect(lines).toHaveLength(230);
    const first = await viewer.get<AsOfPage>(`/api/stock-as-of?${asked(at, placeId)}`);
    expect(first.body.lines).toHaveLength(200);
    expect(first.headers.get('link')).toMatch(/rel="next"/);
  });

  it('knows whose a thing was before it changed hands', async () => {
    const [buyer, lot] = [await stock.customer('Wilf Tarrant'), await stock.lot(null, { quantity: '3' })];
    const [{ before }] = (await stock.query<{ before: string }>('SELECT clock_timestamp() AS before')) as [{ before: string }];
    const changed = () => stock.query<{ now: string }>("SELECT (clock_timestamp() + interval '1 millisecond') AS now");
    await stock.query('SELECT pg_sleep(0.003)');
    await stock.giveAway(lot.id, buyer);
    await stock.query('SELECT pg_sleep(0.003)');
    const [{ now }] = (await changed()) as [{ now: string }];
    const ownerAt = async (at: string) =>
      (await viewer.get<AsOfPage>(`/api/stock-as-of?at=${at}&placeId=${stock.placeId}`)).body.lines.find(
        (line) => line.thingId === lot.id,
      )?.owner;
    await stock.query('SELECT pg_sleep(0.005)');
    expect(await ownerAt(before)).toBeNull();
    expect(await ownerAt(now)).toEqual({ id: buyer, name: 'Wilf Tarrant' });
  });

  it('says that it is not settled while what was being written then is not through, and counts it afterwards', async () => {
    const lot = await stock.lot(null, { quantity: '0' });
    const [command] = await stock.query<{ key: string }>('SELECT key FROM commands LIMIT 1');
    const writer = await server.database.pool.connect();
    try {
      await writer.query('BEGIN');
      await writer.query(
        `INSERT INTO movements (id, command_key, thing_id, quantity, from_holder_id, to_holder_id, reason, occurred_at)
         VALUES ($1, $2, $3, 5, $4, $5, 'moved', now())`,
        [newId(), command!.key, lot.id, countDifferenceId, stock.placeId],
      );
      const { rows } = await writer.query<{ at: string }>('SELECT clock_timestamp() AS at, pg_sleep(0.003)');
      const at = rows[0]!.at;
      const ask = async () => (await viewer.get<AsOfPage>(`/api/stock-as-of?at=${at}&placeId=${stock.placeId}`)).body;
      const open = await ask();
      expect(open.isSettled).toBe(false);
      expect(open.lines.some((line) => line.thingId === lot.id)).toBe(false);
      await writer.query('COMMIT');
      const through = await ask();
      expect(through.isSettled).toBe(true);
      expect(through.lines.find((line) => line.thingId === lot.id)?.quantity).toBe('5');
    } finally {
      writer.release();
    }
  });

  it('is not told of an instant that is still to come, nor of a place that is not there', async () => {
    const later = await viewer.get<{ detail: string }>('/api/stock-as-of?at=2999-01-01T00:00:00Z');
    expect(later.status).toBe(422);
    expect(later.body.detail).toMatch(/still to come/);
    expect((await viewer.get(`/api/stock-as-of?at=2020-01-01T00:00:00Z&placeId=${newId()}`)).status).toBe(404);
    expect((await viewer.get('/api/stock-as-of/totals?at=yesterday')).status).toBe(422);
    expect((await server.visitor().get('/api/stock-as-of?at=2020-01-01T00:00:00Z')).status).toBe(401);
  });
});
