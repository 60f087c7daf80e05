import type { IdentificationShown, UnidentifiedUnit } from '@corewright/contracts/identify';
import { unitTypeName } from '../../catalogue/unit-type.queries.js';
import type { Reader } from '../../platform/database/database.js';
import { codeOf, holderWords } from '../place-words.js';

const selectIdentifications = `
  SELECT identifications.id,
         CASE WHEN unit_type_id IS NULL THEN NULL ELSE json_build_object('id', unit_type_id, 'name', ${unitTypeName}) END AS "unitType",
         reading, speaks_for AS "speaksFor", speaks_against AS "speaksAgainst", ruled_out AS "ruledOut", why, people.display_name AS by,
         recorded_at AS at
    FROM identifications JOIN people ON people.id = person_id
    LEFT JOIN unit_types ON unit_types.id = unit_type_id LEFT JOIN makers ON makers.id = maker_id
   WHERE thing_id = $1 ORDER BY recorded_at DESC, identifications.id DESC`;

/** Whatever was said of what a unit is, the newest first. */
export function identificationsOf(reader: Reader, thingId: string): Promise<IdentificationShown[]> {
  return reader.rows<IdentificationShown & Record<string, unknown>>(selectIdentifications, [thingId]);
}

const shownMax = 500;
const unidentified = `FROM units JOIN things ON things.id = thing_id WHERE unit_type_id IS NULL AND held > 0`;
const countUnidentified = `SELECT count(*)::integer AS count ${unidentified}`;
const selectUnidentified = `
  WITH those AS MATERIALIZED (
    SELECT things.id, owner_id, created_at, words, marks, grade ${unidentified} ORDER BY created_at, things.id LIMIT ${shownMax})
  SELECT those.id, ${codeOf('those.id')} AS code, words, marks, grade, owners.name AS owner, created_at AS since,
         coalesce((SELECT string_agg(${holderWords('holders.id', 'holders.kind')}, '; ' ORDER BY holders.id)
                     FROM balances JOIN holders ON holders.id = holder_id WHERE thing_id = those.id AND quantity > 0), '') AS places,
         coalesce((SELECT json_agg(id ORDER BY taken_at, id) FROM pictures WHERE subject_id = those.id
                       AND NOT EXISTS (SELECT 1 FROM picture_strikes WHERE picture_id = pictures.id)), '[]') AS pictures
    FROM those LEFT JOIN parties AS owners ON owners.id = owner_id ORDER BY created_at, those.id`;

/** Units that we hold and of which nobody has said what they are: the oldest of them, and how many there are. */
export async function unidentifiedUnits(reader: Reader): Promise<{ units: UnidentifiedUnit[]; count: number }> {
  const units = await reader.rows<UnidentifiedUnit & Record<string, unknown>>(selectUnidentified);
  if (units.length < shownMax) return { units, count: units.length };
  return { units, count: (await reader.row<{ count: number }>(countUnidentified))?.count ?? units.length };
}
