import type { EditReceipt, Receipt } from '@corewright/contracts/buying';
import { Injectable } from '@nestjs/common';
import type * as z from 'zod';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { whyNotCurrent } from '../../platform/commands/version-seen.js';
import { done, invariant, notFound, type Result, refused } from '../../platform/refusal.js';
import { whyNotConfirmed, whyNotForJob } from '../for-job.js';
import { lockReceipt, readReceipt } from '../receipt.queries.js';

const updateReceipt = `
  UPDATE expected_receipts SET due_on = $2, confirmed = $3, for_job_id = $4, called_off = $5, note = $6, version = version + 1
   WHERE id = $1`;

/** A new date, a confirmation, another job, called off. What was ordered and what came of it stays. */
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
    await transaction.rows(updateReceipt, [id, input.dueOn, input.confirmed, input.forJobId, input.calledOff, input.note]);
    transaction.news('receipts', 'today', `part:${before.part.id}`);
    for (const jobId of [locked.forJobId, input.forJobId]) if (jobId) transaction.news(`job:${jobId}`);
    const after = await readReceipt(transaction, id);
    invariant(after, 'a receipt that was edited is there');
    return done(after);
  }
}
