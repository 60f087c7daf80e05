import { newId } from '../../platform/new-id.js';
import { noteDifferences } from '../books.js';
import { columns, type FileReader } from '../file-reader.js';

const stocks = ['tie-on tag', 'bag label', 'A4 sheet'] as const;
const selectPrinter = 'SELECT stock, dots_per_inch FROM label_printers WHERE name = $1';
const insertPrinter = 'INSERT INTO label_printers (id, name, stock, dots_per_inch) VALUES ($1, $2, $3, $4)';

/** Printers for labels, with what is loaded in them. */
export const labelPrinters: FileReader = {
  file: 'label-printers',
  columns: columns('name!', 'stock!', 'dots_per_inch!'),
  key: ['name'],
  async read(row, books) {
    const name = row.text('name');
    const stock = row.choice('stock', stocks);
    const dots = row.choice('dots_per_inch', ['203', '300']);
    if (row.faulty) return null;
    const there = await books.transaction.row(selectPrinter, [name]);
    if (there) {
      noteDifferences(row, { stock, dots_per_inch: dots }, there);
      return 'unchanged';
    }
    await books.transaction.rows(insertPrinter, [newId(), name, stock, Number(dots)]);
    books.transaction.news('settings');
    return 'added';
  },
};
