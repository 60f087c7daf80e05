import { formatCode, parseCode } from '@corewright/codes/label-code';
import { countAskedFrom, type KeepOpeningRow } from '@corewright/contracts/opening-stock';
import { type Decimal, decimalFrom, formatDecimal } from '@corewright/quantities/decimal';
import { checkQuantity, type UnitOfMeasure } from '@corewright/quantities/unit-of-measure';
import { partFacts } from '../../catalogue/part.queries.js';
import { ownerOf } from '../../goods-in/row-facts.js';
import type { Reader } from '../../platform/database/database.js';
import { badInput, done, type Result, refused } from '../../platform/refusal.js';

/** What was keyed at the shelf, checked against the books. */
export interface ShelfRow {
  kind: KeepOpeningRow['kind'];
  ownerId: string | null;
  quantity: string;
  /** of an unsorted box; null where nobody counted */
  pieceCount: number | null;
  words: string;
  partId: string | null;
  unitTypeId: string | null;
  marks: string;
  note: string;
  /** somebody at the shelf could say what it is */
  isNamed: boolean;
}

const typeIsThere = 'SELECT 1 AS there FROM unit_types WHERE id = $1';
/** Longer counts are numbers that were read off a packet. */
const figuresMax = 7;
const one = '1';
/** A box is called something: it is asked for by that. */
const boxUnnamed = 'Box, not yet looked through';

/** Reads a row as it was keyed at the shelf. Little is asked; what cannot be meant is refused with what to key instead. */
export async function readShelfRow(reader: Reader, input: KeepOpeningRow): Promise<Result<ShelfRow>> {
  const owner = await ownerOf(reader, input.ownerName);
  if (!owner.ok) return owner;
  const part = input.kind === 'lot' && input.partId !== null ? await partFacts(reader, input.partId) : null;
  if (input.kind === 'lot' && input.partId !== null && part === null)
    return refused(badInput('partId', 'That part is not in the books. Choose one from the list, or say in words what it is.'));
  if (input.kind === 'unit' && input.unitTypeId !== null && !(await reader.row(typeIsThere, [input.unitTypeId])))
    return refused(badInput('unitTypeId', 'That unit type is not in the books. Choose one from the list, or leave it empty.'));
  if (saysNothing(input))
    return refused(badInput('words', 'Photograph it, or say in a word what it is or which number it bears.'));
  const count = readCount(input, part?.unitOfMeasure ?? 'each');
  if (!count.ok) return count;
  const { kind, partId, unitTypeId, marks, note } = input;
  return done({
    kind,
    ownerId: owner.value,
    quantity: kind === 'lot' ? formatDecimal(count.value ?? decimalFrom(one)) : one,
    pieceCount: kind === 'unsorted' && count.value !== null ? Number(formatDecimal(count.value)) : null,
    words: kind === 'unsorted' && input.words === '' ? boxUnnamed : input.words,
    partId: kind === 'lot' ? partId : null,
    unitTypeId: kind === 'unit' ? unitTypeId : null,
    marks: kind === 'unsorted' ? '' : marks,
    note,
    isNamed: kind === 'unsorted' || (kind === 'lot' ? partId : unitTypeId) !== null,
  });
}

function saysNothing({ kind, words, marks, partId, unitTypeId, photographed }: KeepOpeningRow): boolean {
  return (
    !photographed && words === '' && marks === '' && (kind === 'unit' ? unitTypeId : kind === 'lot' ? partId : null) === null
  );
}

/** How many; a lot without a count is one, a box without one was not counted. */
function readCount({ kind, count, sure }: KeepOpeningRow, unit: UnitOfMeasure): Result<Decimal | null> {
  if (count === '') return done(null);
  const label = parseCode(count);
  if (label.ok)
    return refused(badInput('count', `${formatCode(label.value.code)} is a label and no count. Key how many there are.`));
  if (/^\d+$/.test(count) && count.length > figuresMax)
    return refused(badInput('count', `${count} reads like a number off a packet and no count. Key how many there are.`));
  const quantity = checkQuantity(count, kind === 'lot' ? unit : 'each');
  if (!quantity.ok) return refused(badInput('count', quantity.error.sentence));
  if (kind === 'unit' && quantity.value !== decimalFrom(one))
    return refused(badInput('count', 'A unit is one. Key a row for each, so that each has its tag.'));
  if (quantity.value >= decimalFrom(String(countAskedFrom)) && !sure)
    return refused({
      status: 409,
      code: 'count-not-sure',
      title: 'So many?',
      detail: `${count} is a great many for one row. Say that you are sure, or put the count right. Nothing was changed.`,
      values: { count },
    });
  return done(quantity.value);
}
