import type { ImportFile } from '@corewright/contracts/imports';
import type { PlainDate } from '@corewright/quantities/plain-date';
import type { Transaction } from '../platform/commands/unit-of-work.js';
import { type ManyRows, rowsTogether } from '../platform/database/many-rows.js';
import { GatheredRows } from './gathered-rows.js';
import type { Handlers } from './handlers.js';
import type { ReportBook } from './import-report.js';
import { KnownNumbers } from './known-numbers.js';
import { KnownRelations } from './known-relations.js';
import type { Row } from './row.js';

export interface ImportOptions {
  /** false: everything is tried and nothing is kept */
  apply: boolean;
  /** every day of the calendar moves by so many days; packet dates never do */
  shiftDays: number;
}

const referencesOfFile = 'SELECT reference, subject_id AS id FROM import_references WHERE file = $1';
const thingOfId = (kind: string): string => `SELECT 1 AS there FROM things WHERE id = $1 AND kind = '${kind}'`;
const subjectsOfId: Partial<Record<ImportFile, string>> = {
  loads: 'SELECT 1 AS there FROM loads WHERE id = $1',
  units: thingOfId('U'),
  lots: thingOfId('L'),
};
const isId = /^[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}$/;
/** A lot that lay in several places left as a row for each. */
const furtherPlace = / \(place \d+\)$/;
const insertReference = 'INSERT INTO import_references (file, reference, subject_id) VALUES ($1, $2, $3)';

/** Marking each row lets the reading go on after a refusal of the database, and costs two statements a row. */
export type RowMarks = 'plain' | 'marked';

/** What an import works with while it runs: the transaction, the rules of the screens, and what it has read so far. */
export class Books {
  private readonly named = new Map<string, Map<string, unknown>>();
  private readonly made = new Set<string>();
  private readonly faultyRows = new Map<string, number>();
  private readonly gathered: GatheredRows;
  readonly numbers: KnownNumbers;
  readonly relations: KnownRelations;

  constructor(
    readonly transaction: Transaction,
    readonly handlers: Handlers,
    readonly report: ReportBook,
    readonly options: ImportOptions,
    readonly today: PlainDate,
    readonly marks: RowMarks,
  ) {
    this.gathered = new GatheredRows(transaction);
    this.numbers = new KnownNumbers(transaction);
    this.relations = new KnownRelations(transaction);
  }

  /** Writes a row that was checked: together with others, or, where rows are marked, at once, so that a refusal is this row's. */
  async add(into: ManyRows, values: readonly unknown[]): Promise<void> {
    if (this.marks === 'marked') await this.transaction.rows(into.text, rowsTogether([values]));
    else this.gathered.add(into, values);
  }

  /** Sends what was gathered. */
  writeGathered(): void {
    this.gathered.write();
  }

  /** The subject that a row of this reference made, in this import or an earlier one. */
  async referred(file: ImportFile, reference: string): Promise<string | null> {
    const known = await this.references(file);
    const there = known.get(reference);
    const plain = reference.replace(furtherPlace, '');
    // A lot that this import has just made lay elsewhere in several places; here each of its rows is still to come in.
    if (there !== undefined || this.made.has(`${file} ${plain}`)) return there ?? null;
    return known.get(plain) ?? (isId.test(plain) ? this.ofId(file, plain) : null);
  }

  /** What came in without a file leaves in one under its id. */
  private async ofId(file: ImportFile, id: string): Promise<string | null> {
    const text = subjectsOfId[file];
    return text === undefined
      ? null
      : this.once(`ids of ${file}`, id, async () => ((await this.transaction.row(text, [id])) ? id : null));
  }

  async refer(file: ImportFile, reference: string, subjectId: string): Promise<void> {
    await this.transaction.rows(insertReference, [file, reference, subjectId]);
    (await this.references(file)).set(reference, subjectId);
    this.made.add(`${file} ${reference}`);
  }

  private references(file: ImportFile): Promise<Map<string, string>> {
    return this.register(`references of ${file}`, async () => {
      const rows = await this.transaction.rows<{ reference: string; id: string }>(referencesOfFile, [file]);
      return new Map(rows.map(({ reference, id }) => [reference, id]));
    });
  }

  /** What is looked up often and changes no more, looked up once. What is not there may come yet, so that is not kept. */
  async once<Entry>(kind: string, key: string, find: () => Promise<Entry | null>): Promise<Entry | null> {
    const kept = await this.register<Entry>(kind, async () => new Map());
    const before = kept.get(key);
    if (before !== undefined) return before;
    const found = await find();
    if (found !== null) kept.set(key, found);
    return found;
  }

  /** What one kind of thing is called, kept while the import runs; loaded when it is first asked for. */
  async register<Entry>(kind: string, load: () => Promise<Map<string, Entry>>): Promise<Map<string, Entry>> {
    let entries = this.named.get(kind);
    if (!entries) {
      entries = await load();
      this.named.set(kind, entries);
    }
    return entries as Map<string, Entry>;
  }

  rowHasFaults(file: ImportFile, key: readonly string[], line: number): void {
    this.faultyRows.set(keyOf(file, key), line);
  }

  /** A row names something that is not there: says what row is lacking, or that the row for it has faults itself. */
  lacking(row: Row, column: string, what: string, file: ImportFile, key: readonly string[], alike = ''): null {
    const line = this.faultyRows.get(keyOf(file, key));
    if (line !== undefined)
      return row.fault(column, `${what} is on line ${line} of ${file}.csv, which has faults. Mend that line first.`);
    return row.fault(
      column,
      `${what} is neither in the books nor in ${file}.csv. Add the row to ${file}.csv, or correct it here.${alike}`,
    );
  }
}

/** Says where the books differ from a row that they know already; the row is left aside. */
export function noteDifferences(row: Row, asked: Record<string, unknown>, stored: Record<string, unknown>): void {
  for (const [column, value] of Object.entries(asked)) {
    const [here, there] = [shown(value), shown(stored[column])];
    if (here !== there)
      row.note(
        column,
        `The books say ${there === '' ? 'nothing' : `"${there}"`} here and keep it: an import adds, it does not change. Change it on its own screen.`,
      );
  }
}

function shown(value: unknown): string {
  if (value === null || value === undefined) return '';
  if (typeof value === 'boolean') return value ? 'yes' : 'no';
  return Array.isArray(value) ? value.join(';') : String(value);
}

function keyOf(file: ImportFile, key: readonly string[]): string {
  return `${file}\n${key.join('\n').toLowerCase()}`;
}
