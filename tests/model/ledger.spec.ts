import { jest } from '@jest/globals';
import fc from 'fast-check';
import { newId } from '../../apps/api/src/platform/new-id.js';
import { countDifferenceId } from '../../apps/api/src/stores/ledger.js';
import { verifyBooks } from '../../apps/api/src/stores/verify/verify-books.js';
import { type BareServer, startBareServer, type Visitor } from '../support/bare-server.js';
import { Stock } from '../support/stock.js';
import { elsewhere, type NaiveMovement, type Verdict } from './naive-balances.js';
import { NaiveLedger } from './naive-ledger.js';

// The server and an independent ledger are given the same commands. They must accept and refuse the same ones, write the
// same movements and hold the same balances after each.

const isLong = process.env.CW_LONG === '1';
const sequences = isLong ? 800 : 30;
const seed = isLong ? Math.trunc(Math.random() * 2 ** 31) : 19_620_411;

jest.setTimeout(isLong ? 3_600_000 : 300_000);

let server: BareServer;
let owner: Visitor;
let stock: Stock;

beforeAll(async () => {
  server = await startBareServer('model');
  owner = await server.setUp();
  stock = await Stock.open(server.testDatabase.ownerUrl);
});
afterAll(async () => {
  await stock.close();
  await server.stop();
});

interface Scanned {
  lot: number;
  job: number;
  quantity: number | undefined;
  haveItHere: boolean;
  suited: boolean;
}
type ScanStep = Scanned & ({ kind: 'pick' } | { kind: 'fit' } | { kind: 'fit in place'; line: number });

/** A command by numbers; which lot, job or act they mean is settled when it is run, by what is there then. */
type Step =
  | { kind: 'take in'; part: number; owner: number; quantity: number; place: number }
  | { kind: 'put away'; lot: number; place: number; quantity: number | undefined }
  | ScanStep
  | { kind: 'take back'; act: number; recent: boolean }
  | { kind: 'take out'; fitting: number; quantity: number; place: number }
  | { kind: 'hold'; lot: number }
  | { kind: 'lift'; lot: number };

const number = fc.nat({ max: 997 });
const many = fc.constantFrom(1, 1, 1, 2, 2, 2, 3, 4, 5, 0);
const maybe = fc.constantFrom(undefined, undefined, undefined, 1, 1, 1, 2, 2, 3, 0);
const scan = {
  lot: number,
  job: number,
  quantity: maybe,
  haveItHere: fc.boolean(),
  suited: fc.constantFrom(true, true, true, false),
};
const step: fc.Arbitrary<Step> = fc.oneof(
  {
    weight: 3,
    arbitrary: fc.record({ kind: fc.constant('take in' as const), part: number, owner: number, quantity: many, place: number }),
  },
  { weight: 3, arbitrary: fc.record({ kind: fc.constant('put away' as const), lot: number, place: number, quantity: maybe }) },
  {
    weight: 5,
    arbitrary: fc.record({ kind: fc.constant('pick' as const), ...scan }),
  },
  {
    weight: 6,
    arbitrary: fc.record({ kind: fc.constant('fit' as const), ...scan }),
  },
  { weight: 2, arbitrary: fc.record({ kind: fc.constant('fit in place' as const), line: number, ...scan }) },
  {
    weight: 5,
    arbitrary: fc.record({ kind: fc.constant('take back' as const), act: number, recent: fc.constantFrom(true, true, false) }),
  },
  { weight: 2, arbitrary: fc.record({ kind: fc.constant('take out' as const), fitting: number, quantity: many, place: number }) },
  { weight: 1, arbitrary: fc.record({ kind: fc.constant('hold' as const), lot: number }) },
  { weight: 2, arbitrary: fc.record({ kind: fc.constant('lift' as const), lot: number }) },
);

/** What lies there before the random commands begin. */
const beginning: Step[] = [0, 1, 2].map((index) => ({
  kind: 'take in',
  part: index % 2,
  owner: index,
  quantity: 4,
  place: index,
}));

interface Sent {
  status: number;
  key: string;
  body: { code?: string };
}

/** A small stores of its own with two jobs of ours and one of a customer's, and the naive ledger of the same. */
class Scene {
  readonly ledger: NaiveLedger;
  /** codes by lot, and the movements and fittings of the server in the order of the naive ledger's */
  private readonly codes = new Map<string, string>();
  private readonly actIds: string[] = [];
  private readonly fittingIds: string[] = [];

  private constructor(
    private readonly parts: string[],
    private readonly places: string[],
    private readonly customers: { id: string; name: string }[],
    private readonly load: { id: string; sellerId: string },
  ) {
    this.ledger = new NaiveLedger(places);
  }

  static async make(): Promise<Scene> {
    const parts = [await stock.part(), await stock.part({ name: 'Oil thrower' })];
    const places = [(await stock.place()).id, (await stock.place()).id];
    const names = [`R. Sandiman ${newId()}`, `Mary Fenwright ${newId()}`];
    const customers = [];
    for (const name of names) customers.push({ id: await stock.customer(name), name });
    const load = { id: newId(), words: 'A shed', sellerName: `Dunmarrow ${newId()}`, boughtOn: '2026-01-05' };
    expect((await owner.post('/api/loads', load)).status).toBe(200);
    const [seller] = await stock.query<{ id: string }>('SELECT seller_id AS id FROM loads WHERE id = $1', [load.id]);
    const scene = new Scene(parts, places, customers, { id: load.id, sellerId: seller!.id });
    for (const customerId of [null, null, customers[0]!.id]) await scene.addJob(customerId);
    return scene;
  }

  private async addJob(customerId: string | null): Promise<void> {
    const [one, other] = this.parts as [string, string];
    const wanted = [
      { partId: one, quantity: '3' },
      { partId: other, quantity: '2' },
      { partId: one, quantity: '2' },
    ];
    const job = await stock.job(wanted, { customerId });
    this.ledger.jobs.set(job.id, {
      unitId: job.unit.id,
      trayId: job.trayId,
      customerId,
      lines: wanted.map((line, index) => ({ id: job.lineIds[index]!, partId: line.partId, needed: Number(line.quantity) })),
    });
  }

  /** Gives a command to both and compares all that can be seen of it. @returns whether both accepted it */
  async run(step: Step): Promise<boolean | null> {
    const before = this.ledger.fittings.length;
    const both = await this.give(step);
    if (both === null) return null;
    const [sent, verdict] = both;
    expect({ step, accepted: sent.status === 200, code: sent.body.code }).toEqual({
      step,
      accepted: verdict !== null,
      code: sent.body.code,
    });
    expect(sent.status).toBeLessThan(500);
    await this.compareMovements(sent.key, verdict ?? []);
    const fittings = await stock.query<{ id: string }>(
      'SELECT fittings.id FROM fittings JOIN movements ON movements.id = movement_id WHERE fittings.command_key = $1 ORDER BY sequence',
      [sent.key],
    );
    expect(fittings).toHaveLength(this.ledger.fittings.length - before);
    this.fittingIds.push(...fittings.map((fitting) => fitting.id));
    await this.compareBalances();
    return verdict !== null;
  }

  private async give(step: Step): Promise<[Sent, Verdict] | null> {
    switch (step.kind) {
      case 'take in':
        return this.takeIn(step);
      case 'take back':
        return this.takeBack(step);
      case 'take out':
        return this.takeOut(step);
      default:
        return this.withLot(step);
    }
  }

  private async takeIn(step: Extract<Step, { kind: 'take in' }>): Promise<[Sent, Verdict]> {
    const id = newId();
    const partId = at(this.parts, step.part);
    const placeId = at(this.places, step.place);
    const customer = at([null, null, ...this.customers], step.owner);
    const row = {
      kind: 'lot',
      position: 1,
      partId,
      quantity: String(step.quantity),
      ownerName: customer?.name ?? '',
      placeId,
      source: 'new',
      make: 'genuine',
    };
    const sent = await this.send('PUT', `/api/loads/${this.load.id}/rows/${id}`, row);
    if (sent.status === 200) this.codes.set(id, (sent.body as { code: string }).code);
    return [sent, this.ledger.takeIn(id, partId, customer?.id ?? null, step.quantity, placeId, this.load.sellerId)];
  }

  private async takeBack({ act, recent }: Extract<Step, { kind: 'take back' }>): Promise<[Sent, Verdict] | null> {
    const { acts } = this.ledger;
    if (acts.length === 0) return null;
    // Mis-scans are noticed at once, as a rule, and of what is left.
    const open = acts.flatMap((each, index) =>
      each.takenBack || !['picked', 'fitted', 'put away'].includes(each.reason) ? [] : [index],
    );
    const number = recent && open.length > 0 ? at(open.slice(-3), act) : act % acts.length;
    return [await this.send('POST', `/api/acts/${this.actIds[number]}/take-back`, {}), this.ledger.takeBack(number)];
  }

  private async takeOut({ fitting, quantity, place }: Extract<Step, { kind: 'take out' }>): Promise<[Sent, Verdict] | null> {
    const { fittings } = this.ledger;
    if (fittings.length === 0) return null;
    const inside = fittings.flatMap((each, index) => (each.left > 0 ? [index] : []));
    const number = fitting % 3 > 0 && inside.length > 0 ? at(inside, fitting) : fitting % fittings.length;
    const lotId = newId();
    const placeId = at(this.places, place);
    const sent = await this.send('POST', `/api/fittings/${this.fittingIds[number]}/removal`, {
      lotId,
      quantity: String(quantity),
      placeId,
      why: 'noisy',
    });
    if (sent.status === 200) this.codes.set(lotId, (sent.body as unknown as { thing: { code: string } }).thing.code);
    return [sent, this.ledger.takeOut(number, quantity, lotId, placeId)];
  }

  private async withLot(step: Exclude<Step, { kind: 'take in' | 'take back' | 'take out' }>): Promise<[Sent, Verdict] | null> {
    const lots = [...this.ledger.lots.keys()];
    if (lots.length === 0) return null;
    // Few lots are held back at a time: every other lift looks for one of them.
    const heldBack = step.kind === 'lift' && step.lot % 2 === 0 ? lots.filter((id) => this.ledger.lots.get(id)!.heldBack) : [];
    const lotId = at(heldBack.length > 0 ? heldBack : lots, step.lot);
    const code = this.codes.get(lotId)!;
    if (step.kind === 'hold' || step.kind === 'lift') {
      const path = `/api/things/${lotId}/${step.kind === 'hold' ? 'hold' : 'hold-lift'}`;
      return [await this.send('POST', path, { reason: 'crack detection' }), this.ledger.hold(lotId, step.kind === 'hold')];
    }
    if (step.kind === 'put away') {
      const keyed = step.quantity === undefined ? {} : { quantity: String(step.quantity) };
      const placeId = at(this.places, step.place);
      return [
        await this.send('POST', '/api/put-aways', { code, placeId, ...keyed }),
        this.ledger.putAway(lotId, placeId, step.quantity),
      ];
    }
    return this.scan(step, lotId, code);
  }

  private async scan(step: ScanStep, lotId: string, code: string): Promise<[Sent, Verdict]> {
    const jobId = this.jobFor(step, lotId);
    const { quantity, haveItHere } = step;
    const body = { code, jobId, haveItHere, ...(quantity === undefined ? {} : { quantity: String(quantity) }) };
    const naive = { lotId, jobId, haveItHere, ...(quantity === undefined ? {} : { quantity }) };
    switch (step.kind) {
      case 'pick':
        return [await this.send('POST', '/api/picks', body), this.ledger.pick(naive)];
      case 'fit':
        return [await this.send('POST', '/api/fits', body), this.ledger.fit(naive)];
      case 'fit in place': {
        const lineId = at(this.ledger.jobs.get(jobId)!.lines, step.line).id;
        const inPlaceOf = { lineId, why: 'none to be had', evidence: 'measured' };
        return [
          await this.send('POST', '/api/fits', { ...body, inPlaceOf }),
          this.ledger.fit({ ...naive, inPlaceOfLineId: lineId }),
        ];
      }
    }
  }

  /** Most scans go to a job that may have the lot, so that refusals do not crowd out the rest. */
  private jobFor(step: ScanStep, lotId: string): string {
    const all = [...this.ledger.jobs];
    const { ownerId } = this.ledger.lots.get(lotId)!;
    const suited = all.filter(([, job]) => ownerId === null || job.customerId === ownerId);
    return at(step.suited && suited.length > 0 ? suited : all, step.job)[0];
  }

  private async send(method: string, path: string, body: unknown): Promise<Sent> {
    const key = newId();
    return { key, ...(await owner.send<{ code?: string }>(method, path, body, { key })) };
  }

  private async compareMovements(key: string, expected: NaiveMovement[]): Promise<void> {
    const rows = await stock.query<{ id: string } & Record<keyof NaiveMovement, string>>(
      `SELECT id, thing_id AS "lotId", trim_scale(quantity)::text AS quantity, from_holder_id AS "from", to_holder_id AS "to", reason
         FROM movements WHERE command_key = $1 ORDER BY sequence`,
      [key],
    );
    const written = rows.map(({ id: _, from, to, quantity, ...row }) => ({
      ...row,
      quantity: Number(quantity),
      from: named(from),
      to: named(to),
    }));
    expect(written).toEqual(expected);
    this.actIds.push(...rows.map((row) => row.id));
  }

  private async compareBalances(): Promise<void> {
    const ids = [...this.ledger.lots.keys()];
    const balances = await stock.query<{ lot: string; holder: string; many: string; outside: boolean }>(
      'SELECT thing_id AS lot, holder_id AS holder, quantity AS many, boundary AS outside FROM balances WHERE thing_id = ANY($1) AND quantity <> 0',
      [ids],
    );
    const things = await stock.query<{ id: string; held: string; claimed: string }>(
      'SELECT id, held, claimed FROM things WHERE id = ANY($1)',
      [ids],
    );
    const claims = await stock.query<{ lot: string; job: string; line: string; many: string }>(
      'SELECT thing_id AS lot, claimant_id AS job, purpose_id AS line, quantity AS many FROM claims WHERE thing_id = ANY($1) AND quantity > 0',
      [ids],
    );
    for (const [id, lot] of this.ledger.lots) {
      const inside = balances.filter((row) => row.lot === id && !row.outside).map((row) => `${row.holder} ${Number(row.many)}`);
      const naive = [...lot.at, ...lot.inUnits].filter(([, many]) => many !== 0).map(([holder, many]) => `${holder} ${many}`);
      expect(inside.sort()).toEqual(naive.sort());
      // Nothing appears or vanishes: what came in from outside is what is here and in units, and what went out again.
      expect(balances.filter((row) => row.lot === id).reduce((total, row) => total + Number(row.many), 0)).toBe(0);
      const thing = things.find((row) => row.id === id)!;
      expect([Number(thing.held), Number(thing.claimed)]).toEqual([this.ledger.heldOf(lot), this.ledger.claimedOf(lot)]);
      expect(Number(thing.claimed)).toBeLessThanOrEqual(Number(thing.held));
      const promised = claims.filter((row) => row.lot === id).map((row) => `${row.job} ${row.line} ${Number(row.many)}`);
      expect(promised.sort()).toEqual(
        lot.claims
          .filter((claim) => claim.quantity > 0)
          .map((claim) => `${claim.jobId} ${claim.lineId} ${claim.quantity}`)
          .sort(),
      );
    }
  }
}

function at<T>(list: readonly T[], number: number): T {
  return list[number % list.length]!;
}

const named = (holder: string): string => (holder === countDifferenceId ? elsewhere : holder);

describe('random sequences of commands', () => {
  it(`are taken and refused as a naive ledger would, ${sequences} sequences from the seed ${seed}`, async () => {
    if (isLong) process.stderr.write(`The model test runs from the seed ${seed}.\n`);
    const tally = new Map<string, { accepted: number; refused: number }>();
    await fc.assert(
      fc.asyncProperty(fc.array(step, { minLength: 20, maxLength: 40, size: 'max' }), async (steps) => {
        const scene = await Scene.make();
        for (const each of beginning) await scene.run(each);
        for (const each of steps) {
          const accepted = await scene.run(each);
          if (accepted === null) continue;
          const count = tally.get(each.kind) ?? { accepted: 0, refused: 0 };
          count[accepted ? 'accepted' : 'refused'] += 1;
          tally.set(each.kind, count);
        }
      }),
      { seed, numRuns: sequences, interruptAfterTimeLimit: isLong ? 3_300_000 : 240_000, markInterruptAsFailure: true },
    );
    // Each kind of command was both taken and refused, or the sequences prove less than they seem to.
    const kinds = ['take in', 'put away', 'pick', 'fit', 'fit in place', 'take back', 'take out', 'hold', 'lift'];
    const seen = (count: { accepted: number; refused: number } | undefined): boolean =>
      (count?.accepted ?? 0) > 0 && (count?.refused ?? 0) > 0;
    expect(kinds.filter((kind) => !seen(tally.get(kind)))).toEqual([]);
    expect(await verifyBooks(server.database)).toEqual([]);
  });
});
