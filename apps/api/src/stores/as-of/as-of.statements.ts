/**
 * Stock as it was, in SQL. $1 is always the instant before which all that was recorded counts. What is there now less what was recorded since is what was
 * there then; where most of the ledger is younger, it is added up from the beginning instead.
 */
import { codeOf, thingFacts, thingName, typeName } from '../place-words.js';

/** SQL: `inside`, a place and all that stands in it. */
const insideOf = (placeId: string): string => `
  RECURSIVE inside AS (
    SELECT holder_id, path FROM places WHERE holder_id = ${placeId}
    UNION ALL SELECT places.holder_id, places.path FROM places JOIN inside ON places.parent_id = inside.holder_id)`;

/** Which part of the ledger is read: the younger or the older. */
export type Direction = 'from now' | 'from the beginning';

/** Few holders, $2: an index has what came to each and what went, in the order of time, with the thing and how much. */
const ofHolders: Record<Direction, string> = {
  'from now': `
  SELECT thing_id, holder_id, sum(quantity) AS quantity FROM (
    SELECT thing_id, holder_id, quantity FROM balances WHERE holder_id = ANY ($2::uuid[]) AND quantity <> 0
    UNION ALL SELECT thing_id, to_holder_id, -quantity FROM movements WHERE to_holder_id = ANY ($2::uuid[]) AND recorded_at >= $1::timestamptz
    UNION ALL SELECT thing_id, from_holder_id, quantity FROM movements WHERE from_holder_id = ANY ($2::uuid[]) AND recorded_at >= $1::timestamptz) AS each
   GROUP BY thing_id, holder_id HAVING sum(quantity) <> 0`,
  'from the beginning': `
  SELECT thing_id, holder_id, sum(quantity) AS quantity FROM (
    SELECT thing_id, to_holder_id AS holder_id, quantity FROM movements WHERE to_holder_id = ANY ($2::uuid[]) AND recorded_at < $1::timestamptz
    UNION ALL SELECT thing_id, from_holder_id, -quantity FROM movements WHERE from_holder_id = ANY ($2::uuid[]) AND recorded_at < $1::timestamptz) AS each
   GROUP BY thing_id, holder_id HAVING sum(quantity) <> 0`,
};

/**
 * SQL, for many holders, where the ledger is read through: so much of each thing at each holder in the place $2, or at all of them. The tables of holders are joined as such: of a list that was made on the way
 * the database would look up each member by the index, which takes ten times as long as reading all.
 */
const inScope = `holders.is_stock AND ($2::uuid IS NULL OR holders.id IN (SELECT holder_id FROM inside))`;
const legOf = (side: 'to' | 'from', sign: '' | '-', when: string): string => `
  SELECT thing_id, holders.id AS holder_id, ${sign}quantity AS quantity FROM movements JOIN holders ON holders.id = ${side}_holder_id AND ${inScope} WHERE recorded_at ${when} $1::timestamptz`;
const ofScope: Record<Direction, string> = {
  'from now': `
    SELECT thing_id, holder_id, sum(quantity) AS quantity FROM (
      SELECT thing_id, holder_id, quantity FROM balances JOIN holders ON holders.id = holder_id AND ${inScope} WHERE quantity <> 0
      UNION ALL ${legOf('to', '-', '>=')} UNION ALL ${legOf('from', '', '>=')}) AS each
     GROUP BY thing_id, holder_id HAVING sum(quantity) <> 0`,
  'from the beginning': `
    SELECT thing_id, holder_id, sum(quantity) AS quantity FROM (${legOf('to', '', '<')} UNION ALL ${legOf('from', '-', '<')}) AS each
     GROUP BY thing_id, holder_id HAVING sum(quantity) <> 0`,
};

/** SQL: whose a thing was: whoever it was taken from first since, else whoever has it now. */
const ownerThen = `
  CASE WHEN EXISTS (SELECT FROM owner_changes WHERE owner_changes.thing_id = things.id AND recorded_at >= $1::timestamptz)
       THEN (SELECT from_owner_id FROM owner_changes WHERE owner_changes.thing_id = things.id AND recorded_at >= $1::timestamptz ORDER BY sequence LIMIT 1)
       ELSE things.owner_id END`;

const kindOf = "CASE things.kind WHEN 'U' THEN 'unit' WHEN 'L' THEN 'lot' WHEN 'C' THEN 'component' ELSE 'unsorted' END";

/** $2 the place or null, $3 the place and $4 the name after which to go on, $5 how many holders. */
export const holdersInOrder = {
  everywhere: `
    SELECT * FROM (
      (SELECT holder_id AS id, path AS name, true AS "isPlace" FROM places
        WHERE $2::boolean AND (path COLLATE "C", holder_id) >= ($3::text COLLATE "C", $4::uuid) ORDER BY path COLLATE "C", holder_id LIMIT $1)
      UNION ALL
      (SELECT id, name, false FROM (
         SELECT holders.id, coalesce(parties.name, 'a firm') AS name FROM holders LEFT JOIN parties ON parties.id = holders.id WHERE kind = 'outworker') AS outworkers
        WHERE $2::boolean OR (name COLLATE "C", id) >= ($3::text COLLATE "C", $4::uuid) ORDER BY name COLLATE "C", id LIMIT $1)) AS either
     ORDER BY "isPlace" DESC, name COLLATE "C", id LIMIT $1`,
  inside: `
    WITH ${insideOf('$5::uuid')}
    SELECT holder_id AS id, path AS name, true AS "isPlace" FROM inside
     WHERE $2::boolean AND (path COLLATE "C", holder_id) >= ($3::text COLLATE "C", $4::uuid)
     ORDER BY path COLLATE "C", holder_id LIMIT $1`,
};

/** What lay with the holders $2, in their order; of the first of them only what comes after the name $3 and the thing $4. */
export const linesOfHolders = (direction: Direction): string => `
  WITH stock AS (${ofHolders[direction]}),
  named AS (
    SELECT stock.*, ${thingName} AS name, ${kindOf} AS kind, ${ownerThen} AS owner_id,
           CASE things.kind
             WHEN 'U' THEN concat_ws(', ', nullif(${typeName}, ''), nullif(units.marks, ''))
             WHEN 'L' THEN concat_ws(', ', (SELECT number FROM part_numbers WHERE part_id = lots.part_id ORDER BY is_main DESC, id LIMIT 1), nullif(lots.marks, ''))
             ELSE '' END AS detail,
           coalesce(parts.unit_of_measure, 'each') AS unit_of_measure
      FROM stock JOIN things ON things.id = stock.thing_id ${thingFacts}),
  page AS (
    SELECT * FROM named WHERE $3::text IS NULL OR holder_id <> ($2::uuid[])[1] OR (name COLLATE "C", thing_id) > ($3::text COLLATE "C", $4::uuid)
     ORDER BY array_position($2::uuid[], holder_id), name COLLATE "C", thing_id LIMIT $5)
  SELECT thing_id AS "thingId", holder_id AS "holderId", kind, ${codeOf('thing_id')} AS code, page.name, detail, trim_scale(quantity)::text AS quantity,
         unit_of_measure AS "unitOfMeasure", page.owner_id AS "ownerId", owners.name AS "ownerName"
    FROM page LEFT JOIN parties AS owners ON owners.id = page.owner_id
   ORDER BY array_position($2::uuid[], holder_id), page.name COLLATE "C", thing_id`;

/** SQL: whose a thing was, as above, for many things: $1. */
const changedSince = `
  SELECT DISTINCT ON (thing_id) thing_id, from_owner_id FROM owner_changes WHERE recorded_at >= $1::timestamptz ORDER BY thing_id, sequence`;

/**
 * @param quantity SQL: how much there was of a thing, for `things` with what is joined to it
 * @param joined SQL: what the quantity is reckoned from; outer joins, so that the planner knows how many things there are
 * @param places SELECT of how many holders had something
 */
const sumsOf = (quantity: string, joined: string, places: string): string => `
  owned AS (
    SELECT ${quantity} AS quantity, ${kindOf} AS kind, coalesce(parts.unit_of_measure, 'each') AS unit_of_measure,
           CASE WHEN changed.thing_id IS NULL THEN things.owner_id ELSE changed.from_owner_id END IS NOT NULL AS is_customers
      FROM things ${joined} LEFT JOIN lots ON lots.thing_id = things.id LEFT JOIN parts ON parts.id = lots.part_id
      LEFT JOIN (${changedSince}) AS changed ON changed.thing_id = things.id)
  SELECT is_customers AS "isCustomers", kind, unit_of_measure AS "unitOfMeasure", count(*)::integer AS things, trim_scale(sum(quantity))::text AS quantity,
         (${places}) AS places
    FROM owned WHERE quantity <> 0
   GROUP BY is_customers, kind, unit_of_measure ORDER BY is_customers, array_position(ARRAY['unit', 'lot', 'component', 'unsorted'], kind), unit_of_measure`;

/** Few: it is not worth an index that has them beside those with us. */
const outworkers = "SELECT id FROM holders WHERE kind = 'outworker'";

/** SQL: every holder, and whether it is among those that are asked about: all of ours, or those of the places $2. */
const scopes = {
  everywhere: '(SELECT id, is_stock AS inside FROM holders)',
  ofPlaces: `(SELECT holders.id, is_stock AND there.id IS NOT NULL AS inside FROM holders LEFT JOIN unnest($2::uuid[]) AS there (id) ON there.id = holders.id)`,
};

/**
 * What all of it came to. Nothing that counts is ever less than nothing, so it is enough to know how much there was of each thing over all of the holders, and how much at each
 * holder over all things (`placesOfMany`): two sums of some hundred thousand rows and some ten thousand, where each thing at each holder would be millions. What moved within does not come into the first;
 * whether a movement crossed the bounds of all that is stock stands beside it.
 */
const sumsOfMany = (scope: keyof typeof scopes, direction: Direction): string => {
  const isBack = direction === 'from now';
  const when = isBack ? '>=' : '<';
  const held =
    scope === 'everywhere'
      ? { quantity: 'held + awaited', joined: '' }
      : {
          quantity: 'coalesce(lying.quantity, 0)',
          joined: `LEFT JOIN (SELECT thing_id, sum(quantity) AS quantity FROM balances JOIN ${scopes[scope]} AS there ON there.id = holder_id AND inside
                               WHERE quantity <> 0 GROUP BY thing_id) AS lying ON lying.thing_id = things.id`,
        };
  const cameIn = { everywhere: 'crossing > 0', ofPlaces: 'targets.inside' }[scope];
  const movements = {
    everywhere: 'movements WHERE crossing <> 0',
    ofPlaces: `movements JOIN ${scopes.ofPlaces} AS sources ON sources.id = from_holder_id JOIN ${scopes.ofPlaces} AS targets ON targets.id = to_holder_id
               WHERE sources.inside <> targets.inside`,
  }[scope];
  const crossed = `
    LEFT JOIN (
      SELECT thing_id, ${isBack ? '-' : ''}sum(CASE WHEN ${cameIn} THEN quantity ELSE -quantity END) AS quantity
        FROM ${movements} AND recorded_at ${when} $1::timestamptz GROUP BY thing_id) AS crossed ON crossed.thing_id = things.id`;
  const quantity = isBack ? `${held.quantity} + coalesce(crossed.quantity, 0)` : 'coalesce(crossed.quantity, 0)';
  return `WITH ${sumsOf(quantity, `${isBack ? held.joined : ''} ${crossed}`, 'NULL::integer')}`;
};

/** How many holders had something. By each end of a movement at one reading of the ledger, which Postgres does in one process: that takes less of both cores than two readings shared out. */
const placesOfMany = (scope: keyof typeof scopes, direction: Direction): string => {
  const isBack = direction === 'from now';
  const [came, went] = isBack ? ['-', ''] : ['', '-'];
  const now = `
    UNION ALL SELECT holder_id, quantity FROM balances WHERE with_us UNION ALL SELECT holder_id, quantity FROM balances WHERE holder_id IN (${outworkers})`;
  return `
    SELECT count(*)::integer AS places FROM (
      SELECT holder_id FROM (
        SELECT coalesce(to_holder_id, from_holder_id) AS holder_id, CASE WHEN from_holder_id IS NULL THEN ${came}sum(quantity) ELSE ${went}sum(quantity) END AS quantity
          FROM movements WHERE recorded_at ${isBack ? '>=' : '<'} $1::timestamptz GROUP BY GROUPING SETS ((to_holder_id), (from_holder_id))
        ${isBack ? now : ''}) AS each
       GROUP BY holder_id HAVING sum(quantity) <> 0) AS had
      JOIN ${scopes[scope]} AS there ON there.id = had.holder_id AND inside`;
};

/** $2 the holders; for everywhere there is none. */
export const totals = {
  ofHolders: (direction: Direction): string => `
    WITH there AS MATERIALIZED (${ofHolders[direction]}),
    ${sumsOf(
      'stock.quantity',
      'JOIN (SELECT thing_id, sum(quantity) AS quantity FROM there GROUP BY thing_id) AS stock ON stock.thing_id = things.id',
      'SELECT count(DISTINCT holder_id)::integer FROM there',
    )}`,
  ofPlaces: (direction: Direction): string => sumsOfMany('ofPlaces', direction),
  everywhere: (direction: Direction): string => sumsOfMany('everywhere', direction),
};

/** How many holders of those had something; `totals.ofHolders` says it itself. */
export const placesThen = {
  ofPlaces: (direction: Direction): string => placesOfMany('ofPlaces', direction),
  everywhere: (direction: Direction): string => placesOfMany('everywhere', direction),
};

/** Every line as texts, for a file: $2 the place or null. */
export const linesOfScope = (direction: Direction): string => `
  WITH ${insideOf('$2::uuid')},
  stock AS MATERIALIZED (${ofScope[direction]}),
  in_order AS (
    SELECT stock.*, coalesce(places.path, parties.name, 'a firm') AS place, places.holder_id IS NULL AS is_outside, ${thingName} AS name, ${kindOf} AS kind,
           ${ownerThen} AS owner_id, coalesce(parts.unit_of_measure, 'each') AS unit_of_measure, lots.part_id, ${typeName} AS type_name, coalesce(units.marks, lots.marks, '') AS marks
      FROM stock JOIN things ON things.id = stock.thing_id ${thingFacts}
      LEFT JOIN places ON places.holder_id = stock.holder_id LEFT JOIN parties ON parties.id = stock.holder_id
     ORDER BY places.holder_id IS NULL, coalesce(places.path, parties.name, 'a firm') COLLATE "C", ${thingName} COLLATE "C", stock.thing_id OFFSET 0)
  SELECT place, ${codeOf('thing_id')}, kind, in_order.name, coalesce(nullif(type_name, ''), (SELECT number FROM part_numbers WHERE part_numbers.part_id = in_order.part_id ORDER BY is_main DESC, id LIMIT 1), ''),
         marks, trim_scale(quantity)::text, unit_of_measure, coalesce((SELECT parties.name FROM parties WHERE parties.id = in_order.owner_id), '')
    FROM in_order`;

/** Whether $1 is still to come, whether something that was being written then is not through, and when the middle of the ledger was recorded. */
export const selectStanding = `
  SELECT $1::timestamptz > clock_timestamp() + interval '1 millisecond' AS "isToCome",
         NOT EXISTS (SELECT FROM pg_stat_activity WHERE datname = current_database() AND backend_xid IS NOT NULL AND xact_start < $1::timestamptz AND pid <> pg_backend_pid()) AS "isSettled",
         coalesce($1::timestamptz < (SELECT recorded_at FROM movements WHERE sequence >= (SELECT max(sequence) / 2 FROM movements) ORDER BY sequence LIMIT 1), true) AS "isEarly"`;

/** The place $1 with all that stands in it, so many ids at most. */
export const selectInside = `WITH ${insideOf('$1::uuid')} SELECT holder_id AS id, path FROM inside ORDER BY holder_id = $1::uuid DESC LIMIT $2`;
