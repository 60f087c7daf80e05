import { newId } from '../../platform/new-id.js';
import { noteDifferences } from '../books.js';
import { columns, type FileReader } from '../file-reader.js';
import { makers as knownMakers } from '../lookups.js';

const selectNote = 'SELECT note FROM makers WHERE id = $1';
const insertMaker = 'INSERT INTO makers (id, name, note) VALUES ($1, $2, $3)';

/** Makers of vehicles, units, bearings, seals and reproductions. */
export const makers: FileReader = {
  file: 'makers',
  columns: columns('name!', 'note'),
  key: ['name'],
  async read(row, books) {
    const name = row.text('name');
    const note = row.longText('note');
    if (row.faulty) return null;
    const known = await knownMakers(books);
    const there = known.get(name.toLowerCase());
    if (there) {
      noteDifferences(row, { note }, (await books.transaction.row(selectNote, [there])) ?? {});
      return 'unchanged';
    }
    const id = newId();
    await books.transaction.rows(insertMaker, [id, name, note]);
    known.set(name.toLowerCase(), id);
    return 'added';
  },
};
