import { Injectable, type OnModuleInit } from '@nestjs/common';
import { type PartFound, PartSearch } from '../../catalogue/search/part-search.js';
import { type Rank, rankOf } from '../../catalogue/search/rank.js';
import { longestOf } from '../../catalogue/search-words.js';
import type { Reader } from '../../platform/database/database.js';
import { searchKeptSets } from '../kept-sets/search-kept-sets.js';
import { marksPattern } from '../marks.js';
import { placesWorded } from '../place.queries.js';
import { codeOf, holderWords, nameOfKind, thingFacts, thingName, typeName } from '../place-words.js';
import { type Question, type RankedHit, SearchRegistry } from './search-registry.js';

/** Says what parts, things and places there are to find. */
@Injectable()
export class StoresSources implements OnModuleInit {
  constructor(
    private readonly registry: SearchRegistry,
    private readonly search: PartSearch,
  ) {}

  onModuleInit(): void {
    this.registry.registerForNear((reader, question, limit) => this.parts(reader, question, limit));
    this.registry.register(searchKeptSets);
    this.registry.registerForNear(things);
    this.registry.registerForNear(places);
  }

  private async parts(reader: Reader, { text, words, isNear }: Question, limit: number): Promise<RankedHit[]> {
    const only = isNear ? 'near' : 'as keyed';
    const parts: PartFound[] = [];
    let cursor: string | null | undefined;
    while (cursor !== null && parts.length < limit) {
      const page = await this.search.find({ keyed: text, limit: limit - parts.length, cursor, words, only, reader });
      parts.push(...page.parts);
      cursor = page.cursor;
    }
    return parts.map((part) => ({
      kind: 'part',
      id: part.id,
      code: null,
      name: part.name,
      detail: [part.number, part.maker, foundAs(part)].filter((words) => words !== '').join(', '),
      where: part.places,
      quantity: withUnit(part.free, part.unitOfMeasure),
      rank: part.rank,
      order: part.place,
      successor: part.successor,
    }));
  }
}

function foundAs(part: { number: string; matchedNumber: string | null }): string {
  return part.matchedNumber === null || part.matchedNumber === part.number ? '' : `found as ${part.matchedNumber}`;
}

/** "12", "250 g": "each" goes without saying. */
function withUnit(quantity: string, unitOfMeasure: string | null): string {
  return unitOfMeasure === null || unitOfMeasure === 'each' ? quantity : `${quantity} ${unitOfMeasure}`;
}

const asked = (column: string): string => `(SELECT ${column} FROM asked)`;
/** A mark that was asked for whole, or a piece of one. */
const markRank = `CASE WHEN ${asked('mark')} = ANY (string_to_array(marks_key, ' ')) THEN ${rankOf.itself} ELSE ${rankOf.holds} END`;
const isLegible = `${asked('mark')} <> '' AND strpos(${asked('mark')}, '?') = 0`;

/** More than anybody reads through. */
const wordedMax = 1001;

/** SQL: things of a kind, with what they are called; each reads only what belongs to its kind. */
const unitsWhere = (rank: string, condition: string): string => `
  (SELECT units.thing_id, 'U' AS letter, ${rank} AS rank, ${nameOfKind.U} AS name
     FROM units LEFT JOIN unit_types ON unit_types.id = units.unit_type_id WHERE ${condition} LIMIT ${wordedMax})`;
const lotsWhere = (condition: string): string => `
  (SELECT lots.thing_id, 'L', ${rankOf.words}, ${nameOfKind.L} FROM lots LEFT JOIN parts ON parts.id = lots.part_id WHERE ${condition} LIMIT ${wordedMax})`;
const othersWhere = (letter: 'C' | 'X', table: string, condition: string): string => `
  (SELECT thing_id, '${letter}', ${rankOf.words}, ${nameOfKind[letter]} FROM ${table} WHERE ${condition} LIMIT ${wordedMax})`;
const inPieces = (words: string): string =>
  `${asked('as_keyed')} AND ${words} ILIKE ${asked('longest')} AND ${words} ILIKE ALL (${asked('patterns')}::text[])`;

const lettersInOrder = (letter: string): string => `array_position(ARRAY['U', 'L', 'C', 'X'], ${letter}::text)`;

/**
 * By code, by mark with `?` for any character on either side, by words; the best first. A mark without one is looked for by the index of pieces, and beside it among the few marks
 * that were not read whole. What was struck out is found by its void code only. The longest word goes to the index first; names order the hits, and only of those
 * that are answered the rest is looked up. What was keyed is kept from the planner (`asked`): told it, it would plan all of this anew at each search, and that takes longer than the search.
 */
const bestThings = `
  WITH asked AS MATERIALIZED (
    SELECT $1::text AS code, $2::text AS mark, $3::text AS mark_pattern, $4::text[] AS patterns, $5::text AS longest, $6::integer AS most, $7::tsquery AS words, $8::boolean AS as_keyed),
  coded AS (
    SELECT subject_id, CASE WHEN code = ${asked('code')} THEN ${rankOf.itself} ELSE ${rankOf.begins} END AS rank
      FROM codes WHERE ${asked('code')} <> '' AND code >= ${asked('code')} COLLATE "C" AND code < (${asked('code')} || chr(1114111)) COLLATE "C" AND kind IN ('U', 'L', 'C', 'X')),
  in_order AS (
    SELECT thing_id, min(rank) AS rank FROM (
      SELECT things.id AS thing_id, things.kind::text AS letter, rank, ${thingName} AS name FROM coded JOIN things ON things.id = subject_id ${thingFacts}
      UNION ALL ${unitsWhere(markRank, `${isLegible} AND marks_key LIKE '%' || ${asked('mark')} || '%'`)}
      UNION ALL ${unitsWhere(markRank, `${isLegible} AND marks_key ~ ${asked('mark_pattern')} AND strpos(marks_key, '?') > 0`)}
      UNION ALL ${unitsWhere(markRank, `strpos(${asked('mark')}, '?') > 0 AND marks_key ~ ${asked('mark_pattern')}`)}
      UNION ALL ${unitsWhere(String(rankOf.words), `units.sought @@ ${asked('words')}`)}
      UNION ALL ${lotsWhere(`lots.sought @@ ${asked('words')}`)}
      UNION ALL ${othersWhere('C', 'components', `sought @@ ${asked('words')}`)}
      UNION ALL ${othersWhere('X', 'unsorted_boxes', `sought @@ ${asked('words')}`)}
      UNION ALL ${lotsWhere(inPieces("lots.words || ' ' || lots.marks"))}
      UNION ALL ${othersWhere('X', 'unsorted_boxes', inPieces('words'))}) AS each
     GROUP BY thing_id, letter, name ORDER BY min(rank), ${lettersInOrder('letter')}, name COLLATE "C", thing_id OFFSET 0)
  SELECT thing_id AS id, rank FROM in_order
   WHERE ${asked('code')} <> '' OR (SELECT 1 FROM codes WHERE subject_id = thing_id AND voided_at IS NULL LIMIT 1) IS NOT NULL LIMIT ${asked('most')}`;

/** What is said of the things $1 with their ranks $2: a statement of its own, for it is so large that to begin it takes longer than to see that nothing was found. */
const shownThings = `
  SELECT CASE things.kind WHEN 'U' THEN 'unit' WHEN 'L' THEN 'lot' WHEN 'C' THEN 'component' ELSE 'unsorted' END AS kind,
         best.id, ${codeOf('best.id')} AS code, ${thingName} AS name, rank, parts.unit_of_measure AS "unitOfMeasure",
         concat_ws(', ', nullif(CASE things.kind
           WHEN 'U' THEN concat_ws(', ', nullif(${typeName}, ''), nullif(units.marks, ''))
           WHEN 'L' THEN concat_ws(', ', (SELECT number FROM part_numbers WHERE part_id = lots.part_id ORDER BY is_main DESC, id LIMIT 1),
                                         nullif(lots.marks, ''))
           WHEN 'C' THEN 'off ' || regexp_replace(${codeOf('components.unit_id')}, '^(.)(.*)(..)$', '\\1 \\2 \\3')
           ELSE '' END, ''), 'property of ' || (SELECT owners.name FROM parties AS owners WHERE owners.id = owner_id),
           CASE WHEN condemned THEN 'condemned' END, CASE WHEN missing_since IS NOT NULL THEN 'looked for and not found' END) AS detail,
         coalesce((SELECT string_agg(${holderWords('holders.id', 'holders.kind')}, '; ' ORDER BY quantity DESC, holders.id)
           FROM balances JOIN holders ON holders.id = holder_id WHERE thing_id = best.id AND quantity > 0), '') AS where,
         trim_scale(held)::text AS quantity, last_moved.at AS "movedAt", coalesce(people.display_name, '') AS "movedBy"
    FROM unnest((SELECT $1::uuid[]), (SELECT $2::integer[])) AS best (id, rank) JOIN things ON things.id = best.id ${thingFacts}
    LEFT JOIN LATERAL (SELECT occurred_at AS at, person_id FROM movements WHERE movements.thing_id = best.id ORDER BY sequence DESC LIMIT 1) AS last_moved ON true
    LEFT JOIN people ON people.id = last_moved.person_id
   ORDER BY rank, ${lettersInOrder('things.kind')}, ${thingName} COLLATE "C", best.id`;

type ThingHit = RankedHit & { unitOfMeasure: string | null; movedAt: string | null; movedBy: string };

async function things(reader: Reader, { code, mark, patterns, sought, isNear }: Question, limit: number): Promise<RankedHit[]> {
  if (isNear && sought === null) return [];
  const best = await reader.rows<{ id: string; rank: Rank }>(bestThings, [
    code,
    mark,
    marksPattern(mark),
    patterns,
    longestOf(patterns),
    limit,
    sought,
    !isNear,
  ]);
  if (best.length === 0) return [];
  const rows = await reader.rows<ThingHit & Record<string, unknown>>(shownThings, [
    best.map(({ id }) => id),
    best.map(({ rank }) => rank),
  ]);
  return rows.map(({ unitOfMeasure, movedAt, movedBy, ...hit }) => ({
    ...hit,
    quantity: withUnit(hit.quantity, unitOfMeasure),
    lastMoved: movedAt === null ? null : { at: movedAt, by: movedBy },
  }));
}

async function places(reader: Reader, { text, code, sought, isNear }: Question, limit: number): Promise<RankedHit[]> {
  if (isNear && sought === null) return [];
  const found = await placesWorded(reader, { keyed: text, code, sought, limit });
  return found.map(
    (place): RankedHit => ({
      kind: 'place',
      id: place.id,
      code: place.code,
      name: place.name,
      detail: place.kind,
      where: place.path,
      quantity: place.thingCount === 0 ? 'empty' : place.thingCount === 1 ? '1 thing' : `${place.thingCount} things`,
      rank: place.isItself ? rankOf.itself : rankOf.words,
    }),
  );
}
