import { partNumberKey } from '../../catalogue/part-number-key.js';
import { newId } from '../../platform/new-id.js';
import { noteDifferences } from '../books.js';
import { columns, type FileReader } from '../file-reader.js';
import { makerIn, partIn } from '../lookups.js';

const selectNumber = `
  SELECT part_numbers.part_id AS "partId", part_numbers.year_first, part_numbers.year_last, main.number AS main, parts.name
    FROM part_numbers JOIN parts ON parts.id = part_numbers.part_id
    LEFT JOIN part_numbers AS main ON main.part_id = parts.id AND main.is_main
   WHERE part_numbers.maker_id = $1 AND part_numbers.number = $2`;
const insertNumber = `
  INSERT INTO part_numbers (id, part_id, maker_id, number, number_key, year_first, year_last) VALUES ($1, $2, $3, $4, $5, $6, $7)`;

interface Numbered extends Record<string, unknown> {
  partId: string;
  main: string | null;
  name: string;
}

/** Further numbers of a part, by its maker or by others. */
export const partNumbers: FileReader = {
  file: 'part-numbers',
  columns: columns('part_maker!', 'part_number!', 'maker!', 'number!', 'year_first', 'year_last'),
  key: ['maker', 'number'],
  async read(row, books) {
    const { transaction } = books;
    const part = await partIn(row, 'part_maker', 'part_number', books);
    const number = row.number('number');
    const key = partNumberKey(number);
    if (key === '') row.fault('number', 'A part number has letters or figures. Key it as it is printed.');
    const { yearFirst, yearLast } = row.years('year_first', 'year_last');
    const makerId = await makerIn(row, 'maker', books);
    if (row.faulty || part === null) return null;
    const there = await transaction.row<Numbered>(selectNumber, [makerId, number]);
    if (there && there.partId !== part.id)
      return row.fault(
        'number',
        `This maker's number is that of another part already: ${there.name}, ${there.main ?? ''}. One number of a maker is one part.`,
      );
    if (there) {
      noteDifferences(row, { year_first: yearFirst, year_last: yearLast }, there);
      return 'unchanged';
    }
    await transaction.rows(insertNumber, [newId(), part.id, makerId, number, key, yearFirst, yearLast]);
    return 'added';
  },
};
