import { Make, Source } from '@corewright/contracts/base';
import { decimalFrom, formatDecimal } from '@corewright/quantities/decimal';
import type { Books } from '../books.js';
import { noteDifferences } from '../books.js';
import { columns, type FileReader } from '../file-reader.js';
import { gradeIn, partIn, unitTypeIn } from '../lookups.js';

const selectLine = `
  SELECT part_id AS number, quantity, operation_number AS operation, critical, reusable, sources, makes, grade_least AS least_grade
    FROM unit_type_lines WHERE unit_type_id = $1 AND line_no = $2`;
const operationIsThere = 'SELECT 1 AS there FROM unit_type_operations WHERE unit_type_id = $1 AND number = $2';
const insertLine = `
  INSERT INTO unit_type_lines (unit_type_id, line_no, part_id, quantity, operation_number, critical, reusable, sources, makes, grade_least)
  VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10)`;

/** The parts list of a type: which part, how many, at which operation, and what is accepted for it. */
export const unitTypeLines: FileReader = {
  file: 'unit-type-lines',
  columns: columns(
    'unit_type!',
    'line!',
    'maker!',
    'number!',
    'quantity!',
    'operation!',
    'critical',
    'reusable',
    'sources',
    'makes',
    'least_grade',
  ),
  key: ['unit_type', 'line'],
  numberColumns: ['number'],
  async read(row, books) {
    const line = row.whole('line', 1, 999);
    const operation = row.whole('operation', 1, 9999);
    const typeId = await unitTypeIn(row, 'unit_type', books);
    const part = await partIn(row, 'maker', 'number', books);
    const facts = {
      quantity: part && row.quantity('quantity', part.unit),
      critical: row.yes('critical'),
      reusable: row.yes('reusable'),
      sources: row.choices('sources', Source.options),
      makes: row.choices('makes', Make.options),
      least_grade: await gradeIn(row, 'least_grade', books, 'part'),
    };
    if (row.faulty || typeId === null || part === null || operation === null) return null;
    if (!(await hasOperation(books, typeId, operation)))
      return books.lacking(row, 'operation', `Operation ${operation} of ${row.cell('unit_type')}`, 'unit-type-operations', [
        row.cell('unit_type'),
        row.cell('operation'),
      ]);
    const there = await books.transaction.row<{ quantity: string }>(selectLine, [typeId, line]);
    if (there) {
      noteDifferences(
        row,
        { ...facts, number: part.id, operation },
        { ...there, quantity: formatDecimal(decimalFrom(there.quantity)) },
      );
      return 'unchanged';
    }
    const { quantity, critical, reusable, sources, makes, least_grade } = facts;
    await books.transaction.rows(insertLine, [
      typeId,
      line,
      part.id,
      quantity,
      operation,
      critical,
      reusable,
      sources,
      makes,
      least_grade,
    ]);
    return 'added';
  },
};

async function hasOperation(books: Books, typeId: string, operation: number): Promise<boolean> {
  return (
    (await books.once('operations of types', `${typeId} ${operation}`, () =>
      books.transaction.row(operationIsThere, [typeId, operation]),
    )) !== null
  );
}
