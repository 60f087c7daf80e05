import {
  type Decimal,
  decimalFrom,
  formatDecimal,
  lesserDecimal,
  notBelowZero,
  subtractDecimals,
  zero,
} from '@corewright/quantities/decimal';
import { type StoredFacts, storageLifeOf } from '../catalogue/storage-life.js';
import { spoken } from '../jobs/job.queries.js';
import type { Transaction } from '../platform/commands/unit-of-work.js';
import { invariant } from '../platform/refusal.js';
import { logClaimChange } from '../stores/claim-changes.js';
import { type Claim, claimLess, claimOn, claimsOn, lockOf, locksOf } from '../stores/ledger.js';
import { type EqualLot, equalLots, type JobOfClaim, jobsOfClaims } from './equal-lots.js';
import type { LockOrder } from './lock-order.js';
import { idleOwnClaims } from './scan-amount.js';
import type { ScanState, ScanStop } from './scan-state.js';

/** A claim of another job, and how much of it does not lie in that job's tray. */
interface IdleOfOther {
  claim: Claim;
  job: JobOfClaim;
  idle: Decimal;
}

/** So much of a claim goes to an equal lot. */
interface Shift {
  of: IdleOfOther;
  to: EqualLot;
  quantity: Decimal;
}

/**
 * The bag in hand is promised to other jobs, and equal stock that is free lies elsewhere: their claims move to it, as far as the scan needs.
 * @returns the state as it is then, and what was done in words; null where the scan is stopped for another reason or nothing equal is free
 */
export async function moveClaimsAside(
  transaction: Transaction,
  state: ScanState,
  { toFree }: ScanStop,
  order: LockOrder | undefined,
): Promise<{ state: ScanState; words: string } | null> {
  const { thing } = state;
  if (toFree === null || thing.kind !== 'L' || thing.partId === null || thing.keptSetId !== null) return null;
  const others = await idleOfOthers(transaction, state);
  if (others.length === 0) return null;
  const lots = await lockedEqualLots(transaction, state, order);
  const shifts = shiftsOf(others, lots, toFree);
  if (shifts.length === 0) return null;
  for (const shift of shifts) write(transaction, state, shift);
  const [locked, claims] = await Promise.all([lockOf(transaction, thing.id), claimsOn(transaction, thing.id)]);
  invariant(locked, 'a thing that is locked is there');
  const words = shifts.map((shift) => wordsOf(state, shift)).join(' ');
  return { state: { ...state, locked, claims }, words };
}

async function idleOfOthers(transaction: Transaction, { claims, balances, job }: ScanState): Promise<IdleOfOther[]> {
  const claimants = [...new Set(claims.map(({ claimantId }) => claimantId))].filter((id) => id !== job.id);
  const jobs = await jobsOfClaims(transaction, claimants);
  return jobs.flatMap((other) =>
    idleOwnClaims({ claims, balances, job: { ...job, ...other } }).flatMap(({ claimId, idle }) => {
      const claim = claims.find(({ id }) => id === claimId);
      return claim === undefined || idle === zero ? [] : [{ claim, job: other, idle }];
    }),
  );
}

/** Read anew when they are locked: another may have been quicker. */
async function lockedEqualLots(
  transaction: Transaction,
  { thing, today }: ScanState,
  order: LockOrder | undefined,
): Promise<EqualLot[]> {
  const equal = (lots: readonly EqualLot[]) => lots.filter((lot) => isNoOlder(lot, thing, today));
  const seen = equal(await equalLots(transaction, thing.id, null)).map(({ id }) => id);
  if (seen.length === 0) return [];
  order?.follow(thing.id, seen);
  await locksOf(transaction, seen);
  return equal(await equalLots(transaction, thing.id, seen));
}

/** Whether a lot may be kept at least as long, so that it is no worse for whoever is to have it. */
function isNoOlder(lot: StoredFacts, than: StoredFacts, today: string): boolean {
  const [life, other] = [storageLifeOf(lot, today), storageLifeOf(than, today)];
  if (life.stopsFitting) return false;
  if (life.state !== other.state) return worsening.indexOf(life.state) < worsening.indexOf(other.state);
  const end = ({ until, longestExtensionEndsOn }: typeof life) => until ?? longestExtensionEndsOn ?? '9999-12-31';
  return end(life) >= end(other);
}

const worsening = ['no-limit', 'in-life', 'extendable', 'past', 'unknown'];

function shiftsOf(others: readonly IdleOfOther[], lots: readonly EqualLot[], toFree: Decimal): Shift[] {
  const shifts: Shift[] = [];
  const free = new Map(lots.map((lot) => [lot.id, decimalFrom(lot.free)]));
  let left = toFree;
  for (const of of others) {
    let idle = of.idle;
    for (const to of lots) {
      const there = free.get(to.id) ?? zero;
      const quantity = lesserDecimal(left, lesserDecimal(idle, there));
      if (quantity <= zero) continue;
      shifts.push({ of, to, quantity });
      free.set(to.id, subtractDecimals(there, quantity));
      idle = subtractDecimals(idle, quantity);
      left = notBelowZero(subtractDecimals(left, quantity));
    }
  }
  return shifts;
}

function write(transaction: Transaction, { thing, job }: ScanState, { of, to, quantity }: Shift): void {
  const { claim } = of;
  const amount = formatDecimal(quantity);
  const { claimantId, purposeId, until, madeById } = claim;
  claimLess(transaction, claim.id, amount);
  claimOn(transaction, to.id, { claimantId, purposeId, quantity: amount, until, madeById });
  const change = { jobId: of.job.id, lineId: purposeId, kind: 'moved to an equal lot', otherJobId: job.id } as const;
  logClaimChange(transaction, { ...change, on: { thingId: thing.id }, quantity: `-${amount}`, otherThingId: to.id });
  logClaimChange(transaction, { ...change, on: { thingId: to.id }, quantity: amount, until, otherThingId: thing.id });
  transaction.news(`job:${of.job.id}`, `thing:${to.id}`, `thing:${thing.id}`, 'jobs', 'today', 'stores');
}

function wordsOf({ thing }: ScanState, { of, to, quantity }: Shift): string {
  const amount = formatDecimal(quantity);
  const [what, moved] = amount === '1' ? ['', 'was'] : [`${amount} of `, 'were'];
  return `${what}${spoken(thing.code)} ${moved} promised to “${of.job.title}”: its claim has moved to ${spoken(to.code)}, which is the same.`;
}
