/**
 * A history of strip-downs: every unit taken apart, each component with one finding, one in two hundred put right since. The trigger that counts them row
 * by row is put aside meanwhile and the counts are reckoned at once from all findings, as the migration does; the check of the books compares them.
 */
import type pg from 'pg';

export const componentsPerType = 40;
const unitsPerLoad = 50;

const statements = {
  components: `
    INSERT INTO unit_type_components (unit_type_id, position, name, quantity)
    SELECT id, position, 'Component ' || position, CASE WHEN position % 10 = 0 THEN 4 ELSE 1 END FROM unit_types, generate_series(1, ${componentsPerType}) AS position`,
  loads: `
    INSERT INTO loads (id, number, words, seller_id, bought_on)
    SELECT pg_temp.id_of('load', number), nextval('load_numbers'), 'Load of cores', pg_temp.id_of('party', 201 + number % 20), date '2005-01-01' + number
      FROM generate_series(0, $1::int / ${unitsPerLoad}) AS number`,
  loadRows: `
    INSERT INTO load_rows (thing_id, load_id, position)
    SELECT pg_temp.id_of('unit', number), pg_temp.id_of('load', number / ${unitsPerLoad}), 1 + number % ${unitsPerLoad} FROM generate_series(1, $1::int) AS number`,
  stripDowns: `
    INSERT INTO strip_downs (id, command_key, unit_id, unit_type_id, begun_by, closed_by, closed_at)
    SELECT pg_temp.id_of('strip', number), pg_temp.id_of('command', 1), pg_temp.id_of('unit', number), unit_type_id, pg_temp.id_of('person', 1), pg_temp.id_of('person', 1), now()
      FROM generate_series(1, $1::int) AS number JOIN units ON thing_id = pg_temp.id_of('unit', number)`,
  // the further down the list, the better; a seventh was never looked at
  findings: `
    INSERT INTO strip_findings (id, command_key, strip_down_id, position, name, kind, quantity, disposition, looked_at, person_id)
    SELECT pg_temp.id_of('finding', number::bigint * ${componentsPerType} + position), pg_temp.id_of('command', 1), pg_temp.id_of('strip', number), position, 'Component ' || position,
           'as expected', CASE WHEN position % 10 = 0 THEN 4 ELSE 1 END,
           CASE WHEN (number * 31 + position * 17) % 100 < 10 + 2 * position THEN (ARRAY['left in place', 're-use here', 'to stores'])[1 + number % 3] ELSE (ARRAY['replace', 'scrap', 're-use after rework'])[1 + number % 3] END,
           (number + position) % 7 > 0, pg_temp.id_of('person', 1)
      FROM generate_series(1, $1::int) AS number, generate_series(1, ${componentsPerType}) AS position`,
  putRight: `
    INSERT INTO strip_findings (id, command_key, strip_down_id, position, name, kind, quantity, disposition, looked_at, supersedes_id, person_id)
    SELECT gen_random_uuid(), command_key, strip_down_id, position, name, kind, quantity, 'scrap', true, id, person_id
      FROM strip_findings WHERE position = 1 + get_byte(uuid_send(strip_down_id), 15) % 200`,
  counts: `
    INSERT INTO component_yields (unit_type_id, position, grade, looked, serviceable, after_work)
    SELECT strip_downs.unit_type_id, position, grade, sum(looked), sum(serviceable), sum(after_work)
      FROM counted_findings JOIN strip_downs ON strip_downs.id = strip_down_id JOIN units ON units.thing_id = unit_id
     GROUP BY strip_downs.unit_type_id, position, grade`,
};

/** Takes every one of so many units apart. */
export async function fillStripDowns(client: pg.Client, units: number): Promise<void> {
  await client.query('ALTER TABLE strip_findings DISABLE TRIGGER strip_findings_counted');
  await client.query(statements.components);
  await client.query(statements.loads, [units]);
  await client.query(statements.loadRows, [units]);
  await client.query(statements.stripDowns, [units]);
  await client.query(statements.findings, [units]);
  await client.query(statements.putRight);
  await client.query('ANALYZE strip_findings, strip_downs, units');
  await client.query(statements.counts);
  await client.query('ALTER TABLE strip_findings ENABLE TRIGGER strip_findings_counted');
}
