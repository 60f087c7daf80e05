import { decimalFrom, formatDecimal } from '@corewright/quantities/decimal';
import { claimExpectedLess, expectedClaimsOf } from '../buying/expected-claims.js';
import type { OpenTransaction } from '../platform/commands/unit-of-work.js';
import type { ClaimChangeKind } from '../stores/claim-changes.js';
import { logClaimChange } from '../stores/claim-changes.js';
import { claimLess, locksOf } from '../stores/ledger.js';
import { type IdleClaim, idleClaimsOf } from './idle-claims.js';

interface GivingBack {
  kind: Extract<ClaimChangeKind, 'job closed' | 'expired'>;
  reason: string;
  /** only what held until a day before this one; null: all of it */
  before: string | null;
}

/**
 * Gives back what a job has reserved and does not have in its tray. The orders that it counts on and the job itself are locked.
 * @returns how many reservations ended
 */
export async function giveBack(transaction: OpenTransaction, jobId: string, giving: GivingBack): Promise<number> {
  const isOver = ({ until }: { until: string | null }): boolean =>
    giving.before === null || (until !== null && until < giving.before);
  const idle = (await lockedIdleClaims(transaction, jobId)).filter(isOver);
  const expected = (await expectedClaimsOf(transaction, jobId)).filter(isOver);
  const { kind, reason } = giving;
  for (const claim of idle) {
    claimLess(transaction, claim.id, claim.idle);
    const on = { thingId: claim.thingId };
    logClaimChange(transaction, { on, jobId, lineId: claim.lineId, quantity: less(claim.idle), kind, reason });
    transaction.news(`thing:${claim.thingId}`, 'stores');
  }
  for (const claim of expected) {
    claimExpectedLess(transaction, claim.id, claim.quantity);
    const on = { receiptId: claim.receiptId };
    logClaimChange(transaction, { on, jobId, lineId: claim.lineId, quantity: less(claim.quantity), kind, reason });
    transaction.news('receipts');
  }
  const ended = idle.length + expected.length;
  if (ended > 0) transaction.news(`job:${jobId}`, 'jobs', 'today');
  return ended;
}

/**
 * What a job has reserved and does not have in its tray, with its things locked. A claim may move to an equal lot until then: they are read
 * until no other comes.
 */
export async function lockedIdleClaims(
  transaction: OpenTransaction,
  jobId: string,
  of: { lineId?: string; willLock?: ((thingIds: readonly string[]) => void) | undefined } = {},
): Promise<IdleClaim[]> {
  const locked = new Set<string>();
  for (;;) {
    const claims = (await idleClaimsOf(transaction, jobId)).filter(
      ({ lineId }) => of.lineId === undefined || lineId === of.lineId,
    );
    const further = [...new Set(claims.map(({ thingId }) => thingId))].filter((id) => !locked.has(id));
    if (further.length === 0) return claims;
    of.willLock?.(further);
    await locksOf(transaction, further);
    for (const id of further) locked.add(id);
  }
}

/** The quantity of a change by which there is so much less. */
export function less(quantity: string): string {
  return `-${formatDecimal(decimalFrom(quantity))}`;
}

const firmThings = `
  UPDATE claims SET until = NULL WHERE claimant_id = $1 AND quantity > 0 AND until IS NOT NULL
  RETURNING thing_id AS "thingId", NULL AS "receiptId", purpose_id AS "lineId"`;
const firmOrders = `
  UPDATE expected_claims SET until = NULL WHERE claimant_id = $1 AND quantity > 0 AND until IS NOT NULL
  RETURNING NULL AS "thingId", receipt_id AS "receiptId", purpose_id AS "lineId"`;

interface MadeFirm extends Record<string, unknown> {
  thingId: string | null;
  receiptId: string | null;
  lineId: string | null;
}

/** An estimate was taken on: what it had reserved until a day holds for good. */
export async function makeFirm(transaction: OpenTransaction, jobId: string): Promise<void> {
  const [things, orders] = await Promise.all([
    transaction.rows<MadeFirm>(firmThings, [jobId]),
    transaction.rows<MadeFirm>(firmOrders, [jobId]),
  ]);
  for (const { thingId, receiptId, lineId } of [...things, ...orders]) {
    const on = thingId === null ? { receiptId: receiptId as string } : { thingId };
    logClaimChange(transaction, { on, jobId, lineId, quantity: '0', kind: 'made firm', reason: 'The estimate was taken on.' });
  }
}
