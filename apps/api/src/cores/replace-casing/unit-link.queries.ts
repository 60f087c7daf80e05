import type { UnitLink } from '@corewright/contracts/cores';
import type { Reader } from '../../platform/database/database.js';
import { codeOf, thingFacts, thingName } from '../../stores/place-words.js';

interface LinkRow extends Record<string, unknown>, Omit<UnitLink, 'unit'> {
  id: string;
  code: string | null;
  name: string;
}

const linksOf = `
  SELECT things.id, ${codeOf('things.id')} AS code, ${thingName} AS name, coalesce(units.marks, '') AS marks, linked.words,
         CASE WHEN from_unit_id = $1 THEN 'its insides went into' ELSE 'has the insides of' END AS direction,
         people.display_name AS by, recorded_at AS at
    FROM unit_links AS linked JOIN things ON things.id = CASE WHEN from_unit_id = $1 THEN to_unit_id ELSE from_unit_id END ${thingFacts}
    JOIN people ON people.id = person_id
   WHERE $1 IN (from_unit_id, to_unit_id) ORDER BY recorded_at`;

/** The units that a replaced casing links to this one. */
export async function linksOfUnit(reader: Reader, unitId: string): Promise<UnitLink[]> {
  const rows = await reader.rows<LinkRow>(linksOf, [unitId]);
  return rows.map(({ id, code, name, ...link }) => ({ ...link, unit: { id, code: code ?? '', name } }));
}
