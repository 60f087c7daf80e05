import { bearingTypes } from '@corewright/bearings/bearing-types';
import { readDesignation } from '@corewright/bearings/read-designation';
import { decimalFrom, formatDecimal } from '@corewright/quantities/decimal';
import { makersSuffixes } from '../../catalogue/bearings/bearing.queries.js';
import { nameInTable } from '../../catalogue/bearings/bearing-facts.js';
import { whyNoRing } from '../../catalogue/bearings/tables/decide-row.js';
import { rowsInto } from '../../platform/database/many-rows.js';
import { columns, type FileReader } from '../file-reader.js';
import { type OwnRow, ownRow } from '../own-row.js';
import type { Row } from '../row.js';

const selectAll = `
  SELECT designation AS name, type, bore_mm, outside_mm, width_mm, chamfer_min_mm, dynamic_rating_n, source, shipped FROM bearing_dimensions`;
const takeOver = `
  UPDATE bearing_dimensions SET type = $2, bore_mm = $3, outside_mm = $4, width_mm = $5, chamfer_min_mm = $6, dynamic_rating_n = $7,
         source = $8, shipped = false
   WHERE designation = $1`;
const intoBearings = rowsInto(
  'bearing_dimensions',
  'designation text',
  'type text',
  'bore_mm numeric',
  'outside_mm numeric',
  'width_mm numeric',
  'chamfer_min_mm numeric',
  'dynamic_rating_n numeric',
  'source text',
);

const columnOf = { bore: 'bore_mm', outside: 'outside_mm', width: 'width_mm', chamfer: 'chamfer_min_mm' } as const;

/** Boundary dimensions that the workshop has measured or found, beside those that come with the program. */
export const bearings: FileReader = {
  file: 'bearings',
  columns: columns(
    'designation!',
    'type!',
    'bore_mm!',
    'outside_mm!',
    'width_mm!',
    'chamfer_min_mm',
    'dynamic_rating_n',
    'source!',
  ),
  key: ['designation'],
  async read(row, books) {
    // Under the name by which it is looked up, so with the suffixes that the looking up knows: the file of those was read before.
    const suffixes = await books.once('suffixes to read by', '', () => makersSuffixes(books.transaction));
    const designation = nameInTable(readDesignation(row.number('designation'), suffixes ?? []));
    const facts = {
      type: row.choice('type', bearingTypes),
      bore_mm: row.quantity('bore_mm', 'mm'),
      outside_mm: row.quantity('outside_mm', 'mm'),
      width_mm: row.quantity('width_mm', 'mm'),
      chamfer_min_mm: quantityOrNone(row, 'chamfer_min_mm'),
      dynamic_rating_n: quantityOrNone(row, 'dynamic_rating_n'),
      source: row.text('source'),
    };
    if (!row.faulty) checkRing(row, facts);
    if (row.faulty) return null;
    const known = await books.register<OwnRow>('bearings', async () => {
      const rows = await books.transaction.rows<OwnRow & { name: string }>(selectAll);
      return new Map(rows.map((each) => [each.name, withPlainFigures(each)]));
    });
    return ownRow(row, books, { known, key: designation, facts, names: { designation }, into: intoBearings, takeOver });
  },
};

function quantityOrNone(row: Row, column: string): string | null {
  return row.cell(column) === '' ? null : row.quantity(column, 'mm');
}

/** @param row one whose figures were all read */
function checkRing(row: Row, facts: Record<(typeof columnOf)[keyof typeof columnOf], string | null>): void {
  const not = whyNoRing({
    bore: Number(facts.bore_mm),
    outside: Number(facts.outside_mm),
    width: Number(facts.width_mm),
    chamfer: facts.chamfer_min_mm === null ? null : Number(facts.chamfer_min_mm),
  });
  if (not !== null) row.fault(columnOf[not.figure], not.sentence);
}

/** Figures as a file has them: without the noughts that the books keep. */
function withPlainFigures(stored: OwnRow): OwnRow {
  const figures = ['bore_mm', 'outside_mm', 'width_mm', 'chamfer_min_mm', 'dynamic_rating_n'].map((column) => {
    const figure = stored[column];
    return [column, typeof figure === 'string' ? formatDecimal(decimalFrom(figure)) : null] as const;
  });
  return { ...stored, ...Object.fromEntries(figures) };
}
