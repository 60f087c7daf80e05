import { PlaceKind } from '@corewright/contracts/stores';
import { noteDifferences } from '../books.js';
import { columns, type FileReader } from '../file-reader.js';
import { keyOfPath, knownPlaces, makePlace, stepsOf } from '../places-tree.js';

const sayWhatItIs = 'UPDATE places SET kind = $2, nicknames = $3 WHERE holder_id = $1';

/** Where things lie: a path from the top down, its steps parted by "/". */
export const places: FileReader = {
  file: 'places',
  columns: columns('path!', 'kind!', 'nicknames'),
  key: ['path'],
  async read(row, books) {
    const steps = stepsOf(row.text('path', 1000));
    const kind = row.choice('kind', PlaceKind.options);
    const nicknames = row.list('nicknames').join('; ');
    if (steps.some((step) => step === '')) row.fault('path', 'A step of the path is empty. Write it as Stores/Rack 3/Bin 12.');
    if (steps.length > 20) row.fault('path', 'The path has more than 20 steps. Shorten it.');
    if (steps.some((step) => step.length > 200))
      row.fault('path', 'A step of the path is longer than 200 characters. Shorten it.');
    if (row.faulty || kind === null) return null;
    const there = (await knownPlaces(books)).get(keyOfPath(steps));
    if (there && !there.implied) {
      noteDifferences(row, { kind, nicknames }, { ...there });
      return 'unchanged';
    }
    if (there) {
      await books.transaction.rows(sayWhatItIs, [there.id, kind, nicknames]);
      Object.assign(there, { kind, nicknames, implied: false });
      return 'added';
    }
    const made = await makePlace(books, steps, kind, nicknames);
    return made.ok ? 'added' : row.refused('path', made.error);
  },
};
