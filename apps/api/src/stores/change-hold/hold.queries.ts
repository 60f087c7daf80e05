import type { Reader } from '../../platform/database/database.js';
import type { HoldStanding } from './decide-hold.js';

const selectLifter = `
  SELECT people.id, display_name AS name, active FROM things JOIN people ON people.id = hold_lifter_id WHERE things.id = $1`;

/** Who alone may lift the hold of a thing; null: whoever keeps the books. */
export function lifterOf(reader: Reader, thingId: string): Promise<HoldStanding['lifter']> {
  return reader.row<NonNullable<HoldStanding['lifter']> & Record<string, unknown>>(selectLifter, [thingId]);
}

const selectNamed = "SELECT display_name AS name FROM people WHERE id = $1 AND active AND role <> 'viewer'";

/** The name of somebody who may be asked to lift a hold; null where that person is not here or only looks. */
export async function mayBeLifter(reader: Reader, personId: string): Promise<string | null> {
  return (await reader.row<{ name: string }>(selectNamed, [personId]))?.name ?? null;
}
