import type { JobState } from '@corewright/contracts/base';
import { lockOrdersOf } from '../buying/expected-claims.js';
import { giveBack } from '../jobs/give-back.js';
import { idlePart, rankedClaims } from '../jobs/idle-claims.js';
import { closedStates } from '../jobs/job.queries.js';
import { unfinishedLines } from '../jobs/job-edits.js';
import type { Books } from './books.js';
import type { Row } from './row.js';

interface FinalState {
  row: Row;
  state: JobState;
}

const pickedForJob = `SELECT 1 AS there FROM ${rankedClaims('claimant_id = $1')} WHERE quantity > ${idlePart} LIMIT 1`;
const updateState = 'UPDATE jobs SET state = $2 WHERE id = $1';

/** The states that jobs of this import are to be in at its end. */
export function finalStates(books: Books): Promise<Map<string, FinalState>> {
  return books.register('final states of jobs', async () => new Map());
}

/** Sets them, when everything that belongs to the jobs was read. A job is not released while a line of it is open. */
export async function setFinalStates(books: Books): Promise<void> {
  for (const [jobId, { row, state }] of await finalStates(books)) {
    if (state === 'released') await checkLines(books, jobId, row);
    if (closedStates.includes(state)) {
      await checkTray(books, jobId, row, state);
      await lockOrdersOf(books.transaction, jobId);
      await giveBack(books.transaction, jobId, { kind: 'job closed', reason: `The job is ${state}.`, before: null });
    }
    await books.transaction.rows(updateState, [jobId, state]);
  }
}

async function checkLines({ transaction }: Books, jobId: string, row: Row): Promise<void> {
  const lines = await unfinishedLines(transaction, jobId);
  if (lines.length === 0) return;
  const some = `${lines.slice(0, 6).join(', ')}${lines.length > 6 ? ' …' : ''}`;
  row.fault(
    'state',
    `${lines.length} lines are neither fitted, re-used nor waived: ${some}. Add them to job-fittings.csv, job-findings.csv or job-waivers.csv, or give another state.`,
  );
}

async function checkTray({ transaction }: Books, jobId: string, row: Row, state: JobState): Promise<void> {
  if (await transaction.row(pickedForJob, [jobId]))
    row.fault(
      'state',
      `Parts are picked for this job, and it is ${state}: nobody would look for them in its tray. Take the picks out of job-fittings.csv, or give another state.`,
    );
}
