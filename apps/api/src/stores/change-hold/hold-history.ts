import { entriesBy, type HistorySource } from '../history/history-registry.js';

/** Whether the thing was held back already when a change came: then it was looked at and stays held back. */
const wasHeldBefore = `coalesce((SELECT before.held_back FROM hold_changes AS before
    WHERE before.thing_id = each_change.thing_id AND (before.recorded_at, before.id) < (each_change.recorded_at, each_change.id)
    ORDER BY before.recorded_at DESC, before.id DESC LIMIT 1), false)`;

/** Each hold: why, who may lift it and when to look again; and how it ended. */
export const holdHistory: HistorySource = {
  kind: 'holds',
  words: 'Held back or lifted',
  ofThings: entriesBy(`
    SELECT id, recorded_at AS at,
           CASE WHEN NOT held_back THEN 'No longer held back' WHEN ${wasHeldBefore} THEN 'Still held back' ELSE 'Held back' END AS title,
           concat_ws(', ', reason, (SELECT display_name || ' may lift it' FROM people AS lifter WHERE lifter.id = lifter_id),
                     'to be looked at again on ' || to_char(look_again_on, 'FMDD Mon YYYY')) AS detail, person_id, thing_id
      FROM hold_changes AS each_change WHERE thing_id = ANY ($1::uuid[])`),
};
