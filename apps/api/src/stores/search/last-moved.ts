import type { SearchHit } from '@corewright/contracts/stores';
import type { Reader } from '../../platform/database/database.js';

const thingKinds: readonly SearchHit['kind'][] = ['unit', 'lot', 'component', 'unsorted'];

const selectLastMoved = `
  SELECT sought.id, last.occurred_at AS at, coalesce(people.display_name, '') AS by
    FROM unnest($1::uuid[]) AS sought (id)
    CROSS JOIN LATERAL (
      SELECT occurred_at, person_id FROM movements WHERE thing_id = sought.id ORDER BY sequence DESC LIMIT 1) AS last
    LEFT JOIN people ON people.id = last.person_id`;

/** When each of the things among these hits last moved, and who moved it. */
export async function lastMovedOf(
  reader: Reader,
  hits: readonly Pick<SearchHit, 'id' | 'kind'>[],
): Promise<ReadonlyMap<string, NonNullable<SearchHit['lastMoved']>>> {
  const ids = hits.filter(({ kind }) => thingKinds.includes(kind)).map(({ id }) => id);
  if (ids.length === 0) return new Map();
  const rows = await reader.rows<{ id: string; at: string; by: string }>(selectLastMoved, [ids]);
  return new Map(rows.map(({ id, ...moved }) => [id, moved]));
}
