import type { MovementShown } from '@corewright/contracts/stores';
import type * as z from 'zod';
import type { Reader } from '../platform/database/database.js';
import { cursorOf, placeOf } from '../platform/http/next-page.js';
import { holderWords } from './place-words.js';

const movementsAtATime = 50;

const selectMovements = `
  SELECT movements.id, movements.sequence, occurred_at AS at, recorded_at AS "recordedAt", trim_scale(quantity)::text AS quantity,
         ${holderWords('sources.id', 'sources.kind')} AS from, ${holderWords('targets.id', 'targets.kind')} AS to, reason,
         coalesce(people.display_name, '') AS by, reverses_id IS NOT NULL AS reverses,
         EXISTS (SELECT 1 FROM movements AS later WHERE later.reverses_id = movements.id) AS reversed
    FROM movements
    JOIN holders AS sources ON sources.id = from_holder_id
    JOIN holders AS targets ON targets.id = to_holder_id
    LEFT JOIN people ON people.id = person_id
   WHERE thing_id = $1 AND ($2::bigint IS NULL OR sequence < $2)
   ORDER BY sequence DESC LIMIT $3`;

/** A page of a thing's movements, the newest first. */
export async function movementsOf(
  reader: Reader,
  thingId: string,
  cursor?: string,
): Promise<{ movements: z.infer<typeof MovementShown>[]; cursor: string | null }> {
  const after = placeOf(cursor, ['number'])?.[0] ?? null;
  const rows = await reader.rows<z.infer<typeof MovementShown> & { sequence: number }>(selectMovements, [
    thingId,
    after,
    movementsAtATime + 1,
  ]);
  const movements = rows.slice(0, movementsAtATime);
  const last = movements.at(-1);
  return { movements, cursor: rows.length > movementsAtATime && last ? cursorOf([last.sequence]) : null };
}
