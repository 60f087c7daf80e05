import { entriesBy, type HistorySource } from '../stores/history/history-registry.js';
import { codeOf } from '../stores/place-words.js';

/** What became of each reservation of a thing: for which job, so many more or less. */
export const reservationHistory: HistorySource = {
  kind: 'reservations',
  words: 'Reservations',
  ofThings: entriesBy(`
    SELECT claim_changes.id, recorded_at AS at,
           upper(left(claim_changes.kind, 1)) || substr(claim_changes.kind, 2) || CASE WHEN quantity = 0 THEN '' ELSE ', ' || trim_scale(abs(quantity)) END AS title,
           concat_ws(', ', 'job ' || ${codeOf('job_id')}, (SELECT jobs.title FROM jobs WHERE jobs.id = job_id), nullif(reason, ''), 'until ' || to_char(until, 'FMDD Mon YYYY')) AS detail,
           person_id, thing_id
      FROM claim_changes WHERE thing_id = ANY ($1::uuid[])`),
};
