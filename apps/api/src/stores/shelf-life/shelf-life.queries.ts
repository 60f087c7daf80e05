import { type StoredFacts, storedFacts } from '../../catalogue/storage-life.js';
import type { Reader } from '../../platform/database/database.js';
import { codeOf } from '../place-words.js';

/** A lot that is old enough to be asked about. */
export interface LimitedLot extends StoredFacts {
  id: string;
  code: string;
  name: string;
  number: string;
  held: string;
  owner: string | null;
  heldBack: string | null;
  placeId: string | null;
}

/** A bearing whose packing nobody knows keeps from the day on which it was preserved anew. */
const wasPreservedAnew = `
  EXISTS (SELECT FROM storage_inspections
           WHERE storage_inspections.thing_id = lots.thing_id AND preserved_anew AND inspected_on <= $2)`;

/** The parts and the balances are looked up only for the lots that are kept. */
const selectLimited = `
  WITH oldest AS (
    SELECT lots.thing_id FROM parts JOIN lots ON part_id = parts.id JOIN things ON things.id = thing_id
     WHERE held > 0 AND NOT condemned
       AND ((material = 'rubber' AND (packet_earliest IS NULL OR packet_earliest <= $1))
         OR (bearing_packing IS NOT NULL AND (packet_earliest <= $2 OR (packet_earliest IS NULL AND ${wasPreservedAnew}))))
     ORDER BY packet_earliest NULLS FIRST, thing_id LIMIT $3)
  SELECT things.id, ${codeOf('things.id')} AS code, parts.name, coalesce(main.number, '') AS number, trim_scale(held)::text AS held,
         owners.name AS owner, held_back_reason AS "heldBack", lying.holder_id AS "placeId", ${storedFacts}
    FROM oldest JOIN lots ON lots.thing_id = oldest.thing_id JOIN things ON things.id = lots.thing_id JOIN parts ON parts.id = part_id
    LEFT JOIN parties AS owners ON owners.id = owner_id
    LEFT JOIN part_numbers AS main ON main.part_id = parts.id AND main.is_main
    LEFT JOIN LATERAL (
      SELECT holder_id FROM balances
       WHERE balances.thing_id = things.id AND with_us AND quantity > 0 ORDER BY quantity DESC, holder_id LIMIT 1) AS lying ON true
   ORDER BY packet_earliest NULLS FIRST, code`;

/** Days by which what has a limit was packed, to be asked about. */
export interface PackedBy {
  rubber: string;
  bearings: string;
}

/** Lots in stores that have a limit and were packed by then, and rubber of which nobody knows when; the oldest come first. */
export function limitedLots(reader: Reader, { rubber, bearings }: PackedBy, limit: number): Promise<LimitedLot[]> {
  return reader.rows<LimitedLot & Record<string, unknown>>(selectLimited, [rubber, bearings, limit]);
}

const selectPaths = 'SELECT holder_id AS id, path AS name FROM places WHERE holder_id = ANY ($1::uuid[])';

/** The whole way to each place; a holder that is no place is left out. */
export async function pathsOf(reader: Reader, placeIds: readonly string[]): Promise<ReadonlyMap<string, string>> {
  const rows = await reader.rows<{ id: string; name: string }>(selectPaths, [placeIds]);
  return new Map(rows.map(({ id, name }) => [id, name]));
}
