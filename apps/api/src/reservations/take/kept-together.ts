import type { Reader } from '../../platform/database/database.js';
import { inTheUnit } from '../../stores/in-the-unit.js';

const selectBound = `
  SELECT other.thing_id AS id FROM kept_set_members AS this JOIN kept_set_members AS other ON other.set_id = this.set_id AND other.bound
   WHERE this.thing_id = $1 AND this.bound AND other.thing_id <> this.thing_id ORDER BY other.thing_id`;
const selectLine = `
  SELECT job_lines.id FROM job_lines
   WHERE job_id = $1 AND waived_reason IS NULL
     AND part_id = (SELECT coalesce((SELECT part_id FROM lots WHERE thing_id = $2), (SELECT part_id FROM components WHERE thing_id = $2)))
     AND quantity > ${inTheUnit('job_lines.id')}
       + coalesce((SELECT sum(claims.quantity) FROM claims WHERE purpose_id = job_lines.id), 0)
       + coalesce((SELECT sum(expected_claims.quantity) FROM expected_claims WHERE purpose_id = job_lines.id), 0)
   ORDER BY line_no LIMIT 1`;

/** The other members of the set that a thing is bound in; none for nearly everything. */
export async function boundWith(reader: Reader, thingId: string): Promise<string[]> {
  return (await reader.rows<{ id: string }>(selectBound, [thingId])).map(({ id }) => id);
}

/** The line of a job that asks for such a member and has room; null where it comes along with its fellows and fills no line. */
export async function lineForMember(reader: Reader, jobId: string, thingId: string): Promise<string | null> {
  return (await reader.row<{ id: string }>(selectLine, [jobId, thingId]))?.id ?? null;
}
