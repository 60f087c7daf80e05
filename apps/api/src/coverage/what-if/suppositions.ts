import { decimalFrom, formatDecimal, notBelowZero, subtractDecimals, zero } from '@corewright/quantities/decimal';
import type { LineAccepts } from '../../catalogue/build-standards/line-accepts.js';
import type { SubstituteOfLine } from '../../jobs/accept-substitute/substitute.queries.js';
import type { DonorFact, StockFact, WorkshopFacts } from '../coverage-facts.js';
import { expectedOf } from '../sources.js';

/** What is supposed, with all that has to be known for it. */
export interface Supposed {
  /** jobs that come before all others, in this order */
  first: readonly string[];
  /** by the line: what it would accept */
  accepts: ReadonlyMap<string, LineAccepts>;
  /** what the cores that are broken have */
  broken: readonly BrokenDonor[];
  /** the cores that may then still be broken */
  donorsLeft: readonly DonorFact[];
  /** by the order: when it comes; null: not at all */
  orders: ReadonlyMap<string, string | null>;
  substitutes: readonly SubstituteOfLine[];
}

export interface BrokenDonor {
  donor: DonorFact;
  gives: 'expected' | 'all';
}

/** One supposition of these, and how it is said. */
export interface Resolved extends Partial<Supposed> {
  words: string;
}

/** The facts as they would be. */
export function supposing(facts: WorkshopFacts, supposed: Supposed): WorkshopFacts {
  const { first, accepts, broken, donorsLeft, orders, substitutes } = supposed;
  return [
    (each: WorkshopFacts) => jobsFirst(each, first),
    (each: WorkshopFacts) => linesAccept(each, accepts),
    (each: WorkshopFacts) => coresBroken(each, broken, donorsLeft),
    (each: WorkshopFacts) => ordersCome(each, orders),
    (each: WorkshopFacts) => substitutesAccepted(each, substitutes),
  ].reduce((before, suppose) => suppose(before), facts);
}

/** These jobs are served before all others, in this order. */
export function jobsFirst(facts: WorkshopFacts, jobIds: readonly string[]): WorkshopFacts {
  const first = jobIds.flatMap((id) => facts.jobs.find((job) => job.id === id) ?? []);
  const rest = facts.jobs.filter(({ id }) => !jobIds.includes(id));
  return { ...facts, jobs: [...first.map((job) => ({ ...job, isSupposedFirst: true as const })), ...rest] };
}

/** Lines accept something else, since their job is built to another standard. */
export function linesAccept(facts: WorkshopFacts, accepts: ReadonlyMap<string, LineAccepts>): WorkshopFacts {
  return { ...facts, lines: facts.lines.map((line) => ({ ...line, ...accepts.get(line.id) })) };
}

/** Cores are broken: what they give lies in stores, and other cores are left to think of. */
export function coresBroken(
  facts: WorkshopFacts,
  broken: readonly BrokenDonor[],
  donorsLeft: readonly DonorFact[],
): WorkshopFacts {
  if (broken.length === 0) return facts;
  const given = broken.map(lotOf).filter(({ free }) => decimalFrom(free) > zero);
  return { ...facts, stock: [...facts.stock, ...given], donors: donorsLeft };
}

/** Harvested, of an unknown make and not graded, as all that comes off a core that nobody has opened. */
function lotOf({ donor, gives }: BrokenDonor): StockFact {
  return {
    partId: donor.partId,
    thingId: donor.unitId,
    ofCore: donor.position,
    code: donor.code,
    name: donor.name,
    free: gives === 'all' ? String(donor.eachHas) : formatDecimal(expectedOf(donor)),
    claimed: '0',
    heldBackReason: null,
    condemned: false,
    missingSince: null,
    setId: null,
    ownerId: null,
    source: 'harvested',
    make: 'unknown',
    condition: '',
    gradeRank: null,
    // rubber is never counted on from a core
    material: 'metal',
    polymer: '',
    packetRead: '',
    packetEarliest: null,
    packetLatest: null,
    packetCondition: 'none',
    inspectedOn: null,
    bearingPacking: null,
    bearingStore: null,
  };
}

/** Orders come on another day, or not at all. */
export function ordersCome(facts: WorkshopFacts, orders: ReadonlyMap<string, string | null>): WorkshopFacts {
  const receipts = facts.receipts.flatMap((receipt) => {
    const comes = orders.get(receipt.id);
    if (comes === undefined) return [receipt];
    return comes === null ? [] : [{ ...receipt, dueOn: comes }];
  });
  return { ...facts, receipts: receipts.toSorted(byDay) };
}

/** As they are read: those that were confirmed first, then by the day, without a day last. */
function byDay(one: WorkshopFacts['receipts'][number], other: WorkshopFacts['receipts'][number]): number {
  const key = ({ confirmed, dueOn }: typeof one) => `${confirmed ? 0 : 1} ${dueOn ?? '9999-12-31'}`;
  return key(one) < key(other) ? -1 : Number(key(one) > key(other));
}

/** Somebody has accepted these in place of what their lines ask for. */
export function substitutesAccepted(facts: WorkshopFacts, substitutes: readonly SubstituteOfLine[]): WorkshopFacts {
  return { ...facts, substitutes: [...facts.substitutes, ...substitutes] };
}

/** So many of a thing leave the workshop: of what nobody has claimed, and of claims. */
export interface Gone {
  thingId: string;
  ofFree: string;
  /** by the claim: so many less */
  ofClaims: ReadonlyMap<string, string>;
}

/** Things are gone: what was free or reserved of them covers nobody, and a core that is gone gives nothing. */
export function goodsGone(facts: WorkshopFacts, gone: readonly Gone[]): WorkshopFacts {
  const by = new Map(gone.map((each) => [each.thingId, each]));
  const without = (there: string, less: string | undefined) =>
    formatDecimal(notBelowZero(subtractDecimals(decimalFrom(there), decimalFrom(less ?? '0'))));
  return {
    ...facts,
    stock: facts.stock.map((lot) => ({ ...lot, free: without(lot.free, by.get(lot.thingId)?.ofFree) })),
    claims: facts.claims
      .map((claim) =>
        claim.inTray
          ? claim
          : { ...claim, quantity: without(claim.quantity, by.get(claim.thingId)?.ofClaims.get(claim.claimId)) },
      )
      .filter(({ quantity }) => decimalFrom(quantity) > zero),
    donors: facts.donors.filter(({ unitId }) => !by.has(unitId)),
  };
}
