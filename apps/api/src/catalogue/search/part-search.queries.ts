/**
 * The statements of the search of parts, a stage each. Every stage reads so much and no more, however many numbers there are: an
 * ordered index as far as the page, or the first candidates that an index gives.
 */
import type { UnitOfMeasure } from '@corewright/contracts/base';
import { mainNumber } from '../part.queries.js';
import { type Rank, rankOf } from './rank.js';

export interface PartRow {
  id: string;
  name: string;
  number: string;
  maker: string;
  material: string;
  unitOfMeasure: UnitOfMeasure;
  matchedNumber: string | null;
  matchedMaker: string | null;
  rank: Rank;
  /** where it stands among those of its rank */
  place: string;
  /** whether more candidates were there than were looked at */
  cut: boolean;
  isSuperseded: boolean;
  [column: string]: unknown;
}

/** More than anybody reads through: of what is as common as that, so many are looked at. */
const heldMax = 120;
/** Of what is only like it more are weighed, for the likest may stand anywhere among them. */
const candidatesMax = 1000;

/** SQL: what is shown of `parts`, found as `hit (number, maker_id, rank, place, cut)`. */
const columns = `
  parts.id, parts.name, coalesce(main.number, '') AS number, coalesce(makers.name, '') AS maker, material,
  unit_of_measure AS "unitOfMeasure", hit.number AS "matchedNumber", matched_makers.name AS "matchedMaker", rank, place, cut,
  EXISTS (SELECT 1 FROM relations WHERE from_part_id = parts.id AND kind = 'supersession' AND withdrawn_at IS NULL) AS "isSuperseded"`;
const named = `JOIN parts ON parts.id = hit.part_id LEFT JOIN makers AS matched_makers ON matched_makers.id = hit.maker_id ${mainNumber}`;
/** SQL: the parts in `page`, in their order. */
const shown = `SELECT ${columns} FROM page AS hit ${named} ORDER BY rank, place, parts.id`;

/** A part found by its number, with what would else be asked for after it. */
export interface PartItselfRow extends PartRow {
  free: string;
  places: string;
}

/**
 * The number itself, $1, of the maker $2 or of any, and all about it in one statement: most that is keyed is keyed in full. A part may come twice.
 * @param stock SQL that gives `free` and `places` of `parts`
 */
export const findItself = (stock: string) => `
  SELECT ${columns}, ${stock}
    FROM (SELECT id, part_id, maker_id, number, number_key AS place, ${rankOf.itself} AS rank, false AS cut FROM part_numbers
           WHERE number_key = $1 AND ($2::uuid IS NULL OR maker_id = $2)) AS hit ${named}
   ORDER BY parts.id, hit.id`;

/**
 * SQL: all that a plan could depend on, kept from the planner. Told the values, it takes what it reckons for so much cheaper than what it would
 * reckon without them that it plans anew at each search, and that takes ten times as long as the search.
 */
const unplanned = `
  asked AS MATERIALIZED (
    SELECT $1::text[] AS keys, $2::text[] AS texts, $3::text[] AS makers_like, $4::uuid AS of_maker,
           $5::integer AS rank_before, $6::text COLLATE "C" AS place_before, $7::uuid AS part_before, $8::integer AS most)`;
const asked = (column: string) => `(SELECT ${column} FROM asked)`;
const key = asked('keys[1]');
const most = asked('most');
const ofMaker = `(${asked('of_maker')} IS NULL OR maker_id = ${asked('of_maker')})`;
/** SQL: the page goes on after this place. */
const placeBefore = `(${asked('rank_before')}, ${asked('place_before')}, ${asked('part_before')})`;
const afterCursor = `(${asked('rank_before')} IS NULL OR (rank, place, part_id) > ${placeBefore})`;

/**
 * SQL: `exact`, by $1 keys, $2 texts and $3 patterns of makers' names, the first of each as it was keyed. A number is the same but for zeros where
 * the loose keys agree, and but for its maker where its letters abbreviate the maker's name.
 */
const exact = `
  ${unplanned},
  wanted AS MATERIALIZED (
    SELECT key, loose_number_key(text) AS loose, maker_like FROM asked CROSS JOIN LATERAL unnest(keys, texts, makers_like) AS of (key, text, maker_like)),
  exact AS MATERIALIZED (
    SELECT DISTINCT ON (part_id) part_id, maker_id, found.number, number_key AS place, found.rank
      FROM wanted CROSS JOIN LATERAL (
        SELECT id, part_id, maker_id, number, number_key, CASE WHEN maker_like IS NULL THEN ${rankOf.itself} ELSE ${rankOf.butForZerosOrMaker} END AS rank
          FROM part_numbers WHERE number_key = key
        UNION ALL
        SELECT id, part_id, maker_id, number, number_key, ${rankOf.butForZerosOrMaker}
          FROM part_numbers WHERE number_key = loose AND loose <> key
        UNION ALL
        SELECT id, part_id, maker_id, number, number_key, ${rankOf.butForZerosOrMaker}
          FROM part_numbers WHERE number_loose = loose AND number_loose <> number_key
        UNION ALL
        SELECT part_numbers.id, part_id, maker_id, number, number_key, ${rankOf.butForZerosOrMaker}
          FROM part_numbers JOIN makers ON makers.id = maker_id
         WHERE number_bare = loose AND number_bare IS NOT NULL
           AND upper(name) LIKE regexp_replace(left(number_loose, -length(number_bare)), '(.)', '\\1%', 'g')) AS found
     WHERE ${ofMaker} AND (maker_like IS NULL OR EXISTS (SELECT 1 FROM makers WHERE makers.id = maker_id AND upper(name) LIKE maker_like))
     ORDER BY part_id, rank, number_key, id)`;

const notExact = 'part_id NOT IN (SELECT part_id FROM exact)';
// By range and not by pattern, so that the index serves any key in its order; the last character of all closes the range.
const beginsWith = (key: string) => `number_key > ${key} COLLATE "C" AND number_key < (${key} || chr(1114111)) COLLATE "C"`;

const begunBefore = (column: string) => `(SELECT ${column} FROM asked WHERE rank_before = ${rankOf.begins})`;

/** What is the number but for zeros or its maker, then what begins so. A part stands once: by the first of its numbers. */
export const findNumbered = `
  WITH ${exact},
  begun AS (
    SELECT part_id, maker_id, number, number_key AS place, ${rankOf.begins} AS rank FROM part_numbers AS here
     WHERE ${beginsWith(key)} AND number_key >= coalesce(${begunBefore('place_before')}, '')
       AND ${ofMaker} AND ${notExact}
       AND id = (SELECT id FROM part_numbers AS other
                  WHERE other.part_id = here.part_id AND ${beginsWith(key)} AND (${asked('of_maker')} IS NULL OR other.maker_id = ${asked('of_maker')})
                  ORDER BY other.number_key, other.id LIMIT 1)
       AND (${begunBefore('place_before')} IS NULL OR (number_key, part_id) > (${begunBefore('place_before')}, ${begunBefore('part_before')}))
     ORDER BY number_key, part_id LIMIT ${most}),
  page AS (
    SELECT *, false AS cut FROM (SELECT * FROM exact UNION ALL SELECT * FROM begun) AS found
     WHERE ${afterCursor} ORDER BY rank, place, part_id LIMIT ${most})
  ${shown}`;

/** What holds it further on, $9 as a pattern: the first candidates that the index gives, in their order. */
export const findHolding = `
  WITH ${exact},
  candidates AS MATERIALIZED (
    SELECT id, part_id, maker_id, number, number_key FROM part_numbers WHERE number_key LIKE (SELECT $9::text) AND ${ofMaker} LIMIT ${heldMax + 1}),
  counted AS (SELECT count(*) > ${heldMax} AS cut FROM candidates),
  once AS (
    SELECT DISTINCT ON (part_id) part_id, maker_id, number, number_key AS place, ${rankOf.holds} AS rank FROM candidates
     WHERE ${notExact} ORDER BY part_id, number_key, id),
  in_order AS (SELECT * FROM once WHERE ${afterCursor} ORDER BY place, part_id OFFSET 0),
  page AS (
    SELECT in_order.*, cut FROM in_order CROSS JOIN counted
     WHERE (SELECT 1 FROM part_numbers AS other
             WHERE other.part_id = in_order.part_id AND ${beginsWith(key)} AND (${asked('of_maker')} IS NULL OR other.maker_id = ${asked('of_maker')}) LIMIT 1) IS NULL
     ORDER BY place, part_id LIMIT ${most})
  ${shown}`;

const words = "name || ' ' || description || ' ' || nicknames";

/** All the words, $11 as patterns, of which $10 goes to the index; but not what was found by its number, $9. */
export const findWorded = `
  WITH ${exact},
  candidates AS MATERIALIZED (
    SELECT id AS part_id, name AS place FROM parts
     WHERE ${words} ILIKE (SELECT $10::text) AND ${words} ILIKE ALL (ARRAY(SELECT unnest($11::text[])))
       AND (${asked('of_maker')} IS NULL OR EXISTS (SELECT 1 FROM part_numbers WHERE part_id = parts.id AND maker_id = ${asked('of_maker')})) LIMIT ${heldMax + 1}),
  counted AS (SELECT count(*) > ${heldMax} AS cut FROM candidates),
  ranked AS (SELECT part_id, place COLLATE "C" AS place, ${rankOf.words} AS rank FROM candidates WHERE ${notExact}),
  in_order AS (SELECT * FROM ranked WHERE ${afterCursor} ORDER BY place, part_id OFFSET 0),
  page AS (
    SELECT in_order.*, NULL::uuid AS maker_id, NULL::text AS number, cut FROM in_order CROSS JOIN counted
     WHERE (SELECT $9::text) = '' OR (SELECT 1 FROM part_numbers
             WHERE part_numbers.part_id = in_order.part_id AND number_key LIKE (SELECT $9::text) AND ${ofMaker} LIMIT 1) IS NULL
     ORDER BY place, part_id LIMIT ${most})
  ${shown}`;

/** SQL: a distance as text that stands in its order. */
const inOrder = (distance: string) => `to_char(${distance}, 'FM0.000000') COLLATE "C"`;

/** Numbers that are one typing error away: $9 all of these keys, each with the way of reading, $10, that it comes from. */
export const findOneError = `
  WITH ${unplanned},
  near AS (
    SELECT id, part_id, maker_id, number, number_key, similarity(number_key, keys[way]) AS likeness
      FROM asked CROSS JOIN unnest($9::text[], $10::integer[]) AS wanted (meant, way) JOIN part_numbers ON number_key = meant
     WHERE ${ofMaker} AND (makers_like[way] IS NULL OR EXISTS (SELECT 1 FROM makers WHERE makers.id = maker_id AND upper(name) LIKE makers_like[way]))),
  found AS (
    SELECT DISTINCT ON (part_id) part_id, maker_id, number, ${inOrder('(1 - likeness)::numeric')} || number_key AS place, ${rankOf.oneError} AS rank
      FROM near ORDER BY part_id, likeness DESC, number_key, id),
  page AS (SELECT *, false AS cut FROM found WHERE ${afterCursor} ORDER BY place, part_id LIMIT ${most})
  ${shown}`;

/** What is like it at all, by number or by word: the first candidates that the indexes give, in the order of their likeness. */
export const findAlike = `
  WITH ${unplanned},
  numbered AS MATERIALIZED (SELECT * FROM numbers_like(${key}, ${asked('of_maker')}, ${candidatesMax + 1})),
  worded AS MATERIALIZED (
    SELECT part_id, distance FROM parts_worded_like(${asked('texts[1]')}, ${candidatesMax + 1}) AS like_it
     WHERE ${asked('of_maker')} IS NULL OR EXISTS (SELECT 1 FROM part_numbers WHERE part_numbers.part_id = like_it.part_id AND maker_id = ${asked('of_maker')})),
  found AS (
    SELECT DISTINCT ON (part_id) part_id, maker_id, number, ${inOrder('distance::numeric')} AS place, ${rankOf.alike} AS rank
      FROM (SELECT part_id, maker_id, number, distance FROM numbered UNION ALL SELECT part_id, NULL, NULL, distance FROM worded) AS either
     ORDER BY part_id, distance, number),
  counted AS (SELECT (SELECT count(*) FROM numbered) > ${candidatesMax} OR (SELECT count(*) FROM worded) > ${candidatesMax} AS cut),
  page AS (SELECT found.*, cut FROM found CROSS JOIN counted WHERE ${afterCursor} ORDER BY place, part_id LIMIT ${most})
  ${shown}`;
