/** Unit types that compete for the same scarce parts, with a few cores of each, beside whatever a workshop holds already. */
import { makeCode } from '@corewright/codes/label-code';
import type pg from 'pg';
import { idFunction } from './workshop-data.js';

export const typesCompeting = 20;
export const partsWanted = 2_000;
const linesPerType = 200;
const coresPerType = 25;

const statements = [
  idFunction,
  `INSERT INTO unit_types (id, reference, maker_id, kind, model)
   SELECT pg_temp.id_of('wanted type', number), 'W' || number, (SELECT id FROM makers ORDER BY id LIMIT 1), 'overhead-worm axle', 'CW' || number FROM generate_series(1, ${typesCompeting}) AS number`,
  `INSERT INTO unit_type_operations (unit_type_id, number, name, minutes)
   SELECT pg_temp.id_of('wanted type', number), 10, 'Build', 480 FROM generate_series(1, ${typesCompeting}) AS number`,
  `INSERT INTO parts (id, name, unit_of_measure, material) SELECT pg_temp.id_of('wanted part', number), 'Wanted part ' || number, 'each', 'metal' FROM generate_series(1, ${partsWanted}) AS number`,
  // 200 of the 2,000 parts a type, spread by a step that shares each of them between two types
  `INSERT INTO unit_type_lines (unit_type_id, line_no, part_id, quantity, operation_number, critical)
   SELECT pg_temp.id_of('wanted type', type), line, pg_temp.id_of('wanted part', 1 + (type * 107 + line * 19) % ${partsWanted}), 1 + (type + line) % 2, 10, line % 7 = 0
     FROM generate_series(1, ${typesCompeting}) AS type, generate_series(1, ${linesPerType}) AS line`,
  // each part also is a component of one type, of which others were taken apart
  `INSERT INTO unit_type_components (unit_type_id, position, name, quantity, part_id)
   SELECT pg_temp.id_of('wanted type', 1 + number % ${typesCompeting}), 1 + number / ${typesCompeting}, 'Component', 1, pg_temp.id_of('wanted part', 1 + number)
     FROM generate_series(0, 799) AS number`,
  `INSERT INTO component_yields (unit_type_id, position, grade, looked, serviceable)
   SELECT unit_type_id, position, 'A', 30, 10 + (position * 7) % 21 FROM unit_type_components WHERE part_id IS NOT NULL`,
  `INSERT INTO things (id, kind) SELECT pg_temp.id_of('wanted lot', number), 'L' FROM generate_series(1, ${partsWanted}) AS number`,
  `INSERT INTO lots (thing_id, part_id, source, make) SELECT pg_temp.id_of('wanted lot', number), pg_temp.id_of('wanted part', number), 'new', 'genuine' FROM generate_series(1, ${partsWanted}) AS number`,
  `INSERT INTO things (id, kind) SELECT pg_temp.id_of('wanted core', number), 'U' FROM generate_series(1, ${typesCompeting * coresPerType}) AS number`,
  `INSERT INTO units (thing_id, unit_type_id) SELECT pg_temp.id_of('wanted core', number), pg_temp.id_of('wanted type', 1 + number % ${typesCompeting}) FROM generate_series(1, ${typesCompeting * coresPerType}) AS number`,
  ...[
    { kind: 'wanted lot', count: partsWanted, quantity: '3 + (number * 7919) % 23' },
    { kind: 'wanted core', count: typesCompeting * coresPerType, quantity: '1' },
  ].map(
    ({ kind, count, quantity }) => `
    INSERT INTO movements (id, command_key, thing_id, quantity, from_holder_id, to_holder_id, reason, occurred_at)
    SELECT pg_temp.id_of('arrival of ${kind}', number), pg_temp.id_of('command', 1), pg_temp.id_of('${kind}', number), ${quantity}, '00000000-0000-7000-8000-00000000c0d1',
           (SELECT holder_id FROM places WHERE kind = 'bin' ORDER BY holder_id LIMIT 1), 'opening stock', now() FROM generate_series(1, ${count}) AS number`,
  ),
  'ANALYZE',
];

/** Beyond what the sequences of the workshop come to. */
const firstCode = 60_000_000;
const insertCodes = `
  INSERT INTO codes (code, kind, subject_id) SELECT code, $2, pg_temp.id_of($3, number) FROM unnest($1::text[]) WITH ORDINALITY AS of (code, number)`;

async function giveCodes(client: pg.Client, kind: 'L' | 'U', rowKind: string, count: number): Promise<void> {
  const codes = Array.from({ length: count }, (_, index) => makeCode(kind, firstCode + index));
  await client.query(insertCodes, [codes, kind, rowKind]);
}

/** @returns the ids of the types */
export async function fillCompetingTypes(client: pg.Client): Promise<string[]> {
  for (const statement of statements) await client.query(statement);
  await giveCodes(client, 'L', 'wanted lot', partsWanted);
  await giveCodes(client, 'U', 'wanted core', typesCompeting * coresPerType);
  const found = await client.query<{ id: string }>("SELECT id FROM unit_types WHERE reference LIKE 'W%' ORDER BY reference");
  return found.rows.map(({ id }) => id);
}
