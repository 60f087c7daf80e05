import { entriesBy, type HistorySource } from '../stores/history/history-registry.js';
import { codeSaid } from '../stores/place-words.js';

const uses = (count: string): string => `CASE ${count} WHEN 1 THEN '1 use' ELSE ${count} || ' uses' END`;
const onJob = (job: string): string =>
  `concat_ws(', ', 'job ' || ${codeSaid(job)}, (SELECT jobs.title FROM jobs WHERE jobs.id = ${job}))`;

/** What became of a container, what its packet was read to say, and on which jobs it was used. What the uses come to is on the jobs. */
export const containerHistory: HistorySource = {
  kind: 'consumables',
  words: 'Opened and used up',
  ofThings: entriesBy(`
    SELECT id, recorded_at AS at, upper(left(kind, 1)) || substr(kind, 2) AS title,
           concat_ws(', ', CASE WHEN kind = 'opened' THEN coalesce('on ' || to_char(opened_on, 'FMDD Mon YYYY'), 'nobody knows since when') END, nullif(words, '')) AS detail, person_id, thing_id
      FROM container_events WHERE thing_id = ANY ($1::uuid[])
    UNION ALL
    SELECT id, recorded_at, coalesce('Use by ' || to_char(use_by, 'FMDD Mon YYYY') || ', as read on the packet', 'The packet says no use-by date after all'), '', person_id, thing_id
      FROM use_by_readings WHERE thing_id = ANY ($1::uuid[])
    UNION ALL
    SELECT id, recorded_at, ${uses('uses')}, concat_ws(', ', ${onJob('job_id')}, nullif(why, ''), 'all the same: ' || override_reason), person_id, thing_id
      FROM consumable_uses WHERE kind = 'use' AND thing_id = ANY ($1::uuid[])
    UNION ALL
    SELECT later.id, later.recorded_at, ${uses('used.uses')} || ' put right, and no longer charged', concat_ws(', ', ${onJob('used.job_id')}, nullif(later.why, '')), later.person_id, used.thing_id
      FROM consumable_uses AS used JOIN consumable_uses AS later ON later.puts_right_id = used.id WHERE used.kind = 'use' AND used.thing_id = ANY ($1::uuid[])`),
};
