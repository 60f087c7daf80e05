import type { Reader } from '../../platform/database/database.js';
import type { Refusal } from '../../platform/refusal.js';
import { holderWords } from '../../stores/place-words.js';

/** What is known of a unit that somebody wants to look over as a core. */
export interface UnitToJudge {
  unitTypeId: string | null;
  typeName: string;
  stage: string;
  /** held by us, in a place or a tray */
  isHere: boolean;
  /** who has it when it is not here; empty where the books know nothing */
  whereElse: string;
  /** its type has a sheet */
  isAsked: boolean;
}

const selectUnit = `
  SELECT unit_type_id AS "unitTypeId", stage, held > 0 AS "isHere",
         coalesce((SELECT concat_ws(' ', makers.name, model, nullif(variant, '')) FROM unit_types JOIN makers ON makers.id = maker_id
                    WHERE unit_types.id = units.unit_type_id), '') AS "typeName",
         coalesce((SELECT ${holderWords('holders.id', 'holders.kind')} FROM balances JOIN holders ON holders.id = holder_id
                    WHERE thing_id = things.id AND quantity > 0 LIMIT 1), '') AS "whereElse",
         EXISTS (SELECT FROM acceptance_terms WHERE acceptance_terms.unit_type_id = units.unit_type_id) AS "isAsked"
    FROM units JOIN things ON things.id = thing_id WHERE thing_id = $1`;

/** Null for what is no unit. */
export function unitToJudge(reader: Reader, unitId: string): Promise<UnitToJudge | null> {
  return reader.row<UnitToJudge & Record<string, unknown>>(selectUnit, [unitId]);
}

/** Why no sheet can be filled in for a unit now; null where one can. Pure. */
export function whyNotFilledIn(unit: UnitToJudge): Refusal | null {
  if (!unit.isHere) return notHere(unit);
  if (unit.stage === 'stripped')
    return refusal(
      'stripped-already',
      'Stripped already',
      'This unit was stripped, so it can no longer be looked over as a core. What was found of each component stands in its strip-down.',
    );
  if (unit.stage === 'rebuilt')
    return refusal('not-a-core', 'It is no core', 'This unit was rebuilt. A core’s sheet is for what is worn and comes in.');
  if (unit.unitTypeId === null)
    return refusal(
      'not-identified',
      'Not identified',
      'Nobody has said what this unit is, so there is nothing to ask of it. Say what it is first, on its page.',
    );
  if (!unit.isAsked)
    return refusal(
      'nothing-asked',
      'No sheet for this type',
      `Nobody has written what is asked of a core of ${unit.typeName}. Whoever keeps the books writes it in Settings.`,
    );
  return null;
}

/** It was sold, sent out or scrapped. */
export function notHere({ whereElse }: UnitToJudge): Refusal {
  const where = whereElse === '' ? 'not in the workshop' : `with ${whereElse}`;
  return refusal('unit-not-here', 'The unit is not here', `By the books this unit is ${where}, so nobody can look it over here.`);
}

function refusal(code: string, title: string, detail: string): Refusal {
  return { status: 409, code, title, detail: `${detail} Nothing was changed.` };
}
