import { entriesBy, entryId, type HistorySource } from '../stores/history/history-registry.js';
import { codeSaid } from '../stores/place-words.js';

/** Warnings of the other kinds are of lines and orders, not of a thing; these name theirs in their key. */
const aged = `
  SELECT *, split_part(subject_key, ' ', 2)::uuid AS aged_id FROM warnings
   WHERE kind = 'past its storage life' AND subject_key LIKE 'aged %' AND split_part(subject_key, ' ', 2) = ANY ($1::text[])`;

/** What a job was warned of a thing that it has reserved, and who settled it. */
export const warningHistory: HistorySource = {
  kind: 'warnings',
  words: 'Warnings',
  ofThings: entriesBy(`
    SELECT id, raised_at AS at, 'Warning: past its storage life' AS title, concat_ws(', ', 'job ' || ${codeSaid('job_id')}, nullif(why, '')) AS detail, NULL::uuid AS person_id, aged_id AS thing_id
      FROM (${aged}) AS raised
    UNION ALL
    SELECT ${entryId('id', "'settled'")}, settled_at, 'Warning settled', concat_ws(', ', 'job ' || ${codeSaid('job_id')}, nullif(settled_note, '')), settled_by, aged_id
      FROM (${aged}) AS settled WHERE settled_at IS NOT NULL`),
};
