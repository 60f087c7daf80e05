import { aspects, valuesOf } from '@corewright/bearings/bearing-types';
import { keyOfSuffix } from '../../catalogue/bearings/tables/table.queries.js';
import { rowsInto } from '../../platform/database/many-rows.js';
import { columns, type FileReader } from '../file-reader.js';
import { makerIn, makers } from '../lookups.js';
import { type OwnRow, ownRow } from '../own-row.js';

const selectAll = 'SELECT maker, suffix, aspect, value, words, source, shipped FROM bearing_suffixes';
const takeOver = `
  UPDATE bearing_suffixes SET aspect = $3, value = $4, words = $5, source = $6, shipped = false WHERE maker = $1 AND suffix = $2`;
const intoSuffixes = rowsInto(
  'bearing_suffixes',
  'maker text',
  'suffix text',
  'aspect text',
  'value text',
  'words text',
  'source text',
);

/** What makers mean by the letters behind a designation, beside what comes with the program. */
export const bearingSuffixes: FileReader = {
  file: 'bearing-suffixes',
  columns: columns('maker', 'suffix!', 'aspect!', 'value!', 'words!', 'source!'),
  key: ['maker', 'suffix'],
  async read(row, books) {
    const marked = row.text('maker');
    const suffix = row.number('suffix').toUpperCase();
    const aspect = row.choice('aspect', aspects);
    const values = aspect && valuesOf[aspect];
    const value = values ? row.choice('value', values) : row.text('value');
    const facts = { aspect, value, words: row.text('words'), source: row.text('source') };
    if (marked !== '') await makerIn(row, 'maker', books);
    if (!/^[A-Z0-9]+$/.test(suffix))
      row.fault('suffix', 'A suffix is letters and figures. Leave out what parts it from the designation.');
    if (row.faulty) return null;
    const maker = (await makers(books)).get(marked.toLowerCase())?.name ?? marked;
    const known = await books.register<OwnRow>('suffixes of bearings', async () => {
      const rows = await books.transaction.rows<OwnRow & { maker: string; suffix: string }>(selectAll);
      return new Map(rows.map((each) => [keyOfSuffix(each.maker, each.suffix), each]));
    });
    return ownRow(row, books, {
      known,
      key: keyOfSuffix(maker, suffix),
      facts,
      names: { maker, suffix },
      into: intoSuffixes,
      takeOver,
    });
  },
};
