/**
 * Fills an empty, migrated database with a large invented workshop, by set-based statements of the owner's login. The
 * trigger that keeps balances row by row is put aside meanwhile and the balances are reckoned from all movements at once;
 * whoever fills a database verifies it afterwards, so that a difference would stop the measurement.
 */
import { makeCode } from '@corewright/codes/label-code';
import type pg from 'pg';
import { fillLargeCatalogue } from './catalogue-data.js';
import { fillHistory, historyBegan } from './history-data.js';
import { fillStripDowns } from './strip-data.js';

export interface WorkshopSize {
  lots: number;
  units: number;
  jobs: number;
  parts: number;
  bins: number;
  /** So many numbers of the parts, with relations to match; left out, two plain numbers a part and none. */
  numbers?: number;
  /** Every unit was taken apart; left out, none was. */
  isStripped?: boolean;
  /** So many movements of the lots, over the years; left out, what came in moved to jobs only. */
  movements?: number;
}

/** A job's lines: some fitted, some picked, some looked at, some on order, the rest open. */
export const linesPerJob = 60;
const linesFitted = 20;
const linesPicked = 10;
/** The lines from here on have nothing yet. */
export const firstOpenLine = 41;
/** So many does each line ask for; a measured fit takes one. */
const lineQuantity = 60;
const operationsPerJob = 6;

/** One id per kind of row and number, in the order of the numbers as ids made one after the other would be. */
export const idFunction = `
  CREATE FUNCTION pg_temp.id_of(kind text, number bigint) RETURNS uuid LANGUAGE sql IMMUTABLE AS $$
    SELECT (lpad(to_hex(1700000000000 + number * 977), 12, '0') || '7' || substr(md5(kind || number), 1, 3) || '8' || substr(md5(kind || number), 4, 15))::uuid
  $$`;

const words = {
  people: `INSERT INTO people (id, sign_in_name, display_name, role) VALUES (pg_temp.id_of('person', 1), 'edie', 'Edie Marrack', 'owner')`,
  workshop: `INSERT INTO workshop (name, time_zone, locale, currency) VALUES ('Orrisden Axle & Gear', 'Europe/London', 'en-GB', 'GBP')`,
  command: `INSERT INTO commands (key, person_id, route, request_hash) VALUES (pg_temp.id_of('command', 1), pg_temp.id_of('person', 1), 'opening stock', '')`,
  grades: `
    INSERT INTO grades (scale, letter, rank, meaning)
    SELECT scale, letter, rank, 'grade ' || letter FROM unnest(ARRAY['core', 'part']) AS scale, unnest(ARRAY['A', 'B', 'C', 'D']) WITH ORDINALITY AS of (letter, rank)
    ON CONFLICT (scale, letter) DO NOTHING`,
  parties: `
    INSERT INTO parties (id, name, is_customer, is_supplier)
    SELECT pg_temp.id_of('party', number), CASE WHEN number <= 200 THEN 'Customer ' || number ELSE 'Supplier ' || number END, number <= 200, number > 200 FROM generate_series(1, 220) AS number`,
  makers: `INSERT INTO makers (id, name) SELECT pg_temp.id_of('maker', number), name FROM unnest(ARRAY['Brantock', 'Dunmarrow', 'Pellow', 'Ostrey-Kell', 'Corvane']) WITH ORDINALITY AS of (name, number)`,
};

/** Every statement takes its numbers from the size; $1 is always the count of the rows. */
const rows = {
  unitTypes: `
    INSERT INTO unit_types (id, reference, maker_id, kind, model)
    SELECT pg_temp.id_of('type', number), 'T' || number, pg_temp.id_of('maker', 1 + number % 5), (ARRAY['overhead-worm axle', 'spiral-bevel axle', 'four-speed gearbox'])[1 + number % 3], 'WD' || number
      FROM generate_series(1, $1::int) AS number`,
  parts: `
    INSERT INTO parts (id, name, unit_of_measure, material, polymer)
    SELECT pg_temp.id_of('part', number), (ARRAY['Taper bearing cone', 'Worm wheel', 'Half shaft', 'Thrust washer', 'Side gear', 'Pinion shim', 'Hub bolt', 'Selector fork', 'Oil seal', 'Spider'])[1 + number % 10] || ' ' || number,
           'each', CASE WHEN number % 10 = 8 THEN 'rubber' ELSE 'metal' END, CASE WHEN number % 10 = 8 THEN 'NBR' ELSE '' END
      FROM generate_series(1, $1::int) AS number`,
  partNumbers: `
    INSERT INTO part_numbers (id, part_id, maker_id, number, number_key, is_main)
    SELECT pg_temp.id_of('number', number), pg_temp.id_of('part', 1 + number / 2), pg_temp.id_of('maker', 1 + number % 5), number || '/48', number || '48', number % 2 = 0
      FROM generate_series(0, $1::int * 2 - 1) AS number`,
  placeHolders: `
    INSERT INTO holders (id, kind)
    SELECT pg_temp.id_of('place', number), 'place' FROM generate_series(0, $1::int + $1::int / 20 + $1::int / 400 + 1) AS number`,
  // the site is 0, then areas of 20 racks, racks of 20 bins, bins
  places: `
    WITH sizes AS (SELECT $1::int / 400 + 1 AS areas, $1::int / 20 AS racks)
    INSERT INTO places (holder_id, parent_id, name, kind)
    SELECT pg_temp.id_of('place', number),
           CASE WHEN number = 0 THEN NULL WHEN number <= areas THEN pg_temp.id_of('place', 0) WHEN number <= areas + racks THEN pg_temp.id_of('place', 1 + (number - areas - 1) / 20)
                ELSE pg_temp.id_of('place', areas + 1 + (number - areas - racks - 1) / 20) END,
           CASE WHEN number = 0 THEN 'Stores' WHEN number <= areas THEN 'Bay ' || number WHEN number <= areas + racks THEN 'Rack ' || number ELSE 'Bin ' || number END,
           CASE WHEN number = 0 THEN 'site' WHEN number <= areas THEN 'area' WHEN number <= areas + racks THEN 'rack' ELSE 'bin' END
      FROM sizes, generate_series(0, $1::int + $1::int / 20 + $1::int / 400 + 1) AS number`,
  lotThings: `INSERT INTO things (id, kind) SELECT pg_temp.id_of('lot', number), 'L' FROM generate_series(1, $1::int) AS number`,
  lots: `
    INSERT INTO lots (thing_id, part_id, source, make, condition, packet_read, packet_precision, packet_earliest, packet_latest, packet_condition)
    SELECT pg_temp.id_of('lot', number), pg_temp.id_of('part', 1 + (number - 1) % $2::int), (ARRAY['old stock', 'new', 'harvested', 'bought used'])[1 + number % 4], (ARRAY['genuine', 'pattern', 'unknown'])[1 + number % 3],
           (ARRAY['as new', 'A', 'B'])[1 + number % 3], CASE WHEN dated THEN year::text ELSE '' END, CASE WHEN dated THEN 'year' ELSE 'unknown' END,
           CASE WHEN dated THEN make_date(year, 1, 1) END, CASE WHEN dated THEN make_date(year, 12, 31) END, CASE WHEN dated THEN 'sealed' ELSE 'none' END
      FROM generate_series(1, $1::int) AS number, LATERAL (SELECT number % 4 = 0 AS dated, 1950 + number % 74 AS year) AS packet`,
  unitThings: `
    INSERT INTO things (id, kind, owner_id) SELECT pg_temp.id_of('unit', number), 'U', CASE WHEN number % 10 = 0 THEN pg_temp.id_of('party', 1 + number % 200) END FROM generate_series(1, $1::int) AS number`,
  units: `
    INSERT INTO units (thing_id, unit_type_id, words, grade, marks, marks_key)
    SELECT pg_temp.id_of('unit', number), pg_temp.id_of('type', 1 + number % 40), '', (ARRAY['A', 'B', 'C', 'D'])[1 + number % 4], 'No. ' || number, 'NO' || number FROM generate_series(1, $1::int) AS number`,
  unitHolders: `INSERT INTO holders (id, kind) SELECT pg_temp.id_of('unit', number), 'unit' FROM generate_series(1, $1::int) AS number`,
  trayHolders: `INSERT INTO holders (id, kind) SELECT pg_temp.id_of('tray', number), 'tray' FROM generate_series(1, $1::int) AS number`,
  trays: `INSERT INTO places (holder_id, name, kind) SELECT pg_temp.id_of('tray', number), 'Tray ' || number, 'tray' FROM generate_series(1, $1::int) AS number`,
  jobs: `
    INSERT INTO jobs (id, unit_id, customer_id, title, build_standard, state, tray_id, opened_on)
    SELECT pg_temp.id_of('job', number), pg_temp.id_of('unit', number), NULL, 'Overhead-worm axle ' || number, 'serviceable', 'building', pg_temp.id_of('tray', number), '2026-01-05' FROM generate_series(1, $1::int) AS number`,
  operations: `
    INSERT INTO job_operations (id, job_id, number, name, minutes_planned, minutes_left, after_numbers)
    SELECT pg_temp.id_of('operation', job * ${operationsPerJob} + step), pg_temp.id_of('job', job), step * 10, 'Operation ' || step, 480, 240, CASE WHEN step = 1 THEN '{}'::smallint[] ELSE ARRAY[(step - 1) * 10]::smallint[] END
      FROM generate_series(1, $1::int) AS job, generate_series(1, ${operationsPerJob}) AS step`,
  lines: `
    INSERT INTO job_lines (id, job_id, line_no, part_id, quantity, operation_id, critical, reusable)
    SELECT pg_temp.id_of('line', job * ${linesPerJob} + line), pg_temp.id_of('job', job), line, pg_temp.id_of('part', 1 + (job * ${linesPerJob} + line) % $2::int), ${lineQuantity},
           pg_temp.id_of('operation', job * ${operationsPerJob} + 1 + (line - 1) / 10), line % 7 = 0, line % 5 = 0
      FROM generate_series(1, $1::int) AS job, generate_series(1, ${linesPerJob}) AS line`,
  findings: `
    INSERT INTO findings (id, command_key, job_line_id, quantity_reused, quantity_replaced, words)
    SELECT pg_temp.id_of('finding', job * ${linesPerJob} + line), pg_temp.id_of('command', 1), pg_temp.id_of('line', job * ${linesPerJob} + line), 0, ${lineQuantity}, 'worn'
      FROM generate_series(1, $1::int) AS job, generate_series(5, ${linesPerJob}, 5) AS line`,
  receipts: `
    INSERT INTO expected_receipts (id, order_reference, supplier_id, part_id, quantity, due_on, confirmed)
    SELECT pg_temp.id_of('receipt', number), 'O' || number, pg_temp.id_of('party', 201 + number % 20), pg_temp.id_of('part', 1 + number % $2::int), 5, '2027-03-01', number % 2 = 0 FROM generate_series(1, $1::int * 5) AS number`,
};

const arrival = (kind: 'lot' | 'unit', quantity: string): string => `
  INSERT INTO movements (id, command_key, thing_id, quantity, from_holder_id, to_holder_id, reason, occurred_at, recorded_at)
  SELECT pg_temp.id_of('${kind} arrival', number), pg_temp.id_of('command', 1), pg_temp.id_of('${kind}', number), ${quantity}, '00000000-0000-7000-8000-00000000c0d1',
         pg_temp.id_of('place', $2::int / 400 + 2 + $2::int / 20 + (number * 7) % ($2::int - 1)), 'opening stock', coalesce($3::timestamptz, now()), coalesce($3::timestamptz, clock_timestamp())
    FROM generate_series(1, $1::int) AS number`;

/** From the bin where the part's first lot arrived. */
const fromStock = (lines: string, reason: string, target: string): string => `
  INSERT INTO movements (id, command_key, thing_id, quantity, from_holder_id, to_holder_id, reason, occurred_at)
  SELECT pg_temp.id_of('${reason}', job * ${linesPerJob} + line), pg_temp.id_of('command', 1), first.thing_id, 1, first.to_holder_id, ${target}, '${reason}', now()
    FROM generate_series(1, $1::int) AS job CROSS JOIN ${lines} AS line CROSS JOIN LATERAL (SELECT 1 + (job * ${linesPerJob} + line) % $2::int AS number) AS part
    JOIN movements AS first ON first.id = pg_temp.id_of('lot arrival', part.number)`;
const fittedLines = `generate_series(1, ${linesFitted})`;
const pickedLines = `generate_series(${linesFitted + 1}, ${linesFitted + linesPicked})`;

const fittings = `
  INSERT INTO fittings (id, command_key, job_line_id, thing_id, movement_id, quantity)
  SELECT pg_temp.id_of('fitting', job * ${linesPerJob} + line), command_key, pg_temp.id_of('line', job * ${linesPerJob} + line), thing_id, movements.id, quantity
    FROM generate_series(1, $1::int) AS job CROSS JOIN ${fittedLines} AS line JOIN movements ON movements.id = pg_temp.id_of('fitted', job * ${linesPerJob} + line)`;
const claims = `
  INSERT INTO claims (id, thing_id, claimant_id, purpose_id, quantity)
  SELECT pg_temp.id_of('claim', job * ${linesPerJob} + line), thing_id, pg_temp.id_of('job', job), pg_temp.id_of('line', job * ${linesPerJob} + line), quantity
    FROM generate_series(1, $1::int) AS job CROSS JOIN ${pickedLines} AS line JOIN movements ON movements.id = pg_temp.id_of('picked', job * ${linesPerJob} + line)`;

/** What the trigger would have done with each movement. */
const settled = {
  balances: `
    INSERT INTO balances (thing_id, holder_id, single, boundary, with_us, quantity)
    SELECT thing_id, holder_id, single, boundary, counts, sum(quantity)
      FROM (SELECT thing_id, to_holder_id AS holder_id, quantity FROM movements UNION ALL SELECT thing_id, from_holder_id, -quantity FROM movements) AS legs
      JOIN things ON things.id = thing_id JOIN holders ON holders.id = holder_id GROUP BY thing_id, holder_id, single, boundary, counts`,
  held: `
    UPDATE things SET held = there.quantity
      FROM (SELECT thing_id, sum(quantity) AS quantity FROM balances JOIN holders ON holders.id = holder_id WHERE counts GROUP BY thing_id) AS there WHERE there.thing_id = things.id`,
};

/** Fills the database and gathers its statistics. The first lot of each part holds plenty; the others a few. */
export async function fillWorkshop(client: pg.Client, size: WorkshopSize): Promise<void> {
  await client.query('BEGIN');
  await client.query(idFunction);
  await client.query('ALTER TABLE movements DISABLE TRIGGER movements_balance');
  for (const statement of Object.values(words)) await client.query(statement);
  await fillCatalogue(client, size);
  await fillThings(client, size);
  if (size.movements !== undefined) await fillHistory(client, { ...size, movements: size.movements });
  await fillJobs(client, size);
  if (size.isStripped === true) await fillStripDowns(client, size.units);
  await client.query('ALTER TABLE movements ENABLE TRIGGER movements_balance');
  await client.query('COMMIT');
  await client.query('VACUUM ANALYZE');
}

async function fillCatalogue(client: pg.Client, { parts, numbers, bins }: WorkshopSize): Promise<void> {
  await client.query(rows.unitTypes, [40]);
  if (numbers === undefined) {
    await client.query(rows.parts, [parts]);
    await client.query(rows.partNumbers, [parts]);
  } else await fillLargeCatalogue(client, { parts, numbers });
  await client.query(rows.placeHolders, [bins]);
  await client.query(rows.places, [bins]);
}

async function fillThings(client: pg.Client, { lots, units, parts, bins, movements }: WorkshopSize): Promise<void> {
  const arrivedAt = movements === undefined ? null : historyBegan;
  await client.query(rows.lotThings, [lots]);
  await client.query(rows.lots, [lots, parts]);
  await giveCodes(client, 'L', 'lot', lots);
  await client.query(rows.unitThings, [units]);
  await client.query(rows.units, [units]);
  await client.query(rows.unitHolders, [units]);
  await giveCodes(client, 'U', 'unit', units);
  await client.query(arrival('lot', `CASE WHEN number <= ${parts} THEN 9000 ELSE 1 + number % 20 END`), [lots, bins, arrivedAt]);
  await client.query(arrival('unit', '1'), [units, bins, arrivedAt]);
}

async function fillJobs(client: pg.Client, { jobs, parts }: WorkshopSize): Promise<void> {
  await client.query(rows.trayHolders, [jobs]);
  await client.query(rows.trays, [jobs]);
  await giveCodes(client, 'P', 'tray', jobs);
  await client.query(rows.jobs, [jobs]);
  await giveCodes(client, 'J', 'job', jobs);
  await client.query(rows.operations, [jobs]);
  await client.query(rows.lines, [jobs, parts]);
  await client.query(rows.findings, [jobs]);
  await client.query(rows.receipts, [jobs, parts]);
  await client.query(fromStock(fittedLines, 'fitted', `pg_temp.id_of('unit', job)`), [jobs, parts]);
  await client.query(fittings, [jobs]);
  await client.query(fromStock(pickedLines, 'picked', `pg_temp.id_of('tray', job)`), [jobs, parts]);
  await client.query('ANALYZE movements, things, holders');
  await client.query(settled.balances);
  await client.query(settled.held);
  await client.query(claims, [jobs]);
}

/** The codes come from the library that makes every code, so that the server reads them. */
async function giveCodes(client: pg.Client, kind: 'L' | 'U' | 'P' | 'J', rowKind: string, count: number): Promise<void> {
  const codes = Array.from({ length: count }, (_, index) => makeCode(kind, index + 1));
  await client.query(
    `INSERT INTO codes (code, kind, subject_id) SELECT code, $2, pg_temp.id_of($3, number) FROM unnest($1::text[]) WITH ORDINALITY AS of (code, number)`,
    [codes, kind, rowKind],
  );
  await client.query('SELECT setval($1::regclass, $2)', [`code_serial_${kind.toLowerCase()}`, count]);
}
