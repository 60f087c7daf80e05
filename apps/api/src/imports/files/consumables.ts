import { KeepConsumable } from '@corewright/contracts/consumables';
import { consumableOf } from '../../consumables/consumable.queries.js';
import type { Refusal } from '../../platform/refusal.js';
import { type Books, noteDifferences } from '../books.js';
import { columns, type FileReader } from '../file-reader.js';
import { partIn, unitTypes } from '../lookups.js';
import type { Row } from '../row.js';

const daysMax = 9999;
const usesMax = 100_000;

/** Which parts go by the container, how long one keeps once opened, and how its use comes onto jobs. */
export const consumables: FileReader = {
  file: 'consumables',
  columns: columns(
    'maker!',
    'number!',
    'container!',
    'keeps_days',
    'one_at_a_time',
    'charged',
    'use_amount',
    'uses_per_container',
    'flat',
    'flat_from',
  ),
  key: ['maker', 'number'],
  numberColumns: ['number'],
  async read(row, books) {
    const part = await partIn(row, 'maker', 'number', books);
    const said = {
      container: row.text('container'),
      keepsDays: row.whole('keeps_days', 1, daysMax),
      oneAtATime: row.yes('one_at_a_time'),
      charged: row.choice('charged', KeepConsumable.shape.charged.options, 'not at all'),
      useAmount: row.text('use_amount', 20),
      usesPerContainer: row.whole('uses_per_container', 1, usesMax),
      flat: await flatIn(row, books),
      flatFrom: row.day('flat_from'),
    };
    if (row.faulty || part === null) return null;
    const known = await consumableOf(books.transaction, part.id);
    if (known?.withdrawn) row.note('number', 'The books say that this is a consumable no longer, and keep it so.');
    else if (known !== null)
      noteDifferences(
        row,
        {
          container: said.container,
          keeps_days: said.keepsDays,
          one_at_a_time: said.oneAtATime,
          charged: said.charged,
          uses_per_container: said.usesPerContainer,
        },
        {
          container: known.container,
          keeps_days: known.keepsDays,
          one_at_a_time: known.oneAtATime,
          charged: known.charged,
          uses_per_container: known.usesPerContainer,
        },
      );
    if (known !== null) return 'unchanged';
    const input = KeepConsumable.safeParse(said);
    if (!input.success) return faultsOf(row, input.error.issues);
    const kept = await books.handlers.consumables.handle(books.transaction, part.id, input.data);
    return kept.ok ? 'added' : row.refused(columnOf(kept.error), kept.error);
  },
};

const columnsOfFields: Readonly<Record<string, string>> = {
  container: 'container',
  oneAtATime: 'one_at_a_time',
  useAmount: 'use_amount',
  flat: 'flat',
};

/** The rules of the screens name their own fields. */
function columnOf({ values }: Refusal): string {
  const [field] = (values?.fields ?? []) as { path: string }[];
  return columnsOfFields[field?.path ?? ''] ?? 'number';
}

function faultsOf(row: Row, issues: readonly { path: PropertyKey[]; message: string }[]): null {
  for (const { path, message } of issues) row.fault(columnsOfFields[String(path[0])] ?? 'number', message);
  return null;
}

/** So much a job: an amount for every unit type, or "WD7: 6.00" for one. */
async function flatIn(row: Row, books: Books): Promise<{ unitTypeId: string | null; amount: string }[]> {
  const flat: { unitTypeId: string | null; amount: string }[] = [];
  for (const each of row.list('flat')) {
    const at = each.lastIndexOf(':');
    const [reference, amount] = at < 0 ? ['', each] : [each.slice(0, at).trim(), each.slice(at + 1).trim()];
    const unitTypeId = reference === '' ? null : (await unitTypes(books)).get(reference.toLowerCase());
    if (unitTypeId === undefined) books.lacking(row, 'flat', `The unit type "${reference}"`, 'unit-types', [reference]);
    else flat.push({ unitTypeId, amount });
  }
  return flat;
}
