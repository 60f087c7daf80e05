import { newId } from '../../platform/new-id.js';
import { noteDifferences } from '../books.js';
import { columns, type FileReader } from '../file-reader.js';
import { grades as knownGrades } from '../lookups.js';

const selectGrade = 'SELECT rank, meaning, retired FROM grades WHERE scale = $1 AND letter = $2';
const rankTaken = 'SELECT letter FROM grades WHERE scale = $1 AND rank = $2';
const insertGrade = 'INSERT INTO grades (id, scale, letter, rank, meaning, retired) VALUES ($1, $2, $3, $4, $5, $6)';

/** The workshop's own scales of condition, one for cores and one for parts. */
export const grades: FileReader = {
  file: 'grades',
  columns: columns('scale!', 'letter!', 'rank!', 'meaning!', 'retired'),
  key: ['scale', 'letter'],
  async read(row, books) {
    const { transaction } = books;
    const scale = row.choice('scale', ['core', 'part']);
    const letter = row.text('letter', 10);
    const rank = row.whole('rank', 1, 99);
    const meaning = row.text('meaning', 1000);
    const retired = row.yes('retired');
    if (row.faulty) return null;
    const there = await transaction.row(selectGrade, [scale, letter]);
    if (there) {
      noteDifferences(row, { rank, meaning, retired }, there);
      return 'unchanged';
    }
    const taken = await transaction.row<{ letter: string }>(rankTaken, [scale, rank]);
    if (taken)
      return row.fault('rank', `Grade ${taken.letter} has this rank already. Two grades of a scale do not share one: 1 is best.`);
    await transaction.rows(insertGrade, [newId(), scale, letter, rank, meaning, retired]);
    (await knownGrades(books)).set(`${scale} ${letter}`, true);
    return 'added';
  },
};
