import type { LabelCode } from '@corewright/codes/label-code';
import { decimalFrom } from '@corewright/quantities/decimal';
import { roomOf } from '../../bench/choose-line.js';
import { mayServe } from '../../bench/may-serve.js';
import { type JobForScan, linesForPart, lockJobForScan, thingOfCode } from '../../bench/scan-facts.js';
import { closedStates } from '../../jobs/job.queries.js';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { badInput, done, invariant, notFound, type Result, refused } from '../../platform/refusal.js';
import { claimMore, lockOf, move } from '../../stores/ledger.js';
import { reasons } from '../reasons.js';
import { stopped } from '../row-state.js';
import type { ShelfRow } from './read-row.js';

/** Locks the job that a row goes onto, and says whether it may: before the thing is made. */
export async function jobToTake(transaction: Transaction, jobId: string, row: ShelfRow): Promise<Result<JobForScan>> {
  const job = await lockJobForScan(transaction, jobId);
  if (job === null) return refused(notFound('That job'));
  if (closedStates.includes(job.state))
    return refused(stopped('job-closed', 'The job is closed', `This job is ${job.state}. Key the row without it.`));
  if (row.kind !== 'lot')
    return refused(
      badInput('jobId', 'Only parts go onto a job straight from the shelf. Key the unit or the box here, then scan its label.'),
    );
  if (row.ownerId !== null && row.ownerId !== job.customerId)
    return refused(
      stopped(
        'goods-of-another-customer',
        'Not ours to use',
        'A customer’s goods serve that customer’s jobs only. Key it here without the job.',
      ),
    );
  return done(job);
}

export interface Taken {
  job: JobForScan;
  thingId: string;
  code: LabelCode;
  quantity: string;
  fromHolderId: string;
  today: string;
}

/**
 * It is in somebody's hand and the books do not know it: it is found into the tray of the job, and the job's. A line that asks for it and takes
 * it has it; else it is the job's for none, until it is fitted in place of a line or given back.
 */
export async function takeOntoJob(
  transaction: Transaction,
  { job, thingId, code, quantity, fromHolderId, today }: Taken,
): Promise<void> {
  move(transaction, { thingId, quantity, fromHolderId, toHolderId: job.trayId, reason: reasons.onJob });
  const [thing, locked] = [await thingOfCode(transaction, code), await lockOf(transaction, thingId)];
  invariant(thing !== null && locked !== null, 'what was just made is there');
  const lines = thing.partId === null ? [] : await linesForPart(transaction, job.id, thing.partId, null);
  const line = lines.find(
    (each) => !each.waived && roomOf(each, 'pick') >= decimalFrom(quantity) && mayServe({ thing, locked, today }, each) === null,
  );
  claimMore(transaction, thingId, job.id, line?.id ?? null, quantity);
  transaction.news(`job:${job.id}`, 'jobs');
}
