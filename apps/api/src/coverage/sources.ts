import { type Decimal, decimalFrom, lesserDecimal, notBelowZero, subtractDecimals, zero } from '@corewright/quantities/decimal';
import { enoughToSay, yieldOf } from '@corewright/yields/component-yield';
import { whyNotAccepted } from '../catalogue/build-standards/accepts.js';
import type { SubstituteOfLine } from '../jobs/accept-substitute/substitute.queries.js';
import { type Declined, type Offer, offersFor } from '../jobs/offers-for-line.js';
import type {
  AwayFact,
  ClaimFact,
  DonorFact,
  LineFacts,
  ReceiptFact,
  StockFact,
  WantingJob,
  WorkshopFacts,
} from './coverage-facts.js';
import { grouped } from './grouped.js';
import { whyLotMayNotServe } from './why-lot-may-not-serve.js';

/** Something from which a line can be covered, and how much of it there is. */
export type Source = { id: string; quantity: Decimal } & (
  | { kind: 'claimed'; claim: ClaimFact }
  | { kind: 'not looked at'; line: LineFacts }
  | { kind: 'lot'; lot: StockFact }
  | { kind: 'away'; away: AwayFact }
  | { kind: 'order'; receipt: ReceiptFact }
  | { kind: 'core'; donor: DonorFact }
);

/** A line that asks for something, with what it would take. */
export interface Asking {
  line: LineFacts;
  job: WantingJob;
  /** the place of the job in the order in which jobs are served */
  rank: number;
  offers: readonly Offer[];
  declined: readonly Declined[];
  /** accepted for this very line */
  substitutes: readonly SubstituteOfLine[];
  /** what is not in the unit yet */
  open: Decimal;
}

/** A source that may serve a line; `offer` is null where it is the line's own part that nobody has looked at. */
export interface MayServe {
  source: Source;
  asking: Asking;
  offer: Offer | null;
}

/** Which jobs a kept set may serve: the one that has a part of it, else the first in order that asks for all of it; null: none. */
export type JobOfSet = ReadonlyMap<string, string | null>;

/** Every line of these jobs with what it would take. */
export function askingLines(facts: WorkshopFacts): Asking[] {
  const ranks = new Map(facts.jobs.map((job, rank) => [job.id, { job, rank }]));
  const substitutes = grouped(facts.substitutes, ({ lineId }) => lineId);
  return facts.lines.flatMap((line): Asking[] => {
    const served = ranks.get(line.jobId);
    if (served === undefined) return [];
    const accepted = substitutes.get(line.id) ?? [];
    const { offers, declined } = offersFor(line, facts.servers.get(line.partId) ?? [], accepted);
    const inUnit = [line.fitted, line.reused].map(decimalFrom);
    const open = inUnit.reduce((left, there) => notBelowZero(subtractDecimals(left, there)), decimalFrom(line.needed));
    return [
      { line, ...served, offers, declined, substitutes: accepted, open: line.waived === null && !line.consumable ? open : zero },
    ];
  });
}

/** Everything that may serve any of these lines. */
export function whatMayServe(facts: WorkshopFacts, asking: readonly Asking[]): MayServe[] {
  const sources = sourcesByPart(facts);
  const jobOfSet = jobsOfSets(facts, asking);
  const claims = grouped(claimSources(facts), ({ claim }) => claim.jobId);
  const lots = new Map(facts.stock.map((lot) => [lot.thingId, lot]));
  return asking.flatMap((each) => {
    if (each.open <= zero) return [];
    const own = unseenOf(each);
    const shared = each.offers.flatMap((offer) =>
      (sources.get(offer.partId) ?? [])
        .filter((source) => source.quantity > zero && mayTake(source, each, facts.today, jobOfSet))
        .map((source): MayServe => ({ source, asking: each, offer })),
    );
    return [
      ...claimsFor(each, claims.get(each.job.id) ?? [], lots, facts.today),
      ...(own === null ? [] : [{ source: own, asking: each, offer: null }]),
      ...shared,
    ];
  });
}

type ClaimSource = Extract<Source, { kind: 'claimed' }>;

function claimSources({ claims }: WorkshopFacts): ClaimSource[] {
  return claims.map((claim) => ({
    kind: 'claimed',
    id: `claim ${claim.claimId}${claim.inTray ? ' in the tray' : ''}`,
    quantity: decimalFrom(claim.quantity),
    claim,
  }));
}

/**
 * What the job claimed for the line, and what it claimed for no line in particular where the line takes the part. What lies in the tray was
 * let through by somebody; what waits on a shelf must still be such as may serve.
 */
function claimsFor(
  asking: Asking,
  claims: readonly ClaimSource[],
  lots: ReadonlyMap<string, StockFact>,
  today: string,
): MayServe[] {
  const { line, offers } = asking;
  return claims.flatMap((source): MayServe[] => {
    const { claim } = source;
    const offer = offers.find(({ partId }) => partId === claim.partId) ?? null;
    if (claim.lineId === null ? offer === null : claim.lineId !== line.id) return [];
    const lot = lots.get(claim.thingId);
    if (!claim.inTray && lot !== undefined && whyLotMayNotServe(lot, line, today) !== null) return [];
    return [{ source, asking, offer }];
  });
}

/** The unit's own parts that nobody has looked at: neither there nor lacking. */
function unseenOf({ line, open }: Asking): Source | null {
  if (!line.reusable) return null;
  const unseen = notBelowZero(subtractDecimals(decimalFrom(line.needed), decimalFrom(line.lookedAt)));
  const quantity = lesserDecimal(unseen, open);
  return quantity > zero ? { kind: 'not looked at', id: `own ${line.id}`, quantity, line } : null;
}

function sourcesByPart({ stock, away, receipts, donors }: WorkshopFacts): ReadonlyMap<string, Source[]> {
  const sources: (Source & { partId: string })[] = [
    ...stock.map((lot) => ({ kind: 'lot' as const, id: lotId(lot), partId: lot.partId, quantity: decimalFrom(lot.free), lot })),
    ...away.map((fact) => ({
      kind: 'away' as const,
      id: fact.thingId,
      partId: fact.partId,
      quantity: decimalFrom(fact.free),
      away: fact,
    })),
    ...receipts.map((receipt) => ({
      kind: 'order' as const,
      id: receipt.reserved === null ? receipt.id : `claim ${receipt.reserved.claimId}`,
      partId: receipt.partId,
      quantity: decimalFrom(receipt.outstanding),
      receipt,
    })),
    ...donors.map((donor) => ({
      kind: 'core' as const,
      id: `core ${donor.unitId} ${donor.position}`,
      partId: donor.partId,
      quantity: expectedOf(donor),
      donor,
    })),
  ];
  return grouped(sources, ({ partId }) => partId);
}

function lotId({ thingId, ofCore }: StockFact): string {
  return ofCore === undefined ? thingId : `core ${thingId} ${ofCore}`;
}

/**
 * So many whole pieces are to be expected of a core: the mean share, rounded down, and one where it is more likely than not. Of a component
 * of which too few were looked at nothing is.
 */
export function expectedOf({ eachHas, serviceable, looked }: DonorFact): Decimal {
  if (looked < enoughToSay) return zero;
  const { mean } = yieldOf({ serviceable, looked });
  return decimalFrom(String(Math.max(Math.floor(eachHas * mean), mean >= 0.5 ? 1 : 0)));
}

function mayTake(source: Source, { line, job }: Asking, today: string, jobOfSet: JobOfSet): boolean {
  switch (source.kind) {
    case 'lot': {
      const { lot } = source;
      if (lot.ownerId !== null && lot.ownerId !== job.customerId) return false;
      if (lot.setId !== null && jobOfSet.get(lot.setId) !== job.id) return false;
      return whyLotMayNotServe(lot, line, today) === null;
    }
    case 'order': {
      const { forJobId, reserved } = source.receipt;
      return reserved === null ? forJobId === null || forJobId === job.id : reserved.lineId === line.id;
    }
    case 'core':
      return whyNotAccepted({ source: 'harvested', make: 'unknown', condition: '', gradeRank: null }, line) === null;
    default:
      return true;
  }
}

/** A set goes to one job as a whole, so it serves only a job that has a line for each of its parts. */
function jobsOfSets(facts: WorkshopFacts, asking: readonly Asking[]): JobOfSet {
  const lots = new Map(facts.stock.map((lot) => [lot.thingId, lot]));
  const byJob = grouped(
    asking.toSorted((one, other) => one.rank - other.rank),
    ({ job }) => job.id,
  );
  return new Map(
    facts.sets.map(({ id, memberIds, takers }): [string, string | null] => {
      if (takers.length > 0) return [id, takers[0] ?? null];
      const members = memberIds.map((thingId) => lots.get(thingId));
      const isWhole = members.every((lot) => lot !== undefined && decimalFrom(lot.free) > zero);
      if (!isWhole) return [id, null];
      const taker = [...byJob].find(([, lines]) => asksForAll(members as StockFact[], lines, facts.today));
      return [id, taker?.[0] ?? null];
    }),
  );
}

/** Each member has a line of its own that would take it; sets are of two or three, and no two members are of one part. */
function asksForAll(members: readonly StockFact[], lines: readonly Asking[], today: string): boolean {
  const taken = new Set<string>();
  return members.every((lot) => {
    const found = lines.find(
      ({ line, job, offers, open }) =>
        open > zero &&
        !taken.has(line.id) &&
        (lot.ownerId === null || lot.ownerId === job.customerId) &&
        offers.some(({ partId }) => partId === lot.partId) &&
        whyLotMayNotServe(lot, line, today) === null,
    );
    if (found !== undefined) taken.add(found.line.id);
    return found !== undefined;
  });
}
