import type { LyingThing, PlacePage } from '@corewright/contracts/places';
import type { Reader } from '../platform/database/database.js';
import { brief, placeLevel } from './place.queries.js';
import { codeOf, thingFacts, thingName, typeName } from './place-words.js';

const selectPlace = `
  SELECT ${brief}, nicknames, version, closed_at IS NOT NULL AS "isClosed",
         CASE WHEN closed_at IS NOT NULL THEN json_build_object('at', to_char(closed_at AT TIME ZONE 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.MS"Z"'), 'by',
           coalesce((SELECT display_name FROM people WHERE people.id = closed_by), '')) END AS closed
    FROM places WHERE holder_id = $1`;

const contentsMax = 2000;
/** So many of the things in a bin show from in front; the page of the bin has all of them. */
const shownInBin = 4;

/**
 * SQL: what lies in places, from `lying (thing_id, holder_id, name, quantity)`, which has chosen and named them: codes, numbers and photographs are
 * looked up only for those that are shown.
 */
const shownThings = `
  SELECT lying.holder_id AS "placeId", things.id, ${codeOf('things.id')} AS code,
         CASE things.kind WHEN 'U' THEN 'unit' WHEN 'L' THEN 'lot' WHEN 'C' THEN 'component' ELSE 'unsorted' END AS kind, lying.name,
         CASE things.kind
           WHEN 'U' THEN concat_ws(', ', nullif(${typeName}, ''), nullif(units.marks, ''))
           WHEN 'L' THEN concat_ws(', ', (SELECT number FROM part_numbers WHERE part_id = lots.part_id ORDER BY is_main DESC, id LIMIT 1),
                                         nullif(lots.marks, ''))
           ELSE '' END AS detail,
         trim_scale(lying.quantity)::text AS quantity, missing_since IS NOT NULL AS "isMissing",
         (SELECT parties.name FROM parties WHERE parties.id = things.owner_id) AS owner, held_back_reason AS "heldBack", condemned,
         (SELECT pictures.id FROM pictures WHERE subject_id = things.id
             AND NOT EXISTS (SELECT FROM picture_strikes WHERE picture_id = pictures.id)
           ORDER BY taken_at DESC, pictures.id DESC LIMIT 1) AS "pictureId"`;

const selectContents = `
  WITH lying AS (
    SELECT balances.thing_id, balances.holder_id, things.kind AS letter, ${thingName} AS name, balances.quantity
      FROM balances JOIN things ON things.id = balances.thing_id ${thingFacts}
     WHERE balances.holder_id = $1 AND balances.quantity <> 0
     ORDER BY things.kind, name, things.id LIMIT ${contentsMax})
  ${shownThings},
         (SELECT json_build_object('at', to_char(occurred_at AT TIME ZONE 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.MS"Z"'),
                                   'by', coalesce((SELECT display_name FROM people WHERE people.id = person_id), ''))
            FROM movements WHERE thing_id = things.id ORDER BY sequence DESC LIMIT 1) AS "lastMoved"
    FROM lying JOIN things ON things.id = lying.thing_id ${thingFacts}
   ORDER BY lying.letter, lying.name, things.id`;

const selectOnShelf = `
  WITH lying AS (
    SELECT few.* FROM places CROSS JOIN LATERAL (
      SELECT balances.thing_id, balances.holder_id, things.kind AS letter, ${thingName} AS name, balances.quantity
        FROM balances JOIN things ON things.id = balances.thing_id ${thingFacts}
       WHERE balances.holder_id = places.holder_id AND balances.quantity <> 0
       ORDER BY balances.thing_id LIMIT ${shownInBin}) AS few
     WHERE places.parent_id = $1)
  ${shownThings} FROM lying JOIN things ON things.id = lying.thing_id ${thingFacts}
   ORDER BY lying.letter, lying.name, things.id`;

type OnShelf = LyingThing & { placeId: string } & Record<string, unknown>;

/** A place with what lies in it, and the places in it as one sees them from in front; null where there is no such place. */
export async function placePage(reader: Reader, placeId: string): Promise<PlacePage | null> {
  type Place = Omit<PlacePage, 'children' | 'contents'> & Record<string, unknown>;
  const place = await reader.row<Place>(selectPlace, [placeId]);
  if (place === null) return null;
  const [children, onShelf, contents] = await Promise.all([
    placeLevel(reader, placeId),
    reader.rows<OnShelf>(selectOnShelf, [placeId]),
    reader.rows<PlacePage['contents'][number] & { placeId: string } & Record<string, unknown>>(selectContents, [placeId]),
  ]);
  const byPlace = new Map<string, LyingThing[]>(children.map(({ id }) => [id, []]));
  for (const { placeId: inPlace, ...thing } of onShelf) byPlace.get(inPlace)?.push(thing);
  return {
    ...place,
    children: children.map((child) => ({ ...child, things: byPlace.get(child.id) ?? [] })),
    contents: contents.map(({ placeId: _here, ...thing }) => thing),
  };
}
