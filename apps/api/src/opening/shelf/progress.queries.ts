import type { OpeningProgress } from '@corewright/contracts/opening-stock';
import type { Reader } from '../../platform/database/database.js';
import { goodsInPlace } from '../../stores/goods-in-place.js';
import { codeOf } from '../../stores/place-words.js';
import { type PlaceFacts, racksOf, totalsOf } from './racks.js';

const selectPlaces = `
  WITH counted AS (
    SELECT place_id, count(*)::integer AS rows, (count(*) FILTER (WHERE standing <> 'struck out'))::integer AS things,
           (count(*) FILTER (WHERE standing = 'to name'))::integer AS to_name, (count(*) FILTER (WHERE standing = 'asked'))::integer AS asked,
           (count(*) FILTER (WHERE standing IN ('to name', 'named', 'asked') AND cost_standing = 'not looked at' AND owner_id IS NULL))::integer AS not_costed
      FROM opening_rows JOIN things ON things.id = thing_id GROUP BY place_id),
  last AS (SELECT DISTINCT ON (place_id) place_id, kind, recorded_at FROM opening_acts ORDER BY place_id, sequence DESC)
  SELECT places.holder_id AS id, ${codeOf('places.holder_id')} AS code, places.name, places.path, parent_id AS "parentId", places.kind,
         last.kind AS "lastAct", to_char(last.recorded_at AT TIME ZONE 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.MS"Z"') AS "actAt",
         (SELECT count(*)::integer FROM balances WHERE balances.holder_id = places.holder_id AND quantity <> 0) AS lying,
         coalesce(rows, 0) AS rows, coalesce(things, 0) AS things, coalesce(to_name, 0) AS "toName", coalesce(asked, 0) AS asked,
         coalesce(not_costed, 0) AS "notCosted"
    FROM places LEFT JOIN counted ON counted.place_id = places.holder_id LEFT JOIN last ON last.place_id = places.holder_id
   WHERE places.kind <> 'tray' ORDER BY places.path COLLATE "C", places.holder_id`;

/** How far opening stock is. Where things stand that have just come in is no shelf, unless somebody keys there. */
export async function openingProgress(reader: Reader): Promise<OpeningProgress> {
  const places = await reader.rows<PlaceFacts & Record<string, unknown>>(selectPlaces);
  const goodsIn = await goodsInPlace(reader);
  const shelves = places.filter(({ id, lastAct, rows }) => id !== goodsIn || lastAct !== null || rows > 0);
  const racks = racksOf(shelves);
  return { started: places.some(({ lastAct, rows }) => lastAct !== null || rows > 0), racks, ...totalsOf(racks) };
}
