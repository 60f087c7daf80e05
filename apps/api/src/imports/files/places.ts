import { PlaceKind } from '@corewright/contracts/stores';
import { type Books, noteDifferences } from '../books.js';
import { columns, type FileReader } from '../file-reader.js';
import { keyOfPath, knownPlaces, makePlace, stepsOf } from '../places-tree.js';
import type { Row } from '../row.js';

/** The places that are closed when all of them are there, by the number of steps to them. */
const toClose = 'places to close';
const sayWhatItIs = 'UPDATE places SET kind = $2, nicknames = $3 WHERE holder_id = $1';

/** Where things lie: a path from the top down, its steps parted by "/". */
export const places: FileReader = {
  file: 'places',
  columns: columns('path!', 'kind!', 'nicknames', 'closed'),
  key: ['path'],
  async read(row, books) {
    const steps = stepsOf(row.text('path', 1000));
    const kind = row.choice('kind', PlaceKind.options);
    const nicknames = row.list('nicknames').join('; ');
    const closed = row.yes('closed');
    if (steps.some((step) => step === '')) row.fault('path', 'A step of the path is empty. Write it as Stores/Rack 3/Bin 12.');
    if (steps.length > 20) row.fault('path', 'The path has more than 20 steps. Shorten it.');
    if (steps.some((step) => step.length > 200))
      row.fault('path', 'A step of the path is longer than 200 characters. Shorten it.');
    if (row.faulty || kind === null) return null;
    const there = (await knownPlaces(books)).get(keyOfPath(steps));
    if (there && !there.implied) {
      noteDifferences(row, { kind, nicknames, closed }, { ...there });
      return 'unchanged';
    }
    if (there) {
      await books.transaction.rows(sayWhatItIs, [there.id, kind, nicknames]);
      Object.assign(there, { kind, nicknames, implied: false });
      if (closed) await closeLater(books, row, steps);
      return 'added';
    }
    const made = await makePlace(books, steps, kind, nicknames);
    if (made.ok && closed) await closeLater(books, row, steps);
    return made.ok ? 'added' : row.refused('path', made.error);
  },
  /** What stands in a closed place is closed before it, so the places furthest down come first. */
  async finish(books) {
    const closings = await books.register<Closing>(toClose, async () => new Map());
    const known = await knownPlaces(books);
    for (const { row, steps } of [...closings.values()].toSorted((one, other) => other.steps.length - one.steps.length)) {
      const place = known.get(keyOfPath(steps));
      if (place === undefined) continue;
      const done = await books.handlers.closings.close(books.transaction, place.id, { isFact: true });
      if (done.ok) place.closed = true;
      else row.refused('closed', done.error);
    }
  },
};

interface Closing {
  row: Row;
  steps: readonly string[];
}

async function closeLater(books: Books, row: Row, steps: readonly string[]): Promise<void> {
  (await books.register<Closing>(toClose, async () => new Map())).set(keyOfPath(steps), { row, steps });
}
