import { waiveJobLine } from '../../jobs/job-edits.js';
import { columns, type FileReader } from '../file-reader.js';
import { isKnown, jobLineIn } from '../job-parts.js';
import { setFinalStates } from '../job-states.js';

/** Lines that a job does without, each with a reason. After them a job is as it is to be. */
export const jobWaivers: FileReader = {
  file: 'job-waivers',
  columns: columns('job!', 'line!', 'reason!'),
  key: ['job', 'line'],
  async read(row, books) {
    const line = await jobLineIn(row, books);
    const reason = row.text('reason');
    if (row.faulty || line === null) return null;
    if (await isKnown(books, 'job-waivers', line.reference)) return 'unchanged';
    const waived = await waiveJobLine(books.transaction, line.jobId, line.lineId, reason);
    if (!waived.ok) return row.refused('line', waived.error);
    await books.refer('job-waivers', line.reference, line.lineId);
    return 'added';
  },
  finish: setFinalStates,
};
