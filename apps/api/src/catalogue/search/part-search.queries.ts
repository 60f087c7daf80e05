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
  free: string;
  places: string;
  [column: string]: unknown;
}

/** A number of fewer characters is looked for at the beginning only: in the middle it would be found everywhere. */
export const pieceLengthMin = 3;

/** More than anybody reads through: of words that are as common as that, so many are looked at. */
const wordedMax = 120;
/** Of what is only like it more are weighed, for the likest may stand anywhere among them. */
const candidatesMax = 1000;

/** SQL: the number itself, $1, of the maker $2 or of any. A part may come twice. */
const hitsItself = `
  (SELECT id, part_id, maker_id, number, number_key AS place, ${rankOf.itself} AS rank, false AS cut FROM part_numbers
    WHERE number_key = $1 AND ($2::uuid IS NULL OR maker_id = $2))`;

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
const beginsWith = (column: string, key: string) =>
  `${column} >= ${key} COLLATE "C" AND ${column} < (${key} || chr(1114111)) COLLATE "C"`;

/** SQL: where to go on within the parts of a rank, else null; and whether the page has not gone past them. */
const before = (rank: Rank, column: string) => `(SELECT ${column} FROM asked WHERE rank_before = ${rank})`;
const notPast = (rank: Rank) => `coalesce(${asked('rank_before')}, ${rank}) <= ${rank}`;
const goesOnAfter = (rank: Rank, place: string) => `
  ${place} >= coalesce(${before(rank, 'place_before')}, '')
       AND (${before(rank, 'place_before')} IS NULL OR (${place}, here.part_id) > (${before(rank, 'place_before')}, ${before(rank, 'part_before')}))`;
const otherOfMaker = `(${asked('of_maker')} IS NULL OR other.maker_id = ${asked('of_maker')})`;

/**
 * What is the number but for zeros or its maker, then what begins so, then what holds it further on: each in the order of an index, read only
 * where those before it leave room on the page. A part stands once: by the first of its numbers, and by the first of its pieces.
 */
const pageNumbered = `
  WITH ${exact},
  same AS (SELECT part_id, maker_id, number, place, rank FROM exact WHERE ${afterCursor} ORDER BY rank, place, part_id),
  begun AS (
    SELECT part_id, maker_id, number, number_key AS place, ${rankOf.begins} AS rank FROM part_numbers AS here
     WHERE ${notPast(rankOf.begins)} AND ${beginsWith('number_key', key)} AND ${goesOnAfter(rankOf.begins, 'number_key')} AND ${ofMaker} AND ${notExact}
       AND id = (SELECT id FROM part_numbers AS other
                  WHERE other.part_id = here.part_id AND ${beginsWith('number_key', key)} AND ${otherOfMaker}
                  ORDER BY other.number_key, other.id LIMIT 1)
     ORDER BY number_key, part_id LIMIT ${most}),
  held AS (
    SELECT here.part_id, maker_id, number, piece AS place, ${rankOf.holds} AS rank
      FROM number_pieces AS here JOIN part_numbers ON part_numbers.id = number_id
     WHERE ${notPast(rankOf.holds)} AND length(${key}) >= ${pieceLengthMin} AND ${beginsWith('piece', key)} AND ${goesOnAfter(rankOf.holds, 'piece')}
       AND ${ofMaker} AND here.${notExact}
       AND NOT EXISTS (
         SELECT 1 FROM part_numbers AS other CROSS JOIN generate_series(1, length(other.number_key) - length(${key}) + 1) AS at
          WHERE other.part_id = here.part_id AND ${otherOfMaker} AND starts_with(substr(other.number_key, at), ${key})
            AND (at = 1 OR (substr(other.number_key, at), other.id) < (piece, number_id)))
     ORDER BY piece, here.part_id LIMIT ${most}),
  page AS (
    SELECT found.*, false AS cut FROM (SELECT * FROM same UNION ALL SELECT * FROM begun UNION ALL SELECT * FROM held) AS found LIMIT ${most})`;

const words = "name || ' ' || description || ' ' || nicknames";

/** SQL: the part has a number of the maker that was asked for, if one was. */
const partOfMaker = `(${asked('of_maker')} IS NULL OR EXISTS (SELECT 1 FROM part_numbers WHERE part_id = parts.id AND maker_id = ${asked('of_maker')}))`;

/** SQL: parts that have all the words, as a query of the indexes. */
const partsInWords = (query: string, also = 'true'): string => `
    SELECT id AS part_id, name FROM parts WHERE sought @@ ${query} AND ${also} LIMIT ${wordedMax + 1}`;
/** SQL: parts that have all of these pieces of words, of which one goes to the index. */
const partsInPieces = (longest: string, patterns: string, also: string): string => `
    SELECT id AS part_id, name FROM parts WHERE ${words} ILIKE ${longest} AND ${words} ILIKE ALL (${patterns}) AND ${also} LIMIT ${wordedMax + 1}`;
const noneInWords = 'NOT EXISTS (SELECT FROM in_words)';

/** SQL: `parts_worded`, for the one search: parts that have all the words or, where none has, pieces of them. It reads `asked` of that search. */
export const partsWordedTables = `
  in_words AS MATERIALIZED (${partsInWords('(SELECT words FROM asked)')}),
  parts_worded AS (
    SELECT part_id, name FROM in_words UNION ALL (${partsInPieces('(SELECT longest FROM asked)', '(SELECT patterns FROM asked)::text[]', noneInWords)}))`;
/** SQL: the same without pieces. */
export const partsInWordsTable = `parts_worded AS (${partsInWords('(SELECT words FROM asked)')})`;

/** SQL: whether there is anything among the numbers, for the one search: it holds of all that the page of numbers could find, and mostly of nothing else. It reads `asked` of that search. */
export const mayBeNumbered = `
  (
    EXISTS (SELECT 1 FROM part_numbers WHERE ${beginsWith('number_key', key)})
    OR (length(${key}) >= ${pieceLengthMin} AND EXISTS (SELECT 1 FROM number_pieces WHERE ${beginsWith('piece', key)}))
    OR EXISTS (
      SELECT 1 FROM (SELECT of.key, loose_number_key(text) AS loose FROM asked CROSS JOIN LATERAL unnest(keys, texts) AS of (key, text) OFFSET 0) AS way
       WHERE EXISTS (SELECT 1 FROM part_numbers WHERE number_key = way.key)
          OR EXISTS (SELECT 1 FROM part_numbers WHERE number_key = loose)
          OR EXISTS (SELECT 1 FROM part_numbers WHERE number_loose = loose AND number_loose <> number_key)
          OR EXISTS (SELECT 1 FROM part_numbers WHERE number_bare = loose AND number_bare IS NOT NULL)))`;

/**
 * All the words, however they are written; where no part has them, pieces of words: $11 as patterns, of which $10 goes to the
 * index. But not what was found by its number, $9.
 */
const pageWorded = `
  WITH ${exact},
  in_words AS MATERIALIZED (${partsInWords('(SELECT sought_query(sought_words(texts[1])) FROM asked)', partOfMaker)}),
  in_pieces AS MATERIALIZED (${partsInPieces('(SELECT $10::text)', 'ARRAY(SELECT unnest($11::text[]))', `${noneInWords} AND ${partOfMaker}`)}),
  candidates AS MATERIALIZED (SELECT * FROM in_words UNION ALL SELECT * FROM in_pieces),
  counted AS (SELECT count(*) > ${wordedMax} AS cut FROM candidates),
  ranked AS (SELECT part_id, name COLLATE "C" AS place, ${rankOf.words} AS rank FROM candidates WHERE ${notExact}),
  in_order AS (SELECT * FROM ranked WHERE ${afterCursor} ORDER BY place, part_id OFFSET 0),
  page AS (
    SELECT in_order.*, NULL::uuid AS maker_id, NULL::text AS number, cut FROM in_order CROSS JOIN counted
     WHERE (SELECT $9::text) = '' OR (SELECT 1 FROM part_numbers
             WHERE part_numbers.part_id = in_order.part_id AND number_key LIKE (SELECT $9::text) AND ${ofMaker} LIMIT 1) IS NULL
     ORDER BY place, part_id LIMIT ${most})`;

/** SQL: a distance as text that stands in its order. */
const inOrder = (distance: string) => `to_char(${distance}, 'FM0.000000') COLLATE "C"`;

/** Numbers that are one typing error away: $9 all of these keys, each with the way of reading, $10, that it comes from. */
const pageOneError = `
  WITH ${unplanned},
  near AS (
    SELECT id, part_id, maker_id, number, number_key, similarity(number_key, keys[way]) AS likeness
      FROM asked CROSS JOIN unnest($9::text[], $10::integer[]) AS wanted (meant, way) JOIN part_numbers ON number_key = meant
     WHERE ${ofMaker} AND (makers_like[way] IS NULL OR EXISTS (SELECT 1 FROM makers WHERE makers.id = maker_id AND upper(name) LIKE makers_like[way]))),
  found AS (
    SELECT DISTINCT ON (part_id) part_id, maker_id, number, ${inOrder('(1 - likeness)::numeric')} || number_key AS place, ${rankOf.oneError} AS rank
      FROM near ORDER BY part_id, likeness DESC, number_key, id),
  page AS (SELECT *, false AS cut FROM found WHERE ${afterCursor} ORDER BY place, part_id LIMIT ${most})`;

/** A word or more misspelt by one letter: $9 is what each of them can have meant, as a query of words. */
const pageMisspelt = `
  WITH ${unplanned},
  candidates AS MATERIALIZED (
    SELECT id AS part_id, ('0.000000' || name) COLLATE "C" AS place FROM parts WHERE sought @@ (SELECT $9::tsquery) AND ${partOfMaker} LIMIT ${wordedMax + 1}),
  counted AS (SELECT count(*) > ${wordedMax} AS cut FROM candidates),
  ranked AS (SELECT part_id, place, ${rankOf.alike} AS rank FROM candidates),
  page AS (
    SELECT ranked.*, NULL::uuid AS maker_id, NULL::text AS number, cut FROM ranked CROSS JOIN counted WHERE ${afterCursor} ORDER BY place, part_id LIMIT ${most})`;

/** What is like it at all, by number or by word: the first candidates that the indexes give, in the order of their likeness. */
const pageAlike = `
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
  page AS (SELECT found.*, cut FROM found CROSS JOIN counted WHERE ${afterCursor} ORDER BY place, part_id LIMIT ${most})`;

/** The statements that give a page of parts, with what is in stores of each beside it: asking for that afterwards would take as long again. */
export type PartStatements = ReturnType<typeof partStatements>;

/** @param stock SQL that gives `free` and `places` of `parts` */
export function partStatements(stock: string) {
  const columns = `
    parts.id, parts.name, coalesce(main.number, '') AS number, coalesce(makers.name, '') AS maker, material,
    unit_of_measure AS "unitOfMeasure", hit.number AS "matchedNumber", matched_makers.name AS "matchedMaker", rank, place, cut,
    EXISTS (SELECT 1 FROM relations WHERE from_part_id = parts.id AND kind = 'supersession' AND withdrawn_at IS NULL) AS "isSuperseded", ${stock}`;
  const named = `JOIN parts ON parts.id = hit.part_id LEFT JOIN makers AS matched_makers ON matched_makers.id = hit.maker_id ${mainNumber}`;
  const shown = `SELECT ${columns} FROM page AS hit ${named} ORDER BY rank, place, parts.id`;
  return {
    itself: `SELECT ${columns} FROM ${hitsItself} AS hit ${named} ORDER BY parts.id, hit.id`,
    numbered: `${pageNumbered} ${shown}`,
    worded: `${pageWorded} ${shown}`,
    oneError: `${pageOneError} ${shown}`,
    misspelt: `${pageMisspelt} ${shown}`,
    alike: `${pageAlike} ${shown}`,
    ofIds: `
      WITH page AS (
        SELECT id AS part_id, NULL::uuid AS maker_id, NULL::text AS number, ${rankOf.words} AS rank, '' AS place, false AS cut FROM unnest((SELECT $1::uuid[])) AS found (id))
      ${shown}`,
  };
}
