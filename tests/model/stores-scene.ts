import { newId } from '../../apps/api/src/platform/new-id.js';
import { countDifferenceId, regroupingId, usedUpId } from '../../apps/api/src/stores/ledger.js';
import type { AsOfPage } from '../../libs/contracts/src/stock-as-of.js';
import type { Visitor } from '../support/bare-server.js';
import { LabelDesk } from '../support/label-changes.js';
import type { Stock } from '../support/stock.js';
import { accepted } from '../support/write-making.js';
import { elsewhere, type NaiveMovement, sum, type Verdict } from './naive-balances.js';
import { buyer, type NaiveStep, regrouping, seller, usedUp } from './naive-books.js';
import { NaiveCounts } from './naive-count.js';
import { NaiveStores } from './naive-stores.js';

/** Who keys, and with what the workshop is filled. */
export interface Shop {
  owner: Visitor;
  /** a second pair of eyes */
  other: Visitor;
  stock: Stock;
}

export interface Sent {
  status: number;
  key: string;
  body: Record<string, unknown> & { code?: string };
}

export interface Fixtures {
  siteId: string;
  places: { id: string; code: string }[];
  /** two that the job needs, one that it does not, and a sealant by the cartridge */
  parts: string[];
  jobId: string;
  lineIds: string[];
  customer: { id: string; name: string };
  loadId: string;
  blanks: string[];
}

interface LotRow {
  id: string;
  balances: [holder: string, many: number][];
  figures: [held: number, claimed: number, promised: number];
  marks: [missing: boolean, condemned: boolean, heldBack: boolean];
  labels: string[];
}

/** All that is compared of lots, and how many of each a job has claimed. */
const lotRows = `
  SELECT id, json_build_array(held, claimed, (SELECT coalesce(sum(quantity), 0) FROM claims WHERE thing_id = things.id AND claimant_id = $2)) AS figures,
         json_build_array(missing_since IS NOT NULL, condemned, held_back_reason IS NOT NULL) AS marks,
         (SELECT coalesce(json_agg(json_build_array(holder_id, quantity)), '[]') FROM balances WHERE thing_id = things.id AND quantity <> 0) AS balances,
         (SELECT coalesce(json_agg(code), '[]') FROM codes WHERE subject_id = things.id AND voided_at IS NULL) AS labels
    FROM things WHERE id = ANY ($1)`;

/** A small stores of its own with one job of ours, and the naive stores of the same. What is compared of the two is compared here. */
export class StoresScene {
  readonly counts: NaiveCounts;
  /** which movement of the server a naive step is */
  readonly movementIds = new Map<NaiveStep, string>();

  private constructor(
    readonly shop: Shop,
    readonly made: Fixtures,
    readonly naive: NaiveStores,
    private readonly sellerId: string,
  ) {
    this.counts = new NaiveCounts(naive);
  }

  static async make(shop: Shop): Promise<StoresScene> {
    const { stock, owner } = shop;
    const site = await standing(stock, 'site', null);
    const rackId = await standing(stock, 'rack', site.id);
    const ids = [rackId.id, (await standing(stock, 'rack', site.id)).id];
    const bins = [
      await standing(stock, 'bin', ids[0]!),
      await standing(stock, 'bin', ids[0]!),
      await standing(stock, 'bin', ids[1]!),
    ];
    const parts = [await stock.part(), await stock.part({ name: 'Oil thrower' }), await stock.part({ name: 'Lock plate' })];
    const sealant = await stock.part({ name: 'Case-joint sealant', material: 'other' });
    const kept = {
      container: 'cartridge',
      keepsDays: null,
      oneAtATime: true,
      charged: 'by use',
      useAmount: '',
      usesPerContainer: 20,
    };
    await accepted(owner.put(`/api/parts/${sealant}/consumable`, kept));
    const [one, two] = parts as [string, string];
    const job = await stock.job([
      { partId: one, quantity: '4' },
      { partId: two, quantity: '3' },
    ]);
    const name = `R. Sandiman ${newId()}`;
    const customer = { id: await stock.customer(name), name };
    const load = { id: newId(), words: 'A shed', sellerName: `Dunmarrow ${newId()}`, boughtOn: '2026-01-05' };
    await accepted(owner.post('/api/loads', load));
    const [from] = await stock.query<{ id: string }>('SELECT seller_id AS id FROM loads WHERE id = $1', [load.id]);
    const around = new Map<string, string | null>([
      [site.id, null],
      [ids[0]!, site.id],
      [ids[1]!, site.id],
      [bins[0]!.id, ids[0]!],
      [bins[1]!.id, ids[0]!],
      [bins[2]!.id, ids[1]!],
    ]);
    const needed = new Map([
      [one, 4],
      [two, 3],
    ]);
    const blanks = await new LabelDesk(owner).blanks('lot', 24);
    const made = {
      siteId: site.id,
      places: [...bins, rackId],
      parts: [...parts, sealant],
      jobId: job.id,
      lineIds: job.lineIds,
      customer,
      loadId: load.id,
      blanks,
    };
    return new StoresScene(shop, made, new NaiveStores(around, job.trayId, needed, sealant), from!.id);
  }

  async send(method: string, path: string, body: unknown, by = this.shop.owner, ifMatch?: number): Promise<Sent> {
    const key = newId();
    const options = ifMatch === undefined ? { key } : { key, ifMatch };
    return { key, ...(await by.send<Sent['body']>(method, path, body, options)) };
  }

  /** The movements of a command are those of the naive stores, in whatever order it wrote them. @param first the first of its steps */
  async compareMovements(key: string, verdict: Verdict, first: number): Promise<void> {
    const rows = await this.shop.stock.query<{ id: string } & Record<keyof NaiveMovement, string>>(
      `SELECT id, thing_id AS "lotId", trim_scale(quantity)::text AS quantity, from_holder_id AS "from", to_holder_id AS "to", reason
         FROM movements WHERE command_key = $1 ORDER BY sequence`,
      [key],
    );
    const written = rows.map(({ id, lotId, quantity, from, to, reason }) => ({
      id,
      step: { lotId, quantity: Number(quantity), from: this.named(from), to: this.named(to), reason: plain(reason) },
    }));
    expect(written.map(({ step }) => JSON.stringify(step)).sort()).toEqual(
      (verdict ?? []).map((step) => JSON.stringify(step)).sort(),
    );
    for (const naive of this.naive.steps.slice(first)) {
      const { lotId, quantity, from, to, reason } = naive;
      const same = JSON.stringify({ lotId, quantity, from, to, reason });
      const index = written.findIndex(({ step }) => JSON.stringify(step) === same);
      this.movementIds.set(naive, written.splice(index, 1)[0]!.id);
    }
  }

  /** What lies where, what is reserved, what is missing, and which labels open what. */
  async compareBooks(): Promise<void> {
    const rows = await this.shop.stock.query<LotRow>(lotRows, [[...this.naive.lots.keys()], this.made.jobId]);
    const server = rows.map(({ id, balances, figures, marks, labels }) => ({
      id,
      at: balances.map(([holder, many]) => `${this.named(holder)} ${many}`).sort(),
      figures,
      marks,
      labels: labels.sort(),
    }));
    const naive = [...this.naive.lots.values()].map((lot) => ({
      id: lot.id,
      at: [...lot.at]
        .filter(([, many]) => many !== 0)
        .map(([holder, many]) => `${holder} ${many}`)
        .sort(),
      figures: [this.naive.held(lot), lot.claim, lot.claim],
      marks: [lot.missing, lot.condemned, lot.heldBack],
      labels: [...lot.labels].sort(),
    }));
    expect(server.sort(byId)).toEqual(naive.sort(byId));
    // Nothing appears or vanishes: what is here came in from somewhere.
    for (const { balances } of rows) expect(sum(balances.map(([, many]) => many))).toBe(0);
  }

  /** Stock as it was, in a place with all that stands in it today, against the steps one after another up to that instant. */
  async compareAsOf(placeId: string, shares: readonly number[]): Promise<void> {
    const rows = await this.shop.stock.query<{ id: string; at: string }>(
      'SELECT id, floor(extract(epoch FROM recorded_at) * 1000)::bigint::text AS at FROM movements WHERE id = ANY ($1)',
      [[...this.movementIds.values()]],
    );
    const recorded = new Map(rows.map(({ id, at }) => [id, Number(at)]));
    const steps = [...this.movementIds].map(([step, id]) => ({ step, at: recorded.get(id)! }));
    for (const share of shares) {
      const { at } = steps[share % steps.length]!;
      // the very instant of a movement, the one before it and one some time after
      const instant = Math.min(at + [0, -1, 37][share % 3]!, Math.max(...steps.map((each) => each.at)));
      const there = new Map<string, number>();
      for (const { step } of steps.filter((each) => each.at <= instant))
        for (const [holder, by] of [
          [step.from, -step.quantity],
          [step.to, step.quantity],
        ] as const)
          if (this.naive.places.has(holder) && this.naive.isInside(holder, placeId))
            there.set(`${step.lotId} ${holder}`, (there.get(`${step.lotId} ${holder}`) ?? 0) + by);
      const asked = `at=${new Date(instant).toISOString()}&placeId=${placeId}`;
      const { status, body } = await this.shop.owner.get<AsOfPage>(`/api/stock-as-of?${asked}`);
      expect({ status, cursor: body.cursor, isSettled: body.isSettled }).toEqual({ status: 200, cursor: null, isSettled: true });
      expect(Object.fromEntries(body.lines.map((line) => [`${line.thingId} ${line.where.id}`, Number(line.quantity)]))).toEqual(
        Object.fromEntries([...there].filter(([, quantity]) => quantity !== 0)),
      );
    }
  }

  private named(holder: string): string {
    const beyond = new Map([
      [countDifferenceId, elsewhere],
      [regroupingId, regrouping],
      [usedUpId, usedUp],
      [this.sellerId, seller],
    ]);
    return beyond.get(holder) ?? (this.naive.isOurs(holder) ? holder : buyer);
  }
}

/** A reason without the codes and numbers that only the server gives. */
function plain(reason: string): string {
  return reason
    .replace(/ ?[A-Z] \d{6} \d{2}/g, '')
    .replace(/^count \d+/, 'count')
    .trim();
}

async function standing(stock: Stock, kind: string, parentId: string | null): Promise<{ id: string; code: string }> {
  const id = newId();
  await stock.query("INSERT INTO holders (id, kind) VALUES ($1, 'place')", [id]);
  await stock.query('INSERT INTO places (holder_id, parent_id, name, kind) VALUES ($1, $2, $3, $4)', [
    id,
    parentId,
    `${kind} ${id}`,
    kind,
  ]);
  return { id, code: await stock.codeFor('P', id) };
}

const byId = (one: { id: string }, other: { id: string }): number => (one.id < other.id ? -1 : 1);
