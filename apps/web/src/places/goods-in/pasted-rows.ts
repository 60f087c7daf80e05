import { Make, PacketCondition, Source } from '@corewright/contracts/base';
import { parseQuantity } from '@corewright/quantities/decimal';
import { isShortenedNumber, isSpreadsheetError, mayBeDateOfSpreadsheet } from '@corewright/quantities/spreadsheet-habits';
import { parse } from 'csv-parse/browser/esm/sync';
import { blankRow, type Cell, cellsOf, type RowKind, type RowValues } from './row-values.js';

/** As many rows as a person can look over in one go. */
export const PASTED_ROWS_MAX = 500;
const CELL_LENGTH_MAX = 200;

/** What was copied out of a spreadsheet: the names of its columns where its first row has them, and the rows. */
export interface PastedTable {
  readonly head: readonly string[] | null;
  readonly rows: readonly (readonly string[])[];
  readonly columnCount: number;
}

/** Which cell a column of the table goes into; null leaves it out. */
export type ColumnCell = Cell | null;

export interface PastedFault {
  /** The row of the table, from 1, the row of names not counted. */
  readonly line: number;
  readonly words: string;
}

/** Whether a text from the clipboard is a piece of a table rather than what belongs into one cell. */
export function isTable(text: string): boolean {
  return text.includes('\t') || text.trim().includes('\n');
}

/** Reads cells parted by tabs, as every spreadsheet copies them: a cell with a line break in it stands in quotation marks. */
export function readPasted(text: string): PastedTable {
  const table = cellsIn(text.replace(/^\ufeff/, ''))
    .map((cells) => cells.map((cell) => cell.replaceAll(/\s+/g, ' ').trim()))
    .filter((cells) => cells.some((cell) => cell !== ''));
  const columnCount = Math.max(0, ...table.map((cells) => cells.length));
  const first = table[0];
  if (first === undefined || !isHead(first)) return { head: null, rows: table, columnCount };
  return { head: first, rows: table.slice(1), columnCount };
}

function cellsIn(text: string): string[][] {
  const options = { delimiter: '\t', relax_column_count: true, skip_empty_lines: true };
  try {
    return parse(text, { ...options, relax_quotes: true });
  } catch {
    // an inch mark that opens a cell and is never closed: then no mark is a quotation mark
    return parse(text, { ...options, quote: null });
  }
}

/** The cell that each column goes into, by its name; a name that comes twice counts once. */
export function cellsByName({ head, columnCount }: PastedTable): readonly ColumnCell[] {
  const taken = new Set<Cell>();
  return Array.from({ length: columnCount }, (_, index) => {
    const cell = cellNamed(head?.[index] ?? '');
    if (cell === null || taken.has(cell)) return null;
    taken.add(cell);
    return cell;
  });
}

/** The rows of a load that a table makes, and why the others cannot be taken. */
export function rowsOf(
  table: PastedTable,
  columns: readonly ColumnCell[],
  kind: RowKind,
): { readonly rows: readonly RowValues[]; readonly faults: readonly PastedFault[] } {
  const rows: RowValues[] = [];
  const faults: PastedFault[] = [];
  for (const [index, cells] of table.rows.entries()) {
    const read = readRow(cells, columns, kind);
    if (typeof read === 'string') faults.push({ line: index + 1, words: read });
    else rows.push(read);
  }
  return { rows, faults };
}

function readRow(cells: readonly string[], columns: readonly ColumnCell[], kind: RowKind): RowValues | string {
  const keyed = columns.flatMap((cell, index) => {
    const text = cells[index] ?? '';
    return cell === null || text === '' ? [] : [{ cell, text }];
  });
  if (keyed.length === 0) return 'Nothing stands in the columns that are taken.';
  const named = keyed.find(({ cell }) => cell === 'kind');
  const ofRow = named === undefined ? kind : KINDS[named.text.toLowerCase()];
  if (ofRow === undefined) return `“${named?.text}” is no kind. Write unit, lot or unsorted.`;
  let values = blankRow(ofRow);
  for (const { cell, text } of keyed) {
    if (cell === 'kind') continue;
    if (!cellsOf(ofRow).includes(cell))
      return `“${text}” has no cell: a row for ${WITH_ARTICLE[ofRow]} has no ${NAMES[cell][0]}.`;
    const fault = faultOf(cell, text);
    if (fault !== null) return fault;
    values = { ...values, ...keyedInto(cell, text, ofRow) };
  }
  return values;
}

function faultOf(cell: Cell, text: string): string | null {
  if (isSpreadsheetError(text)) return `“${text}”: the spreadsheet left its own error here. Key what belongs into the cell.`;
  if (text.length > CELL_LENGTH_MAX) return `A cell has ${text.length} characters; ${CELL_LENGTH_MAX} are taken. Shorten it.`;
  if (cell === 'reference' && isShortenedNumber(text))
    return `“${text}”: the spreadsheet has shortened this number, and its last figures are lost. Key it as it stands on the part.`;
  if (cell === 'reference' && mayBeDateOfSpreadsheet(text))
    return `“${text}” may be a number that the spreadsheet turned into a date. Key it as it stands on the part.`;
  if (cell === 'count') {
    const read = parseQuantity(decimalPoint(text));
    return read.ok ? null : read.error.sentence;
  }
  const options = OPTIONS[cell];
  if (options !== undefined && oneOf(options, text) === undefined) return `“${text}” is not one of: ${options.join(', ')}.`;
  return null;
}

function keyedInto(cell: Cell, text: string, kind: RowKind): Partial<RowValues> {
  switch (cell) {
    case 'reference':
      return { referenceText: text };
    case 'count':
      return { count: decimalPoint(text) };
    case 'grade':
      return { grade: kind === 'unit' ? text.toUpperCase() : text };
    case 'maker':
      return { makerName: text };
    case 'owner':
      return { ownerName: text };
    case 'place':
      return { placeText: text };
    default:
      return { [cell]: oneOf(OPTIONS[cell] ?? [], text) ?? text };
  }
}

/** A comma with one to four figures after it is the decimal point of half the world. */
function decimalPoint(text: string): string {
  return text.replace(/^([+-]?\d+),(\d{1,4})$/, '$1.$2');
}

const OPTIONS: Readonly<Partial<Record<Cell, readonly string[]>>> = {
  source: Source.options,
  make: Make.options,
  packetCondition: PacketCondition.options,
};

function oneOf(options: readonly string[], text: string): string | undefined {
  return options.find((option) => option.toLowerCase() === text.toLowerCase());
}

const KINDS: Readonly<Record<string, RowKind>> = {
  unit: 'unit',
  u: 'unit',
  core: 'unit',
  lot: 'lot',
  l: 'lot',
  part: 'lot',
  unsorted: 'unsorted',
  x: 'unsorted',
  box: 'unsorted',
};

const WITH_ARTICLE: Readonly<Record<RowKind, string>> = { unit: 'a unit', lot: 'a lot', unsorted: 'something unsorted' };

/** What people call the columns; the first is what the grid calls it. */
const NAMES: Readonly<Record<Cell, readonly string[]>> = {
  kind: ['kind'],
  reference: ['type or number', 'number', 'part number', 'part no', 'no', 'type', 'unit type'],
  words: ['what it is', 'description', 'words', 'name', 'item'],
  count: ['count', 'quantity', 'qty', 'how many', 'pieces', 'number of'],
  grade: ['grade, state', 'grade', 'state', 'condition'],
  marks: ['marks', 'mark', 'stamp', 'casting number'],
  source: ['source'],
  make: ['make'],
  maker: ['maker', 'made by'],
  packetDate: ['packet date', 'date', 'packed'],
  packetCondition: ['packet', 'packet condition'],
  place: ['place', 'where'],
  owner: ['owner'],
  note: ['note', 'notes', 'remark', 'remarks'],
};

function cellNamed(name: string): Cell | null {
  const bare = name
    .toLowerCase()
    .replaceAll(/[.:_]+/g, ' ')
    .replaceAll(/\s+/g, ' ')
    .trim();
  return (Object.keys(NAMES) as Cell[]).find((cell) => NAMES[cell].includes(bare)) ?? null;
}

/** A row of names: more than half of what stands in it are names of columns. */
function isHead(cells: readonly string[]): boolean {
  const filled = cells.filter((cell) => cell !== '');
  return filled.filter((cell) => cellNamed(cell) !== null).length * 2 > filled.length;
}
