import { type Decimal, decimalFrom, formatDecimal, lesserDecimal, subtractDecimals, zero } from '@corewright/quantities/decimal';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { claimMore } from '../../stores/ledger.js';

interface LineLacking extends Record<string, unknown> {
  lineId: string;
  lacking: string;
}

// What a line needs less what is in the unit or claimed for it already.
const linesLacking = `
  SELECT lines.id AS "lineId",
         lines.quantity
           - coalesce((SELECT sum(claims.quantity) FROM claims WHERE purpose_id = lines.id), 0)
           - coalesce((SELECT sum(fittings.quantity) FROM fittings WHERE job_line_id = lines.id), 0)
           + coalesce((SELECT sum(ended.quantity) FROM fitting_endings AS ended JOIN fittings ON fittings.id = ended.fitting_id
                        WHERE job_line_id = lines.id), 0) AS lacking
    FROM job_lines AS lines JOIN jobs ON jobs.id = lines.job_id
   WHERE job_id = $1 AND part_id = $2 AND waived_reason IS NULL AND jobs.state NOT IN ('done', 'released', 'called off')
   ORDER BY line_no`;

/**
 * What was ordered for a job is claimed for its lines as it comes, as far as they lack it; the rest is free for all.
 * The part's row is not locked, so two arrivals at once may claim one too many for a line; the ledger's own limits hold all the same.
 */
export async function claimForJob(
  transaction: Transaction,
  arrival: { lotId: string; partId: string; jobId: string },
  quantity: Decimal,
): Promise<void> {
  let left = quantity;
  for (const line of await transaction.rows<LineLacking>(linesLacking, [arrival.jobId, arrival.partId])) {
    const claimed = lesserDecimal(left, decimalFrom(line.lacking));
    if (claimed <= zero) continue;
    claimMore(transaction, arrival.lotId, arrival.jobId, line.lineId, formatDecimal(claimed));
    left = subtractDecimals(left, claimed);
  }
  transaction.news(`job:${arrival.jobId}`, 'jobs');
}
