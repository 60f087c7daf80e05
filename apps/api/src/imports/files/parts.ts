import { UnitOfMeasure } from '@corewright/contracts/base';
import { partNumberKey } from '../../catalogue/part-number-key.js';
import { newId } from '../../platform/new-id.js';
import { noteDifferences } from '../books.js';
import { columns, type FileReader } from '../file-reader.js';
import { makerIn } from '../lookups.js';

const materials = ['metal', 'rubber', 'felt', 'leather', 'paper', 'cork', 'other'] as const;

const selectNumbered = `
  SELECT parts.id, is_main AS "isMain", name, description, nicknames, unit_of_measure AS unit, material, polymer,
         (SELECT main.number FROM part_numbers AS main WHERE main.part_id = parts.id AND main.is_main) AS main
    FROM part_numbers JOIN parts ON parts.id = part_id WHERE maker_id = $1 AND number = $2`;
const insertPart = `
  WITH part AS (
    INSERT INTO parts (id, name, description, nicknames, unit_of_measure, material, polymer) VALUES ($1, $2, $3, $4, $5, $6, $7))
  INSERT INTO part_numbers (id, part_id, maker_id, number, number_key, is_main) VALUES ($8, $1, $9, $10, $11, true)`;

interface Numbered extends Record<string, unknown> {
  isMain: boolean;
  main: string | null;
}

/** The catalogue: what a thing is, whoever made it, under its main number. */
export const parts: FileReader = {
  file: 'parts',
  columns: columns('maker!', 'number!', 'name!', 'description', 'nicknames', 'unit', 'material', 'polymer'),
  key: ['maker', 'number'],
  async read(row, books) {
    const { transaction } = books;
    const number = row.number('number');
    const facts = {
      name: row.text('name'),
      description: row.longText('description'),
      nicknames: row.list('nicknames').join('; '),
      unit: row.choice('unit', UnitOfMeasure.options, 'each'),
      material: row.choice('material', materials, 'metal'),
      polymer: row.text('polymer', 20).toUpperCase(),
    };
    const key = partNumberKey(number);
    if (key === '') row.fault('number', 'A part number has letters or figures. Key it as it is printed.');
    if (facts.polymer !== '' && facts.material !== 'rubber')
      row.fault('polymer', 'Only rubber has a kind of rubber. Say "rubber" under "material", or leave this empty.');
    const makerId = await makerIn(row, 'maker', books);
    if (row.faulty) return null;
    const there = await transaction.row<Numbered>(selectNumbered, [makerId, number]);
    if (there && !there.isMain)
      return row.fault(
        'number',
        `This is a further number of the part ${there.main ?? ''} already. Take the row out, or the one that says so in part-numbers.csv.`,
      );
    if (there) {
      noteDifferences(row, facts, there);
      return 'unchanged';
    }
    const { name, description, nicknames, unit, material, polymer } = facts;
    const part = [newId(), name, description, nicknames, unit, material, polymer];
    await transaction.rows(insertPart, [...part, newId(), makerId, number, key]);
    return 'added';
  },
};
