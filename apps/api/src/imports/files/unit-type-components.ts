import { decimalFrom, formatDecimal } from '@corewright/quantities/decimal';
import { noteDifferences } from '../books.js';
import { columns, type FileReader } from '../file-reader.js';
import { unitTypeIn } from '../lookups.js';

const selectComponent =
  'SELECT name, quantity, must_be_looked_at FROM unit_type_components WHERE unit_type_id = $1 AND position = $2';
const insertComponent = `
  INSERT INTO unit_type_components (unit_type_id, position, name, quantity, must_be_looked_at) VALUES ($1, $2, $3, $4, $5)`;

/** What a unit of a type consists of, in the order in which it is taken apart. */
export const unitTypeComponents: FileReader = {
  file: 'unit-type-components',
  columns: columns('unit_type!', 'position!', 'name!', 'quantity!', 'must_be_looked_at'),
  key: ['unit_type', 'position'],
  async read(row, books) {
    const position = row.whole('position', 1, 500);
    const facts = {
      name: row.text('name'),
      quantity: row.quantity('quantity', 'each'),
      must_be_looked_at: row.yes('must_be_looked_at'),
    };
    const typeId = await unitTypeIn(row, 'unit_type', books);
    if (row.faulty) return null;
    const there = await books.transaction.row<{ quantity: string }>(selectComponent, [typeId, position]);
    if (there) {
      noteDifferences(row, facts, { ...there, quantity: formatDecimal(decimalFrom(there.quantity)) });
      return 'unchanged';
    }
    await books.transaction.rows(insertComponent, [typeId, position, facts.name, facts.quantity, facts.must_be_looked_at]);
    return 'added';
  },
};
