/**
 * SQL: what the strip-down of a job's unit says of a part of its own that is neither there nor lacking, in words: sent out, held, to be reworked. Empty
 * where it says nothing of the kind. Arguments are columns and parameters, never what somebody keyed.
 */
export function ownAwayOf(jobId: string, partId: string): string {
  return `coalesce((
    SELECT string_agg(DISTINCT CASE found.disposition WHEN 'send out' THEN 'sent out' WHEN 'hold' THEN 'held until somebody decides' ELSE 'to be reworked' END, ', ')
      FROM jobs AS own_job JOIN strip_downs ON strip_downs.unit_id = own_job.unit_id JOIN strip_findings AS found ON found.strip_down_id = strip_downs.id
     WHERE own_job.id = ${jobId} AND found.part_id = ${partId} AND found.kind = 'as expected'
       AND found.disposition IN ('send out', 'hold', 're-use after rework')
       AND NOT EXISTS (SELECT FROM strip_findings AS later WHERE later.supersedes_id = found.id)), '')`;
}
