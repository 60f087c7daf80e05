import { CountTerm, type EditCountSettings } from '@corewright/contracts/counting';
import { PlaceKind } from '@corewright/contracts/stores';
import { countSettings, lockCountSettings, writeCountSettings } from '../../counting/schedule/settings.js';
import { type Books, noteDifferences } from '../books.js';
import { columns, type FileReader, type Outcome } from '../file-reader.js';
import { placeIn } from '../places-tree.js';
import type { Row } from '../row.js';

const about = ['every place', 'scarce parts', 'place', 'kind of place'] as const;
type About = (typeof about)[number];
const daysMost = 3650;
const untouchedVersion = 1;

/** How often what is counted: every place, parts that are scarce, and the places for which something else was said. */
export const countSchedule: FileReader = {
  file: 'count-schedule',
  columns: columns('counts!', 'which', 'days!', 'at_most'),
  key: ['counts', 'which'],
  async read(row, books) {
    const counts = row.choice('counts', about);
    const days = row.whole('days', 1, daysMost);
    if (counts === null || days === null) return null;
    const isOfPlaces = counts === 'place' || counts === 'kind of place';
    if (isOfPlaces !== (row.cell('which') !== ''))
      return row.fault(
        'which',
        isOfPlaces ? 'Say which place, or which kind of place.' : 'This is of all of them: leave it empty.',
      );
    if ((counts === 'scarce parts') !== (row.cell('at_most') !== ''))
      return row.fault(
        'at_most',
        counts === 'scarce parts'
          ? 'Say of how many or fewer a part is scarce.'
          : 'This is for scarce parts alone: leave it empty.',
      );
    return isOfPlaces ? readTerm(row, books, counts, days) : readAlways(row, books, counts, days);
  },
};

/** The two that always stand are taken where nobody in the workshop has set how often it counts. */
async function readAlways(
  row: Row,
  books: Books,
  counts: Exclude<About, 'place' | 'kind of place'>,
  days: number,
): Promise<Outcome> {
  const now = await settingsNow(books);
  const atMost = counts === 'scarce parts' ? row.amount('at_most') : null;
  if (row.faulty) return null;
  const asked = counts === 'scarce parts' ? { days, at_most: atMost } : { days };
  const stored =
    counts === 'scarce parts' ? { days: now.scarceDays, at_most: now.scarceAtMost } : { days: now.usualDays, at_most: null };
  if (days === stored.days && (atMost === null || atMost === stored.at_most)) return 'unchanged';
  if (!(await nobodyHasSet(books))) {
    noteDifferences(row, asked, stored);
    return 'unchanged';
  }
  return write(row, books, atMost === null ? { ...now, usualDays: days } : { ...now, scarceDays: days, scarceAtMost: atMost });
}

async function readTerm(row: Row, books: Books, counts: 'place' | 'kind of place', days: number): Promise<Outcome> {
  const placeId = counts === 'place' ? await placeIn(row, 'which', books) : null;
  const placeKind = counts === 'place' ? null : row.choice('which', PlaceKind.exclude(['tray']).options);
  if (row.faulty) return null;
  await nobodyHasSet(books);
  const now = await settingsNow(books);
  const known = now.terms.find((term) => term.placeId === placeId && term.placeKind === placeKind);
  if (known === undefined) return write(row, books, { ...now, terms: [...now.terms, { placeId, placeKind, days }] });
  noteDifferences(row, { days }, { days: known.days });
  return 'unchanged';
}

async function settingsNow(books: Books): Promise<EditCountSettings> {
  const { scarceAtMost, scarceDays, usualDays, terms } = await countSettings(books.transaction);
  const plain = terms.map(({ placeId, placeKind, days }) => CountTerm.parse({ placeId, placeKind, days }));
  return { scarceAtMost, scarceDays, usualDays, terms: plain };
}

/** Whether the settings are as the program came, when this import began; they are locked from then on. */
async function nobodyHasSet(books: Books): Promise<boolean> {
  const said = await books.once('count settings', 'untouched', async () => {
    await books.transaction.row(lockCountSettings);
    return { untouched: (await countSettings(books.transaction)).version === untouchedVersion };
  });
  return said?.untouched === true;
}

async function write(row: Row, books: Books, settings: EditCountSettings): Promise<Outcome> {
  const written = await writeCountSettings(books.transaction, settings);
  return written.ok ? 'added' : row.refused('counts', written.error);
}
