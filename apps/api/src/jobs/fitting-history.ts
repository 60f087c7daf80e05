import { amountOf, entriesBy, entryId, type HistorySource } from '../stores/history/history-registry.js';
import { codeSaid } from '../stores/place-words.js';

const lineOfJob = `'job ' || ${codeSaid('job_lines.job_id')} || ', line ' || line_no`;
const ended = 'fitting_endings JOIN fittings ON fittings.id = fitting_id JOIN job_lines ON job_lines.id = job_line_id';

/** What was fitted on which line of which job, taken back, and taken out again; of what goes on as a lot of its own, where it came out of. */
export const fittingHistory: HistorySource = {
  kind: 'fittings',
  words: 'Fitted and taken out',
  ofThings: entriesBy(`
    SELECT fittings.id, recorded_at AS at, ${amountOf('fittings.quantity')} || CASE WHEN reused THEN ' fitted again in ' ELSE ' fitted in ' END || ${lineOfJob} AS title,
           concat_ws(', ', CASE WHEN in_place_of THEN 'in place of what the line says: ' || why || ' (' || evidence || ')' END, 'all the same: ' || override_reason) AS detail, person_id, thing_id
      FROM fittings JOIN job_lines ON job_lines.id = job_line_id WHERE thing_id = ANY ($1::uuid[])
    UNION ALL
    SELECT fitting_endings.id, fitting_endings.recorded_at,
           ${amountOf('fitting_endings.quantity')} || CASE fitting_endings.kind WHEN 'removed' THEN ' taken out again, ' ELSE ' taken back, ' END || ${lineOfJob},
           concat_ws(', ', nullif(fitting_endings.why, ''), 'goes on as ' || ${codeSaid('new_lot_id')}), fitting_endings.person_id, thing_id
      FROM ${ended} WHERE thing_id = ANY ($1::uuid[])
    UNION ALL
    SELECT ${entryId('fitting_endings.id', 'new_lot_id')}, fitting_endings.recorded_at, 'Taken out after fitting, ' || ${lineOfJob},
           concat_ws(', ', 'it was ' || ${codeSaid('thing_id')}, nullif(fitting_endings.why, '')), fitting_endings.person_id, new_lot_id
      FROM ${ended} WHERE new_lot_id = ANY ($1::uuid[])`),
};
