import { newId } from '../../platform/new-id.js';
import { keepForJobs } from '../../selling/keep/keep-for-jobs.js';
import { type Books, noteDifferences } from '../books.js';
import { columns, type FileReader } from '../file-reader.js';
import { partIn, referredIn } from '../lookups.js';
import type { Row } from '../row.js';

const selectKept = `
  SELECT reason, lifted_at IS NOT NULL AS lifted FROM kept_for_jobs WHERE part_id = $1 OR thing_id = $2 ORDER BY kept_at DESC, id DESC LIMIT 1`;

interface Subject {
  partId?: string | undefined;
  thingId?: string | undefined;
}

/** What is not sold before somebody lifts it: a part, or one unit or lot. */
export const keptForJobs: FileReader = {
  file: 'kept-for-jobs',
  columns: columns('maker', 'number', 'unit', 'lot', 'reason!'),
  key: ['maker', 'number', 'unit', 'lot'],
  numberColumns: ['number'],
  async read(row, books) {
    const subject = await subjectIn(row, books);
    const reason = row.text('reason');
    if (row.faulty || subject === null) return null;
    const values = [subject.partId ?? null, subject.thingId ?? null];
    const known = await books.transaction.row<{ reason: string; lifted: boolean }>(selectKept, values);
    if (known?.lifted) row.note('reason', 'Somebody has lifted this since, and the books keep it so.');
    else if (known !== null) noteDifferences(row, { reason }, { reason: known.reason });
    if (known !== null) return 'unchanged';
    const kept = await keepForJobs(books.transaction, { id: newId(), ...subject, reason });
    return kept.ok ? 'added' : row.refused('reason', kept.error);
  },
};

async function subjectIn(row: Row, books: Books): Promise<Subject | null> {
  const said = (['number', 'unit', 'lot'] as const).filter((column) => row.cell(column) !== '');
  const [one] = said;
  if (one === undefined || said.length > 1)
    return row.fault(one ?? 'number', 'Name one of three: a part by its maker and number, a unit, or a lot.');
  if (one === 'number') {
    const part = await partIn(row, 'maker', 'number', books);
    return part === null ? null : { partId: part.id };
  }
  if (row.cell('maker') !== '') return row.fault('maker', 'A unit or a lot is named by its reference alone: leave this empty.');
  const thingId = await referredIn(row, one, books, one === 'unit' ? 'units' : 'lots', one === 'unit' ? 'The unit' : 'The lot');
  return thingId === null ? null : { thingId };
}
