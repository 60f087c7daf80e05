import type { KeptForJobs } from '@corewright/contracts/selling';
import type { Reader } from '../../platform/database/database.js';

const columns = `
  SELECT kept_for_jobs.id, reason, people.display_name AS by, kept_at AS at, CASE WHEN part_id IS NULL THEN 'thing' ELSE 'part' END AS on
    FROM kept_for_jobs JOIN people ON people.id = kept_by`;
const selectOf = `
  ${columns} WHERE lifted_at IS NULL AND (thing_id = $1 OR part_id = $2 OR part_id = (SELECT part_id FROM lots WHERE lots.thing_id = $1)
    OR part_id = (SELECT part_id FROM components WHERE components.thing_id = $1)) ORDER BY kept_at, kept_for_jobs.id`;
const selectOne = `${columns} WHERE kept_for_jobs.id = $1`;

/** What stands now of a thing and of its part, or of a part alone: it is kept for the workshop's own jobs. */
export function keptOf(
  reader: Reader,
  { thingId, partId }: { thingId?: string | null; partId?: string | null },
): Promise<KeptForJobs[]> {
  return reader.rows<KeptForJobs & Record<string, unknown>>(selectOf, [thingId ?? null, partId ?? null]);
}

export function keptById(reader: Reader, id: string): Promise<KeptForJobs | null> {
  return reader.row<KeptForJobs & Record<string, unknown>>(selectOne, [id]);
}
