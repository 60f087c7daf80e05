import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { newId } from '../../platform/new-id.js';
import { done, notFound, type Result, refused } from '../../platform/refusal.js';
import { flatChargesOfJob } from '../settings/flat-charges.queries.js';

const lockJob = 'SELECT 1 FROM jobs WHERE id = $1 FOR NO KEY UPDATE';
const standing = `
  SELECT 1 AS there FROM consumable_uses AS dropped WHERE job_id = $1 AND flat_charge_id = $2
     AND NOT EXISTS (SELECT FROM consumable_uses AS later WHERE later.puts_right_id = dropped.id)`;
const insertDropped = `
  INSERT INTO consumable_uses (id, command_key, job_id, part_id, kind, flat_charge_id, why, person_id, occurred_at)
  VALUES ($1, $2, $3, $4, 'flat charge dropped', $5, $6, $7, now())`;

/** A job does not bear a charge by rule: somebody's word, in a row of its own, which can be put right again. */
export async function dropFlatCharge(
  transaction: Transaction,
  jobId: string,
  chargeId: string,
  why: string,
): Promise<Result<{ id: string }>> {
  const job = await transaction.row(lockJob, [jobId]);
  if (job === null) return refused(notFound('This job'));
  const charge = (await flatChargesOfJob(transaction, jobId)).find(({ id }) => id === chargeId);
  if (charge === undefined) return refused(notFound('This charge'));
  if ((await transaction.row(standing, [jobId, chargeId])) !== null)
    return refused({
      status: 409,
      code: 'put-right-already',
      title: 'Left off already',
      detail: 'Somebody has said meanwhile that the job does not bear it. Nothing was changed.',
    });
  const { key, person } = transaction.command;
  const id = newId();
  await transaction.rows(insertDropped, [id, key, jobId, charge.partId, chargeId, why, person.id]);
  transaction.news(`job:${jobId}`, 'jobs');
  return done({ id });
}
