/**
 * A lifetime of movements: a few lots and places that everything goes through, and many that hardly move. Written in the order of time, as a
 * ledger is, with the balances reckoned afterwards; the check of the books compares them.
 */
import type pg from 'pg';

/** What was there at the beginning was recorded then; the last movement was recorded yesterday. */
export const historyBegan = '2012-01-02T08:00:00Z';

/** Of the lots, the first `busy` are drawn from every day; those below `used` now and then; the others lie. */
export interface HistorySize {
  movements: number;
  lots: number;
  parts: number;
  bins: number;
  units: number;
}

const movementsOfBusy = 500;
const movementsOfUsed = 40;
/** One write in so many is of several movements, recorded at one instant. */
const tiedInSo = 7;

/**
 * $1 lots that hold plenty, $2 units. In turn: fitted to a unit, put away in a second bin and back, counted up or down; a lot of which there are
 * few is only moved and counted, so that it never runs out.
 */
const moves = `
  INSERT INTO movements (id, command_key, thing_id, quantity, from_holder_id, to_holder_id, reason, person_id, occurred_at, recorded_at, crossing)
  SELECT pg_temp.id_of('move', row_number() OVER (ORDER BY at, lot, turn)), pg_temp.id_of('command', 1), thing_id, 1,
         CASE act WHEN 'back' THEN second WHEN 'counted up' THEN '00000000-0000-7000-8000-00000000c0d1' ELSE home END,
         CASE act WHEN 'fitted' THEN unit_id WHEN 'away' THEN second WHEN 'counted down' THEN '00000000-0000-7000-8000-00000000c0d1' ELSE home END,
         CASE WHEN act = 'fitted' THEN 'fitted' WHEN act IN ('away', 'back') THEN 'put away' ELSE 'count' END, pg_temp.id_of('person', 1), at, at,
         CASE WHEN act IN ('fitted', 'counted down') THEN -1 WHEN act = 'counted up' THEN 1 ELSE 0 END
    FROM (
      SELECT drawn.lot, turn, lot_ids.thing_id, lot_ids.home, lot_ids.second, unit_ids.id AS unit_id,
             (CASE WHEN drawn.lot <= $1::int THEN ARRAY['away', 'fitted', 'back', 'fitted', 'counted up', 'fitted', 'counted down'] ELSE ARRAY['away', 'back', 'counted up', 'counted down'] END)
               [1 + (turn - 1) % CASE WHEN drawn.lot <= $1::int THEN 7 ELSE 4 END] AS act,
             date_trunc('second', timestamptz '${historyBegan}' + (now() - interval '1 day' - timestamptz '${historyBegan}') * ((turn - 1 + (drawn.lot * 0.6180339887) % 1) / drawn.turns))
               + CASE WHEN drawn.lot % ${tiedInSo} = 0 THEN interval '0' ELSE (drawn.lot % 999983) * interval '1 microsecond' END AS at
        FROM drawn CROSS JOIN LATERAL generate_series(1, drawn.turns) AS turn
        JOIN lot_ids ON lot_ids.lot = drawn.lot
        LEFT JOIN unit_ids ON unit_ids.number = 1 + (drawn.lot * 31 + turn * 7) % $2::int) AS moved
   ORDER BY at, lot, turn`;

const statements = {
  lotIds: `
    CREATE TEMP TABLE lot_ids AS
    SELECT number AS lot, pg_temp.id_of('lot', number) AS thing_id, first.to_holder_id AS home,
           pg_temp.id_of('place', $2::int / 400 + 2 + $2::int / 20 + (number * 7 + 1 + number % 5) % ($2::int - 1)) AS second
      FROM generate_series(1, $1::int) AS number JOIN movements AS first ON first.id = pg_temp.id_of('lot arrival', number)`,
  unitIds: `CREATE TEMP TABLE unit_ids AS SELECT number, pg_temp.id_of('unit', number) AS id FROM generate_series(1, $1::int) AS number`,
  // what is left of the count goes over the lots that lie, so that all of it is used
  drawn: `
    CREATE TEMP TABLE drawn AS
    SELECT lot, CASE WHEN lot <= $4::int THEN ${movementsOfBusy} WHEN lot <= $3::int THEN ${movementsOfUsed}
                     ELSE ($1::int - $4::int * ${movementsOfBusy} - ($3::int - $4::int) * ${movementsOfUsed}) / ($2::int - $3::int)
                          + CASE WHEN lot - $3::int <= ($1::int - $4::int * ${movementsOfBusy} - ($3::int - $4::int) * ${movementsOfUsed}) % ($2::int - $3::int) THEN 1 ELSE 0 END END AS turns
      FROM generate_series(1, $2::int) AS lot`,
  partWords: `
    UPDATE parts SET
      name = (ARRAY['Taper bearing cone', 'Worm wheel', 'Half shaft', 'Thrust washer', 'Side gear', 'Pinion shim', 'Hub bolt', 'Selector fork', 'Oil seal', 'Spider', 'Bush', 'Gasket', 'Circlip', 'Needle cage', 'Cover plate', 'Drain plug'])[1 + number % 16],
      description = concat_ws(' ', (ARRAY['front', 'rear', 'left', 'right', 'inner', 'outer', 'upper', 'lower'])[1 + number % 8],
        CASE number % 3 WHEN 0 THEN (10 + number % 90) || ' x ' || (20 + number % 83) || ' x ' || (5 + number % 11) WHEN 1 THEN (1 + number % 5) || ' ' || (1 + 2 * (number % 4)) || '/8" dia' ELSE 'to drawing ' || number END),
      nicknames = CASE WHEN number % 40 = 0 THEN 'the ' || (ARRAY['big', 'little', 'fat', 'long', 'ugly', 'green', 'squeaky', 'awkward'])[1 + number / 40 % 8] || ' ' ||
        (ARRAY['doughnut', 'penny', 'mushroom', 'top hat', 'biscuit', 'finger', 'saucer', 'pepper pot', 'horseshoe', 'trumpet'])[1 + number / 320 % 10] ELSE '' END
      FROM (SELECT id, row_number() OVER (ORDER BY id) AS number FROM parts) AS numbered WHERE numbered.id = parts.id`,
  placeWords: `
    UPDATE places SET nicknames = 'the ' || (ARRAY['cold', 'leaky', 'tall', 'crooked', 'window', 'stove'])[1 + number % 6] || ' ' || (ARRAY['shelf', 'corner', 'cupboard', 'drawer'])[1 + number / 6 % 4]
      FROM (SELECT holder_id, row_number() OVER (ORDER BY holder_id) AS number FROM places WHERE kind = 'bin') AS numbered
     WHERE numbered.holder_id = places.holder_id AND number % 200 = 0`,
} as const;

/** Moves what is there, and says itself what a movement crosses. The trigger that keeps balances is put aside by whoever calls. */
export async function fillHistory(client: pg.Client, { movements, lots, parts, bins, units }: HistorySize): Promise<void> {
  const busy = Math.floor(movements / 4 / movementsOfBusy);
  const used = Math.min(parts, busy + Math.floor((movements * 0.4) / movementsOfUsed));
  await client.query("SET LOCAL work_mem = '512MB'");
  await client.query(statements.lotIds, [lots, bins]);
  await client.query(statements.unitIds, [units]);
  await client.query(statements.drawn, [movements, lots, used, busy]);
  await client.query('ANALYZE lot_ids, unit_ids, drawn');
  const bare = await stripBare(client);
  await client.query('ALTER TABLE movements DISABLE TRIGGER movements_crossing');
  await client.query(moves, [parts, units]);
  await client.query('ALTER TABLE movements ENABLE TRIGGER movements_crossing');
  for (const statement of bare) await client.query(statement);
  await client.query(statements.partWords);
  await client.query(statements.placeWords);
}

const selectKeys = `
  SELECT format('ALTER TABLE movements DROP CONSTRAINT %I', conname) AS off, format('ALTER TABLE movements ADD CONSTRAINT %I %s', conname, pg_get_constraintdef(oid)) AS on
    FROM pg_constraint WHERE conrelid = 'movements'::regclass AND contype = 'f'`;
const selectIndexes = `
  SELECT format('DROP INDEX %I', relname) AS off, pg_get_indexdef(indexrelid) AS on
    FROM pg_index JOIN pg_class ON pg_class.oid = indexrelid
   WHERE indrelid = 'movements'::regclass AND NOT EXISTS (SELECT FROM pg_constraint WHERE conindid = indexrelid)`;

/** Row by row each key and index would cost more than the row. @returns what puts them back, each at once for all rows */
async function stripBare(client: pg.Client): Promise<string[]> {
  const back: string[] = [];
  for (const select of [selectKeys, selectIndexes])
    for (const { off, on } of (await client.query<{ off: string; on: string }>(select)).rows) {
      await client.query(off);
      back.push(on);
    }
  return back;
}
