import type { ImportFile } from '@corewright/contracts/imports';
import { type Firm, firmNamed } from '../stores/firm.queries.js';
import type { Books } from './books.js';
import type { KnownPart } from './known-numbers.js';
import type { Row } from './row.js';

const allMakers = 'SELECT id, name, note FROM makers';
const similarMakers = `
  SELECT name FROM makers WHERE similarity(name, $1) >= 0.3 ORDER BY similarity(name, $1) DESC, name LIMIT 3`;
const allUnitTypes = 'SELECT id, reference FROM unit_types';
const codeOfSubject =
  'SELECT code FROM codes WHERE subject_id = $1 AND kind = $2 AND voided_at IS NULL ORDER BY further, given_at DESC LIMIT 1';
const gradeLetters = 'SELECT scale, letter FROM grades';

export interface KnownMaker extends Record<string, unknown> {
  id: string;
  name: string;
  note: string;
}

/** Makers by name, small or capital letters alike. */
export function makers(books: Books): Promise<Map<string, KnownMaker>> {
  return books.register('makers', async () => {
    const rows = await books.transaction.rows<KnownMaker>(allMakers);
    return new Map(rows.map((row) => [row.name.toLowerCase(), row]));
  });
}

/** The maker that a cell names; null, with a fault, where nobody knows it. */
export async function makerIn(row: Row, column: string, books: Books): Promise<string | null> {
  const name = row.text(column);
  const known = (await makers(books)).get(name.toLowerCase());
  if (known) return known.id;
  return books.lacking(row, column, `The maker "${name}"`, 'makers', [name], await makersLike(name, books));
}

/** Makers whose names are nearly this one, in words; nothing where there are none. */
async function makersLike(name: string, books: Books): Promise<string> {
  const words = await books.once('makers alike', name, async () => {
    const rows = await books.transaction.rows<{ name: string }>(similarMakers, [name]);
    return rows.length === 0 ? '' : ` Known and alike: ${rows.map((row) => row.name).join(', ')}.`;
  });
  return words ?? '';
}

export function unitTypes(books: Books): Promise<Map<string, string>> {
  return books.register('unit types', async () => {
    const rows = await books.transaction.rows<{ id: string; reference: string }>(allUnitTypes);
    return new Map(rows.map((row) => [row.reference.toLowerCase(), row.id]));
  });
}

export async function unitTypeIn(row: Row, column: string, books: Books): Promise<string | null> {
  const reference = row.number(column);
  const id = (await unitTypes(books)).get(reference.toLowerCase());
  return id ?? books.lacking(row, column, `The unit type "${reference}"`, 'unit-types', [reference]);
}

/** A part by a number of a maker as printed; failing that, however the number is spaced, where that is one part. */
export async function partNumbered(books: Books, makerId: string, number: string): Promise<KnownPart | 'several' | null> {
  const known = await books.numbers.of(makerId, number);
  const exact = known.find((each) => each.number === number);
  if (exact) return exact.part;
  const first = known[0];
  if (!first) return null;
  return known.every((each) => each.part.id === first.part.id) ? first.part : 'several';
}

/** The part that two cells name by maker and number. */
export async function partIn(row: Row, makerColumn: string, numberColumn: string, books: Books): Promise<KnownPart | null> {
  const number = row.number(numberColumn);
  const makerId = await makerIn(row, makerColumn, books);
  if (makerId === null || row.isFaultyIn(numberColumn)) return null;
  const part = await partNumbered(books, makerId, number);
  if (part === 'several')
    return row.fault(
      numberColumn,
      'Several parts of this maker have this number but for spaces, hyphens and dots. Write it as it is printed.',
    );
  if (part) return part;
  const maker = row.cell(makerColumn);
  const alike = zerosLost(books, makerId, number);
  return books.lacking(row, numberColumn, `The part ${number} of ${maker}`, 'parts', [maker, number], alike && ` ${alike}`);
}

/** Says of a number that is figures only which known one it is but for zeros before it; nothing where there is none. */
export function zerosLost(books: Books, makerId: string, number: string): string {
  const [known] = books.numbers.withZeros(makerId, number);
  if (!known) return '';
  return `This maker's ${known.number} is the same but for zeros before it, which a spreadsheet takes away: give the column the format "text" and key the number as it is printed.`;
}

/** The firm that a cell names, in the part that it plays here. */
export async function firmIn(row: Row, column: string, books: Books, as: 'customer' | 'supplier'): Promise<Firm | null> {
  const name = row.text(column);
  const firm = await books.once('firms', name, () => firmNamed(books.transaction, name));
  if (firm === null) return books.lacking(row, column, `The firm "${name}"`, 'firms', [name]);
  const plays = as === 'customer' ? firm.isCustomer : firm.isSupplier;
  return plays
    ? firm
    : row.fault(column, `${firm.name} is not known as a ${as}. Say yes under "${as}" in firms.csv, or name another firm.`);
}

/** The workshop itself owns what has no owner; anybody else is a customer. */
export async function ownerIn(row: Row, books: Books): Promise<string | null> {
  if (row.cell('owner') === '') return null;
  return (await firmIn(row, 'owner', books, 'customer'))?.id ?? null;
}

/** What an earlier row made, by the reference that it had there. */
export async function referredIn(row: Row, column: string, books: Books, file: ImportFile, what: string): Promise<string | null> {
  const reference = row.number(column);
  if (row.isFaultyIn(column)) return null;
  const id = await books.referred(file, reference);
  return id ?? books.lacking(row, column, `${what} "${reference}"`, file, [reference]);
}

/** The label code that something bears. */
export async function codeOf(books: Books, subjectId: string, kind: 'U' | 'L'): Promise<string> {
  const row = await books.transaction.row<{ code: string }>(codeOfSubject, [subjectId, kind]);
  return row?.code ?? '';
}

/** Letters of a scale of grades; empty where the workshop has none. */
export async function gradeIn(row: Row, column: string, books: Books, scale: 'core' | 'part'): Promise<string> {
  const letter = row.text(column);
  if (letter === '') return '';
  const known = await grades(books);
  if (!known.has(`${scale} ${letter}`))
    books.lacking(row, column, `The grade "${letter}" of the scale "${scale}"`, 'grades', [scale, letter]);
  return letter;
}

export function grades(books: Books): Promise<Map<string, true>> {
  return books.register('grades', async () => {
    const rows = await books.transaction.rows<{ scale: string; letter: string }>(gradeLetters);
    return new Map(rows.map((row) => [`${row.scale} ${row.letter}`, true as const]));
  });
}
