import { recordFinding } from '../../jobs/job-edits.js';
import { columns, type FileReader } from '../file-reader.js';
import { isKnown, jobLineIn } from '../job-parts.js';

/** What was seen of a unit's own part: so many may be used again, so many not. */
export const jobFindings: FileReader = {
  file: 'job-findings',
  columns: columns('job!', 'line!', 'reused', 'replaced', 'words'),
  key: ['job', 'line'],
  async read(row, books) {
    const line = await jobLineIn(row, books);
    const quantityReused = row.amount('reused');
    const quantityReplaced = row.amount('replaced');
    const words = row.text('words');
    if (row.faulty || line === null || quantityReused === null || quantityReplaced === null) return null;
    if (await isKnown(books, 'job-findings', line.reference)) return 'unchanged';
    const found = await recordFinding(books.transaction, line.jobId, line.lineId, { quantityReused, quantityReplaced, words });
    if (!found.ok) return row.refused('reused', found.error);
    await books.refer('job-findings', line.reference, line.lineId);
    return 'added';
  },
};
