import { type Decimal, decimalFrom, formatDecimal, lesserDecimal, subtractDecimals, zero } from '@corewright/quantities/decimal';
import { claimExpectedLess, expectedClaimsOf } from '../buying/expected-claims.js';
import type { OpenTransaction } from '../platform/commands/unit-of-work.js';
import { logClaimChange } from '../stores/claim-changes.js';
import { inTheUnit } from '../stores/in-the-unit.js';
import { claimLess } from '../stores/ledger.js';
import { lockedIdleClaims } from './give-back.js';

export interface Surplus {
  jobId: string;
  lineId: string;
  reason: string;
}

/** So many of a thing that a line had reserved are free again. */
export interface FreeAgain {
  thingId: string;
  quantity: Decimal;
}

const surplusOf = (withOrders: boolean) => `
  SELECT greatest(${inTheUnit('job_lines.id')}
           + coalesce((SELECT sum(claims.quantity) FROM claims WHERE purpose_id = job_lines.id), 0)
           ${withOrders ? '+ coalesce((SELECT sum(expected_claims.quantity) FROM expected_claims WHERE purpose_id = job_lines.id), 0)' : ''}
           - CASE WHEN waived_reason IS NULL THEN job_lines.quantity ELSE 0 END, 0) AS surplus
    FROM job_lines WHERE id = $1`;
const surplusWithOrders = surplusOf(true);
const surplusOfThings = surplusOf(false);

/**
 * Gives back what a line has reserved beyond what it needs by now: what is on order first, then things that do not lie in the tray, what was
 * reserved last first. The orders that the job counts on and the job are locked.
 */
export async function giveBackSurplus(transaction: OpenTransaction, surplus: Surplus): Promise<void> {
  const row = await transaction.row<{ surplus: string }>(surplusWithOrders, [surplus.lineId]);
  let left = decimalFrom(row?.surplus ?? '0');
  if (left === zero) return;
  const { jobId, lineId, reason } = surplus;
  const expected = (await expectedClaimsOf(transaction, jobId)).filter((claim) => claim.lineId === lineId);
  for (const claim of expected.toReversed()) {
    const part = lesserDecimal(left, decimalFrom(claim.quantity));
    if (part <= zero) continue;
    const amount = formatDecimal(part);
    claimExpectedLess(transaction, claim.id, amount);
    const on = { receiptId: claim.receiptId };
    logClaimChange(transaction, { on, jobId, lineId, quantity: `-${amount}`, kind: 'released', reason });
    transaction.news('receipts');
    left = subtractDecimals(left, part);
  }
  await giveBackThings(transaction, surplus, left);
}

/**
 * The same after a scan, of things alone: another bag serves the line now.
 * @param willLock is told of the things before they are locked
 */
export async function giveBackForBag(
  transaction: OpenTransaction,
  surplus: Surplus,
  willLock: (thingIds: readonly string[]) => void,
): Promise<FreeAgain[]> {
  const row = await transaction.row<{ surplus: string }>(surplusOfThings, [surplus.lineId]);
  const left = decimalFrom(row?.surplus ?? '0');
  return left === zero ? [] : giveBackThings(transaction, surplus, left, willLock);
}

async function giveBackThings(
  transaction: OpenTransaction,
  { jobId, lineId, reason }: Surplus,
  surplus: Decimal,
  willLock?: (thingIds: readonly string[]) => void,
): Promise<FreeAgain[]> {
  let left = surplus;
  if (left === zero) return [];
  const free: FreeAgain[] = [];
  const idle = await lockedIdleClaims(transaction, jobId, { lineId, willLock });
  for (const claim of idle.toReversed()) {
    const part = lesserDecimal(left, decimalFrom(claim.idle));
    if (part <= zero) continue;
    const amount = formatDecimal(part);
    claimLess(transaction, claim.id, amount);
    const on = { thingId: claim.thingId };
    logClaimChange(transaction, { on, jobId, lineId, quantity: `-${amount}`, kind: 'released', reason });
    transaction.news(`thing:${claim.thingId}`, 'stores');
    free.push({ thingId: claim.thingId, quantity: part });
    left = subtractDecimals(left, part);
  }
  return free;
}
