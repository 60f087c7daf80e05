import type { PlaceLevel } from '@corewright/contracts/places';
import type { PlaceBrief, PlaceList, PlacesQuery } from '@corewright/contracts/stores';
import type * as z from 'zod';
import { patternsOfWords } from '../catalogue/search-words.js';
import type { Reader } from '../platform/database/database.js';
import { inOrder } from './place-order.js';
import { codeOf } from './place-words.js';

/** As many as anybody looks through while keying; one more word of its way finds one among any number. */
const offeredMax = 40;

/** SQL: the columns of a place that every screen shows. */
export const brief = `
  holder_id AS id, ${codeOf('holder_id')} AS code, name, path, kind, parent_id AS "parentId",
  (SELECT count(*)::integer FROM balances WHERE balances.holder_id = places.holder_id AND quantity <> 0) AS "thingCount"`;

/** Those that are called exactly so come first, for "Bin 4" is a part of many a "Bin 41". The counts and codes are looked up for those alone that are answered. */
const findPlaces = `
  WITH found AS (
    SELECT holder_id, lower(name) = lower($4) OR holder_id IS NOT DISTINCT FROM (SELECT subject_id FROM codes WHERE code = $2) AS "isItself" FROM places
     WHERE (concat_ws(' ', path, nicknames) ILIKE ALL ($1::text[]) OR holder_id = (SELECT subject_id FROM codes WHERE code = $2))
       AND closed_at IS NULL AND ($3 = 'all' OR ($3 = 'no trays' AND kind <> 'tray') OR kind = $3)
     ORDER BY "isItself" DESC, path COLLATE "C", holder_id LIMIT ${offeredMax + 1})
  SELECT ${brief} FROM found JOIN places USING (holder_id) ORDER BY "isItself" DESC, path COLLATE "C", holder_id`;

/** Open places by words of their path, nickname or code, the first few of them: what is called exactly so, then in the order of the tree. */
export async function placesLike(reader: Reader, { q, kinds }: z.infer<typeof PlacesQuery>): Promise<PlaceList> {
  const found = await reader.rows<PlaceBrief & Record<string, unknown>>(findPlaces, [
    patternsOfWords(q.replace(/[,/]/g, ' ')),
    q.replace(/\s+/g, '').toUpperCase(),
    kinds,
    q.trim(),
  ]);
  return { places: found.slice(0, offeredMax), hasMore: found.length > offeredMax };
}

const selectPlace = `SELECT ${brief} FROM places WHERE holder_id = $1`;

const selectPlaces = `SELECT ${brief} FROM unnest((SELECT $1::uuid[])) AS found (id) JOIN places ON holder_id = found.id`;

/** These places, in any order. */
export function placesBrief(reader: Reader, ids: readonly string[]): Promise<PlaceBrief[]> {
  return reader.rows<PlaceBrief & Record<string, unknown>>(selectPlaces, [ids]);
}

export async function placeBrief(reader: Reader, placeId: string): Promise<PlaceBrief | null> {
  return reader.row<PlaceBrief & Record<string, unknown>>(selectPlace, [placeId]);
}

/** What is below each place of a level is counted once over all of them. */
const levelWhere = (standing: string): string => `
  WITH RECURSIVE level AS (SELECT holder_id FROM places WHERE ${standing}),
  below AS (
    SELECT places.holder_id, places.parent_id AS top FROM places JOIN level ON places.parent_id = level.holder_id
    UNION ALL SELECT places.holder_id, below.top FROM places JOIN below ON places.parent_id = below.holder_id),
  counted AS (
    SELECT top, count(*)::integer AS places,
           sum((SELECT count(*) FROM balances WHERE balances.holder_id = below.holder_id AND quantity <> 0))::integer AS things
      FROM below GROUP BY top)
  SELECT ${brief}, nicknames, coalesce(counted.places, 0) AS "placesBelow", coalesce(counted.things, 0) AS "thingsBelow",
         closed_at IS NOT NULL AS "isClosed"
    FROM places JOIN level USING (holder_id) LEFT JOIN counted ON counted.top = places.holder_id`;
const levelAtTop = levelWhere('parent_id IS NULL');
const levelWithin = levelWhere('parent_id = $1');

/** The places that stand in one, or at the top of the tree, in the order in which one walks past them. */
export async function placeLevel(reader: Reader, within: string | null): Promise<z.infer<typeof PlaceLevel>['places']> {
  type Row = z.infer<typeof PlaceLevel>['places'][number] & Record<string, unknown>;
  const rows = within === null ? await reader.rows<Row>(levelAtTop) : await reader.rows<Row>(levelWithin, [within]);
  return inOrder(rows);
}
