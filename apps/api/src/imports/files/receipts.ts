import { newId } from '../../platform/new-id.js';
import { columns, type FileReader } from '../file-reader.js';
import { firmIn, partIn, referredIn } from '../lookups.js';

const selectSame = 'SELECT 1 AS there FROM expected_receipts WHERE supplier_id = $1 AND order_reference = $2 AND part_id = $3';

/** What is ordered and has not come. */
export const receipts: FileReader = {
  file: 'receipts',
  columns: columns('order_reference!', 'supplier!', 'maker!', 'number!', 'quantity!', 'due_on', 'confirmed', 'for_job', 'note'),
  key: ['order_reference', 'supplier', 'maker', 'number'],
  numberColumns: ['number'],
  async read(row, books) {
    const supplier = await firmIn(row, 'supplier', books, 'supplier');
    const part = await partIn(row, 'maker', 'number', books);
    const forJobId = row.cell('for_job') === '' ? null : await referredIn(row, 'for_job', books, 'jobs', 'The job');
    const quantity = part && row.quantity('quantity', part.unit);
    const facts = {
      orderReference: row.number('order_reference'),
      dueOn: row.day('due_on'),
      confirmed: row.yes('confirmed'),
      note: row.longText('note'),
    };
    if (row.faulty || supplier === null || part === null || quantity === null) return null;
    const name = [supplier.id, facts.orderReference, part.id].join(' ');
    const lines = await books.register<number>('lines of orders', async () => new Map());
    const before = lines.get(name);
    if (before !== undefined)
      return row.fault('number', `Line ${before} of this order is for the same part under another number. Put the two together.`);
    lines.set(name, row.line);
    if (await books.transaction.row(selectSame, [supplier.id, facts.orderReference, part.id])) return 'unchanged';
    const added = await books.handlers.receipts.handle(books.transaction, {
      id: newId(),
      supplierName: supplier.name,
      partId: part.id,
      quantity,
      forJobId,
      ...facts,
    });
    return added.ok ? 'added' : row.refused(columnOf(added.error.values), added.error);
  },
};

/** The rules of the screens name their own fields. */
function columnOf(values: Record<string, unknown> | undefined): string {
  const [field] = (values?.fields ?? []) as { path: string }[];
  return { dueOn: 'due_on', forJobId: 'for_job', quantity: 'quantity' }[field?.path ?? ''] ?? 'number';
}
