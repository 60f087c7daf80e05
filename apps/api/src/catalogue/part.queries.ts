import type { PartBrief, PartPage } from '@corewright/contracts/catalogue';
import type { Reader } from '../platform/database/database.js';
import { cursorOf, placeOf } from '../platform/http/next-page.js';
import { partNumberKey } from './part-number-key.js';
import { patternsOfWords } from './search-words.js';

/** A number of fewer characters is looked for at the beginning only: in the middle it would be found everywhere. */
const fragmentLengthMin = 3;

/** SQL: the number that a part goes by and its maker, joined to `parts` as `main` and `makers`. */
export const mainNumber = `
  LEFT JOIN LATERAL (SELECT number, maker_id FROM part_numbers WHERE part_id = parts.id ORDER BY is_main DESC, id LIMIT 1) AS main ON true
  LEFT JOIN makers ON makers.id = main.maker_id`;

/**
 * Best first: the number itself, its beginning, a piece of it, all the words; where none of that is found, something like the words.
 * The bar for that is lower than the database's own, so that two letters in the wrong order still find a short word.
 */
const findParts = `
  WITH described AS (SELECT id AS part_id, name || ' ' || description || ' ' || nicknames AS doc FROM parts),
  numbered AS (
    SELECT DISTINCT ON (part_id) part_id, number,
           CASE WHEN number_key = $1 THEN 0 WHEN starts_with(number_key, $1) THEN 1 ELSE 2 END AS rank
      FROM part_numbers WHERE $1 <> '' AND number_key LIKE $2
     ORDER BY part_id, rank, number),
  worded AS (SELECT part_id FROM described WHERE doc ILIKE ALL ($3::text[])),
  alike AS (
    SELECT part_id, (1 - word_similarity($4, doc))::numeric(6,4) AS distance FROM described
     WHERE NOT EXISTS (SELECT 1 FROM numbered) AND NOT EXISTS (SELECT 1 FROM worded) AND word_similarity($4, doc) >= 0.45),
  found AS (
    SELECT part_id, min(rank) AS rank, max(number) AS matched, min(distance) AS distance
      FROM (SELECT part_id, rank, 0::numeric AS distance, number FROM numbered
            UNION ALL SELECT part_id, 3, 0, NULL FROM worded
            UNION ALL SELECT part_id, 4, distance, NULL FROM alike) AS either
     GROUP BY part_id)
  SELECT parts.id, parts.name, coalesce(main.number, '') AS number, coalesce(makers.name, '') AS maker, material,
         unit_of_measure AS "unitOfMeasure", matched AS "matchedNumber", rank, distance
    FROM found JOIN parts ON parts.id = part_id ${mainNumber}
   WHERE $5::integer IS NULL OR (rank, distance, parts.name COLLATE "C", parts.id) > ($5, $6::numeric, $7, $8::uuid)
   ORDER BY rank, distance, parts.name COLLATE "C", parts.id LIMIT $9`;

export type PartFound = Omit<PartBrief, 'free'> & { rank: number };

/** A page of the parts that answer to what was keyed, best first. */
export async function partsLike(
  reader: Reader,
  keyed: string,
  limit: number,
  cursor?: string,
): Promise<{ parts: PartFound[]; cursor: string | null }> {
  const key = partNumberKey(keyed);
  const after = placeOf(cursor, ['number', 'number', 'string', 'uuid']) ?? [null, null, null, null];
  const pattern = key.length < fragmentLengthMin ? `${key}%` : `%${key}%`;
  const rows = await reader.rows<PartFound & { distance: string }>(findParts, [
    key,
    pattern,
    patternsOfWords(keyed),
    keyed.trim(),
    ...after,
    limit + 1,
  ]);
  const parts = rows.slice(0, limit);
  const last = parts.at(-1);
  const more = rows.length > limit && last !== undefined;
  return { parts, cursor: more ? cursorOf([last.rank, Number(last.distance), last.name, last.id]) : null };
}

const selectPart = `
  SELECT id, name, description, nicknames, unit_of_measure AS "unitOfMeasure", material, polymer FROM parts WHERE id = $1`;
const selectNumbers = `
  SELECT makers.name AS maker, number, year_first AS "yearFirst", year_last AS "yearLast", is_main AS "isMain"
    FROM part_numbers JOIN makers ON makers.id = maker_id WHERE part_id = $1 ORDER BY is_main DESC, makers.name, number`;
const selectUses = `
  SELECT unit_types.id, concat_ws(' ', makers.name, model, nullif(variant, '')) AS name, line_no AS "lineNo",
         trim_scale(quantity)::text AS quantity, critical
    FROM unit_type_lines JOIN unit_types ON unit_types.id = unit_type_id JOIN makers ON makers.id = maker_id
   WHERE part_id = $1 ORDER BY name, line_no`;

/** What the catalogue itself says of a part. */
export type PartItself = Omit<PartPage, 'lots' | 'receipts' | 'relations' | 'successor'>;

/** A part with its numbers and the unit types that use it; null where the books do not know it. */
export async function partPage(reader: Reader, partId: string): Promise<PartItself | null> {
  const part = await reader.row<Omit<PartItself, 'numbers' | 'usedIn'>>(selectPart, [partId]);
  if (part === null) return null;
  const numbers = await reader.rows<PartPage['numbers'][number]>(selectNumbers, [partId]);
  const uses = await reader.rows<{ id: string; name: string; lineNo: number; quantity: string; critical: boolean }>(selectUses, [
    partId,
  ]);
  const usedIn = uses.map(({ id, name, ...use }) => ({ unitType: { id, name }, ...use }));
  return { ...part, numbers, usedIn };
}

const selectBrief = `
  SELECT parts.id, parts.name, coalesce(main.number, '') AS number, coalesce(makers.name, '') AS maker, material, polymer,
         unit_of_measure AS "unitOfMeasure"
    FROM parts ${mainNumber} WHERE parts.id = $1`;

/** What goods-in, labels and stock need to know of one part. */
export interface PartFacts {
  id: string;
  name: string;
  number: string;
  maker: string;
  material: string;
  polymer: string;
  unitOfMeasure: PartBrief['unitOfMeasure'];
}

export function partFacts(reader: Reader, partId: string): Promise<PartFacts | null> {
  return reader.row<PartFacts & Record<string, unknown>>(selectBrief, [partId]);
}
