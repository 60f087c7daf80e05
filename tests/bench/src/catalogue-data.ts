/**
 * Fills a catalogue far above what a workshop keeps: 1,000,000 numbers of twelve invented makers, each numbering in a way of its own,
 * and 2,000,000 relations. Set-based, and reckoned from the serial of the row alone, so that it is the same at each filling.
 */
import type pg from 'pg';

export interface CatalogueSize {
  parts: number;
  numbers: number;
}

const makersInAll = 12;

/** The first five are makers of every workshop that is measured on. */
const furtherMakers = `
  INSERT INTO makers (id, name)
  SELECT pg_temp.id_of('maker', 5 + number), name
    FROM unnest(ARRAY['Halloran', 'Veldrow', 'Aldermoor', 'Tressick', 'Bredwick', 'Sarnhope', 'Orlcombe']) WITH ORDINALITY AS of (name, number)`;

const parts = `
  INSERT INTO parts (id, name, description, nicknames, unit_of_measure, material, polymer)
  SELECT pg_temp.id_of('part', number),
         (ARRAY['Taper bearing cone', 'Worm wheel', 'Half shaft', 'Thrust washer', 'Side gear', 'Pinion shim', 'Hub bolt', 'Selector fork', 'Oil seal', 'Spider',
                'Ball bearing', 'Layshaft', 'Synchro ring', 'Gasket', 'Circlip', 'Drain plug', 'Cross pin', 'Coupling flange', 'Input shaft', 'Cup'])[1 + number % 20],
         (ARRAY['first motion', 'third motion', 'differential', 'hub, front', 'hub, rear', 'worm input', 'carrier', 'reverse'])[1 + number % 8] || ', '
           || (ARRAY['case-hardened', 'bronze', 'ground', 'as forged', 'oversize'])[1 + number % 5],
         CASE WHEN number % 40 = 0 THEN 'the big one' ELSE '' END,
         'each', CASE WHEN number % 20 = 8 THEN 'rubber' ELSE 'metal' END, CASE WHEN number % 20 = 8 THEN 'NBR' ELSE '' END
    FROM generate_series(1, $1::int) AS number`;

/**
 * A maker has each number once: what is scattered is multiplied by a prime to the length of its own run. Makers 6, 9 and 10 number
 * from the same figures, so that some 80,000 numbers are of two or three makers. Every tenth number is a part's second one.
 */
const numbers = `
  INSERT INTO part_numbers (id, part_id, maker_id, number, number_key, is_main, year_first)
  SELECT pg_temp.id_of('number', serial), pg_temp.id_of('part', CASE WHEN serial <= $2::int THEN serial ELSE 1 + (serial * 7::bigint) % $2::int END),
         pg_temp.id_of('maker', 1 + serial % ${makersInAll}), number, regexp_replace(upper(number), '[^A-Z0-9]', '', 'g'),
         serial <= $2::int, CASE WHEN serial % 3 = 0 THEN 1925 + serial % 45 END
    FROM generate_series(1, $1::int) AS serial,
    LATERAL (SELECT serial / ${makersInAll} AS turn, ((serial / ${makersInAll}) * 7919::bigint) % 999983 AS scattered) AS of,
    LATERAL (SELECT CASE serial % ${makersInAll}
      WHEN 0 THEN '48-' || 2100 + turn / 9 || '/' || 1 + turn % 9
      WHEN 1 THEN 'S' || 11 + turn % 60 || '-' || lpad((turn / 60)::text, 4, '0')
      WHEN 2 THEN 'P ' || lpad(scattered::text, 6, '0')
      WHEN 3 THEN '4G-' || 11 + turn % 30 || '.' || lpad((turn / 30)::text, 4, '0')
      WHEN 4 THEN (ARRAY['62', '63', '64', 'NU2', 'NU3', '302', '322'])[1 + turn % 7] || lpad((turn / 7 % 97)::text, 2, '0') || (ARRAY['', '-2RS', '-2Z', ' C3', '-2RS C3', 'N', 'K'])[1 + turn / 679 % 7] || '/' || turn / 4753
      WHEN 5 THEN lpad(scattered::text, 7, '0')
      WHEN 6 THEN 'VBT ' || scattered || (ARRAY['', 'A', 'B'])[1 + turn % 3]
      WHEN 7 THEN 'AM ' || 1 + turn % 9 || '/' || 100 + turn / 9
      WHEN 8 THEN lpad(scattered::text, 7, '0')
      WHEN 9 THEN lpad(scattered::text, 6, '0')
      WHEN 10 THEN 'SH' || chr(65 + (turn % 26)::int) || '-' || lpad((turn / 26)::text, 5, '0')
      ELSE substr('00' || turn % 13, 1, 3) || '-' || lpad(scattered::text, 6, '0') END AS number) AS printed`;

/**
 * Parts hang together in families of nine: two things under three makers' numbers each, of which the second will serve for the first,
 * with an older number or two before them; what else will serve for one of them is of families further on. A few runs of eleven
 * families are told to be one. One relation in thirty was withdrawn.
 */
const relations = `
  WITH pattern (kind, one, other, step) AS (VALUES
    ('same as', 1, 0, 0), ('same as', 2, 0, 0), ('same as', 2, 1, 0), ('same as', 4, 3, 0), ('same as', 5, 3, 0), ('same as', 5, 4, 0),
    ('supersession', 6, 0, 0), ('supersession', 7, 6, 0), ('supersession', 8, 3, 0),
    ('will serve for', 3, 0, 0), ('will serve for', 4, 1, 0), ('will serve for', 5, 2, 0), ('will serve for', 0, 3, 1), ('will serve for', 1, 4, 2),
    ('will serve for', 6, 7, 3), ('will serve for', 8, 6, 5), ('will serve for', 7, 8, 7), ('will serve for', 2, 5, 11), ('will serve for', 5, 8, 13),
    ('will serve for', 3, 7, 17)),
  families AS (SELECT family, $1::int / 9 AS count FROM generate_series(0, $1::int / 9 - 1) AS family),
  drawn AS (
    SELECT family * 30::bigint + row_number() OVER (PARTITION BY family) AS serial, kind, family * 9 + one + 1 AS from_part, (family + step) % count * 9 + other + 1 AS to_part
      FROM families CROSS JOIN pattern
    UNION ALL SELECT family * 30::bigint + 29, 'same as', family * 9 + 10, family * 9 + 1 FROM families WHERE family % 5000 < 10)
  INSERT INTO relations (id, group_id, kind, from_part_id, to_part_id, conditions, since, evidence_kind, evidence_words, accepted_by, accepted_at,
                         withdrawn_by, withdrawn_at, withdrawn_why)
  SELECT pg_temp.id_of('relation', serial), pg_temp.id_of('relation', serial), kind, pg_temp.id_of('part', from_part), pg_temp.id_of('part', to_part),
         CASE WHEN kind = 'will serve for' AND serial % 4 = 0 THEN 'with the thicker shim' ELSE '' END,
         CASE WHEN kind = 'supersession' THEN (1928 + serial % 40)::text END,
         (ARRAY['catalogue', 'measured', 'trial fitted', 'told'])[1 + serial % 4], 'list of ' || 1930 + serial % 40 || ', page ' || 1 + serial % 300,
         pg_temp.id_of('person', 1), timestamptz '2026-01-05 09:00Z' + serial * interval '1 second',
         CASE WHEN withdrawn THEN pg_temp.id_of('person', 1) END, CASE WHEN withdrawn THEN now() END, CASE WHEN withdrawn THEN 'the bore differs' END
    FROM drawn, LATERAL (SELECT (serial / 30 + serial) % 30 = 7 AS withdrawn) AS of`;

/** In place of the few plain parts of a workshop that is measured for its stock. Needs `pg_temp.id_of`. */
export async function fillLargeCatalogue(client: pg.Client, size: CatalogueSize): Promise<void> {
  await client.query("SET LOCAL maintenance_work_mem = '1GB'; SET LOCAL work_mem = '256MB'");
  await client.query(furtherMakers);
  await withoutIndexes(client, 'parts', () => client.query(parts, [size.parts]));
  await withoutIndexes(client, 'part_numbers', () => client.query(numbers, [size.numbers, size.parts]));
  await withoutIndexes(client, 'relations', () => client.query(relations, [size.parts]));
}

/** An index is made, and a foreign key is checked, of a full table in a fraction of the time that they take row by row. */
async function withoutIndexes(client: pg.Client, table: string, fill: () => Promise<unknown>): Promise<void> {
  const indexes = await client.query<{ name: string; definition: string }>(
    `SELECT indexrelid::regclass::text AS name, pg_get_indexdef(indexrelid) AS definition FROM pg_index
      WHERE indrelid = $1::regclass AND NOT EXISTS (SELECT 1 FROM pg_constraint WHERE conindid = indexrelid)`,
    [table],
  );
  const keys = await client.query<{ name: string; definition: string }>(
    `SELECT quote_ident(conname) AS name, pg_get_constraintdef(oid) AS definition FROM pg_constraint WHERE conrelid = $1::regclass AND contype = 'f'`,
    [table],
  );
  for (const { name } of indexes.rows) await client.query(`DROP INDEX ${name}`);
  for (const { name } of keys.rows) await client.query(`ALTER TABLE ${table} DROP CONSTRAINT ${name}`);
  await fill();
  for (const { definition } of indexes.rows) await client.query(definition);
  for (const { name, definition } of keys.rows) await client.query(`ALTER TABLE ${table} ADD CONSTRAINT ${name} ${definition}`);
}
