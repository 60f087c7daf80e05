import type { UnitOfMeasure } from '@corewright/contracts/base';
import type { ImportFile } from '@corewright/contracts/imports';
import { partNumberKey } from '../catalogue/part-number-key.js';
import { type Firm, firmNamed } from '../stores/firm.queries.js';
import type { Books } from './books.js';
import type { Row } from './row.js';

const allMakers = 'SELECT id, name FROM makers';
const allUnitTypes = 'SELECT id, reference FROM unit_types';
const partsNumbered = `
  SELECT part_numbers.part_id AS id, unit_of_measure AS unit, material, number = $2 AS "isExact", part_numbers.is_main AS "isMain"
    FROM part_numbers JOIN parts ON parts.id = part_id
   WHERE maker_id = $1 AND (number = $2 OR number_key = $3) ORDER BY number = $2 DESC, number`;
const codeOfSubject =
  'SELECT code FROM codes WHERE subject_id = $1 AND kind = $2 AND voided_at IS NULL ORDER BY given_at DESC LIMIT 1';
const gradeLetters = 'SELECT scale, letter FROM grades';

export interface KnownPart {
  id: string;
  unit: UnitOfMeasure;
  material: string;
  isMain: boolean;
}

/** Makers by name, small or capital letters alike. */
export function makers(books: Books): Promise<Map<string, string>> {
  return books.register('makers', async () => {
    const rows = await books.transaction.rows<{ id: string; name: string }>(allMakers);
    return new Map(rows.map((row) => [row.name.toLowerCase(), row.id]));
  });
}

/** The maker that a cell names; null, with a fault, where nobody knows it. */
export async function makerIn(row: Row, column: string, books: Books): Promise<string | null> {
  const name = row.text(column);
  const id = (await makers(books)).get(name.toLowerCase());
  return id ?? books.lacking(row, column, `The maker "${name}"`, 'makers', [name]);
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
  const rows = await books.transaction.rows<KnownPart & { isExact: boolean }>(partsNumbered, [
    makerId,
    number,
    partNumberKey(number),
  ]);
  const first = rows[0];
  if (!first) return null;
  if (first.isExact) return first;
  return rows.every((each) => each.id === first.id) ? first : 'several';
}

/** The part that two cells name by maker and number. */
export async function partIn(row: Row, makerColumn: string, numberColumn: string, books: Books): Promise<KnownPart | null> {
  const number = row.number(numberColumn);
  const makerId = await makerIn(row, makerColumn, books);
  if (makerId === null || row.isFaultyIn(numberColumn)) return null;
  const part = await books.once('parts by number', `${makerId} ${number}`, () => partNumbered(books, makerId, number));
  if (part === 'several')
    return row.fault(
      numberColumn,
      'Several parts of this maker have this number but for spaces, hyphens and dots. Write it as it is printed.',
    );
  const maker = row.cell(makerColumn);
  return part ?? books.lacking(row, numberColumn, `The part ${number} of ${maker}`, 'parts', [maker, number]);
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
