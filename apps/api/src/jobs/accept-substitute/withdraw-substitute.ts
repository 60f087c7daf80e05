import type { SubstituteShown } from '@corewright/contracts/substitutes';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { done, invariant, notFound, type Result, refused } from '../../platform/refusal.js';
import { closedStates } from '../job.queries.js';
import { jobClosed } from './decide-substitute.js';
import { substituteById } from './substitute.queries.js';

/** The line of a substitute and the job of a line stay what they are. */
const lockJob = `
  SELECT jobs.id FROM jobs WHERE id = (SELECT job_id FROM substitutes JOIN job_lines ON job_lines.id = job_line_id WHERE substitutes.id = $1)
     FOR NO KEY UPDATE`;
const lock = `
  SELECT job_id AS "jobId", state, withdrawn_at IS NOT NULL AS "isWithdrawn"
    FROM substitutes JOIN job_lines ON job_lines.id = job_line_id JOIN jobs ON jobs.id = job_id
   WHERE substitutes.id = $1 FOR UPDATE OF substitutes`;
const withdraw = `
  UPDATE substitutes SET withdrawn_at = clock_timestamp(), withdrawn_by = $2, withdrawn_why = $3 WHERE id = $1`;

/** Takes back what was accepted for a line. What was fitted on it stays fitted, and a relation for every job stays until it is withdrawn itself. */
export async function withdrawSubstitute(transaction: Transaction, id: string, why: string): Promise<Result<SubstituteShown>> {
  const [, row] = await Promise.all([
    transaction.row(lockJob, [id]),
    transaction.row<{ jobId: string; state: string; isWithdrawn: boolean }>(lock, [id]),
  ]);
  if (row === null) return refused(notFound('What was accepted'));
  if (row.isWithdrawn)
    return refused({
      status: 409,
      code: 'withdrawn-already',
      title: 'Withdrawn already',
      detail: 'This was withdrawn before. Nothing was changed: what was said then stays on the record.',
    });
  if (closedStates.includes(row.state)) return refused(jobClosed(row.state, 'What was accepted for it stays on the record.'));
  transaction.send(withdraw, [id, transaction.command.person.id, why]);
  transaction.news(`job:${row.jobId}`, 'jobs', 'today');
  const kept = await substituteById(transaction, id);
  invariant(kept, 'what was withdrawn stays on the record');
  const { lineId: _line, ...substitute } = kept;
  return done(substitute);
}
