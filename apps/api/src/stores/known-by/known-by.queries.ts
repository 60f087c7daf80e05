import type { KnownBy, SignKept } from '@corewright/contracts/identify';
import { unitTypeName } from '../../catalogue/unit-type.queries.js';
import type { Reader } from '../../platform/database/database.js';
import { picturesOf } from '../pictures/picture.queries.js';

interface Row extends Omit<KnownBy, 'unitType' | 'signs'>, Record<string, unknown> {
  typeName: string;
}
type SignRow = Omit<SignKept, 'pictures'> & Record<string, unknown>;

const selectType = `
  SELECT ${unitTypeName} AS "typeName", numbers_version AS version,
         coalesce((SELECT json_agg(json_build_object('prefix', prefix, 'first', first, 'last', last) ORDER BY number)
                     FROM unit_type_serials WHERE unit_type_id = unit_types.id), '[]') AS serials,
         coalesce((SELECT json_agg(json_build_object('gear', gear, 'meshes', meshes) ORDER BY gear COLLATE "C")
                     FROM (SELECT gear, json_agg(json_build_object('driver', driver, 'driven', driven) ORDER BY mesh) AS meshes
                             FROM unit_type_teeth WHERE unit_type_id = unit_types.id GROUP BY gear) AS gears), '[]') AS gears
    FROM unit_types JOIN makers ON makers.id = maker_id WHERE unit_types.id = $1`;
const signColumns = `
  SELECT id, kind, position, pattern, year_first AS "yearFirst", year_last AS "yearLast", words, weight, withdrawn, version FROM unit_type_signs`;
const selectSigns = `${signColumns} WHERE unit_type_id = $1 ORDER BY withdrawn, number`;
const selectSign = `${signColumns} WHERE unit_type_id = $1 AND id = $2`;

/** What one type is known by, what was withdrawn of it last; null for a type that is not in the books. */
export async function knownByOf(reader: Reader, unitTypeId: string): Promise<KnownBy | null> {
  const row = await reader.row<Row>(selectType, [unitTypeId]);
  if (row === null) return null;
  const { typeName, ...numbers } = row;
  const signs = await withPictures(reader, await reader.rows<SignRow>(selectSigns, [unitTypeId]));
  return { unitType: { id: unitTypeId, name: typeName }, signs, ...numbers };
}

export async function signOf(reader: Reader, unitTypeId: string, signId: string): Promise<SignKept | null> {
  const row = await reader.row<SignRow>(selectSign, [unitTypeId, signId]);
  return row === null ? null : ((await withPictures(reader, [row]))[0] ?? null);
}

async function withPictures(reader: Reader, rows: readonly SignRow[]): Promise<SignKept[]> {
  const pictures = await picturesOf(
    reader,
    rows.map(({ id }) => id),
  );
  return rows.map((row) => ({ ...row, pictures: pictures.filter(({ subjectId }) => subjectId === row.id) }));
}
