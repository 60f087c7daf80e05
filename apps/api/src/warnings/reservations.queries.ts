import { closedStates } from '../jobs/job.queries.js';
import type { Reader } from '../platform/database/database.js';
import { listed } from '../platform/database/listed.js';

/** Reservations of a job that end on one day. */
export interface EndingReservations {
  jobId: string;
  until: string;
  count: number;
  /** "Worm, L 000412 21": a few of them */
  named: string[];
}

const namedMax = 3;
const readEnding = `
  SELECT "jobId", until, count(*)::integer AS count, (array_agg(named ORDER BY named))[1:${namedMax}] AS named
    FROM (
      SELECT claimant_id AS "jobId", until::text, coalesce(parts.name, nullif(lots.words, ''), components.name, 'unit') AS named
        FROM claims LEFT JOIN lots ON lots.thing_id = claims.thing_id LEFT JOIN components ON components.thing_id = claims.thing_id
        LEFT JOIN parts ON parts.id = coalesce(lots.part_id, components.part_id)
       WHERE claimant_id = ANY (${listed('$1')}) AND claims.quantity > 0 AND until <= $2
      UNION ALL
      SELECT claimant_id, until::text, parts.name || ', order ' || order_reference
        FROM expected_claims JOIN expected_receipts AS receipts ON receipts.id = receipt_id JOIN parts ON parts.id = part_id
       WHERE claimant_id = ANY (${listed('$1')}) AND expected_claims.quantity > 0 AND until <= $2) AS ending
   GROUP BY "jobId", until ORDER BY "jobId", until`;

/** What these jobs have reserved up to this day or an earlier one. */
export function endingReservations(reader: Reader, jobIds: readonly string[], by: string): Promise<EndingReservations[]> {
  return reader.rows<EndingReservations & Record<string, unknown>>(readEnding, [jobIds, by]);
}

/** Something that another job took from what this one had reserved. */
export interface Taking {
  changeId: string;
  jobId: string;
  lineId: string | null;
  lineNo: number | null;
  otherJobId: string;
  otherCode: string;
  quantity: string;
  name: string;
  reason: string;
  by: string;
}

const readTakings = `
  SELECT claim_changes.id AS "changeId", claim_changes.job_id AS "jobId", job_line_id AS "lineId", line_no AS "lineNo", other_job_id AS "otherJobId",
         codes.code AS "otherCode", trim_scale(abs(claim_changes.quantity))::text AS quantity,
         coalesce(parts.name, nullif(lots.words, ''), components.name, 'unit') AS name, reason, coalesce(people.display_name, '') AS by
    FROM claim_changes JOIN jobs ON jobs.id = claim_changes.job_id AND state <> ALL ($2)
    JOIN codes ON codes.subject_id = other_job_id AND codes.kind = 'J' AND voided_at IS NULL
    LEFT JOIN job_lines ON job_lines.id = job_line_id LEFT JOIN expected_receipts AS receipts ON receipts.id = receipt_id
    LEFT JOIN lots ON lots.thing_id = claim_changes.thing_id LEFT JOIN components ON components.thing_id = claim_changes.thing_id
    LEFT JOIN parts ON parts.id = coalesce(receipts.part_id, lots.part_id, components.part_id)
    LEFT JOIN people ON people.id = claim_changes.person_id
   WHERE claim_changes.job_id = ANY (${listed('$1')}) AND claim_changes.kind = 'taken by another job' ORDER BY sequence`;

/** What was taken from these jobs, as long as they are open. */
export function takingsFrom(reader: Reader, jobIds: readonly string[]): Promise<Taking[]> {
  return reader.rows<Taking & Record<string, unknown>>(readTakings, [jobIds, closedStates]);
}
