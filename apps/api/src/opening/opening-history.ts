import { amountOf, entriesBy, entryId, type HistorySource } from '../stores/history/history-registry.js';
import { codeSaid, placePath } from '../stores/place-words.js';

/** What was keyed of what lay there before the books began, by whom, and who named it later; of a place how far it was. */
export const openingHistory: HistorySource = {
  kind: 'opening-stock',
  words: 'Opening stock',
  ofThings: entriesBy(`
    SELECT ${entryId('thing_id', "'keyed'")} AS id, keyed_at AS at,
           CASE WHEN split_from_id IS NULL THEN 'Keyed as opening stock, ' ELSE 'Parted off from ' || ${codeSaid('split_from_id')} || ' at the desk, ' END || ${amountOf('quantity')} AS title,
           concat_ws(', ', ${placePath('place_id')}, 'taken onto job ' || ${codeSaid('job_id')} || ' at once', CASE WHEN standing = 'struck out' THEN 'struck out since' END) AS detail,
           keyed_by AS person_id, thing_id
      FROM opening_rows WHERE thing_id = ANY ($1::uuid[])
    UNION ALL
    SELECT ${entryId('thing_id', "'named'")}, named_at, 'Named at the desk', '', named_by, thing_id
      FROM opening_rows WHERE thing_id = ANY ($1::uuid[]) AND named_at IS NOT NULL`),
  ofPlace: entriesBy(`
    SELECT id, recorded_at AS at, CASE kind WHEN 'begun' THEN 'Opening stock begun here' WHEN 'done' THEN 'Opening stock: all here is keyed' ELSE 'Opening stock goes on here' END AS title,
           why AS detail, person_id, NULL::uuid AS thing_id
      FROM opening_acts WHERE place_id = ANY ($1::uuid[])`),
};
