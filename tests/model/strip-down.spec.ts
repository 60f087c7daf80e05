import { jest } from '@jest/globals';
import fc from 'fast-check';
import { verifyBooks } from '../../apps/api/src/stores/verify/verify-books.js';
import { type Disposition, dispositions } from '../../libs/contracts/src/cores.js';
import { type BareServer, startBareServer, type Visitor } from '../support/bare-server.js';
import { Stock } from '../support/stock.js';
import { StripBench, unitTypeOf } from '../support/strip-bench.js';

// Units are stripped by acts at random. Whatever is taken and refused, nothing appears and nothing vanishes: each component is undecided, or has one
// standing finding that counts it, and what it became is in the books so many times and in one place.

const isLong = process.env.CW_LONG === '1';
const units = isLong ? 300 : 15;
const seed = isLong ? Math.trunc(Math.random() * 2 ** 31) : 19_480_613;

jest.setTimeout(isLong ? 3_600_000 : 240_000);

let server: BareServer;
let owner: Visitor;
let stock: Stock;
let firmId: string;
let places: string[];

beforeAll(async () => {
  server = await startBareServer('stripmodel');
  owner = await server.setUp();
  stock = await Stock.open(server.testDatabase.ownerUrl);
  firmId = (
    await stock.query<{ id: string }>(
      "INSERT INTO parties (id, name, is_outworker) VALUES (gen_random_uuid(), 'Strake Grinding', true) RETURNING id",
    )
  )[0]!.id;
  places = [(await stock.place()).id, (await stock.place()).id];
});
afterAll(async () => {
  await stock.close();
  await server.stop();
});

type Step =
  | { kind: 'record'; component: number; fate: Disposition; quantity: number; place: number }
  | { kind: 'missing'; component: number; quantity: number }
  | { kind: 'put right'; finding: number; fate: Disposition; quantity: number; place: number }
  | { kind: 'rest'; place: number };

const fate = fc.constantFrom(...dispositions);
const component = fc.nat({ max: 3 });
const quantity = fc.constantFrom(1, 1, 1, 2, 2, 3, 5);
const place = fc.nat({ max: 1 });
const step: fc.Arbitrary<Step> = fc.oneof(
  { weight: 6, arbitrary: fc.record({ kind: fc.constant('record' as const), component, fate, quantity, place }) },
  { weight: 1, arbitrary: fc.record({ kind: fc.constant('missing' as const), component, quantity }) },
  {
    weight: 4,
    arbitrary: fc.record({ kind: fc.constant('put right' as const), finding: fc.nat({ max: 97 }), fate, quantity, place }),
  },
  { weight: 1, arbitrary: fc.record({ kind: fc.constant('rest' as const), place }) },
);

const quantities = ['1', '4', '2', '6'] as const;

async function stripAtRandom(steps: readonly Step[], isCustomers: boolean, hasJob: boolean): Promise<void> {
  const partId = await stock.part();
  const ownerId = isCustomers ? await stock.customer() : null;
  const unitTypeId = await unitTypeOf(stock, [
    { name: 'Worm', quantity: quantities[0], partId },
    { name: 'Pinions', quantity: quantities[1], usualFate: 're-use here' },
    { name: 'Seals', quantity: quantities[2], usualFate: 'replace' },
    { name: 'Studs', quantity: quantities[3], usualFate: 'to stores' },
  ]);
  const job = hasJob ? await stock.job([{ partId, reusable: true }], { customerId: ownerId }) : null;
  const unit = job?.unit ?? (await stock.unit({ ownerId }));
  await stock.query('UPDATE units SET unit_type_id = $2 WHERE thing_id = $1', [unit.id, unitTypeId]);
  const bench = await StripBench.open(owner, unit);
  for (const each of steps) {
    await take(bench, each);
    await looksRight(bench, unit.id);
  }
}

/** How many acts of each kind were taken: were there none, the test would prove nothing of it. */
const taken: Record<Step['kind'], number> = { record: 0, missing: 0, 'put right': 0, rest: 0 };

function judge(kind: Step['kind'], status: number): void {
  expect([200, 409]).toContain(status);
  if (status === 200) taken[kind] += 1;
}

async function take(bench: StripBench, step: Step): Promise<void> {
  if (step.kind === 'rest') return judge('rest', (await bench.rest(places[step.place]!)).status);
  if (step.kind === 'missing') {
    const answer = await bench.record(step.component + 1, null, { kind: 'missing', quantity: String(step.quantity) });
    return judge('missing', answer.status);
  }
  const more = { quantity: String(step.quantity), placeId: places[step.place]!, firmId };
  if (step.kind === 'record') {
    return judge('record', (await bench.record(step.component + 1, step.fate, more)).status);
  }
  const standing = (await bench.shown()).components.flatMap((each) => each.findings.filter((finding) => !finding.superseded));
  const wrong = standing[step.finding % Math.max(1, standing.length)];
  if (wrong === undefined) return;
  const answer = await bench.record(wrong.position, step.fate, { ...more, supersedesId: wrong.id });
  judge('put right', answer.status);
}

interface Held extends Record<string, unknown> {
  id: string;
  kind: string;
  ours: string;
  holders: number;
}

const whatThereIs = `
  SELECT things.id, things.kind, trim_scale(coalesce(sum(balances.quantity) FILTER (WHERE balances.quantity > 0), 0))::text AS ours,
         count(*) FILTER (WHERE balances.quantity > 0 AND holders.kind <> 'count-difference')::int AS holders
    FROM things LEFT JOIN components ON components.thing_id = things.id LEFT JOIN lots ON lots.thing_id = things.id
    LEFT JOIN balances ON balances.thing_id = things.id LEFT JOIN holders ON holders.id = holder_id
   WHERE $1 IN (components.unit_id, lots.donor_unit_id) GROUP BY things.id`;

async function looksRight(bench: StripBench, unitId: string): Promise<void> {
  const { components } = await bench.shown();
  const held = new Map((await stock.query<Held>(whatThereIs, [unitId])).map((row) => [row.id, row]));
  for (const [index, each] of components.entries()) {
    const standing = each.findings.filter((finding) => !finding.superseded);
    const counted = standing.reduce((sum, finding) => sum + Number(finding.quantity), 0);
    expect(counted + Number(each.undecided)).toBe(Number(quantities[index]));
    for (const { thing, quantity: many } of standing) {
      if (thing === null) continue;
      const there = held.get(thing.id)!;
      expect({ holders: there.holders, ours: there.ours }).toEqual({ holders: 1, ours: there.kind === 'L' ? many : '1' });
      held.delete(thing.id);
    }
  }
  // what a finding made that was put right is nowhere any more
  expect([...held.values()].filter((row) => row.holders > 0)).toEqual([]);
}

describe('strip-downs at random', () => {
  it(`leave the books whole, ${units} units from the seed ${seed}`, async () => {
    if (isLong) process.stderr.write(`The strip-downs run from the seed ${seed}.\n`);
    await fc.assert(
      fc.asyncProperty(fc.array(step, { minLength: 4, maxLength: 14 }), fc.boolean(), fc.boolean(), stripAtRandom),
      { seed, numRuns: units, interruptAfterTimeLimit: isLong ? 3_300_000 : 200_000, markInterruptAsFailure: true },
    );
    for (const [kind, count] of Object.entries(taken)) expect([kind, count > 3 || count]).toEqual([kind, true]);
    expect(await verifyBooks(server.database)).toEqual([]);
  });
});
