import { countMark, editCountMark } from '../../counting/schedule/settings.js';
import { noteDifferences } from '../books.js';
import { columns, type FileReader } from '../file-reader.js';
import { partIn } from '../lookups.js';

/** Parts that are scarce, or are not, however many there are: what is scarce is counted more often. */
export const countMarks: FileReader = {
  file: 'count-marks',
  columns: columns('maker!', 'number!', 'scarce!'),
  key: ['maker', 'number'],
  numberColumns: ['number'],
  async read(row, books) {
    const part = await partIn(row, 'maker', 'number', books);
    const scarce = row.yes('scarce');
    if (row.faulty || part === null) return null;
    const known = await countMark(books.transaction, part.id);
    if (known.scarce !== null) {
      noteDifferences(row, { scarce }, { scarce: known.scarce });
      return 'unchanged';
    }
    const marked = await editCountMark(books.transaction, part.id, scarce);
    return marked.ok ? 'added' : row.refused('number', marked.error);
  },
};
