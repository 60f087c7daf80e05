import type { KnownType } from '@corewright/contracts/identify';
import type { Reader } from '../platform/database/database.js';
import { unitTypeName } from './unit-type.queries.js';

/** In order of their names, so that the same books always give the same answer. */
const selectKnownTypes = `
  SELECT unit_types.id, ${unitTypeName} AS name, kind, makers.name AS maker,
         coalesce((SELECT json_agg(json_build_object(
             'id', signs.id, 'kind', signs.kind, 'position', position, 'pattern', pattern, 'yearFirst', signs.year_first, 'yearLast', signs.year_last,
             'words', words, 'weight', weight,
             'pictures', (SELECT coalesce(json_agg(pictures.id ORDER BY taken_at, pictures.id), '[]') FROM pictures WHERE subject_id = signs.id
                            AND NOT EXISTS (SELECT 1 FROM picture_strikes WHERE picture_id = pictures.id)))
             ORDER BY number) FROM unit_type_signs AS signs WHERE signs.unit_type_id = unit_types.id AND NOT withdrawn), '[]') AS signs,
         coalesce((SELECT json_agg(json_build_object('prefix', prefix, 'first', first, 'last', last) ORDER BY number)
                     FROM unit_type_serials WHERE unit_type_id = unit_types.id), '[]') AS serials,
         coalesce((SELECT json_agg(json_build_object('gear', gear, 'meshes', meshes) ORDER BY gear COLLATE "C")
                     FROM (SELECT gear, json_agg(json_build_object('driver', driver, 'driven', driven) ORDER BY mesh) AS meshes
                             FROM unit_type_teeth WHERE unit_type_id = unit_types.id GROUP BY gear) AS gears), '[]') AS gears
    FROM unit_types JOIN makers ON makers.id = maker_id
   ORDER BY makers.name, model, variant, unit_types.id`;

/** Every unit type by what it is known by; signs that were withdrawn and photographs that were struck out are left out. */
export function knownTypes(reader: Reader): Promise<KnownType[]> {
  return reader.rows<KnownType & Record<string, unknown>>(selectKnownTypes);
}
