import type { Released, ReleaseReservation } from '@corewright/contracts/reservations';
import { compareDecimals, type Decimal, decimalFrom, formatDecimal, zero } from '@corewright/quantities/decimal';
import { checkQuantity, type UnitOfMeasure } from '@corewright/quantities/unit-of-measure';
import { Injectable } from '@nestjs/common';
import { lockJobForScan } from '../../bench/scan-facts.js';
import { claimExpectedLess } from '../../buying/expected-claims.js';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { badInput, done, notFound, type Result, refused } from '../../platform/refusal.js';
import { logClaimChange } from '../../stores/claim-changes.js';
import { claimLess, lockOf } from '../../stores/ledger.js';
import { lockOrders } from '../goods.queries.js';
import { type ReservedGoods, reservedExpected, reservedThing } from '../reserved.queries.js';

/** Gives up a reservation, or so many of it. What lies in the job's tray is put back at the bench. */
@Injectable()
export class ReleaseHandler {
  async handle(transaction: Transaction, input: ReleaseReservation): Promise<Result<Released>> {
    const reserved =
      'claimId' in input ? await lockedThing(transaction, input.claimId) : await lockedOrder(transaction, input.expectedClaimId);
    if (reserved === null) return refused(notFound('This reservation'));
    const quantity = toRelease(reserved, input.quantity);
    if (!quantity.ok) return quantity;
    const amount = formatDecimal(quantity.value);
    const { on, jobId, lineId } = reserved;
    if ('thingId' in on) {
      claimLess(transaction, reserved.id, amount);
      transaction.news(`thing:${on.thingId}`, 'stores');
    } else {
      claimExpectedLess(transaction, reserved.id, amount);
      transaction.news('receipts');
    }
    logClaimChange(transaction, { on, jobId, lineId, quantity: `-${amount}`, kind: 'released', reason: input.reason });
    transaction.news(`job:${jobId}`, 'jobs', 'today');
    return done({ jobId, quantity: amount, words: `${reserved.name}, ${amount}: no longer reserved.` });
  }
}

/** The order, the job and the thing are found by the reservation first, then locked in their order and read again. */
async function lockedThing(transaction: Transaction, claimId: string): Promise<ReservedGoods | null> {
  const first = await reservedThing(transaction, claimId);
  if (first === null || !('thingId' in first.on)) return null;
  const [, , reserved] = await Promise.all([
    lockJobForScan(transaction, first.jobId),
    lockOf(transaction, first.on.thingId),
    reservedThing(transaction, claimId),
  ]);
  return reserved;
}

async function lockedOrder(transaction: Transaction, claimId: string): Promise<ReservedGoods | null> {
  const first = await reservedExpected(transaction, claimId);
  if (first === null || !('receiptId' in first.on)) return null;
  const [, , reserved] = await Promise.all([
    lockOrders(transaction, [first.on.receiptId]),
    lockJobForScan(transaction, first.jobId),
    reservedExpected(transaction, claimId),
  ]);
  return reserved;
}

function toRelease(reserved: ReservedGoods, keyed: string | undefined): Result<Decimal> {
  const idle = decimalFrom(reserved.idle);
  if (idle === zero)
    return refused(
      decimalFrom(reserved.quantity) > zero
        ? {
            status: 409,
            code: 'in-the-tray',
            title: 'In the tray',
            detail: `${reserved.name} lies in the tray of its job. Put it back at the bench: take the pick back, or put it away. Nothing was changed.`,
          }
        : {
            status: 409,
            code: 'not-reserved',
            title: 'Not reserved',
            detail: 'This is not reserved any longer. Nothing was changed.',
          },
    );
  if (keyed === undefined) return done(idle);
  const quantity = checkQuantity(keyed, reserved.unitOfMeasure as UnitOfMeasure);
  if (!quantity.ok) return refused(badInput('quantity', quantity.error.sentence));
  if (compareDecimals(quantity.value, idle) > 0)
    return refused(
      badInput('quantity', `${formatDecimal(idle)} of it can be released; what lies in the tray is put back at the bench.`),
    );
  return done(quantity.value);
}
