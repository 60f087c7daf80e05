import type { EditReceipt, Receipt } from '@corewright/contracts/buying';
import { compareDecimals, type Decimal, decimalFrom, formatDecimal, subtractDecimals } from '@corewright/quantities/decimal';
import { checkQuantity } from '@corewright/quantities/unit-of-measure';
import { Injectable } from '@nestjs/common';
import type * as z from 'zod';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { whyNotCurrent } from '../../platform/commands/version-seen.js';
import { badInput, done, invariant, notFound, type Result, refused } from '../../platform/refusal.js';
import { endAllOf, fitReservations } from '../fit-reservations.js';
import { whyNotConfirmed, whyNotForJob } from '../for-job.js';
import { lockReceipt, type ReceiptFacts, readReceipt } from '../receipt.queries.js';

const updateReceipt = `
  UPDATE expected_receipts SET due_on = $2, confirmed = $3, for_job_id = $4, called_off = $5, note = $6, quantity = $7, version = version + 1
   WHERE id = $1`;

/** A new date, a confirmation, another job, another quantity, called off. What came of it stays; what was reserved of it ends where it no longer fits. */
@Injectable()
export class EditReceiptHandler {
  async handle(transaction: Transaction, id: string, input: z.infer<typeof EditReceipt>): Promise<Result<Receipt>> {
    const locked = await lockReceipt(transaction, id);
    const before = locked && (await readReceipt(transaction, id));
    if (!before) return refused(notFound('This order'));
    const stale = whyNotCurrent(transaction.command, before);
    if (stale) return refused(stale);
    // A job that was closed meanwhile stays written on its order.
    const otherJob = input.forJobId === locked.forJobId ? null : await whyNotForJob(transaction, input.forJobId);
    const barred = whyNotConfirmed(input) ?? otherJob;
    if (barred) return refused(barred);
    const ordered = quantityOf(locked, input.quantity);
    if (!ordered.ok) return ordered;
    if (input.calledOff) await endAllOf(transaction, locked);
    else if (ordered.value.isLess) await fitReservations(transaction, locked, ordered.value.outstanding);
    const { dueOn, confirmed, forJobId, calledOff, note } = input;
    await transaction.rows(updateReceipt, [id, dueOn, confirmed, forJobId, calledOff, note, ordered.value.quantity]);
    transaction.news('receipts', 'today', `part:${before.part.id}`);
    for (const jobId of [locked.forJobId, input.forJobId]) if (jobId) transaction.news(`job:${jobId}`);
    const after = await readReceipt(transaction, id);
    invariant(after, 'a receipt that was edited is there');
    return done(after);
  }
}

interface Ordered {
  quantity: string;
  outstanding: Decimal;
  isLess: boolean;
}

/** How many are ordered from now on: never fewer than have come. */
function quantityOf(locked: ReceiptFacts, keyed: string | undefined): Result<Ordered> {
  const [before, received] = [decimalFrom(locked.quantity), decimalFrom(locked.quantityReceived)];
  const quantity = keyed === undefined ? { ok: true as const, value: before } : checkQuantity(keyed, locked.unitOfMeasure);
  if (!quantity.ok) return refused(badInput('quantity', quantity.error.sentence));
  if (compareDecimals(quantity.value, received) < 0)
    return refused(badInput('quantity', `${formatDecimal(received)} of it have come already. Key no fewer than that.`));
  return done({
    quantity: formatDecimal(quantity.value),
    outstanding: subtractDecimals(quantity.value, received),
    isLess: compareDecimals(quantity.value, before) < 0,
  });
}
