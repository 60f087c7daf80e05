import { CostPart, SharingWay } from '@corewright/contracts/costs';
import { decidePaid, type Paid } from '../../goods-in/costs/what-was-paid.js';
import { newId } from '../../platform/new-id.js';
import type { Books } from '../books.js';
import { columns, type FileReader } from '../file-reader.js';
import { loadsToShare, oursIn } from '../load-costs.js';
import { firmIn } from '../lookups.js';
import { plainNumberOf, skipTo } from '../own-numbers.js';
import type { Row } from '../row.js';

const numberTaken = 'SELECT 1 AS there FROM loads WHERE number = $1';
const insertLoad = `
  INSERT INTO loads (id, number, words, seller_id, bought_on, price_minor, haulage_minor, fees_minor, currency, rate)
  VALUES ($1, coalesce($2::integer, nextval('load_numbers')), $3, $4, $5, $6, $7, $8, $9, $10)`;
/** By hand a share is named for each row, for which a file of loads has no place. */
const waysToShare = SharingWay.options.filter((way) => way !== 'by hand');

/** Things bought together at one price. A load whose reference is a plain number keeps it as its number where that is free. */
export const loads: FileReader = {
  file: 'loads',
  columns: columns('reference!', 'words!', 'seller!', 'bought_on!', ...CostPart.options, 'currency', 'rate', 'shared_by'),
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
    const ours = await oursIn(books);
    const paid = paidIn(row, ours);
    const way = row.cell('shared_by') === '' ? null : row.choice('shared_by', waysToShare);
    if (row.faulty || seller === null || paid === null) return null;
    if (await books.referred('loads', reference)) return 'unchanged';
    const id = newId();
    const amounts = CostPart.options.map((part) => paid[part]?.toString() ?? null);
    const currency = paid.currency === ours ? null : paid.currency;
    const number = await numberFor(books, reference);
    await books.transaction.rows(insertLoad, [id, number, words, seller.id, boughtOn, ...amounts, currency, paid.rate]);
    if (way !== null) (await loadsToShare(books)).set(id, { row, way });
    await books.refer('loads', reference, id);
    books.transaction.news('loads');
    return 'added';
  },
};

/** What was paid, by the rules of the screen; an empty cell is not known. */
function paidIn(row: Row, ours: string): Paid | null {
  const [price, haulage, fees, rate] = ['price', 'haulage', 'fees', 'rate'].map((column) => row.text(column, 40));
  const currency = row.cell('currency') === '' ? ours : row.text('currency');
  if (!/^[A-Z]{3}$/.test(currency)) return row.fault('currency', 'A currency is three capital letters, such as GBP.');
  const paid = decidePaid(
    { price: price ?? '', haulage: haulage ?? '', fees: fees ?? '', currency, rate: rate ?? '', said: [] },
    ours,
  );
  if (paid.ok) return paid.value;
  const [field] = (paid.error.values?.fields ?? []) as { path: string; words: string }[];
  return row.fault(field?.path ?? 'price', field?.words ?? paid.error.detail);
}

async function numberFor(books: Books, reference: string): Promise<number | null> {
  const number = plainNumberOf(reference);
  if (number === null || (await books.transaction.row(numberTaken, [number]))) return null;
  if (books.options.apply) await skipTo(books.transaction, 'load_numbers', number);
  return number;
}
