import { codeOf } from '../stores/place-words.js';

const spokenCode = (thingId: string) => `regexp_replace(${codeOf(thingId)}, '^(.)(.*)(..)$', '\\1 \\2 \\3')`;
const what = `trim_scale(abs(claim_changes.quantity)) || ' of ' || CASE WHEN claim_changes.thing_id IS NOT NULL THEN coalesce(${spokenCode('claim_changes.thing_id')}, 'a thing')
  ELSE 'order ' || (SELECT order_reference FROM expected_receipts WHERE expected_receipts.id = receipt_id) END`;
const until = `CASE WHEN claim_changes.until IS NOT NULL THEN ' until ' || to_char(claim_changes.until, 'FMDD Mon YYYY') ELSE '' END`;
const otherJob = `'“' || (SELECT title FROM jobs AS other_job WHERE other_job.id = other_job_id) || '”'`;

/**
 * SQL: the record of what became of the reservations of job $1, in words. What was picked and fitted of them stands there as what it is, and what
 * moved or came in is told once.
 */
export const reservationEntries = `
    SELECT claim_changes.recorded_at, claim_changes.person_id, 'reservation',
           CASE claim_changes.kind
             WHEN 'reserved' THEN 'reserved ' || ${what} || ${until}
             WHEN 'released' THEN 'no longer reserves ' || ${what}
             WHEN 'taken by another job' THEN ${what} || ' was taken for ' || ${otherJob}
             WHEN 'taken from another job' THEN 'took ' || ${what} || ' from ' || ${otherJob} || ${until}
             WHEN 'moved to an equal lot' THEN 'the reservation of ' || ${spokenCode('other_thing_id')} || ' has moved to ' || ${what} || ', which is the same: the first was scanned for ' || ${otherJob}
             WHEN 'came in' THEN 'has claimed ' || ${what} || ${until} || ', which came in'
             WHEN 'made firm' THEN 'a reservation of ' || CASE WHEN claim_changes.thing_id IS NOT NULL THEN coalesce(${spokenCode('claim_changes.thing_id')}, 'a thing') ELSE 'what is on order' END || ' holds for good'
             WHEN 'expired' THEN 'the reservation of ' || ${what} || ' came to its end'
             ELSE 'the reservation of ' || ${what} || ' ended'
           END || CASE WHEN line_no IS NOT NULL THEN ', line ' || line_no ELSE '' END
             || CASE WHEN claim_changes.reason <> '' THEN ': ' || claim_changes.reason ELSE '' END
      FROM claim_changes LEFT JOIN job_lines ON job_lines.id = job_line_id
     WHERE claim_changes.job_id = $1 AND claim_changes.kind NOT IN ('picked', 'fitted', 'put back')
       AND (claim_changes.quantity > 0 OR claim_changes.kind NOT IN ('moved to an equal lot', 'came in'))`;
