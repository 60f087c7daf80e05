import { signKinds, signWeights } from '@corewright/identify/known-type';
import { lacksOfSign } from '@corewright/identify/lacks-of-sign';
import { newId } from '../../platform/new-id.js';
import { noteDifferences } from '../books.js';
import { columns, type FileReader } from '../file-reader.js';
import { unitTypeIn } from '../lookups.js';

const selectSign = `
  SELECT kind, position, pattern, year_first, year_last, words, weight FROM unit_type_signs WHERE unit_type_id = $1 AND number = $2`;
const insertSign = `
  INSERT INTO unit_type_signs (id, unit_type_id, number, kind, position, pattern, year_first, year_last, words, weight)
  VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10)`;

/** By what a unit of a type is known: stamps, casting numbers with the years that they mean, features, counts. */
export const unitTypeSigns: FileReader = {
  file: 'unit-type-signs',
  columns: columns('unit_type!', 'number!', 'kind!', 'position', 'pattern', 'year_first', 'year_last', 'words', 'weight'),
  key: ['unit_type', 'number'],
  async read(row, books) {
    const number = row.whole('number', 1, 500);
    const typeId = await unitTypeIn(row, 'unit_type', books);
    const { yearFirst, yearLast } = row.years('year_first', 'year_last');
    const facts = {
      kind: row.choice('kind', signKinds),
      position: row.text('position'),
      pattern: row.number('pattern'),
      year_first: yearFirst,
      year_last: yearLast,
      words: row.text('words'),
      weight: row.choice('weight', signWeights, 'good'),
    };
    const { kind, position, pattern, words } = facts;
    if (kind !== null) for (const lack of lacksOfSign({ kind, position, pattern, words })) row.fault(lack.field, lack.sentence);
    if (row.faulty) return null;
    const there = await books.transaction.row(selectSign, [typeId, number]);
    if (there) {
      noteDifferences(row, facts, there);
      return 'unchanged';
    }
    await books.transaction.rows(insertSign, [newId(), typeId, number, ...Object.values(facts)]);
    return 'added';
  },
};
