import type { ImportFile } from '@corewright/contracts/imports';
import type { Books } from './books.js';
import { referredIn } from './lookups.js';
import type { Row } from './row.js';

export interface KnownJobLine {
  jobId: string;
  lineId: string;
  /** what the row is known by: two rows for the same are one row brought in twice */
  reference: string;
}

const selectLine = 'SELECT id FROM job_lines WHERE job_id = $1 AND line_no = $2';

/** The line of a job that a row names; null, with a fault, where the job has none of that number. */
export async function jobLineIn(row: Row, books: Books): Promise<KnownJobLine | null> {
  const jobId = await referredIn(row, 'job', books, 'jobs', 'The job');
  const lineNo = row.whole('line', 1, 999);
  if (jobId === null || lineNo === null) return null;
  const line = await books.transaction.row<{ id: string }>(selectLine, [jobId, lineNo]);
  if (!line)
    return row.fault(
      'line',
      `The job ${row.cell('job')} has no line ${lineNo}: its lines are those of its unit's type, in unit-type-lines.csv.`,
    );
  return { jobId, lineId: line.id, reference: `${row.cell('job')} ${lineNo}` };
}

/** Whether a row of this reference was brought in before. */
export async function isKnown(books: Books, file: ImportFile, reference: string): Promise<boolean> {
  return (await books.referred(file, reference)) !== null;
}
