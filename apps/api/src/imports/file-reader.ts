import type { ImportFile } from '@corewright/contracts/imports';
import type { Books } from './books.js';
import type { Row } from './row.js';

export interface Column {
  readonly name: string;
  /** the heading must be there, and no cell below it empty */
  readonly filled: boolean;
}

/** What became of a row; null where it has faults and nothing was written. */
export type Outcome = 'added' | 'unchanged' | null;

/** How one kind of file is read: its columns, what tells its rows apart, and what a row becomes in the books. */
export interface FileReader {
  readonly file: ImportFile;
  readonly columns: readonly Column[];
  /** the columns that together name a row: two rows of one name are a fault */
  readonly key: readonly string[];
  /** columns that name parts by a number, or by a list of numbers: looked up for many rows at once before these are read */
  readonly numberColumns?: readonly string[];
  /** looks up what else many rows will ask for, once their numbers are looked up */
  lookUp?(books: Books): Promise<void>;
  read(row: Row, books: Books): Promise<Outcome>;
  /** what can be done only when every row was read; called whether the file is there or not */
  finish?(books: Books): Promise<void>;
}

/** Columns by their names; an exclamation mark after those that are always filled. */
export function columns(...names: string[]): Column[] {
  return names.map((name) => ({ name: name.replace('!', ''), filled: name.endsWith('!') }));
}
