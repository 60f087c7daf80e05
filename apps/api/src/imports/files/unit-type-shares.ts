import { restOfShares } from '@corewright/costing/judge-core';
import { decimalFrom, zero } from '@corewright/quantities/decimal';
import { noteDifferences } from '../books.js';
import { columns, type FileReader } from '../file-reader.js';
import { unitTypeIn } from '../lookups.js';

const selectShare = `
  SELECT trim_scale(share)::text AS share FROM acceptance_shares WHERE unit_type_id = $1 AND position = $2`;
const selectOthers = 'SELECT share::text FROM acceptance_shares WHERE unit_type_id = $1';
const isComponent = 'SELECT 1 AS there FROM unit_type_components WHERE unit_type_id = $1 AND position = $2';
const isAsked = 'SELECT 1 AS there FROM acceptance_terms WHERE unit_type_id = $1';
const insertShare = 'INSERT INTO acceptance_shares (unit_type_id, position, share) VALUES ($1, $2, $3)';

/** The components of a type that must be re-usable in a core, each with its percent of a good core's worth. */
export const unitTypeShares: FileReader = {
  file: 'unit-type-shares',
  columns: columns('unit_type!', 'position!', 'share!'),
  key: ['unit_type', 'position'],
  async read(row, books) {
    const { transaction } = books;
    const typeId = await unitTypeIn(row, 'unit_type', books);
    const position = row.whole('position', 1, 500);
    const share = row.amount('share');
    if (share !== null && decimalFrom(share) <= zero) row.fault('share', 'A share is more than nought: key it in percent.');
    if (row.faulty || share === null) return null;
    const there = await transaction.row(selectShare, [typeId, position]);
    if (there) {
      noteDifferences(row, { share }, there);
      return 'unchanged';
    }
    if ((await transaction.row(isComponent, [typeId, position])) === null)
      return row.fault('position', 'This type has no component of that position in the books. Bring it in first.');
    if ((await transaction.row(isAsked, [typeId])) === null)
      return row.fault(
        'unit_type',
        'Nothing is asked of a core of this type yet. Bring its row of unit-type-acceptance in as well.',
      );
    const others = await transaction.rows<{ share: string }>(selectOthers, [typeId]);
    if (restOfShares([share, ...others.map((each) => each.share)].map(decimalFrom)) < zero)
      return row.fault('share', 'With this one the shares of the type are more than 100 percent. Take some away.');
    await transaction.rows(insertShare, [typeId, position, share]);
    return 'added';
  },
};
