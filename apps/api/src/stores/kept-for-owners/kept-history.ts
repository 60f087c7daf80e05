import { entriesBy, entryId, type HistorySource } from '../history/history-registry.js';

const day = (column: string): string => `to_char(${column}, 'FMDD Mon YYYY')`;

/** Found property and what waits for its owner: since when and why, who wrote or called, and how it ended. */
export const keptForOwnerHistory: HistorySource = {
  kind: 'kept-for-owners',
  words: 'Kept for its owner',
  ofThings: entriesBy(`
    SELECT id, recorded_at AS at, 'Kept for its owner: ' || kind AS title,
           concat_ws(', ', words, nullif(found_where, ''), 'found by ' || nullif(found_by, ''), 'since ' || ${day('since')}, 'ask ' || nullif(ask_whom, '')) AS detail, person_id, thing_id
      FROM kept_for_owners WHERE thing_id = ANY ($1::uuid[])
    UNION ALL
    SELECT kept_for_owner_notes.id, kept_for_owner_notes.recorded_at, upper(left(way, 1)) || substr(way, 2) || coalesce(', ' || nullif(with_whom, ''), ''),
           concat_ws(', ', kept_for_owner_notes.words, 'on ' || ${day('said_on')}), kept_for_owner_notes.person_id, thing_id
      FROM kept_for_owners JOIN kept_for_owner_notes ON kept_id = kept_for_owners.id WHERE thing_id = ANY ($1::uuid[])
    UNION ALL
    SELECT ${entryId('id', "'ended'")}, ended_at, 'No longer kept for its owner: ' || ended_how, ended_words, ended_by, thing_id
      FROM kept_for_owners WHERE thing_id = ANY ($1::uuid[]) AND ended_at IS NOT NULL`),
};
