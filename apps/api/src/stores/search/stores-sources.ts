import { Injectable, type OnModuleInit } from '@nestjs/common';
import { type PartFound, PartSearch } from '../../catalogue/search/part-search.js';
import { rankOf } from '../../catalogue/search/rank.js';
import { longestOf } from '../../catalogue/search-words.js';
import type { Reader } from '../../platform/database/database.js';
import { searchKeptSets } from '../kept-sets/search-kept-sets.js';
import { marksPattern } from '../marks.js';
import { placesWorded } from '../place.queries.js';
import { codeOf, holderWords, thingFacts, thingName, typeName } from '../place-words.js';
import { type Question, type RankedHit, SearchRegistry } from './search-registry.js';

/** Says what parts, things and places there are to find. */
@Injectable()
export class StoresSources implements OnModuleInit {
  constructor(
    private readonly registry: SearchRegistry,
    private readonly search: PartSearch,
  ) {}

  onModuleInit(): void {
    this.registry.register((_reader, question, limit) => this.parts(question, limit));
    this.registry.register(searchKeptSets);
    this.registry.registerForWords(things);
    this.registry.registerForWords(places);
  }

  private async parts({ text }: Question, limit: number): Promise<RankedHit[]> {
    const parts: PartFound[] = [];
    let cursor: string | null | undefined;
    while (cursor !== null && parts.length < limit) {
      const page = await this.search.find({ keyed: text, limit: limit - parts.length, cursor });
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

/** A mark that was asked for whole, or a piece of one. */
const markRank = `CASE WHEN $2 = ANY (string_to_array(marks_key, ' ')) THEN ${rankOf.itself} ELSE ${rankOf.holds} END`;

/** More than anybody reads through. */
const wordedMax = 1001;

/**
 * By code, by mark with `?` for any character on either side, by words. A mark without one is looked for by the index of pieces, and beside it among the few marks
 * that were not read whole. What was struck out is found by its void code only. The
 * longest word goes to the index first; names order the hits, and only of those that are shown the rest is looked up.
 */
const findThings = `
  WITH asked AS MATERIALIZED (SELECT coalesce($8::tsquery, sought_query(sought_words($7))) AS words),
  found AS (
    SELECT thing_id, min(rank) AS rank FROM (
      SELECT subject_id AS thing_id, CASE WHEN code = $1 THEN ${rankOf.itself} ELSE ${rankOf.begins} END AS rank
        FROM codes WHERE $1 <> '' AND code >= $1 COLLATE "C" AND code < ($1 || chr(1114111)) COLLATE "C" AND kind IN ('U', 'L', 'C', 'X')
      UNION ALL SELECT thing_id, ${markRank} FROM units WHERE $2 <> '' AND strpos($2, '?') = 0 AND marks_key LIKE '%' || $2 || '%'
      UNION ALL SELECT thing_id, ${markRank} FROM units WHERE $2 <> '' AND strpos($2, '?') = 0 AND marks_key ~ $3 AND strpos(marks_key, '?') > 0
      UNION ALL SELECT thing_id, ${markRank} FROM units WHERE strpos($2, '?') > 0 AND marks_key ~ $3
      UNION ALL (SELECT thing_id, ${rankOf.words} FROM units WHERE sought @@ (SELECT words FROM asked) LIMIT ${wordedMax})
      UNION ALL (SELECT thing_id, ${rankOf.words} FROM lots WHERE sought @@ (SELECT words FROM asked) LIMIT ${wordedMax})
      UNION ALL (SELECT thing_id, ${rankOf.words} FROM components WHERE sought @@ (SELECT words FROM asked) LIMIT ${wordedMax})
      UNION ALL (SELECT thing_id, ${rankOf.words} FROM unsorted_boxes WHERE sought @@ (SELECT words FROM asked) LIMIT ${wordedMax})
      UNION ALL (SELECT thing_id, ${rankOf.words} FROM lots WHERE $8::tsquery IS NULL AND words || ' ' || marks ILIKE (SELECT $5::text) AND words || ' ' || marks ILIKE ALL (ARRAY(SELECT unnest($4::text[]))) LIMIT ${wordedMax})
      UNION ALL (SELECT thing_id, ${rankOf.words} FROM unsorted_boxes WHERE $8::tsquery IS NULL AND words ILIKE (SELECT $5::text) AND words ILIKE ALL (ARRAY(SELECT unnest($4::text[]))) LIMIT ${wordedMax})) AS each
     WHERE $1 <> '' OR EXISTS (SELECT 1 FROM codes WHERE subject_id = thing_id AND voided_at IS NULL)
     GROUP BY thing_id),
  named AS (SELECT things.id, things.kind AS letter, rank, ${thingName} AS name FROM found JOIN things ON things.id = thing_id ${thingFacts}),
  best AS (
    SELECT * FROM named ORDER BY rank, array_position(ARRAY['U', 'L', 'C', 'X'], letter::text), name COLLATE "C", id LIMIT $6)
  SELECT CASE letter WHEN 'U' THEN 'unit' WHEN 'L' THEN 'lot' WHEN 'C' THEN 'component' ELSE 'unsorted' END AS kind,
         best.id, ${codeOf('best.id')} AS code, best.name, rank, parts.unit_of_measure AS "unitOfMeasure",
         concat_ws(', ', nullif(CASE letter
           WHEN 'U' THEN concat_ws(', ', nullif(${typeName}, ''), nullif(units.marks, ''))
           WHEN 'L' THEN concat_ws(', ', (SELECT number FROM part_numbers WHERE part_id = lots.part_id ORDER BY is_main DESC, id LIMIT 1),
                                         nullif(lots.marks, ''))
           WHEN 'C' THEN 'off ' || regexp_replace(${codeOf('components.unit_id')}, '^(.)(.*)(..)$', '\\1 \\2 \\3')
           ELSE '' END, ''), 'property of ' || (SELECT owners.name FROM parties AS owners WHERE owners.id = owner_id),
           CASE WHEN condemned THEN 'condemned' END, CASE WHEN missing_since IS NOT NULL THEN 'looked for and not found' END) AS detail,
         coalesce((SELECT string_agg(${holderWords('holders.id', 'holders.kind')}, '; ' ORDER BY quantity DESC, holders.id)
           FROM balances JOIN holders ON holders.id = holder_id WHERE thing_id = best.id AND quantity > 0), '') AS where,
         trim_scale(held)::text AS quantity
    FROM best JOIN things ON things.id = best.id ${thingFacts}
   ORDER BY rank, array_position(ARRAY['U', 'L', 'C', 'X'], letter::text), best.name COLLATE "C", best.id`;

type ThingHit = RankedHit & { unitOfMeasure: string | null };

async function things(reader: Reader, { text, code, mark, patterns, meant }: Question, limit: number): Promise<RankedHit[]> {
  const rows = await reader.rows<ThingHit & Record<string, unknown>>(findThings, [
    code,
    mark,
    marksPattern(mark),
    patterns,
    longestOf(patterns),
    limit,
    text,
    meant,
  ]);
  return rows.map(({ unitOfMeasure, ...hit }) => ({ ...hit, quantity: withUnit(hit.quantity, unitOfMeasure) }));
}

async function places(reader: Reader, { text, code, meant }: Question, limit: number): Promise<RankedHit[]> {
  const found = await placesWorded(reader, { keyed: text, code, meant, limit });
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
