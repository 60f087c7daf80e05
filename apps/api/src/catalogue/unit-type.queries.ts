import type { UnitTypeBrief } from '@corewright/contracts/catalogue';
import type { Reader } from '../platform/database/database.js';
import { patternsOfWords } from './search-words.js';

const unitTypesMax = 500;

/** What a type is called: "Brantock WD7". Its kind, "overhead-worm axle", stands beside it. */
export const unitTypeName = `concat_ws(' ', makers.name, unit_types.model, nullif(unit_types.variant, ''))`;

const findUnitTypes = `
  SELECT unit_types.id, reference, ${unitTypeName} AS name, kind, makers.name AS maker, recognise_by AS "recogniseBy",
         (SELECT count(*)::integer FROM unit_type_lines WHERE unit_type_id = unit_types.id) AS "lineCount"
    FROM unit_types JOIN makers ON makers.id = maker_id
   WHERE concat_ws(' ', makers.name, model, variant, kind, reference, ratio, recognise_by) ILIKE ALL ($1::text[])
   ORDER BY makers.name, model, variant, unit_types.id LIMIT ${unitTypesMax}`;

export function unitTypesLike(reader: Reader, keyed: string): Promise<UnitTypeBrief[]> {
  return reader.rows<UnitTypeBrief & Record<string, unknown>>(findUnitTypes, [patternsOfWords(keyed)]);
}
