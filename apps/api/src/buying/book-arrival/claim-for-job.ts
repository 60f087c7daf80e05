import { type Decimal, decimalFrom, formatDecimal, lesserDecimal, subtractDecimals, zero } from '@corewright/quantities/decimal';
import { isConsumable } from '../../catalogue/consumable-part.js';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { logClaimChange } from '../../stores/claim-changes.js';
import { claimMore } from '../../stores/ledger.js';
import { lackingOf } from '../lacking.js';

interface LineLacking extends Record<string, unknown> {
  lineId: string;
  lacking: string;
}

const linesLacking = `
  SELECT lines.id AS "lineId", ${lackingOf('lines')} AS lacking
    FROM job_lines AS lines JOIN jobs ON jobs.id = lines.job_id
   WHERE job_id = $1 AND part_id = $2 AND waived_reason IS NULL AND NOT ${isConsumable('lines.part_id')} AND jobs.state NOT IN ('done', 'released', 'called off')
   ORDER BY line_no`;

/** What was ordered for a job, which is locked, is claimed for its lines as it comes, as far as they lack it; the rest is free for all. */
export async function claimForJob(
  transaction: Transaction,
  arrival: { lotId: string; partId: string; jobId: string },
  quantity: Decimal,
): Promise<void> {
  let left = quantity;
  for (const line of await transaction.rows<LineLacking>(linesLacking, [arrival.jobId, arrival.partId])) {
    const claimed = lesserDecimal(left, decimalFrom(line.lacking));
    if (claimed <= zero) continue;
    const amount = formatDecimal(claimed);
    const { lotId, jobId } = arrival;
    claimMore(transaction, lotId, jobId, line.lineId, amount);
    const reason = 'It was ordered for the job.';
    logClaimChange(transaction, {
      on: { thingId: lotId },
      jobId,
      lineId: line.lineId,
      quantity: amount,
      kind: 'came in',
      reason,
    });
    left = subtractDecimals(left, claimed);
  }
  transaction.news(`job:${arrival.jobId}`, 'jobs');
}
