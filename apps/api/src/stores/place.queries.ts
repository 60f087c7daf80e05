import type { PlaceBrief, PlacePage } from '@corewright/contracts/stores';
import { patternsOfWords } from '../catalogue/search-words.js';
import type { Reader } from '../platform/database/database.js';
import { badInput, done, type Result, refused } from '../platform/refusal.js';
import { codeOf, thingFacts, thingName, typeName } from './place-words.js';

const placesMax = 5000;

const brief = `
  holder_id AS id, ${codeOf('holder_id')} AS code, name, path, kind, parent_id AS "parentId",
  (SELECT count(*)::integer FROM balances WHERE balances.holder_id = places.holder_id AND quantity <> 0) AS "thingCount"`;

const findPlaces = `
  SELECT ${brief} FROM places
   WHERE concat_ws(' ', path, nicknames) ILIKE ALL ($1::text[])
      OR EXISTS (SELECT 1 FROM codes WHERE subject_id = holder_id AND code = $2)
   ORDER BY path COLLATE "C", holder_id LIMIT ${placesMax}`;

/** Places by words of their path, nickname or code; all of them where nothing is asked. In the order of the tree. */
export function placesLike(reader: Reader, keyed: string): Promise<PlaceBrief[]> {
  return reader.rows<PlaceBrief & Record<string, unknown>>(findPlaces, [
    patternsOfWords(keyed),
    keyed.replace(/\s+/g, '').toUpperCase(),
  ]);
}

const selectPlace = `SELECT ${brief}, nicknames FROM places WHERE holder_id = $1`;

const selectChildren = `SELECT ${brief} FROM places WHERE parent_id = $1 ORDER BY name COLLATE "C", holder_id`;

const contentsMax = 2000;

/** The names put them in order; codes and numbers are looked up only for those that are shown. */
const selectContents = `
  WITH lying AS (
    SELECT things.id, things.kind AS letter, ${thingName} AS name, balances.quantity, missing_since IS NOT NULL AS "isMissing"
      FROM balances JOIN things ON things.id = balances.thing_id ${thingFacts}
     WHERE balances.holder_id = $1 AND balances.quantity <> 0
     ORDER BY things.kind, name, things.id LIMIT ${contentsMax})
  SELECT lying.id, ${codeOf('lying.id')} AS code,
         CASE letter WHEN 'U' THEN 'unit' WHEN 'L' THEN 'lot' WHEN 'C' THEN 'component' ELSE 'unsorted' END AS kind, lying.name,
         concat_ws(', ', nullif(CASE letter
           WHEN 'U' THEN concat_ws(', ', nullif(${typeName}, ''), nullif(units.marks, ''))
           WHEN 'L' THEN concat_ws(', ', (SELECT number FROM part_numbers WHERE part_id = lots.part_id ORDER BY is_main DESC, id LIMIT 1),
                                         nullif(lots.marks, ''))
           ELSE '' END, ''),
           'property of ' || (SELECT owners.name FROM parties AS owners WHERE owners.id = owner_id),
           CASE WHEN condemned THEN 'condemned' WHEN held_back_reason IS NOT NULL THEN 'held back' END) AS detail,
         trim_scale(lying.quantity)::text AS quantity, "isMissing"
    FROM lying JOIN things ON things.id = lying.id ${thingFacts}
   ORDER BY letter, lying.name, lying.id`;

/** A place with what lies in it and the places inside it; null where there is no such place. */
export async function placePage(reader: Reader, placeId: string): Promise<PlacePage | null> {
  const place = await reader.row<PlaceBrief & { nicknames: string }>(selectPlace, [placeId]);
  if (place === null) return null;
  return {
    ...place,
    children: await reader.rows<PlaceBrief & Record<string, unknown>>(selectChildren, [placeId]),
    contents: await reader.rows<PlacePage['contents'][number] & Record<string, unknown>>(selectContents, [placeId]),
  };
}

export async function placeBrief(reader: Reader, placeId: string): Promise<PlaceBrief | null> {
  return reader.row<PlaceBrief & Record<string, unknown>>(selectPlace, [placeId]);
}

const selectKind = 'SELECT kind FROM places WHERE holder_id = $1';

/** Whether goods may be put there by hand: a place of the books, and no job's kit tray. */
export async function placeForGoods(reader: Reader, placeId: string): Promise<Result<null>> {
  const place = await reader.row<{ kind: string }>(selectKind, [placeId]);
  if (place === null) return refused(badInput('placeId', 'That place is not in the books. Choose one from the list.'));
  if (place.kind === 'tray')
    return refused(
      badInput('placeId', 'That is the kit tray of a job. Choose a place of the stores; a scan in the mode “pick” fills a tray.'),
    );
  return done(null);
}
