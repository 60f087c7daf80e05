import { Injectable, type OnModuleInit } from '@nestjs/common';
import { type PartFound, PartSearch } from '../../catalogue/search/part-search.js';
import { rankOf } from '../../catalogue/search/rank.js';
import { longestOf } from '../../catalogue/search-words.js';
import type { Reader } from '../../platform/database/database.js';
import { searchKeptSets } from '../kept-sets/search-kept-sets.js';
import { marksPattern } from '../marks.js';
import { placesLike } from '../place.queries.js';
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
    this.registry.register(things);
    this.registry.register(places);
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

/**
 * By code, by mark with `?` for any character on either side, by words. What was struck out is found by its void code only. The
 * longest word goes to the index first; names order the hits, and only of those that are shown the rest is looked up.
 */
const findThings = `
  WITH found AS (
    SELECT thing_id, min(rank) AS rank FROM (
      SELECT subject_id AS thing_id, CASE WHEN code = $1 THEN ${rankOf.itself} ELSE ${rankOf.begins} END AS rank
        FROM codes WHERE $1 <> '' AND code LIKE $1 || '%' AND kind IN ('U', 'L', 'C', 'X')
      UNION ALL SELECT thing_id, CASE WHEN $2 = ANY (string_to_array(marks_key, ' ')) THEN ${rankOf.itself} ELSE ${rankOf.holds} END
        FROM units WHERE $2 <> '' AND marks_key ~ $3
      UNION ALL SELECT thing_id, ${rankOf.words} FROM units
        LEFT JOIN unit_types ON unit_types.id = unit_type_id LEFT JOIN makers ON makers.id = maker_id
        WHERE concat_ws(' ', makers.name, model, variant, kind, words, marks) ILIKE ALL ($4::text[])
      UNION ALL SELECT thing_id, ${rankOf.words} FROM lots WHERE words || ' ' || marks ILIKE $5 AND words || ' ' || marks ILIKE ALL ($4::text[])
      UNION ALL SELECT thing_id, ${rankOf.words} FROM components WHERE name ILIKE ALL ($4::text[])
      UNION ALL SELECT thing_id, ${rankOf.words} FROM unsorted_boxes WHERE words ILIKE $5 AND words ILIKE ALL ($4::text[])) AS each
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

async function things(reader: Reader, { code, mark, patterns }: Question, limit: number): Promise<RankedHit[]> {
  const rows = await reader.rows<ThingHit & Record<string, unknown>>(findThings, [
    code,
    mark,
    marksPattern(mark),
    patterns,
    longestOf(patterns),
    limit,
  ]);
  return rows.map(({ unitOfMeasure, ...hit }) => ({ ...hit, quantity: withUnit(hit.quantity, unitOfMeasure) }));
}

async function places(reader: Reader, { text, code }: Question, limit: number): Promise<RankedHit[]> {
  const found = await placesLike(reader, text, { limit, closedToo: true });
  const hits = found.map(
    (place): RankedHit => ({
      kind: 'place',
      id: place.id,
      code: place.code,
      name: place.name,
      detail: place.kind,
      where: place.path,
      quantity: place.thingCount === 0 ? 'empty' : place.thingCount === 1 ? '1 thing' : `${place.thingCount} things`,
      rank: place.code === code || place.name.toLowerCase() === text.toLowerCase() ? rankOf.itself : rankOf.words,
    }),
  );
  return hits.sort((one, other) => one.rank - other.rank).slice(0, limit);
}
