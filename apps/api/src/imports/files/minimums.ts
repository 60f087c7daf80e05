import { keepMinimum, minimumOf } from '../../consumables/minimums/keep-minimum.js';
import { noteDifferences } from '../books.js';
import { columns, type FileReader } from '../file-reader.js';
import { firmIn, partIn } from '../lookups.js';

/** Of which parts there is never to be less than so many, and up to how many they are bought. */
export const minimums: FileReader = {
  file: 'minimums',
  columns: columns('maker!', 'number!', 'minimum!', 'up_to!', 'supplier', 'note'),
  key: ['maker', 'number'],
  numberColumns: ['number'],
  async read(row, books) {
    const part = await partIn(row, 'maker', 'number', books);
    const supplier = row.cell('supplier') === '' ? null : await firmIn(row, 'supplier', books, 'supplier');
    const minimum = part && row.quantity('minimum', part.unit);
    const upTo = part && row.quantity('up_to', part.unit);
    const note = row.text('note');
    if (row.faulty || part === null || minimum === null || upTo === null) return null;
    const supplierName = supplier?.name ?? '';
    const known = await minimumOf(books.transaction, part.id);
    if (known !== null) {
      const { upTo: knownUpTo, supplier: knownSupplier } = known;
      const stored = { minimum: known.minimum, up_to: knownUpTo, supplier: knownSupplier?.name, note: known.note };
      noteDifferences(row, { minimum, up_to: upTo, supplier: supplierName, note }, stored);
      return 'unchanged';
    }
    const kept = await keepMinimum(books.transaction, part.id, { minimum, upTo, supplierName, note });
    return kept.ok ? 'added' : row.refused('up_to', kept.error);
  },
};
