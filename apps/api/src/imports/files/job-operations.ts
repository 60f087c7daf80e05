import { columns, type FileReader } from '../file-reader.js';
import { isKnown } from '../job-parts.js';
import { referredIn } from '../lookups.js';

const updateLeft = 'UPDATE job_operations SET minutes_left = $3 WHERE job_id = $1 AND number = $2 RETURNING id';

/** How much of an operation is left, where it is not all of what its type says. */
export const jobOperations: FileReader = {
  file: 'job-operations',
  columns: columns('job!', 'operation!', 'minutes_left!'),
  key: ['job', 'operation'],
  async read(row, books) {
    const jobId = await referredIn(row, 'job', books, 'jobs', 'The job');
    const number = row.whole('operation', 1, 9999);
    const minutes = row.whole('minutes_left', 0, 1_000_000);
    if (row.faulty || jobId === null) return null;
    const reference = `${row.cell('job')} ${number}`;
    if (await isKnown(books, 'job-operations', reference)) return 'unchanged';
    const operation = await books.transaction.row<{ id: string }>(updateLeft, [jobId, number, minutes]);
    if (!operation)
      return row.fault(
        'operation',
        `The job ${row.cell('job')} has no operation ${number}: its operations are those of its unit's type, in unit-type-operations.csv.`,
      );
    await books.refer('job-operations', reference, operation.id);
    return 'added';
  },
};
