import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { newId } from '../../platform/new-id.js';
import { addUnit } from '../../stores/new-things.js';
import { arrive, loadIn } from '../arrive.js';
import { columns, type FileReader } from '../file-reader.js';
import { holdBack, holdIn } from '../holds.js';
import { worthIn } from '../load-costs.js';
import { gradeIn, ownerIn, unitTypeIn } from '../lookups.js';
import { placeIn } from '../places-tree.js';

const stages = ['core', 'in work', 'stripped', 'rebuilt'] as const;
const updateStage = 'UPDATE units SET stage = $2 WHERE thing_id = $1';

/** Bought-in cores, customers' units and rebuilt ones: each a thing of its own. */
export const units: FileReader = {
  file: 'units',
  columns: columns(
    'reference!',
    'load',
    'unit_type',
    'words',
    'grade',
    'marks',
    'note',
    'owner',
    'place',
    'stage',
    'held_back',
    'worth',
    'held_by',
    'may_lift',
    'look_again_on',
  ),
  key: ['reference'],
  async read(row, books) {
    const { transaction } = books;
    const reference = row.number('reference');
    const load = await loadIn(row, books);
    const unitTypeId = row.cell('unit_type') === '' ? null : await unitTypeIn(row, 'unit_type', books);
    const grade = await gradeIn(row, 'grade', books, 'core');
    const facts = { unitTypeId, words: row.text('words'), grade, marks: row.text('marks'), note: row.longText('note') };
    const hold = await holdIn(row, books);
    const stage = row.choice('stage', stages, 'core');
    const ownerId = await ownerIn(row, books);
    const placeId = await placeIn(row, 'place', books);
    const worth = await worthIn(row, books);
    if (row.cell('unit_type') === '' && facts.words === '')
      row.fault('words', 'Nobody has said what this is. Name its unit type, or say in words what it looks like.');
    if (row.faulty || load === undefined || placeId === null) return null;
    if (await books.referred('units', reference)) return 'unchanged';
    const thingId = newId();
    await addUnit(transaction, thingId, ownerId, facts);
    if (stage !== 'core') await setStage(transaction, thingId, stage);
    await arrive(books, { thingId, quantity: '1', load, ownerId, placeId, worth });
    if (hold !== null) await holdBack(books, thingId, hold);
    await books.refer('units', reference, thingId);
    return 'added';
  },
};

async function setStage(transaction: Transaction, thingId: string, stage: string | null): Promise<void> {
  await transaction.rows(updateStage, [thingId, stage]);
}
