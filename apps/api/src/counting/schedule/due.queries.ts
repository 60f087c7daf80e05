import type { Reader } from '../../platform/database/database.js';
import { codeOf } from '../../stores/place-words.js';

export interface PlaceToCount extends Record<string, unknown> {
  id: string;
  code: string | null;
  path: string;
  kind: string;
  parentId: string | null;
  /** it has something in it that may be counted */
  hasGoods: boolean;
  /** the day on which it was last closed in a count that was posted */
  lastOn: string | null;
  /** the day on which the books first had something there */
  sinceOn: string | null;
  countId: string | null;
  countNumber: number | null;
}

const dayOf = (instant: string): string => `(${instant} AT TIME ZONE workshop.time_zone)::date`;

/** All places but trays; whoever counts one that stands in another has counted that alone. */
const selectPlaces = `
  SELECT places.holder_id AS id, ${codeOf('places.holder_id')} AS code, path, places.kind, parent_id AS "parentId",
         EXISTS (SELECT FROM balances WHERE balances.holder_id = places.holder_id AND quantity > 0) AS "hasGoods",
         (SELECT max(${dayOf('count_closings.occurred_at')}) FROM count_closings JOIN counts ON counts.id = count_id
           WHERE count_closings.place_id = places.holder_id AND counts.ending = 'posted' AND counts.part_id IS NULL) AS "lastOn",
         (SELECT min(${dayOf('things.created_at')}) FROM balances JOIN things ON things.id = thing_id
           WHERE balances.holder_id = places.holder_id AND quantity > 0) AS "sinceOn",
         under_way.id AS "countId", under_way.number AS "countNumber"
    FROM places CROSS JOIN workshop
    LEFT JOIN LATERAL (SELECT counts.id, counts.number FROM count_takings JOIN counts ON counts.id = count_id AND ended_at IS NULL AND part_id IS NULL
                        WHERE count_takings.place_id = places.holder_id LIMIT 1) AS under_way ON true
   WHERE places.kind <> 'tray'`;

export function placesToCount(reader: Reader): Promise<PlaceToCount[]> {
  return reader.rows<PlaceToCount>(selectPlaces);
}

export interface PartToCount extends Record<string, unknown> {
  id: string;
  name: string;
  number: string | null;
  isMarked: boolean;
  /** how many of ours are in stores */
  ours: string;
  /** the earliest of the days on which each lot in each place was last counted; null where one never was */
  lastOn: string | null;
  sinceOn: string;
  countId: string | null;
  countNumber: number | null;
}

/** Scarce parts of which something of ours lies in a place: those that are marked, and those of which there is so little, unless marked otherwise. */
const selectParts = `
  WITH lying AS (
    SELECT part_id, things.id AS thing_id, balances.holder_id AS place_id, balances.quantity, things.created_at
      FROM lots JOIN things ON things.id = lots.thing_id JOIN balances ON balances.thing_id = things.id JOIN holders ON holders.id = balances.holder_id
     WHERE part_id IS NOT NULL AND owner_id IS NULL AND NOT condemned AND holders.kind = 'place' AND balances.quantity > 0),
  stocked AS (SELECT part_id, sum(quantity) AS ours FROM lying GROUP BY part_id),
  scarce AS (
    SELECT stocked.part_id, ours, coalesce(marks.scarce, false) AS marked FROM stocked CROSS JOIN count_settings
      LEFT JOIN count_marks AS marks ON marks.part_id = stocked.part_id
     WHERE coalesce(marks.scarce, ours <= scarce_at_most))
  SELECT parts.id, parts.name, (SELECT number FROM part_numbers WHERE part_id = parts.id ORDER BY is_main DESC, id LIMIT 1) AS number,
         marked AS "isMarked", trim_scale(ours)::text AS ours, each_lot."lastOn", each_lot."sinceOn", counts.id AS "countId", counts.number AS "countNumber"
    FROM scarce JOIN parts ON parts.id = scarce.part_id CROSS JOIN workshop
    JOIN LATERAL (
      SELECT CASE WHEN bool_and(seen.last IS NOT NULL) THEN min(${dayOf('seen.last')}) END AS "lastOn", min(${dayOf('lying.created_at')}) AS "sinceOn"
        FROM lying LEFT JOIN LATERAL (
          SELECT max(occurred_at) AS last FROM count_lines WHERE count_lines.thing_id = lying.thing_id AND count_lines.place_id = lying.place_id) AS seen ON true
       WHERE lying.part_id = scarce.part_id) AS each_lot ON true
    LEFT JOIN counts ON counts.part_id = scarce.part_id AND ended_at IS NULL`;

export function partsToCount(reader: Reader): Promise<PartToCount[]> {
  return reader.rows<PartToCount>(selectParts);
}
