import type { PlaceLevel } from '@corewright/contracts/places';
import type { PlaceBrief } from '@corewright/contracts/stores';
import type * as z from 'zod';
import { patternsOfWords } from '../catalogue/search-words.js';
import type { Reader } from '../platform/database/database.js';
import { inOrder } from './place-order.js';
import { codeOf } from './place-words.js';

/** As many as a list to choose from holds; who looks for one among more keys a word of its path. */
const placesMax = 5000;

/** SQL: the columns of a place that every screen shows. */
export const brief = `
  holder_id AS id, ${codeOf('holder_id')} AS code, name, path, kind, parent_id AS "parentId",
  (SELECT count(*)::integer FROM balances WHERE balances.holder_id = places.holder_id AND quantity <> 0) AS "thingCount"`;

/** The counts and codes are looked up for those alone that are answered. */
const findPlaces = `
  WITH found AS (
    SELECT holder_id FROM places
     WHERE (concat_ws(' ', path, nicknames) ILIKE ALL ($1::text[]) OR holder_id = (SELECT subject_id FROM codes WHERE code = $2))
       AND ($3 OR closed_at IS NULL)
     ORDER BY lower(name) = lower($4) DESC, path COLLATE "C", holder_id LIMIT $5)
  SELECT ${brief} FROM found JOIN places USING (holder_id) ORDER BY path COLLATE "C", holder_id`;

/**
 * Places by words of their path, nickname or code; all of them where nothing is asked. In the order of the tree.
 * @param closedToo goods cannot go there, but whoever looks for one finds it
 */
export function placesLike(reader: Reader, keyed: string, { limit = placesMax, closedToo = false } = {}): Promise<PlaceBrief[]> {
  return reader.rows<PlaceBrief & Record<string, unknown>>(findPlaces, [
    patternsOfWords(keyed.replace(/[,/]/g, ' ')),
    keyed.replace(/\s+/g, '').toUpperCase(),
    closedToo,
    keyed.trim(),
    limit,
  ]);
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
