import type { Named, UnitOfMeasure } from '@corewright/contracts/base';
import type { PartNamed } from '@corewright/contracts/relations';
import type * as z from 'zod';
import type { Reader } from '../../platform/database/database.js';

export interface TypeFacts {
  unitType: z.infer<typeof Named>;
  /** ours, here, whole, and on no job */
  cores: number;
}

/** A core is free where it is ours and here, may be used, is promised to nobody and was on no job that was not called off. */
const freeCores = `
  SELECT unit_type_id, count(*)::integer AS cores
    FROM units JOIN things ON things.id = thing_id
   WHERE owner_id IS NULL AND held_back_reason IS NULL AND NOT condemned AND missing_since IS NULL AND held > claimed
     AND NOT EXISTS (SELECT 1 FROM jobs WHERE jobs.unit_id = units.thing_id AND jobs.state <> 'called off')
   GROUP BY unit_type_id`;

const selectTypes = `
  SELECT unit_types.id, concat_ws(' ', makers.name, model, nullif(variant, '')) AS name, coalesce(free.cores, 0) AS cores
    FROM unit_types JOIN makers ON makers.id = maker_id LEFT JOIN (${freeCores}) AS free ON free.unit_type_id = unit_types.id
   WHERE EXISTS (SELECT 1 FROM unit_type_lines WHERE unit_type_id = unit_types.id)
     AND CASE WHEN $1::uuid[] = '{}' THEN free.cores > 0 ELSE unit_types.id = ANY ($1::uuid[]) END
   ORDER BY name, unit_types.id LIMIT $2`;

/** The types that are asked for, or all that have a free core; those without a parts list are left out. */
export async function typesToBuild(reader: Reader, typeIds: readonly string[], most: number): Promise<TypeFacts[]> {
  const rows = await reader.rows<{ id: string; name: string; cores: number }>(selectTypes, [typeIds, most]);
  return rows.map(({ id, name, cores }) => ({ unitType: { id, name }, cores }));
}

export interface LineOfType extends Record<string, unknown> {
  typeId: string;
  part: PartNamed;
  unitOfMeasure: UnitOfMeasure;
  quantity: string;
  critical: boolean;
  reusable: boolean;
}

const selectLines = `
  SELECT unit_type_id AS "typeId", quantity::text, critical, reusable, unit_of_measure AS "unitOfMeasure",
         json_build_object('id', parts.id, 'name', parts.name, 'number', coalesce(main.number, ''), 'maker', coalesce(makers.name, '')) AS part
    FROM unit_type_lines JOIN parts ON parts.id = part_id
    LEFT JOIN part_numbers AS main ON main.part_id = parts.id AND main.is_main LEFT JOIN makers ON makers.id = main.maker_id
   WHERE unit_type_id = ANY ($1::uuid[]) ORDER BY unit_type_id, line_no`;

export function linesOfTypes(reader: Reader, typeIds: readonly string[]): Promise<LineOfType[]> {
  return reader.rows<LineOfType>(selectLines, [typeIds]);
}
