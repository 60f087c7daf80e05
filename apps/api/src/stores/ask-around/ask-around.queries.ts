import type { AskAround, ThingAnswer, UnnamedThing } from '@corewright/contracts/ask-around';
import type { Reader } from '../../platform/database/database.js';
import type { LoadNames } from '../later-names.js';
import { codeOf, holderWords } from '../place-words.js';

const instant = (column: string): string => `to_char(${column} AT TIME ZONE 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.MS"Z"')`;

const answersOf = (thing: string): string => `
  coalesce((SELECT json_agg(json_build_object('id', answers.id, 'toldBy', told_by, 'words', answers.words, 'by', people.display_name,
                                              'at', ${instant('recorded_at')}) ORDER BY recorded_at DESC, answers.id)
              FROM thing_answers AS answers JOIN people ON people.id = person_id WHERE answers.thing_id = ${thing}), '[]')`;

const shownMax = 500;
const unnamed = `
  FROM things LEFT JOIN units ON units.thing_id = things.id LEFT JOIN unsorted_boxes ON unsorted_boxes.thing_id = things.id
  LEFT JOIN lots ON lots.thing_id = things.id
 WHERE held > 0 AND (things.kind = 'X' OR (things.kind = 'U' AND unit_type_id IS NULL) OR (ask_around AND lots.part_id IS NULL))`;
const countUnnamed = `SELECT count(*)::integer AS count ${unnamed}`;
/** It has been here since it first moved, and whoever sold it is whom the first movement came from, in a box or by itself. */
const selectUnnamed = `
  WITH those AS MATERIALIZED (
    SELECT things.id, CASE things.kind WHEN 'U' THEN 'unit' WHEN 'L' THEN 'lot' ELSE 'unsorted' END AS kind, owner_id, created_at,
           coalesce(units.words, lots.words, unsorted_boxes.words) AS words, coalesce(units.marks, lots.marks, '') AS marks,
           (piece_count - pieces_named_of(unsorted_boxes.thing_id))::integer AS pieces
      ${unnamed} ORDER BY created_at, things.id LIMIT ${shownMax})
  SELECT those.id, those.kind, ${codeOf('those.id')} AS code, words, marks, pieces, owners.name AS owner, came.at AS since, sellers.name AS seller,
         coalesce((SELECT string_agg(${holderWords('holders.id', 'holders.kind')}, '; ' ORDER BY holders.id)
                     FROM balances JOIN holders ON holders.id = holder_id WHERE thing_id = those.id AND quantity > 0), '') AS places,
         coalesce((SELECT json_agg(id ORDER BY taken_at, id) FROM pictures WHERE subject_id = those.id
                       AND NOT EXISTS (SELECT 1 FROM picture_strikes WHERE picture_id = pictures.id)), '[]') AS pictures,
         ${answersOf('those.id')} AS answers
    FROM those LEFT JOIN parties AS owners ON owners.id = owner_id
    JOIN LATERAL (SELECT from_holder_id AS id, occurred_at AS at FROM movements WHERE thing_id = those.id ORDER BY sequence LIMIT 1) AS came ON true
    LEFT JOIN holders AS origin ON origin.id = came.id AND origin.kind = 'supplier'
    LEFT JOIN parties AS sellers ON sellers.id = origin.id
   ORDER BY came.at, those.id`;

/** What is here and nobody could name: the oldest of it, and how much there is. No money is among it, for it goes from hand to hand. */
export async function askAround(reader: Reader, loads: LoadNames): Promise<AskAround> {
  const rows = await reader.rows<Omit<UnnamedThing, 'load'> & Record<string, unknown>>(selectUnnamed);
  const names = await loads.namesOf(
    reader,
    rows.map(({ id }) => id),
  );
  const things = rows.map((row) => ({ ...row, load: names.get(row.id) ?? null }));
  if (rows.length < shownMax) return { things, count: rows.length };
  return { things, count: (await reader.row<{ count: number }>(countUnnamed))?.count ?? rows.length };
}

const selectAnswers = `SELECT ${answersOf('$1::uuid')} AS answers`;

/** What was told of a thing, the newest first. */
export async function answersOn(reader: Reader, thingId: string): Promise<ThingAnswer[]> {
  return (await reader.row<{ answers: ThingAnswer[] }>(selectAnswers, [thingId]))?.answers ?? [];
}
