import { CorePoint } from '@corewright/contracts/acceptance';
import { parseMoney } from '@corewright/quantities/money';
import { type Books, noteDifferences } from '../books.js';
import { columns, type FileReader } from '../file-reader.js';
import { oursIn } from '../load-costs.js';
import { unitTypeIn } from '../lookups.js';
import type { Row } from '../row.js';

const wordsMax = 300;
const selectTerms = `
  SELECT ${CorePoint.options.join(', ')}, coalesce(full_credit_minor::text, '') AS full_credit FROM acceptance_terms WHERE unit_type_id = $1`;
const insertTerms = `
  INSERT INTO acceptance_terms (unit_type_id, ${CorePoint.options.join(', ')}, full_credit_minor) VALUES ($1, $2, $3, $4, $5, $6, $7, $8)`;

/** What is asked of a core of a type, point by point, and what a full acceptable one is credited with. */
export const unitTypeAcceptance: FileReader = {
  file: 'unit-type-acceptance',
  columns: columns('unit_type!', ...CorePoint.options, 'full_credit'),
  key: ['unit_type'],
  async read(row, books) {
    const typeId = await unitTypeIn(row, 'unit_type', books);
    const words = CorePoint.options.map((point) => row.text(point, wordsMax));
    const credit = await creditIn(row, books);
    if (row.faulty) return null;
    const there = await books.transaction.row(selectTerms, [typeId]);
    if (there) {
      const asked = Object.fromEntries(CorePoint.options.map((point, index) => [point, words[index]]));
      noteDifferences(row, { ...asked, full_credit: credit }, there);
      return 'unchanged';
    }
    await books.transaction.rows(insertTerms, [typeId, ...words, credit]);
    return 'added';
  },
};

/** In smallest units of our currency; null where the cell is empty. */
async function creditIn(row: Row, books: Books): Promise<string | null> {
  const text = row.text('full_credit', 40);
  if (text === '') return null;
  const amount = parseMoney(text, await oursIn(books));
  return amount.ok ? amount.value.toString() : row.fault('full_credit', amount.error.sentence);
}
