import type { RowInput } from '@corewright/contracts/goods-in';
import { formatDecimal } from '@corewright/quantities/decimal';
import { readPacketDate } from '@corewright/quantities/packet-date';
import { checkQuantity } from '@corewright/quantities/unit-of-measure';
import { gradeToGive } from '../catalogue/grades/grade-to-give.js';
import { makerNamed } from '../catalogue/maker.queries.js';
import { type PartFacts, partFacts } from '../catalogue/part.queries.js';
import type { Transaction } from '../platform/commands/unit-of-work.js';
import type { Reader } from '../platform/database/database.js';
import { badInput, done, type Result, refused } from '../platform/refusal.js';
import { firmNamed } from '../stores/firm.queries.js';
import type { LotFacts, UnitFacts, UnsortedFacts } from '../stores/new-things.js';

/** What is keyed of a thing itself, wherever it came from. */
type Said<Row extends RowInput> = Omit<Row, 'kind' | 'position' | 'code' | 'ownerName' | 'placeId'>;
type UnitInput = Said<Extract<RowInput, { kind: 'unit' }>>;
type LotInput = Said<Extract<RowInput, { kind: 'lot' }>>;

/** A row as it was keyed, checked against the books; the quantity is an exact decimal. */
export type RowFacts = { ownerId: string | null; quantity: string } & (
  | { kind: 'unit'; facts: UnitFacts }
  | { kind: 'lot'; facts: LotFacts }
  | { kind: 'unsorted'; facts: UnsortedFacts }
);

const one = '1';

/**
 * Reads what was keyed for a row. What cannot be kept as keyed is refused with the field and what to key instead.
 * @param gradeBorne what a unit that is keyed again bears already: it keeps that, though it is no longer offered
 */
export async function readRow(
  transaction: Transaction,
  input: RowInput,
  today: string,
  gradeBorne = '',
): Promise<Result<RowFacts>> {
  const owner = await ownerOf(transaction, input.ownerName);
  if (!owner.ok) return owner;
  const ownerId = owner.value;
  switch (input.kind) {
    case 'unit': {
      const facts = await readUnit(transaction, input, gradeBorne);
      return facts.ok ? done({ kind: 'unit', ownerId, quantity: one, facts: facts.value }) : facts;
    }
    case 'lot': {
      const lot = await readLot(transaction, input, today);
      return lot.ok ? done({ kind: 'lot', ownerId, ...lot.value }) : lot;
    }
    case 'unsorted': {
      const { words, pieceCount, note } = input;
      return done({ kind: 'unsorted', ownerId, quantity: one, facts: { words, pieceCount, note } });
    }
  }
}

/** Null is the workshop itself. */
export async function ownerOf(reader: Reader, name: string): Promise<Result<string | null>> {
  if (name === '') return done(null);
  const firm = await firmNamed(reader, name);
  if (firm?.isCustomer) return done(firm.id);
  const words =
    firm === null
      ? `No customer called “${name}” is in the books. Add the customer first, or leave the owner empty for what is ours.`
      : `${firm.name} is in the books, but not as a customer. Make it one first, or leave the owner empty for what is ours.`;
  return refused(badInput('ownerName', words));
}

const typeIsThere = 'SELECT 1 AS there FROM unit_types WHERE id = $1';

/** What was keyed of a unit; `gradeBorne` is the grade that it bears already. */
export async function readUnit(reader: Reader, input: UnitInput, gradeBorne: string): Promise<Result<UnitFacts>> {
  const { unitTypeId, words, marks, note } = input;
  if (unitTypeId === null && words === '')
    return refused(badInput('words', 'Choose a type, or say in words what it looks like; it can be named later.'));
  if (unitTypeId !== null && !(await reader.row(typeIsThere, [unitTypeId])))
    return refused(
      badInput('unitTypeId', 'That unit type is not in the books. Choose one from the list, or “not yet identified”.'),
    );
  const grade = await gradeToGive(reader, 'core', input.grade, { borne: gradeBorne });
  return grade.ok ? done({ unitTypeId, words, marks, note, grade: grade.value }) : grade;
}

/** What was keyed of a lot, with how many. */
export async function readLot(
  transaction: Transaction,
  input: LotInput,
  today: string,
): Promise<Result<{ quantity: string; facts: LotFacts }>> {
  const { partId, words, source, make, marks, condition, packetCondition, note } = input;
  const part = partId === null ? null : await partFacts(transaction, partId);
  if (partId !== null && part === null)
    return refused(badInput('partId', 'That part is not in the books. Choose one from the list, or say in words what it is.'));
  if (part === null && words === '') return refused(badInput('words', 'Key a part number, or say in words what it is.'));
  const quantity = checkQuantity(input.quantity, part?.unitOfMeasure ?? 'each');
  if (!quantity.ok) return refused(badInput('quantity', quantity.error.sentence));
  const packet = readPacketDate(input.packetRead, { material: materialOf(part), today });
  if (!packet.ok) return refused(badInput('packetRead', packet.error.sentence));
  const makerId = input.makerName === '' ? null : await makerNamed(transaction, input.makerName);
  const facts: LotFacts = { partId, words, source, make, makerId, marks, condition, packet: packet.value, packetCondition, note };
  return done({ quantity: formatDecimal(quantity.value), facts });
}

function materialOf(part: PartFacts | null): 'rubber' | 'other' {
  return part?.material === 'rubber' ? 'rubber' : 'other';
}
