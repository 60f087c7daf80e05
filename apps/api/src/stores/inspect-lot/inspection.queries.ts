import type { InspectionShown } from '@corewright/contracts/stores';
import type { Reader } from '../../platform/database/database.js';

const selectInspections = `
  SELECT storage_inspections.id, inspected_on AS "inspectedOn", looked_at AS "lookedAt", passed, words, people.display_name AS by
    FROM storage_inspections JOIN people ON people.id = person_id
   WHERE thing_id = $1 ORDER BY inspected_on DESC, recorded_at DESC`;

/** Every inspection of a lot, the newest first. */
export function inspectionsOf(reader: Reader, thingId: string): Promise<InspectionShown[]> {
  return reader.rows<InspectionShown & Record<string, unknown>>(selectInspections, [thingId]);
}
