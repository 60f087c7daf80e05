import { entriesBy, entryId, type HistorySource } from '../history/history-registry.js';

/** Condemned for good, and what became of it. */
export const condemnedHistory: HistorySource = {
  kind: 'condemned',
  words: 'Condemned',
  ofThings: entriesBy(`
    SELECT ${entryId('thing_id', "'condemned'")} AS id, recorded_at AS at, 'Condemned for good' AS title, concat_ws(', ', reason, 'no photograph: ' || nullif(no_picture, '')) AS detail,
           person_id, thing_id
      FROM condemnations WHERE thing_id = ANY ($1::uuid[])
    UNION ALL
    SELECT id, recorded_at, CASE how WHEN 'scrapped' THEN 'Condemned, and scrapped' WHEN 'given back' THEN 'Condemned, and given back to its owner' ELSE 'Condemned, and ' || how END,
           concat_ws(', ', words, 'the owner’s word: ' || nullif(owners_word, '')), person_id, thing_id
      FROM condemned_disposals WHERE thing_id = ANY ($1::uuid[])`),
};
