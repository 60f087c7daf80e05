import { columns, type FileReader } from '../file-reader.js';
import { isKnown, jobLineIn } from '../job-parts.js';
import { codeOf, referredIn } from '../lookups.js';

const unitOfLine = 'SELECT unit_of_measure AS unit FROM job_lines JOIN parts ON parts.id = part_id WHERE job_lines.id = $1';

/** Parts picked for a job or fitted on it, each scanned as at the bench: what may not be fitted there may not be brought in. */
export const jobFittings: FileReader = {
  file: 'job-fittings',
  columns: columns('job!', 'line!', 'lot!', 'quantity!', 'act!'),
  key: ['job', 'line', 'lot', 'act'],
  async read(row, books) {
    const line = await jobLineIn(row, books);
    const lotId = await referredIn(row, 'lot', books, 'lots', 'The lot');
    const act = row.choice('act', ['pick', 'fit']);
    const part = line && (await books.transaction.row<{ unit: 'each' | 'mm' | 'm' | 'g' }>(unitOfLine, [line.lineId]));
    const quantity = part ? row.quantity('quantity', part.unit) : null;
    if (row.faulty || line === null || lotId === null || act === null || quantity === null) return null;
    const reference = `${line.reference} ${row.cell('lot')} ${act}`;
    if (await isKnown(books, 'job-fittings', reference)) return 'unchanged';
    const code = await codeOf(books, lotId, 'L');
    const scanned = await books.handlers.scans.handle(books.transaction, act, {
      code,
      jobId: line.jobId,
      lineId: line.lineId,
      quantity,
    });
    if (!scanned.ok) return row.refused('lot', scanned.error);
    await books.refer('job-fittings', reference, scanned.value.fittingId ?? scanned.value.actId);
    return 'added';
  },
};
