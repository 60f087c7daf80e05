import { randomBytes } from 'node:crypto';
import type { Database, Reader } from '../../platform/database/database.js';
import { countDifferenceId, regroupingId } from '../ledger.js';
import { codeOf, saidEmpty } from '../place-words.js';

/** A difference between what the movements and the entries of cost say and what the books keep. */
export interface Difference {
  what:
    | 'balance'
    | 'held'
    | 'awaited'
    | 'crossing'
    | 'claimed'
    | 'claimed of an order'
    | 'conservation'
    | 'holders of a single thing'
    | 'claims above held'
    | 'claims above expected'
    | 'way to a place'
    | 'cost of a load'
    | 'bearer of a share'
    | 'cost passed on'
    | 'bearer of what was passed on'
    | 'pieces of a box'
    | 'yield of a component'
    | 'words of a unit'
    | 'words of a type'
    | 'open container'
    | 'use of a container'
    | 'goods between two lots'
    | 'lot that is part of another'
    | 'label that is shown'
    | 'difference of a count'
    | 'owner'
    | 'kept for its owner'
    | 'condemned'
    | 'line of a receipt'
    | 'total of a receipt'
    | 'numbers of receipts'
    | 'count of opening stock'
    | 'cost of opening stock';
  thing: string;
  holder: string | null;
  kept: string;
  rebuilt: string;
}

/** What the database may use to sort and to add up, for each step of a check; a step that needs more goes by the disk. */
const workMemory = '32MB';

/**
 * Rebuilds every balance and counter from the movements and claims alone and compares. Reads only, and all of it as the books stand at one moment; the movements
 * are gone through once, and beside that, over a second connection, what is checked without them. A thing is named by its code where it has one.
 */
export async function verifyBooks(database: Database): Promise<Difference[]> {
  const found = await database.bothWithMemory(workMemory, differInMovements, differInRecords);
  return found.flat();
}

async function differInMovements(reader: Reader): Promise<Difference[]> {
  const rows = await reader.rows<Difference & Record<string, unknown>>(byMovements, [aNumber()]);
  return Object.keys(movementChecks).flatMap((what) => rows.filter((row) => row.what === what));
}

async function differInRecords(reader: Reader): Promise<Difference[]> {
  const differences: Difference[] = [];
  for (const [what, text] of Object.entries(checks) as [keyof typeof checks, string][]) {
    const found = await reader.rows<Omit<Difference, 'what'> & Record<string, unknown>>(text);
    differences.push(...found.map(({ thing, holder, kept, rebuilt }) => ({ what, thing, holder, kept, rebuilt })));
  }
  return differences;
}

/** Some whole number below 2^62, another each time. */
function aNumber(): string {
  return (randomBytes(8).readBigUInt64BE() >> 2n).toString();
}

export async function countMovements(reader: Reader): Promise<number> {
  const row = await reader.row<{ count: number }>('SELECT count(*)::int AS count FROM movements');
  return row?.count ?? 0;
}

const named = (thing: string): string => `coalesce(${codeOf(thing)}, ${thing}::text)`;

/**
 * SQL, $1 any whole number, another each time: `counted`, what the movements of each thing come to, in one pass over them, and what its balances add up to; `rebuilt`,
 * the balances of those things whose are not what the movements say. Where the balances are what the movements say, what is held and awaited is added up from them, for
 * there are fewer; where they are not, from what was rebuilt.
 *
 * To add up each thing at each holder would need a sum for each of some millions of pairs. Instead each holder is given a number by $1, and a thing's movements
 * into a holder less those out of it are added up times that number, and so are its balances. The sums are exact, so they are equal where all balances agree; where any
 * two do not they are equal only if the numbers happen to cancel out, which a run in 2^60 might meet, and the next one with other numbers would not. What came to us and what left us by the mark
 * of the movement is added up beside it, times one more number, and so are the balances of what is stock.
 */
const numberOf = (holder: string): string => `(uuid_hash_extended(${holder}, $1) >> 2)`;
const numberOfStock = numberOf("'00000000-0000-0000-0000-000000000000'::uuid");
const awaits = (holder: string): string => `(${holder}.kind = 'outworker')`;
const fromMovements = `
  WITH moved AS MATERIALIZED (
    SELECT thing_id, sum(quantity * (${numberOf('to_holder_id')} - ${numberOf('from_holder_id')} + crossing * ${numberOfStock})) AS print FROM movements GROUP BY thing_id),
  kept AS MATERIALIZED (
    SELECT thing_id, sum(quantity * (${numberOf('holder_id')} + holders.is_stock::integer * ${numberOfStock})) AS print, sum(quantity) AS quantity, count(*) FILTER (WHERE quantity > 0) AS held_by, max(quantity) AS most,
           sum(quantity) FILTER (WHERE holders.counts) AS held, sum(quantity) FILTER (WHERE ${awaits('holders')}) AS awaited
      FROM balances JOIN holders ON holders.id = holder_id GROUP BY thing_id),
  compared AS MATERIALIZED (
    SELECT things.id, single, things.held AS held_kept, things.awaited AS awaited_kept, kept.held, kept.awaited, kept.quantity AS kept, held_by, most,
           coalesce(moved.print, 0) <> coalesce(kept.print, 0) AS is_other
      FROM things LEFT JOIN moved ON moved.thing_id = things.id LEFT JOIN kept ON kept.thing_id = things.id),
  rebuilt AS MATERIALIZED (
    SELECT thing_id, holder_id, sum(quantity) AS quantity FROM (
      SELECT thing_id, to_holder_id AS holder_id, quantity FROM movements WHERE thing_id IN (SELECT id FROM compared WHERE is_other)
      UNION ALL SELECT thing_id, from_holder_id, -quantity FROM movements WHERE thing_id IN (SELECT id FROM compared WHERE is_other)) AS legs
     GROUP BY thing_id, holder_id),
  added AS MATERIALIZED (
    SELECT thing_id, sum(quantity) FILTER (WHERE holders.counts) AS held, sum(quantity) FILTER (WHERE ${awaits('holders')}) AS awaited
      FROM rebuilt JOIN holders ON holders.id = holder_id GROUP BY thing_id),
  counted AS MATERIALIZED (
    SELECT id, single, held_kept, awaited_kept, kept, held_by, most, is_other,
           coalesce(CASE WHEN is_other THEN added.held ELSE compared.held END, 0) AS held,
           coalesce(CASE WHEN is_other THEN added.awaited ELSE compared.awaited END, 0) AS awaited
      FROM compared LEFT JOIN added ON added.thing_id = id)`;

/** What is checked on the way through the movements, each by what `fromMovements` gives. */
const movementChecks = {
  balance: `
    SELECT ${named('coalesce(there.thing_id, rebuilt.thing_id)')} AS thing, coalesce(there.holder_id, rebuilt.holder_id)::text AS holder,
           coalesce(there.quantity, 0)::text AS kept, coalesce(rebuilt.quantity, 0)::text AS rebuilt
      FROM (SELECT thing_id, holder_id, quantity FROM balances WHERE thing_id IN (SELECT id FROM counted WHERE is_other)) AS there
      FULL JOIN rebuilt USING (thing_id, holder_id) WHERE coalesce(there.quantity, 0) <> coalesce(rebuilt.quantity, 0)`,
  held: `SELECT ${named('id')}, NULL, held_kept::text, held::text FROM counted WHERE held_kept <> held`,
  awaited: `SELECT ${named('id')}, NULL, awaited_kept::text, awaited::text FROM counted WHERE awaited_kept <> awaited`,
  crossing: `
    SELECT ${named('id')}, NULL, coalesce(crossed, 0)::text, (held + awaited)::text
      FROM counted LEFT JOIN (SELECT thing_id, sum(quantity * crossing) AS crossed FROM movements WHERE thing_id IN (SELECT id FROM counted WHERE is_other) GROUP BY thing_id) AS marked ON thing_id = id
     WHERE is_other AND coalesce(crossed, 0) <> held + awaited`,
  conservation: `SELECT ${named('id')}, NULL, kept::text, '0' FROM counted WHERE kept <> 0`,
  'holders of a single thing': `
    SELECT ${named('id')}, NULL, held_by::text, '1' FROM counted WHERE single AND NOT is_other AND (held_by > 1 OR most > 1)
    UNION ALL SELECT ${named('thing_id')}, NULL, count(*)::text, '1' FROM rebuilt JOIN things ON things.id = thing_id AND single
     WHERE quantity > 0 GROUP BY thing_id HAVING count(*) > 1 OR max(quantity) > 1`,
} satisfies Partial<Record<Difference['what'], string>>;

const byMovements = `${fromMovements}
  ${Object.entries(movementChecks)
    .map(([what, text]) => `SELECT '${what}' AS what, checked.* FROM (${text}) AS checked`)
    .join(' UNION ALL ')}`;

/** Every other check is a statement of its own: what differs, with what is kept and what it should be. */
const checks: Record<Exclude<Difference['what'], keyof typeof movementChecks>, string> = {
  claimed: `
    SELECT ${named('things.id')} AS thing, NULL AS holder, things.claimed::text AS kept, coalesce(rebuilt.quantity, 0)::text AS rebuilt
      FROM things LEFT JOIN (SELECT thing_id, sum(quantity) AS quantity FROM claims GROUP BY thing_id) AS rebuilt ON rebuilt.thing_id = things.id
     WHERE things.claimed <> coalesce(rebuilt.quantity, 0)`,
  'claimed of an order': `
    SELECT 'order ' || order_reference AS thing, NULL AS holder, receipts.claimed::text AS kept, coalesce(rebuilt.quantity, 0)::text AS rebuilt
      FROM expected_receipts AS receipts
      LEFT JOIN (SELECT receipt_id, sum(quantity) AS quantity FROM expected_claims GROUP BY receipt_id) AS rebuilt ON receipt_id = receipts.id
     WHERE receipts.claimed <> coalesce(rebuilt.quantity, 0)`,
  'claims above held': `
    SELECT ${named('id')} AS thing, NULL AS holder, claimed::text AS kept, (held + awaited)::text AS rebuilt FROM things WHERE claimed > held + awaited`,
  // Of an order that was called off nothing is expected.
  'claims above expected': `
    SELECT 'order ' || order_reference AS thing, NULL AS holder, claimed::text AS kept, expected.quantity::text AS rebuilt
      FROM expected_receipts
     CROSS JOIN LATERAL (SELECT CASE WHEN called_off THEN 0 ELSE expected_receipts.quantity - quantity_received END AS quantity) AS expected
     WHERE claimed > expected.quantity`,
  'way to a place': `
    WITH RECURSIVE down AS (
      SELECT holder_id, name AS path FROM places WHERE parent_id IS NULL
      UNION ALL SELECT places.holder_id, down.path || ', ' || places.name FROM down JOIN places ON places.parent_id = down.holder_id)
    SELECT ${named('places.holder_id')} AS thing, places.holder_id::text AS holder, places.path AS kept, down.path AS rebuilt
      FROM places LEFT JOIN down USING (holder_id) WHERE places.path IS DISTINCT FROM down.path`,
  // What was shared last is what the things of the load bear, to the last minor unit, in one currency.
  'cost of a load': `
    SELECT 'load ' || loads.number AS thing, NULL AS holder, coalesce(borne.amount, 0)::text AS kept, shared.cost_minor::text AS rebuilt
      FROM loads
      JOIN LATERAL (SELECT cost_minor, currency FROM load_sharings WHERE load_id = loads.id ORDER BY sequence DESC LIMIT 1) AS shared ON true
      LEFT JOIN LATERAL (SELECT sum(amount_minor) AS amount, min(currency) AS currency, count(DISTINCT currency) AS currencies
                           FROM cost_entries JOIN load_rows ON load_rows.thing_id = cost_entries.thing_id AND load_rows.load_id = loads.id
                          WHERE cost_entries.load_id = loads.id AND kind = 'load share') AS borne ON true
     WHERE coalesce(borne.amount, 0) <> shared.cost_minor OR borne.currencies <> 1 OR borne.currency <> shared.currency`,
  'bearer of a share': `
    SELECT ${named('cost_entries.thing_id')} AS thing, NULL AS holder, sum(amount_minor)::text AS kept, '0' AS rebuilt
      FROM cost_entries LEFT JOIN load_rows ON load_rows.thing_id = cost_entries.thing_id AND load_rows.load_id = cost_entries.load_id
     WHERE kind = 'load share' AND load_rows.thing_id IS NULL GROUP BY cost_entries.thing_id`,
  // What a unit or a box bore is what it kept and what it passed on: what is passed on comes to nought, each time and in one currency.
  'cost passed on': `
    SELECT ${named('cost_passings.whole_id')} AS thing, NULL AS holder, coalesce(sum(amount_minor), 0)::text AS kept, '0' AS rebuilt
      FROM cost_passings LEFT JOIN cost_entries ON cost_entries.passing_id = cost_passings.id
     GROUP BY cost_passings.id
    HAVING coalesce(sum(amount_minor), 0) <> 0 OR count(DISTINCT cost_entries.currency) > 1 OR min(cost_entries.currency) <> cost_passings.currency`,
  'bearer of what was passed on': `
    SELECT ${named('cost_entries.thing_id')} AS thing, whole_id::text AS holder, sum(amount_minor)::text AS kept, '0' AS rebuilt
      FROM cost_entries
     WHERE kind = 'passed on' AND thing_id <> whole_id
       AND NOT EXISTS (SELECT FROM lots WHERE lots.thing_id = cost_entries.thing_id AND donor_unit_id = whole_id)
       AND NOT EXISTS (SELECT FROM components WHERE components.thing_id = cost_entries.thing_id AND unit_id = whole_id)
       AND NOT EXISTS (SELECT FROM box_takings WHERE box_takings.thing_id = cost_entries.thing_id AND box_id = whole_id)
     GROUP BY cost_entries.thing_id, whole_id`,
  // No more is named of a box than was counted in it, and one that was said to be empty has left the stores.
  'pieces of a box': `
    SELECT ${named('boxes.thing_id')} AS thing, NULL AS holder, coalesce(piece_count::text, 'not counted') AS kept,
           pieces_named_of(boxes.thing_id)::text AS rebuilt
      FROM unsorted_boxes AS boxes JOIN things ON things.id = boxes.thing_id
     WHERE pieces_named_of(boxes.thing_id) > piece_count OR (things.held > 0 AND ${saidEmpty('boxes.thing_id')})`,
  // Pieces serviceable, serviceable after work, and looked at, as the findings that stand have them.
  'yield of a component': `
    WITH rebuilt AS (
      SELECT strip_downs.unit_type_id, position, grade, sum(looked) AS looked, sum(serviceable) AS serviceable, sum(after_work) AS after_work
        FROM counted_findings JOIN strip_downs ON strip_downs.id = strip_down_id JOIN units ON units.thing_id = unit_id
       WHERE strip_downs.unit_type_id IS NOT NULL GROUP BY strip_downs.unit_type_id, position, grade),
    both_sides AS (
      SELECT unit_type_id, position, grade,
             concat_ws(', ', coalesce(kept.serviceable, 0), coalesce(kept.after_work, 0), coalesce(kept.looked, 0)) AS kept,
             concat_ws(', ', coalesce(rebuilt.serviceable, 0), coalesce(rebuilt.after_work, 0), coalesce(rebuilt.looked, 0)) AS rebuilt
        FROM component_yields AS kept FULL JOIN rebuilt USING (unit_type_id, position, grade))
    SELECT concat_ws(' ', model, 'component', position, 'grade', grade) AS thing, NULL AS holder, kept, rebuilt
      FROM both_sides JOIN unit_types ON unit_types.id = unit_type_id WHERE kept <> rebuilt`,
  // A unit is looked for by what its type is called now.
  'words of a unit': `
    SELECT ${named('thing_id')} AS thing, NULL AS holder, sought::text AS kept, words_of_unit(unit_type_id, words, marks)::text AS rebuilt
      FROM units WHERE sought <> words_of_unit(unit_type_id, words, marks)`,
  'words of a type': `
    SELECT concat_ws(' ', model, variant) AS thing, NULL AS holder, sought::text AS kept, words_of_type(maker_id, model, variant, kind)::text AS rebuilt
      FROM unit_types WHERE sought <> words_of_type(maker_id, model, variant, kind)`,
  // What was opened or found again last is open, and nothing else is.
  'open container': `
    WITH rebuilt AS (
      SELECT DISTINCT ON (thing_id) thing_id, kind IN ('opened', 'found again') AS open FROM container_events ORDER BY thing_id, sequence DESC)
    SELECT ${named('coalesce(kept.thing_id, rebuilt.thing_id)')} AS thing, NULL AS holder,
           CASE WHEN kept.thing_id IS NULL THEN 'not open' ELSE 'open' END AS kept, CASE WHEN rebuilt.open THEN 'open' ELSE 'not open' END AS rebuilt
      FROM open_containers AS kept FULL JOIN rebuilt USING (thing_id) WHERE (kept.thing_id IS NOT NULL) IS DISTINCT FROM coalesce(rebuilt.open, false)`,
  // A use is of a container of its part.
  'use of a container': `
    SELECT ${named('used.thing_id')} AS thing, NULL AS holder, used.part_id::text AS kept, coalesce(lots.part_id::text, 'none') AS rebuilt
      FROM consumable_uses AS used JOIN lots ON lots.thing_id = used.thing_id WHERE used.part_id IS DISTINCT FROM lots.part_id`,
  // What left one lot has come into another: over all of them nothing lies between, and each lot gave and got what its regroupings say.
  'goods between two lots': `
    WITH said AS (
      SELECT lot_id, sum(quantity) AS quantity FROM (
        SELECT from_lot_id AS lot_id, quantity FROM lot_regroupings UNION ALL SELECT to_lot_id, -quantity FROM lot_regroupings) AS each_way GROUP BY lot_id)
    SELECT ${named('coalesce(balances.thing_id, said.lot_id)')} AS thing, '${regroupingId}' AS holder, coalesce(balances.quantity, 0)::text AS kept,
           coalesce(said.quantity, 0)::text AS rebuilt
      FROM (SELECT * FROM balances WHERE holder_id = '${regroupingId}') AS balances FULL JOIN said ON said.lot_id = balances.thing_id
     WHERE coalesce(balances.quantity, 0) <> coalesce(said.quantity, 0)
    UNION ALL
    SELECT 'all lots', '${regroupingId}', sum(quantity)::text, '0' FROM balances WHERE holder_id = '${regroupingId}' HAVING sum(quantity) <> 0`,
  'lot that is part of another': `
    SELECT ${named('things.id')} AS thing, NULL AS holder, 'held ' || held || ', live labels ' || live.count AS kept, 'none' AS rebuilt
      FROM things CROSS JOIN LATERAL (SELECT count(*) FROM codes WHERE subject_id = things.id AND voided_at IS NULL) AS live
     WHERE merged_into_id IS NOT NULL
       AND (held <> 0 OR live.count <> 0 OR NOT EXISTS (SELECT FROM lot_regroupings WHERE from_lot_id = things.id AND to_lot_id = merged_into_id AND kind = 'merged'))`,
  'label that is shown': `
    SELECT min(code) AS thing, NULL AS holder, count(*) FILTER (WHERE NOT further)::text AS kept, '1' AS rebuilt
      FROM codes WHERE voided_at IS NULL AND kind IN ('U', 'L', 'C', 'X', 'P', 'J') GROUP BY subject_id HAVING count(*) FILTER (WHERE NOT further) <> 1`,
  // A difference that was posted moved no more than it was, to or from the count; one that was moved lies there by that movement.
  'difference of a count': `
    WITH sides AS (
      SELECT count_decisions.id, count_id, count_decisions.thing_id, count_decisions.sequence AS nth, side.place_id, side.change
        FROM count_decisions JOIN movements ON movements.id = movement_id
       CROSS JOIN LATERAL (VALUES (to_holder_id, quantity), (from_holder_id, -quantity)) AS side (place_id, change)),
    put_right AS (SELECT *, sum(change) OVER (PARTITION BY count_id, thing_id, place_id ORDER BY nth) - change AS before FROM sides)
    SELECT ${named('decided.thing_id')} AS thing, decided.place_id::text AS holder, (counted - books - coalesce(before, 0))::text AS kept, coalesce(change, 0)::text AS rebuilt
      FROM count_decisions AS decided JOIN movements ON movements.id = movement_id
      LEFT JOIN put_right ON put_right.id = decided.id AND put_right.place_id = decided.place_id
     WHERE decision IN ('posted', 'moved')
       AND (movements.thing_id <> decided.thing_id OR change IS NULL
         OR CASE decision WHEN 'posted' THEN change <> counted - books - before ELSE change <= 0 OR change > counted - books - before END)`,
  // Whose a thing is, is what the last act made it; each act begins with the owner that the one before it left.
  owner: `
    SELECT ${named('things.id')} AS thing, NULL AS holder, coalesce(owner_id::text, 'ours') AS kept, coalesce(latest.to_owner_id::text, 'ours') AS rebuilt
      FROM things JOIN LATERAL (SELECT to_owner_id FROM owner_changes WHERE thing_id = things.id ORDER BY sequence DESC LIMIT 1) AS latest ON true
     WHERE owner_id IS DISTINCT FROM latest.to_owner_id
    UNION ALL
    SELECT ${named('thing_id')}, NULL, coalesce(from_owner_id::text, 'ours'), coalesce(before::text, 'ours')
      FROM (SELECT thing_id, from_owner_id, lag(to_owner_id) OVER of_thing AS before, row_number() OVER of_thing AS nth FROM owner_changes
            WINDOW of_thing AS (PARTITION BY thing_id ORDER BY sequence)) AS changes
     WHERE nth > 1 AND from_owner_id IS DISTINCT FROM before`,
  'kept for its owner': `
    SELECT ${named('things.id')} AS thing, NULL AS holder, kept_for_owner::text AS kept, (open.thing_id IS NOT NULL)::text AS rebuilt
      FROM things LEFT JOIN kept_for_owners AS open ON open.thing_id = things.id AND ended_at IS NULL
     WHERE kept_for_owner <> (open.thing_id IS NOT NULL)`,
  condemned: `
    SELECT ${named('things.id')} AS thing, NULL AS holder, 'false' AS kept, 'true' AS rebuilt
      FROM condemnations JOIN things ON things.id = condemnations.thing_id WHERE NOT condemned`,
  // What a receipt says was sold left the stores by its movements, and its lines come to its total; the numbers have no gaps.
  'line of a receipt': `
    SELECT ${named('sale_lines.thing_id')} AS thing, sale_lines.id::text AS holder, trim_scale(sale_lines.quantity)::text AS kept,
           trim_scale(coalesce(sum(movements.quantity), 0))::text AS rebuilt
      FROM sale_lines LEFT JOIN sale_movements ON sale_line_id = sale_lines.id LEFT JOIN movements ON movements.id = movement_id
     GROUP BY sale_lines.id HAVING sale_lines.quantity <> coalesce(sum(movements.quantity), 0)`,
  'total of a receipt': `
    SELECT 'receipt ' || number AS thing, NULL AS holder, total_minor::text AS kept, coalesce(sum(price_minor), 0)::text AS rebuilt
      FROM sales LEFT JOIN sale_lines ON sale_id = sales.id GROUP BY sales.id HAVING total_minor <> coalesce(sum(price_minor), 0)`,
  'numbers of receipts': `
    SELECT 'receipts' AS thing, NULL AS holder, last::text AS kept, counted::text AS rebuilt
      FROM receipt_numbers, (SELECT count(*) AS counted, coalesce(max(number), 0) AS highest FROM sales) AS written
     WHERE last <> counted OR last <> highest`,
  // What a row says was found is what came in for it, through the count; what was struck out went the same way.
  'count of opening stock': `
    SELECT ${named('opening_rows.thing_id')} AS thing, NULL AS holder,
           CASE standing WHEN 'struck out' THEN 0 ELSE opening_rows.quantity END::text AS kept, coalesce(came.quantity, 0)::text AS rebuilt
      FROM opening_rows
      LEFT JOIN LATERAL (SELECT sum(CASE from_holder_id WHEN '${countDifferenceId}' THEN quantity ELSE -quantity END) AS quantity
                           FROM movements WHERE movements.thing_id = opening_rows.thing_id AND reason LIKE 'opening stock%') AS came ON true
     WHERE CASE standing WHEN 'struck out' THEN 0 ELSE opening_rows.quantity END <> coalesce(came.quantity, 0)`,
  'cost of opening stock': `
    SELECT ${named('coalesce(opening_rows.thing_id, borne.thing_id)')} AS thing, NULL AS holder, coalesce(cost_minor::text, 'not known') AS kept,
           coalesce(borne.amount::text, 'not known') AS rebuilt
      FROM opening_rows
      FULL JOIN (SELECT thing_id, sum(amount_minor) AS amount FROM cost_entries WHERE kind = 'opening stock' GROUP BY thing_id) AS borne
        ON borne.thing_id = opening_rows.thing_id
     WHERE cost_minor IS DISTINCT FROM borne.amount`,
};
