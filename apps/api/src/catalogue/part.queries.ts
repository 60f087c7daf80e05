import type { PartBrief, PartPage } from '@corewright/contracts/catalogue';
import type { Reader } from '../platform/database/database.js';

/** SQL: the number that a part goes by and its maker, joined to `parts` as `main` and `makers`. */
export const mainNumber = `
  LEFT JOIN part_numbers AS main ON main.part_id = parts.id AND main.is_main
  LEFT JOIN makers ON makers.id = main.maker_id`;

const selectPart = `
  SELECT id, name, description, nicknames, unit_of_measure AS "unitOfMeasure", material, polymer, version FROM parts WHERE id = $1`;
const selectNumbers = `
  SELECT makers.name AS maker, number, year_first AS "yearFirst", year_last AS "yearLast", is_main AS "isMain"
    FROM part_numbers JOIN makers ON makers.id = maker_id WHERE part_id = $1 ORDER BY is_main DESC, makers.name, number`;
const selectUses = `
  SELECT unit_types.id, concat_ws(' ', makers.name, model, nullif(variant, '')) AS name, line_no AS "lineNo",
         trim_scale(quantity)::text AS quantity, critical
    FROM unit_type_lines JOIN unit_types ON unit_types.id = unit_type_id JOIN makers ON makers.id = maker_id
   WHERE part_id = $1 ORDER BY name, line_no`;

/** What the catalogue itself says of a part. */
export type PartItself = Omit<PartPage, 'lots' | 'receipts' | 'relations' | 'successor'>;

/** A part with its numbers and the unit types that use it; null where the books do not know it. */
export async function partPage(reader: Reader, partId: string): Promise<PartItself | null> {
  const part = await reader.row<Omit<PartItself, 'numbers' | 'usedIn'>>(selectPart, [partId]);
  if (part === null) return null;
  const numbers = await reader.rows<PartPage['numbers'][number]>(selectNumbers, [partId]);
  const uses = await reader.rows<{ id: string; name: string; lineNo: number; quantity: string; critical: boolean }>(selectUses, [
    partId,
  ]);
  const usedIn = uses.map(({ id, name, ...use }) => ({ unitType: { id, name }, ...use }));
  return { ...part, numbers, usedIn };
}

const selectBrief = `
  SELECT parts.id, parts.name, coalesce(main.number, '') AS number, coalesce(makers.name, '') AS maker, material, polymer,
         unit_of_measure AS "unitOfMeasure"
    FROM parts ${mainNumber} WHERE parts.id = $1`;

/** What goods-in, labels and stock need to know of one part. */
export interface PartFacts {
  id: string;
  name: string;
  number: string;
  maker: string;
  material: string;
  polymer: string;
  unitOfMeasure: PartBrief['unitOfMeasure'];
}

export function partFacts(reader: Reader, partId: string): Promise<PartFacts | null> {
  return reader.row<PartFacts & Record<string, unknown>>(selectBrief, [partId]);
}
