import { noteDifferences } from '../books.js';
import { columns, type FileReader } from '../file-reader.js';

const selectDay = 'SELECT reason FROM closed_days WHERE day = $1';

/** Days on which nobody works. */
export const closedDays: FileReader = {
  file: 'closed-days',
  columns: columns('day!', 'reason!'),
  key: ['day'],
  async read(row, books) {
    const day = row.day('day');
    const reason = row.text('reason');
    if (row.faulty || day === null) return null;
    const there = await books.transaction.row(selectDay, [day]);
    if (there) {
      noteDifferences(row, { reason }, there);
      return 'unchanged';
    }
    const closed = await books.handlers.calendar.closeDay(books.transaction, { day, reason });
    return closed.ok ? 'added' : row.refused('day', closed.error);
  },
};
