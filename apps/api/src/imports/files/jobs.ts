import { BuildStandard, JobState } from '@corewright/contracts/base';
import { newId } from '../../platform/new-id.js';
import type { Books } from '../books.js';
import { columns, type FileReader } from '../file-reader.js';
import { finalStates } from '../job-states.js';
import { codeOf, firmIn, referredIn } from '../lookups.js';
import { plainNumberOf, skipTo } from '../own-numbers.js';
import type { Row } from '../row.js';

const updateOpened = 'UPDATE jobs SET opened_on = $2 WHERE id = $1';
const insertDate = `
  INSERT INTO dates_given (id, command_key, job_id, given, against_advice, reason, advice, person_id) VALUES ($1, $2, $3, $4, $5, $6, $7, $8)`;
/** Nothing was reckoned when this date was given: the books did not exist. */
const noAdvice = JSON.stringify({ kind: 'none', date: null, sentence: 'brought in by import' });

interface JobFacts {
  openedOn: string | null;
  given: string | null;
  reason: string;
}

/**
 * Jobs, open and closed. Each is opened as a screen opens it, with lines and operations of its unit's type; its state is set when
 * all that belongs to it was read, for a closed job takes no scans. A reference that is a plain number stays the job's number where that is free.
 */
export const jobs: FileReader = {
  file: 'jobs',
  columns: columns(
    'reference!',
    'unit!',
    'customer',
    'title',
    'wanted',
    'build_standard!',
    'state!',
    'priority',
    'opened_on!',
    'date_given',
    'date_reason',
  ),
  key: ['reference'],
  async read(row, books) {
    const reference = row.number('reference');
    const unitId = await referredIn(row, 'unit', books, 'units', 'The unit');
    const customer = row.cell('customer') === '' ? null : await firmIn(row, 'customer', books, 'customer');
    const buildStandard = row.choice('build_standard', BuildStandard.options);
    const state = row.choice('state', JobState.options);
    const priority = row.cell('priority') === '' ? 3 : row.whole('priority', 1, 5);
    const texts = { title: row.text('title'), wanted: row.longText('wanted') };
    const facts = factsOf(row, books);
    if (row.faulty || unitId === null || buildStandard === null || state === null || priority === null) return null;
    if (await books.referred('jobs', reference)) return 'unchanged';
    await keepNumber(books, reference);
    const input = {
      id: newId(),
      unitCode: await codeOf(books, unitId, 'U'),
      customerName: customer?.name ?? '',
      ...texts,
      buildStandard,
      priority,
    };
    const opened = await books.handlers.jobs.handle(books.transaction, input);
    if (!opened.ok) return row.refused(opened.error.code === 'bad-input' ? 'customer' : 'unit', opened.error);
    await writeFacts(books, input.id, facts);
    await books.refer('jobs', reference, input.id);
    (await finalStates(books)).set(input.id, { row, state });
    return 'added';
  },
};

function factsOf(row: Row, books: Books): JobFacts {
  const openedOn = row.day('opened_on');
  if (openedOn !== null && openedOn > books.today)
    row.fault('opened_on', 'This day is yet to come. Give the day on which the job was opened.');
  const given = row.day('date_given');
  const reason = row.text('date_reason');
  if (reason !== '' && row.cell('date_given') === '')
    row.fault('date_given', 'There is a reason and no date. Give the date, or leave the reason empty.');
  return { openedOn, given, reason };
}

async function writeFacts({ transaction }: Books, jobId: string, { openedOn, given, reason }: JobFacts): Promise<void> {
  await transaction.rows(updateOpened, [jobId, openedOn]);
  if (given === null) return;
  const { key, person } = transaction.command;
  await transaction.rows(insertDate, [newId(), key, jobId, given, reason !== '', reason || null, noAdvice, person.id]);
}

/** The next job gets the number of its reference, where nobody has drawn that number yet. */
async function keepNumber(books: Books, reference: string): Promise<void> {
  const number = plainNumberOf(reference);
  if (number !== null && number > 1 && books.options.apply) await skipTo(books.transaction, 'code_serial_j', number - 1);
}
