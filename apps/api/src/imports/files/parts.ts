import { Material, UnitOfMeasure } from '@corewright/contracts/base';
import { noCharacters, whyNotMadeOf } from '../../catalogue/edit-part/decide-part.js';
import { partNumberKey } from '../../catalogue/part-number-key.js';
import { rowsInto } from '../../platform/database/many-rows.js';
import { newId } from '../../platform/new-id.js';
import { noteDifferences } from '../books.js';
import { columns, type FileReader } from '../file-reader.js';
import type { KnownPart } from '../known-numbers.js';
import { makerIn, zerosLost } from '../lookups.js';

const intoParts = rowsInto(
  'parts',
  'id uuid',
  'name text',
  'description text',
  'nicknames text',
  'unit_of_measure text',
  'material text',
  'polymer text',
);
const intoMainNumbers = rowsInto(
  'part_numbers',
  'id uuid',
  'part_id uuid',
  'maker_id uuid',
  'number text',
  'number_key text',
  'is_main boolean',
);

/** The catalogue: what a thing is, whoever made it, under its main number. */
export const parts: FileReader = {
  file: 'parts',
  columns: columns('maker!', 'number!', 'name!', 'description', 'nicknames', 'unit', 'material', 'polymer'),
  key: ['maker', 'number'],
  numberColumns: ['number'],
  async read(row, books) {
    const number = row.number('number');
    const facts = {
      name: row.text('name'),
      description: row.longText('description'),
      nicknames: row.list('nicknames').join('; '),
      unit: row.choice('unit', UnitOfMeasure.options, 'each'),
      material: row.choice('material', Material.options, 'metal'),
      polymer: row.text('polymer', 20).toUpperCase(),
    };
    const key = partNumberKey(number);
    if (key === '') row.fault('number', noCharacters);
    const notMade = whyNotMadeOf(facts);
    if (notMade !== null) row.fault('polymer', notMade);
    const makerId = await makerIn(row, 'maker', books);
    const { unit, material } = facts;
    if (row.faulty || makerId === null || unit === null || material === null) return null;
    const there = (await books.numbers.of(makerId, number)).find((known) => known.number === number);
    if (there && !there.isMain)
      return row.fault(
        'number',
        `This is a further number of the part ${books.numbers.mainOf(there.part.id)?.number ?? ''} already. Take the row out, or the one that says so in part-numbers.csv.`,
      );
    if (there) {
      noteDifferences(row, facts, { ...there.part });
      return 'unchanged';
    }
    const { name, description, nicknames, polymer } = facts;
    const part: KnownPart = { id: newId(), name, description, nicknames, unit, material, polymer };
    const lost = zerosLost(books, makerId, number);
    if (lost !== '') row.note('number', lost);
    await books.add(intoParts, [part.id, name, description, nicknames, unit, material, polymer]);
    await books.add(intoMainNumbers, [newId(), part.id, makerId, number, key, true]);
    books.numbers.add({ part, makerId, number, isMain: true, yearFirst: null, yearLast: null });
    return 'added';
  },
};
