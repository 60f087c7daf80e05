import { workingOrder } from '@corewright/planning/operation-order';
import type { Books } from '../books.js';
import { noteDifferences } from '../books.js';
import { columns, type FileReader } from '../file-reader.js';
import { unitTypeIn } from '../lookups.js';
import type { Row } from '../row.js';

const selectOperation =
  'SELECT name, minutes, after_numbers AS after FROM unit_type_operations WHERE unit_type_id = $1 AND number = $2';
const insertOperation = `
  INSERT INTO unit_type_operations (unit_type_id, number, name, minutes, after_numbers) VALUES ($1, $2, $3, $4, $5)`;
const operationsOfType =
  'SELECT number, name, after_numbers AS after FROM unit_type_operations WHERE unit_type_id = $1 ORDER BY number';

/** The steps of a rebuild, what each takes, and what must be done before it. */
export const unitTypeOperations: FileReader = {
  file: 'unit-type-operations',
  columns: columns('unit_type!', 'number!', 'name!', 'minutes!', 'after'),
  key: ['unit_type', 'number'],
  async read(row, books) {
    const number = row.whole('number', 1, 9999);
    const facts = { name: row.text('name'), minutes: row.whole('minutes', 0, 100_000), after: row.wholes('after', 1, 9999) };
    const typeId = await unitTypeIn(row, 'unit_type', books);
    if (row.faulty || typeId === null) return null;
    const there = await books.transaction.row(selectOperation, [typeId, number]);
    if (there) {
      noteDifferences(row, facts, there);
      return 'unchanged';
    }
    await books.transaction.rows(insertOperation, [typeId, number, facts.name, facts.minutes, facts.after]);
    (await typesTouched(books)).set(typeId, row);
    return 'added';
  },
  async finish(books) {
    for (const [typeId, row] of await typesTouched(books)) await checkOrder(row, typeId, books);
  },
};

/** Types that got operations in this import, with the row that brought the last of them. */
function typesTouched(books: Books): Promise<Map<string, Row>> {
  return books.register('types with new operations', async () => new Map());
}

async function checkOrder(row: Row, typeId: string, books: Books): Promise<void> {
  const rows = await books.transaction.rows<{ number: number; name: string; after: number[] }>(operationsOfType, [typeId]);
  const order = workingOrder(
    rows.map(({ number, name, after }) => ({ id: String(number), name, predecessors: after.map(String) })),
  );
  if (!order.ok) row.fault('after', order.error.sentence);
}
