import { noteDifferences } from '../books.js';
import { columns, type FileReader } from '../file-reader.js';
import { unitTypeIn } from '../lookups.js';

const selectRange = 'SELECT prefix, first, last FROM unit_type_serials WHERE unit_type_id = $1 AND number = $2';
const insertRange = 'INSERT INTO unit_type_serials (unit_type_id, number, prefix, first, last) VALUES ($1, $2, $3, $4, $5)';
const serialMax = 999_999_999;

/** Which serial numbers a type has: so its makers counted. */
export const unitTypeSerials: FileReader = {
  file: 'unit-type-serials',
  columns: columns('unit_type!', 'number!', 'prefix', 'first!', 'last!'),
  key: ['unit_type', 'number'],
  async read(row, books) {
    const number = row.whole('number', 1, 500);
    const typeId = await unitTypeIn(row, 'unit_type', books);
    const facts = {
      prefix: row.number('prefix'),
      first: row.whole('first', 0, serialMax),
      last: row.whole('last', 0, serialMax),
    };
    if (facts.first !== null && facts.last !== null && facts.last < facts.first)
      row.fault('last', 'This is less than the first. Key the lower number first.');
    if (row.faulty) return null;
    const there = await books.transaction.row(selectRange, [typeId, number]);
    if (there) {
      noteDifferences(row, facts, there);
      return 'unchanged';
    }
    await books.transaction.rows(insertRange, [typeId, number, facts.prefix, facts.first, facts.last]);
    return 'added';
  },
};
