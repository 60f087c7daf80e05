import { rowsInto } from '../../platform/database/many-rows.js';
import { newId } from '../../platform/new-id.js';
import { noteDifferences } from '../books.js';
import { columns, type FileReader } from '../file-reader.js';
import { makers as knownMakers } from '../lookups.js';

const intoMakers = rowsInto('makers', 'id uuid', 'name text', 'note text');

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
      noteDifferences(row, { note }, there);
      return 'unchanged';
    }
    const id = newId();
    await books.add(intoMakers, [id, name, note]);
    known.set(name.toLowerCase(), { id, name, note });
    return 'added';
  },
};
