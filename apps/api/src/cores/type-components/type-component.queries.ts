import type { TypeComponent } from '@corewright/contracts/cores';
import { mainNumber } from '../../catalogue/part.queries.js';
import type { Reader } from '../../platform/database/database.js';

interface Row extends Record<string, unknown>, Omit<TypeComponent, 'part'> {
  partId: string | null;
  partName: string | null;
  partNumber: string | null;
}

const columns = `
  SELECT position, unit_type_components.name, trim_scale(quantity)::text AS quantity, parts.id AS "partId", parts.name AS "partName", main.number AS "partNumber",
         must_be_looked_at AS "mustBeLookedAt", usual_fate AS "usualFate", kept_set AS "keptSet", is_main_casing AS "isMainCasing",
         keeps_thickness AS "keepsThickness", unit_type_components.version
    FROM unit_type_components LEFT JOIN parts ON parts.id = unit_type_components.part_id ${mainNumber}`;
const ofType = `${columns} WHERE unit_type_id = $1 ORDER BY position`;
const one = `${columns} WHERE unit_type_id = $1 AND position = $2`;
const lock = 'SELECT 1 AS there FROM unit_type_components WHERE unit_type_id = $1 AND position = $2 FOR NO KEY UPDATE';

/** What a unit of a type consists of, in the order in which it is taken apart. */
export async function typeComponents(reader: Reader, unitTypeId: string | null): Promise<TypeComponent[]> {
  if (unitTypeId === null) return [];
  return (await reader.rows<Row>(ofType, [unitTypeId])).map(shown);
}

export async function lockTypeComponent(reader: Reader, unitTypeId: string, position: number): Promise<TypeComponent | null> {
  await reader.row(lock, [unitTypeId, position]);
  const row = await reader.row<Row>(one, [unitTypeId, position]);
  return row && shown(row);
}

function shown({ partId, partName, partNumber, ...row }: Row): TypeComponent {
  return { ...row, part: partId === null ? null : { id: partId, name: partName ?? '', number: partNumber ?? '' } };
}
