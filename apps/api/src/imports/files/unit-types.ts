import { decimalFrom, formatDecimal } from '@corewright/quantities/decimal';
import { newId } from '../../platform/new-id.js';
import { noteDifferences } from '../books.js';
import { columns, type FileReader } from '../file-reader.js';
import { unitTypes as knownTypes, makerIn } from '../lookups.js';

const selectType = `
  SELECT makers.name AS maker, kind, model, variant, ratio, year_first, year_last, serial_range, recognise_by, weight_kg
    FROM unit_types JOIN makers ON makers.id = maker_id WHERE unit_types.id = $1`;
const insertType = `
  INSERT INTO unit_types (id, reference, maker_id, kind, model, variant, ratio, year_first, year_last, serial_range, recognise_by, weight_kg)
  VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12)`;

/** What units there are: make, model, and how to know one when it lies in the yard. */
export const unitTypes: FileReader = {
  file: 'unit-types',
  columns: columns(
    'reference!',
    'maker!',
    'kind!',
    'model!',
    'variant',
    'ratio',
    'year_first',
    'year_last',
    'serial_range',
    'recognise_by',
    'weight_kg',
  ),
  key: ['reference'],
  async read(row, books) {
    const reference = row.number('reference');
    const makerId = await makerIn(row, 'maker', books);
    const { yearFirst, yearLast } = row.years('year_first', 'year_last');
    const facts = {
      kind: row.text('kind'),
      model: row.text('model'),
      variant: row.text('variant'),
      ratio: row.text('ratio'),
      year_first: yearFirst,
      year_last: yearLast,
      serial_range: row.text('serial_range'),
      recognise_by: row.longText('recognise_by'),
      weight_kg: row.cell('weight_kg') === '' ? null : row.quantity('weight_kg', 'g'),
    };
    if (row.faulty) return null;
    const known = await knownTypes(books);
    const there = known.get(reference.toLowerCase());
    if (there) {
      const stored = (await books.transaction.row<Record<string, string | null>>(selectType, [there])) ?? {};
      const weight = stored.weight_kg ? formatDecimal(decimalFrom(stored.weight_kg)) : null;
      noteDifferences(row, facts, { ...stored, weight_kg: weight });
      return 'unchanged';
    }
    const id = newId();
    const { kind, model, variant, ratio, serial_range, recognise_by, weight_kg } = facts;
    await books.transaction.rows(insertType, [
      id,
      reference,
      makerId,
      kind,
      model,
      variant,
      ratio,
      yearFirst,
      yearLast,
      serial_range,
      recognise_by,
      weight_kg,
    ]);
    known.set(reference.toLowerCase(), id);
    return 'added';
  },
};
