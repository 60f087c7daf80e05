import { dispositions } from '@corewright/contracts/cores';
import { decimalFrom, formatDecimal } from '@corewright/quantities/decimal';
import { type Books, noteDifferences } from '../books.js';
import { columns, type FileReader } from '../file-reader.js';
import { partIn, unitTypeIn } from '../lookups.js';
import type { Row } from '../row.js';

const selectComponent = `
  SELECT name, quantity, must_be_looked_at, coalesce(usual_fate, '') AS usual_fate, part_id AS number, kept_set, is_main_casing AS main_casing, keeps_thickness
    FROM unit_type_components WHERE unit_type_id = $1 AND position = $2`;
const insertComponent = `
  INSERT INTO unit_type_components (unit_type_id, position, name, quantity, must_be_looked_at, usual_fate, part_id, kept_set, is_main_casing, keeps_thickness)
  VALUES ($1, $2, $3, $4, $5, nullif($6, ''), $7, $8, $9, $10)`;
const otherCasing = 'SELECT position FROM unit_type_components WHERE unit_type_id = $1 AND is_main_casing AND position <> $2';

/** What a unit of a type consists of, in the order in which it is taken apart, and what usually becomes of each. */
export const unitTypeComponents: FileReader = {
  file: 'unit-type-components',
  columns: columns(
    'unit_type!',
    'position!',
    'name!',
    'quantity!',
    'must_be_looked_at',
    'usual_fate',
    'maker',
    'number',
    'kept_set',
    'main_casing',
    'keeps_thickness',
  ),
  key: ['unit_type', 'position'],
  numberColumns: ['number'],
  async read(row, books) {
    const position = row.whole('position', 1, 500);
    const facts = {
      name: row.text('name'),
      quantity: row.quantity('quantity', 'each'),
      must_be_looked_at: row.yes('must_be_looked_at'),
      usual_fate: row.cell('usual_fate') === '' ? '' : row.choice('usual_fate', dispositions, 'left in place'),
      kept_set: row.text('kept_set'),
      main_casing: row.yes('main_casing'),
      keeps_thickness: row.yes('keeps_thickness'),
    };
    const part = row.cell('number') === '' ? null : await partIn(row, 'maker', 'number', books);
    const typeId = await unitTypeIn(row, 'unit_type', books);
    if (facts.main_casing && typeId !== null && position !== null) await oneCasing(row, books, typeId, position);
    if (row.faulty) return null;
    const number = part?.id ?? null;
    const there = await books.transaction.row<{ quantity: string }>(selectComponent, [typeId, position]);
    if (there) {
      noteDifferences(row, { ...facts, number }, { ...there, quantity: formatDecimal(decimalFrom(there.quantity)) });
      return 'unchanged';
    }
    const { name, quantity, must_be_looked_at, usual_fate, kept_set, main_casing, keeps_thickness } = facts;
    await books.transaction.rows(insertComponent, [
      typeId,
      position,
      name,
      quantity,
      must_be_looked_at,
      usual_fate,
      number,
      kept_set,
      main_casing,
      keeps_thickness,
    ]);
    return 'added';
  },
};

/** A unit is known by one casing. */
async function oneCasing(row: Row, books: Books, typeId: string, position: number): Promise<void> {
  const other = await books.transaction.row<{ position: number }>(otherCasing, [typeId, position]);
  if (other)
    row.fault(
      'main_casing',
      `Component ${other.position} of this type is its main casing already, and a unit is known by one. Say yes once.`,
    );
}
