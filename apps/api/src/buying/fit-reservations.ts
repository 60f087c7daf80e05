import { type Decimal, decimalFrom, formatDecimal, lesserDecimal, subtractDecimals, zero } from '@corewright/quantities/decimal';
import type { Transaction } from '../platform/commands/unit-of-work.js';
import { type ClaimChangeKind, logClaimChange } from '../stores/claim-changes.js';
import { claimExpectedLess, type ExpectedClaim, expectedClaimsOn, lockJobsById } from './expected-claims.js';
import type { ReceiptFacts } from './receipt.queries.js';

type Ending = { kind: Extract<ClaimChangeKind, 'order called off' | 'fewer expected' | 'released'>; reason: string };

/** An order was called off: nothing of it can be reserved any longer, and the jobs that counted on it are told. */
export async function endAllOf(transaction: Transaction, receipt: Pick<ReceiptFacts, 'id' | 'orderReference'>): Promise<void> {
  const claims = await lockedClaimsOn(transaction, receipt.id);
  const ending: Ending = { kind: 'order called off', reason: `Order ${receipt.orderReference} was called off.` };
  for (const claim of claims) endSome(transaction, claim, decimalFrom(claim.quantity), ending);
}

/** Fewer are expected than were: what no longer fits ends, what was reserved last first. */
export async function fitReservations(
  transaction: Transaction,
  receipt: Pick<ReceiptFacts, 'id' | 'orderReference'>,
  outstanding: Decimal,
): Promise<void> {
  const reason = `${formatDecimal(outstanding)} are still expected on order ${receipt.orderReference}.`;
  endBeyond(transaction, await lockedClaimsOn(transaction, receipt.id), outstanding, { kind: 'fewer expected', reason });
}

/** Ends what of these claims, the oldest first, goes beyond a quantity. */
export function endBeyond(
  transaction: Transaction,
  claims: readonly Pick<ExpectedClaim, 'id' | 'receiptId' | 'jobId' | 'lineId' | 'quantity'>[],
  quantity: Decimal,
  ending: Ending,
): void {
  let room = quantity;
  for (const claim of claims) {
    const claimed = decimalFrom(claim.quantity);
    const fits = lesserDecimal(claimed, room);
    if (claimed > fits) endSome(transaction, claim, subtractDecimals(claimed, fits), ending);
    room = subtractDecimals(room, fits);
  }
}

export function endSome(
  transaction: Transaction,
  { id, receiptId, jobId, lineId }: Pick<ExpectedClaim, 'id' | 'receiptId' | 'jobId' | 'lineId'>,
  quantity: Decimal,
  { kind, reason }: Ending,
): void {
  if (quantity <= zero) return;
  const amount = formatDecimal(quantity);
  claimExpectedLess(transaction, id, amount);
  logClaimChange(transaction, { on: { receiptId }, jobId, lineId, quantity: `-${amount}`, kind, reason });
  transaction.news(`job:${jobId}`, 'jobs', 'today');
}

async function lockedClaimsOn(transaction: Transaction, receiptId: string): Promise<ExpectedClaim[]> {
  const claims = await expectedClaimsOn(transaction, [receiptId]);
  if (claims.length > 0)
    await lockJobsById(
      transaction,
      claims.map(({ jobId }) => jobId),
    );
  return claims;
}
