import { whyNotNumbered } from '../../catalogue/edit-part/decide-part.js';
import { partNumberKey } from '../../catalogue/part-number-key.js';
import { rowsInto } from '../../platform/database/many-rows.js';
import { newId } from '../../platform/new-id.js';
import { noteDifferences } from '../books.js';
import { columns, type FileReader } from '../file-reader.js';
import { makerIn, partIn, zerosLost } from '../lookups.js';

const intoNumbers = rowsInto(
  'part_numbers',
  'id uuid',
  'part_id uuid',
  'maker_id uuid',
  'number text',
  'number_key text',
  'year_first smallint',
  'year_last smallint',
);

/** Further numbers of a part, by its maker or by others. */
export const partNumbers: FileReader = {
  file: 'part-numbers',
  columns: columns('part_maker!', 'part_number!', 'maker!', 'number!', 'year_first', 'year_last'),
  key: ['maker', 'number'],
  numberColumns: ['part_number', 'number'],
  async read(row, books) {
    const part = await partIn(row, 'part_maker', 'part_number', books);
    const number = row.number('number');
    const { yearFirst, yearLast } = row.years('year_first', 'year_last');
    const makerId = await makerIn(row, 'maker', books);
    if (row.faulty || part === null || makerId === null) return null;
    const known = await books.numbers.of(makerId, number);
    const there = known.find((each) => each.number === number && each.part.id === part.id);
    if (there) {
      noteDifferences(
        row,
        { year_first: yearFirst, year_last: yearLast },
        { year_first: there.yearFirst, year_last: there.yearLast },
      );
      return 'unchanged';
    }
    // That a number is nearly one of the books is no reason to hold up a file: what lacks zeros is noted below.
    const asked = { maker: row.cell('maker'), number, yearFirst, yearLast, isAnother: true };
    const others = known.map((each) => ({ number: each.number, partId: each.part.id, partName: each.part.name }));
    const refusal = whyNotNumbered(asked, others, books.today);
    if (refusal !== null) return row.refused('number', refusal);
    const lost = zerosLost(books, makerId, number);
    if (lost !== '') row.note('number', lost);
    await books.add(intoNumbers, [newId(), part.id, makerId, number, partNumberKey(number), yearFirst, yearLast]);
    books.numbers.add({ part, makerId, number, isMain: false, yearFirst, yearLast });
    return 'added';
  },
};
