import { newId } from '../../platform/new-id.js';
import type { Books } from '../books.js';
import { columns, type FileReader } from '../file-reader.js';
import { firmIn } from '../lookups.js';
import { plainNumberOf, skipTo } from '../own-numbers.js';

const numberTaken = 'SELECT 1 AS there FROM loads WHERE number = $1';
const insertLoad = `
  INSERT INTO loads (id, number, words, seller_id, bought_on) VALUES ($1, coalesce($2::integer, nextval('load_numbers')), $3, $4, $5)`;

/** Things bought together at one price. A load whose reference is a plain number keeps it as its number where that is free. */
export const loads: FileReader = {
  file: 'loads',
  columns: columns('reference!', 'words!', 'seller!', 'bought_on!'),
  key: ['reference'],
  async read(row, books) {
    const reference = row.number('reference');
    const words = row.text('words');
    const boughtOn = row.day('bought_on');
    const seller = await firmIn(row, 'seller', books, 'supplier');
    if (boughtOn !== null && boughtOn > books.today)
      row.fault(
        'bought_on',
        'This day is yet to come. Give the day on which the load was bought; what is still to come goes into receipts.csv.',
      );
    if (row.faulty || seller === null) return null;
    if (await books.referred('loads', reference)) return 'unchanged';
    const id = newId();
    await books.transaction.rows(insertLoad, [id, await numberFor(books, reference), words, seller.id, boughtOn]);
    await books.refer('loads', reference, id);
    books.transaction.news('loads');
    return 'added';
  },
};

async function numberFor(books: Books, reference: string): Promise<number | null> {
  const number = plainNumberOf(reference);
  if (number === null || (await books.transaction.row(numberTaken, [number]))) return null;
  if (books.options.apply) await skipTo(books.transaction, 'load_numbers', number);
  return number;
}
