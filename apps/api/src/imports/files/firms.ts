import { newId } from '../../platform/new-id.js';
import { firmNamed } from '../../stores/firm.queries.js';
import { noteDifferences } from '../books.js';
import { columns, type FileReader } from '../file-reader.js';

const updateNote = 'UPDATE parties SET note = $2 WHERE id = $1';

/** Customers, suppliers and outworkers. */
export const firms: FileReader = {
  file: 'firms',
  columns: columns('name!', 'customer', 'supplier', 'outworker', 'note'),
  key: ['name'],
  async read(row, books) {
    const { transaction } = books;
    const firm = {
      id: newId(),
      name: row.text('name'),
      isCustomer: row.yes('customer'),
      isSupplier: row.yes('supplier'),
      isOutworker: row.yes('outworker'),
    };
    const note = row.longText('note');
    if (row.faulty) return null;
    const there = await firmNamed(transaction, firm.name);
    if (there) {
      const stored = { customer: there.isCustomer, supplier: there.isSupplier, outworker: there.isOutworker };
      noteDifferences(row, { customer: firm.isCustomer, supplier: firm.isSupplier, outworker: firm.isOutworker }, stored);
      return 'unchanged';
    }
    const added = await books.handlers.firms.handle(transaction, firm);
    if (!added.ok) return row.refused('customer', added.error);
    if (note !== '') await transaction.rows(updateNote, [firm.id, note]);
    return 'added';
  },
};
