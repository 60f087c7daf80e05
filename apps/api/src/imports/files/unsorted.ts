import { newId } from '../../platform/new-id.js';
import { addUnsorted } from '../../stores/new-things.js';
import { arrive, loadIn } from '../arrive.js';
import { columns, type FileReader } from '../file-reader.js';
import { shareLoads, worthIn } from '../load-costs.js';
import { placeIn } from '../places-tree.js';

/** Boxes of things that nobody has named yet. */
export const unsorted: FileReader = {
  file: 'unsorted',
  columns: columns('reference!', 'load', 'words!', 'pieces', 'note', 'place', 'worth'),
  key: ['reference'],
  async read(row, books) {
    const reference = row.number('reference');
    const load = await loadIn(row, books);
    const facts = { words: row.text('words'), pieceCount: row.whole('pieces', 1, 1_000_000), note: row.longText('note') };
    const placeId = await placeIn(row, 'place', books);
    const worth = await worthIn(row, books);
    if (row.faulty || load === undefined || placeId === null) return null;
    if (await books.referred('unsorted', reference)) return 'unchanged';
    const thingId = newId();
    await addUnsorted(books.transaction, thingId, null, facts);
    await arrive(books, { thingId, quantity: '1', load, ownerId: null, placeId, worth });
    await books.refer('unsorted', reference, thingId);
    return 'added';
  },
  finish: shareLoads,
};
