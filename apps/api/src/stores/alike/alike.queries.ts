import type { Reader } from '../../platform/database/database.js';
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

/** SQL: sums up over places what `others (thing_id)` hold. What nobody finds lies nowhere. */
const whereOthersLie = (others: string): string => `
  SELECT places.holder_id AS "placeId", places.parent_id AS "parentId", places.path, trim_scale(sum(balances.quantity))::text AS quantity
    FROM (${others}) AS others
    JOIN things ON things.id = others.thing_id AND things.missing_since IS NULL
    JOIN balances ON balances.thing_id = things.id AND balances.quantity > 0
    JOIN places ON places.holder_id = balances.holder_id AND places.kind <> 'tray' AND places.closed_at IS NULL
   GROUP BY places.holder_id, places.parent_id, places.path
   ORDER BY sum(balances.quantity) DESC, places.path COLLATE "C", places.holder_id LIMIT ${placesShown}`;

const lotsOfPartOf = (thing: string): string =>
  whereOthersLie(`
  SELECT other.thing_id FROM lots AS own JOIN lots AS other ON other.part_id = own.part_id AND other.thing_id <> own.thing_id
   WHERE own.thing_id = ${thing}`);

const lotsOfPartOfBearer = lotsOfPartOf(bearerOfCode);

const likeIn: Record<Likeness, string> = {
  'same part': whereOthersLie(`
    SELECT other.thing_id FROM lots AS own JOIN lots AS other ON other.part_id = own.part_id AND other.thing_id <> own.thing_id WHERE own.thing_id = $1
    UNION SELECT other.thing_id FROM components AS own JOIN components AS other ON other.part_id = own.part_id AND other.thing_id <> own.thing_id
     WHERE own.thing_id = $1
    UNION SELECT lots.thing_id FROM components AS own JOIN lots USING (part_id) WHERE own.thing_id = $1`),
  'same name': whereOthersLie(`
    SELECT other.thing_id FROM lots AS own JOIN parts ON parts.id = own.part_id
      JOIN parts AS namesake ON lower(namesake.name) = lower(parts.name) AND namesake.id <> parts.id
      JOIN lots AS other ON other.part_id = namesake.id WHERE own.thing_id = $1`),
  'same type': whereOthersLie(`
    SELECT other.thing_id FROM units AS own JOIN units AS other ON other.unit_type_id = own.unit_type_id AND other.thing_id <> own.thing_id
     WHERE own.thing_id = $1`),
};

/** Where the other lots of the part of a lot lie, the most first, by the code on the lot. */
export function othersOfPart(reader: Reader, code: string): Promise<LikeThere[]> {
  return reader.rows<LikeThere & Record<string, unknown>>(lotsOfPartOfBearer, [code]);
}

/** Where the things lie that are like one in this, the most first. */
export function thingsLike(reader: Reader, thingId: string, likeness: Likeness): Promise<LikeThere[]> {
  return reader.rows<LikeThere & Record<string, unknown>>(likeIn[likeness], [thingId]);
}

const emptyBins = `
  SELECT holder_id AS id, name FROM places
   WHERE parent_id = $1 AND kind = 'bin' AND closed_at IS NULL
     AND NOT EXISTS (SELECT FROM balances WHERE balances.holder_id = places.holder_id AND quantity <> 0)
     AND NOT EXISTS (SELECT FROM places AS inside WHERE inside.parent_id = places.holder_id)`;
const binsBeside = "SELECT holder_id AS id, name FROM places WHERE parent_id = $1 AND kind = 'bin'";

export interface Bin {
  id: string;
  name: string;
}

/** The bins that stand in a place, and those of them in which nothing lies. */
export async function binsIn(reader: Reader, placeId: string): Promise<{ all: Bin[]; empty: Bin[] }> {
  const [all, empty] = await Promise.all([
    reader.rows<Bin & Record<string, unknown>>(binsBeside, [placeId]),
    reader.rows<Bin & Record<string, unknown>>(emptyBins, [placeId]),
  ]);
  return { all, empty };
}
