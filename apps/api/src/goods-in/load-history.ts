import { entriesBy, type HistorySource } from '../stores/history/history-registry.js';

/** How a thing came: with which load, or out of which box. */
export const arrivalHistory: HistorySource = {
  kind: 'arrival',
  words: 'How it came',
  ofThings: entriesBy(`
    SELECT load_rows.thing_id AS id, created_at AS at, CASE WHEN struck_out THEN 'Struck out of load ' ELSE 'Came with load ' END || loads.number AS title, loads.words AS detail,
           NULL::uuid AS person_id, load_rows.thing_id
      FROM load_rows JOIN (SELECT id, number, words FROM loads) AS loads ON loads.id = load_id JOIN (SELECT id AS of_thing, created_at FROM things) AS things ON of_thing = load_rows.thing_id
     WHERE load_rows.thing_id = ANY ($1::uuid[])
    UNION ALL
    SELECT box_takings.id, recorded_at, 'Named out of a box', box.words, person_id, box_takings.thing_id
      FROM box_takings JOIN unsorted_boxes AS box ON box.thing_id = box_id WHERE box_takings.thing_id = ANY ($1::uuid[])
    UNION ALL
    SELECT id, recorded_at, CASE kind WHEN 'named' THEN pieces || ' of what was in it named' WHEN 'emptied' THEN 'Said to be empty' ELSE 'Not as was said' END, why, person_id, box_id
      FROM box_takings WHERE box_id = ANY ($1::uuid[])`),
};
