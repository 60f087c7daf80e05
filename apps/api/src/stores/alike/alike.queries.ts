import type { Reader } from '../../platform/database/database.js';
import { isGoodsIn } from '../goods-in-place.js';
import { bearerOfCode } from '../ledger.js';

/** Where so many things like one lie. */
export interface LikeThere {
  placeId: string;
  /** null: it stands by itself */
  parentId: string | null;
  path: string;
  quantity: string;
}

/** What things are like one in; each is asked only where the one before it found nothing. */
export type Likeness = 'same part' | 'same name' | 'same type';

const placesShown = 3;

/** SQL: sums up over places what `others (thing_id)` hold. What nobody finds lies nowhere, and what has only come in has no place yet. */
const whereOthersLie = (others: string): string => `
  SELECT places.holder_id AS "placeId", places.parent_id AS "parentId", places.path, trim_scale(sum(balances.quantity))::text AS quantity
    FROM (${others}) AS others
    JOIN things ON things.id = others.thing_id AND things.missing_since IS NULL
    JOIN balances ON balances.thing_id = things.id AND balances.quantity > 0
    JOIN places ON places.holder_id = balances.holder_id AND places.kind <> 'tray' AND places.closed_at IS NULL AND NOT ${isGoodsIn}
   GROUP BY places.holder_id, places.parent_id, places.path
   ORDER BY sum(balances.quantity) DESC, places.path COLLATE "C", places.holder_id LIMIT ${placesShown}`;

const lotsOfPartOf = (thing: string): string =>
  whereOthersLie(`
  SELECT other.thing_id FROM lots AS own JOIN lots AS other ON other.part_id = own.part_id AND other.thing_id <> own.thing_id
   WHERE own.thing_id = ${thing}`);

const lotsOfPartOfBearer = lotsOfPartOf(bearerOfCode);

/** What others are sought for: a thing, by its id; or a row that says which part or which unit type a thing is, with the thing that it is already. */
export type Sought = { of: 'thing'; id: string } | { of: 'part' | 'unit type'; id: string; besides: string | null };

const waysOf: Record<Sought['of'], readonly (readonly [Likeness, string])[]> = {
  thing: [
    [
      'same part',
      whereOthersLie(`
    SELECT other.thing_id FROM lots AS own JOIN lots AS other ON other.part_id = own.part_id AND other.thing_id <> own.thing_id WHERE own.thing_id = $1
    UNION SELECT other.thing_id FROM components AS own JOIN components AS other ON other.part_id = own.part_id AND other.thing_id <> own.thing_id
     WHERE own.thing_id = $1
    UNION SELECT lots.thing_id FROM components AS own JOIN lots USING (part_id) WHERE own.thing_id = $1`),
    ],
    [
      'same name',
      whereOthersLie(`
    SELECT other.thing_id FROM lots AS own JOIN parts ON parts.id = own.part_id
      JOIN parts AS namesake ON lower(namesake.name) = lower(parts.name) AND namesake.id <> parts.id
      JOIN lots AS other ON other.part_id = namesake.id WHERE own.thing_id = $1`),
    ],
    [
      'same type',
      whereOthersLie(`
    SELECT other.thing_id FROM units AS own JOIN units AS other ON other.unit_type_id = own.unit_type_id AND other.thing_id <> own.thing_id
     WHERE own.thing_id = $1`),
    ],
  ],
  part: [
    ['same part', whereOthersLie('SELECT thing_id FROM lots WHERE part_id = $1 AND thing_id IS DISTINCT FROM $2::uuid')],
    [
      'same name',
      whereOthersLie(`
    SELECT other.thing_id FROM parts JOIN parts AS namesake ON lower(namesake.name) = lower(parts.name) AND namesake.id <> parts.id
      JOIN lots AS other ON other.part_id = namesake.id WHERE parts.id = $1 AND other.thing_id IS DISTINCT FROM $2::uuid`),
    ],
  ],
  'unit type': [
    ['same type', whereOthersLie('SELECT thing_id FROM units WHERE unit_type_id = $1 AND thing_id IS DISTINCT FROM $2::uuid')],
  ],
};

/** Where the other lots of the part of a lot lie, the most first, by the code on the lot. */
export function othersOfPart(reader: Reader, code: string): Promise<LikeThere[]> {
  return reader.rows<LikeThere & Record<string, unknown>>(lotsOfPartOfBearer, [code]);
}

/** Where the things lie that are most like what is sought, the most first; null where nothing like it lies anywhere. */
export async function thingsLike(reader: Reader, sought: Sought): Promise<{ likeness: Likeness; found: LikeThere[] } | null> {
  const values = sought.of === 'thing' ? [sought.id] : [sought.id, sought.besides];
  for (const [likeness, statement] of waysOf[sought.of]) {
    const found = await reader.rows<LikeThere & Record<string, unknown>>(statement, values);
    if (found.length > 0) return { likeness, found };
  }
  return null;
}

const emptyBins = `
  SELECT holder_id AS id, name, path FROM places
   WHERE parent_id = $1 AND kind = 'bin' AND closed_at IS NULL
     AND NOT EXISTS (SELECT FROM balances WHERE balances.holder_id = places.holder_id AND quantity <> 0)
     AND NOT EXISTS (SELECT FROM places AS inside WHERE inside.parent_id = places.holder_id)`;
const binsBeside = "SELECT holder_id AS id, name, path FROM places WHERE parent_id = $1 AND kind = 'bin'";

export interface Bin {
  id: string;
  name: string;
  path: string;
}

/** The bins that stand in a place, and those of them in which nothing lies. */
export async function binsIn(reader: Reader, placeId: string): Promise<{ all: Bin[]; empty: Bin[] }> {
  const [all, empty] = await Promise.all([
    reader.rows<Bin & Record<string, unknown>>(binsBeside, [placeId]),
    reader.rows<Bin & Record<string, unknown>>(emptyBins, [placeId]),
  ]);
  return { all, empty };
}
