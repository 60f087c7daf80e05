import { stat } from 'node:fs/promises';
import type { ImportFault, ImportFile, ImportReport } from '@corewright/contracts/imports';
import { Injectable } from '@nestjs/common';
import { WorkshopClock } from '../people/workshop.js';
import type { Transaction } from '../platform/commands/unit-of-work.js';
import { cellFromSpreadsheet } from '../platform/csv/spreadsheet-cell.js';
import { refusalOfConstraint } from '../platform/database/database-failure.js';
import { invariant } from '../platform/refusal.js';
import { Books, type ImportOptions, type RowMarks } from './books.js';
import { type CsvRecord, CsvUnreadable, recordsOf } from './csv/read-csv.js';
import type { Encoding } from './csv/text-encoding.js';
import type { FileReader, Outcome } from './file-reader.js';
import { Handlers } from './handlers.js';
import { headingsOf } from './headings.js';
import { ReportBook } from './import-report.js';
import { type ImportRun, ImportRuns } from './import-runs.js';
import { readers } from './readers.js';
import { Row } from './row.js';

/** A file that lies on the disk of the server, looked through once. */
export interface FileToImport {
  file: ImportFile;
  path: string;
  encoding: Encoding;
}

interface OpenFile {
  reader: FileReader;
  records: AsyncGenerator<CsvRecord>;
  headings: readonly string[];
}

const mark = 'SAVEPOINT whole_import';
const undo = 'ROLLBACK TO SAVEPOINT whole_import';
/** So many rows, or so much text, are looked up and written together: enough that the way to the database costs little. */
const rowsTogetherMax = 2_500;
const charactersTogetherMax = 2_000_000;
const markRow = 'SAVEPOINT import_row';
const keepRow = 'RELEASE SAVEPOINT import_row';
const undoRow = 'ROLLBACK TO SAVEPOINT import_row';

/**
 * Brings files into the books: every row is checked and written through the rules of the screens. All of it is kept, or, with a
 * fault anywhere or when it is only tried, nothing.
 */
@Injectable()
export class Importer {
  constructor(
    private readonly handlers: Handlers,
    private readonly clock: WorkshopClock,
    private readonly runs: ImportRuns,
  ) {}

  async bringIn(transaction: Transaction, files: readonly FileToImport[], options: ImportOptions): Promise<ImportReport> {
    const run = await this.runs.begin(transaction, !options.apply, await bytesOf(files));
    try {
      return await this.bringInWatched(transaction, files, options, run);
    } finally {
      await run.end();
    }
  }

  private async bringInWatched(
    transaction: Transaction,
    files: readonly FileToImport[],
    options: ImportOptions,
    run: ImportRun,
  ): Promise<ImportReport> {
    await transaction.rows(mark);
    const report =
      (await this.read(transaction, files, options, run, 'plain')) ?? (await this.readMarked(transaction, files, options, run));
    const applied = options.apply && report.faultsTotal === 0;
    if (applied) transaction.news('imports');
    else await transaction.rows(undo);
    return report.close(transaction.command.key, applied);
  }

  /** The database itself refused a row, which ends what it was doing: once more from the start, with each row marked. */
  private async readMarked(
    transaction: Transaction,
    files: readonly FileToImport[],
    options: ImportOptions,
    run: ImportRun,
  ): Promise<ReportBook> {
    await transaction.rows(undo);
    run.restart();
    const report = await this.read(transaction, files, options, run, 'marked');
    invariant(report, 'with its rows marked an import is read to its end');
    return report;
  }

  /** @returns null where the database refused something and rows were not marked */
  private async read(
    transaction: Transaction,
    files: readonly FileToImport[],
    options: ImportOptions,
    run: ImportRun,
    rows: RowMarks,
  ): Promise<ReportBook | null> {
    const report = new ReportBook();
    const books = new Books(transaction, this.handlers, report, options, await this.clock.today(transaction), rows);
    const open = await openAll(files, report, run);
    try {
      // What cannot be opened would let every row that rests on it appear faulty.
      if (report.faultsTotal === 0) await readAll(open, books, run);
      await transaction.settled();
      return report;
    } catch (error) {
      if (rows === 'marked' || !refusalOfConstraint(error)) throw error;
      return null;
    } finally {
      for (const { records } of open) await records.return(undefined);
    }
  }
}

/** Opens every file as far as its headings; what is wrong with those is told of all files at once. */
async function openAll(files: readonly FileToImport[], report: ReportBook, run: ImportRun): Promise<OpenFile[]> {
  const open: OpenFile[] = [];
  for (const reader of readers) {
    const given = files.find(({ file }) => file === reader.file);
    if (!given) continue;
    report.open(reader.file, given.encoding.words);
    if (!given.encoding.ok) {
      report.fault({ file: reader.file, line: 1, column: '', value: '', words: given.encoding.fault });
      continue;
    }
    const records = recordsOf(given.path, given.encoding.label, (bytes) => run.readBytes(bytes));
    const first = await nextOf(records);
    if (first instanceof CsvUnreadable) report.fault(faultOf(first, reader.file));
    const headings = first === null ? emptyFile(reader, report) : headingsOf(reader, first, report);
    if (headings) open.push({ reader, records, headings });
    else await records.return(undefined);
  }
  return open;
}

async function readAll(open: readonly OpenFile[], books: Books, run: ImportRun): Promise<void> {
  let readable = true;
  for (const reader of readers) {
    const file = open.find((each) => each.reader === reader);
    if (file && readable) readable = await readFile(file, books, run);
    if (readable) await reader.finish?.(books);
  }
}

/** @returns false where the file breaks off: what rests on it cannot be judged */
async function readFile({ reader, records, headings }: OpenFile, books: Books, run: ImportRun): Promise<boolean> {
  const lines = new Map<string, number>();
  const positions = new Map(headings.map((heading, position) => [heading, position]));
  for (;;) {
    const { taken, end } = await nextOfMany(records);
    const rows = taken.map((record) => rowOf(reader, record, positions, books));
    if (reader.numberColumns) await books.numbers.lookUp(numbersIn(rows, reader.numberColumns));
    await reader.lookUp?.(books);
    for (const row of rows) {
      await run.readRow(reader.file);
      await readRow(reader, row, lines, books);
    }
    books.writeGathered();
    if (end === 'more') continue;
    if (end !== 'end') books.report.fault(faultOf(end, reader.file));
    return end === 'end';
  }
}

/** What part numbers cells name, those of lists one by one too. */
function numbersIn(rows: readonly Row[], columns: readonly string[]): string[] {
  const cells = rows.flatMap((row) => columns.map((column) => row.cell(column)));
  return cells.flatMap((cell) => (cell.includes(';') ? [cell, ...cell.split(';')] : cell));
}

async function readRow(reader: FileReader, row: Row, lines: Map<string, number>, books: Books): Promise<void> {
  books.report.count(reader.file, 'rows');
  const key = reader.key.map((column) => row.cell(column));
  checkFilled(row, reader);
  checkTwice(row, reader, key, lines);
  const outcome = row.faulty
    ? null
    : await (books.marks === 'marked' ? readMarkedRow(reader, row, books) : reader.read(row, books));
  if (outcome && !row.faulty) books.report.count(reader.file, outcome);
  else books.rowHasFaults(reader.file, key, row.line);
}

function rowOf(reader: FileReader, { line, cells }: CsvRecord, positions: ReadonlyMap<string, number>, books: Books): Row {
  const said = cells.map((cell) => cellFromSpreadsheet(cell.trim()));
  return new Row(
    { file: reader.file, line, today: books.today, shiftDays: books.options.shiftDays },
    said,
    positions,
    books.report,
  );
}

function checkFilled(row: Row, reader: FileReader): void {
  const [cells, headings] = row.width;
  if (cells !== headings)
    row.fault(
      '',
      `This row has ${cells} cells and there are ${headings} headings. A comma within a cell needs quotation marks round the whole cell.`,
    );
  else
    for (const { name, filled } of reader.columns)
      if (filled && row.cell(name) === '') row.fault(name, 'This cannot be left empty.');
}

function checkTwice(row: Row, reader: FileReader, key: readonly string[], lines: Map<string, number>): void {
  const text = key.join('\n').toLowerCase();
  const before = lines.get(text);
  if (before === undefined) lines.set(text, row.line);
  else
    row.fault(
      reader.key.at(-1) ?? '',
      `Line ${before} is for the same ${reader.key.join(', ')} already. Put the two together, or correct one.`,
    );
}

/** What the database itself refuses is a fault of the row too, and the reading goes on after it. */
async function readMarkedRow(reader: FileReader, row: Row, books: Books): Promise<Outcome> {
  const { transaction } = books;
  await transaction.rows(markRow);
  try {
    const outcome = await reader.read(row, books);
    await transaction.rows(keepRow);
    return outcome;
  } catch (error) {
    const refusal = refusalOfConstraint(error);
    if (!refusal) throw error;
    await transaction.rows(undoRow);
    await transaction.rows(keepRow);
    return row.refused(reader.key[0] ?? '', refusal);
  }
}

/** The next rows of a file, as many as are looked up and written together, and how the file goes on behind them. */
async function nextOfMany(
  records: AsyncGenerator<CsvRecord>,
): Promise<{ taken: CsvRecord[]; end: 'more' | 'end' | CsvUnreadable }> {
  const taken: CsvRecord[] = [];
  let characters = 0;
  while (taken.length < rowsTogetherMax && characters < charactersTogetherMax) {
    const next = await nextOf(records);
    if (next === null) return { taken, end: 'end' };
    if (next instanceof CsvUnreadable) return { taken, end: next };
    taken.push(next);
    for (const cell of next.cells) characters += cell.length;
  }
  return { taken, end: 'more' };
}

async function nextOf(records: AsyncGenerator<CsvRecord>): Promise<CsvRecord | CsvUnreadable | null> {
  try {
    const next = await records.next();
    return next.done ? null : next.value;
  } catch (error) {
    if (error instanceof CsvUnreadable) return error;
    throw error;
  }
}

function faultOf({ line, message }: CsvUnreadable, file: ImportFile): ImportFault {
  const words = `${message} From here on the file cannot be read, and the files after it were not looked at.`;
  return { file, line, column: '', value: '', words };
}

async function bytesOf(files: readonly FileToImport[]): Promise<number> {
  const sizes = await Promise.all(files.map(async ({ path }) => (await stat(path)).size));
  return sizes.reduce((sum, size) => sum + size, 0);
}

function emptyFile({ file, columns }: FileReader, report: ReportBook): null {
  const names = columns.map(({ name }) => name).join(', ');
  report.fault({
    file,
    line: 1,
    column: '',
    value: '',
    words: `The file is empty. Its first line is the headings: ${names}. Below it stands one row a line. Leave the file out if there is nothing to say.`,
  });
  return null;
}
