import type { LabelCode } from '@corewright/codes/label-code';
import type { Make, PacketCondition, PacketDate, Source } from '@corewright/contracts/base';
import type { Transaction } from '../platform/commands/unit-of-work.js';
import { giveCode } from '../scanning/code-register.js';
import { holderOf } from './ledger.js';
import { marksKey } from './marks.js';

/** What a person says of a unit. */
export interface UnitFacts {
  unitTypeId: string | null;
  words: string;
  grade: string;
  marks: string;
  note: string;
}

/** What a person says of a lot. */
export interface LotFacts {
  partId: string | null;
  words: string;
  source: Source;
  make: Make;
  makerId: string | null;
  marks: string;
  condition: string;
  packet: PacketDate;
  packetCondition: PacketCondition;
  note: string;
}

export interface UnsortedFacts {
  words: string;
  pieceCount: number | null;
  note: string;
}

const insertThing = 'INSERT INTO things (id, kind, owner_id) VALUES ($1, $2, $3)';
const insertUnit = `
  INSERT INTO units (thing_id, unit_type_id, words, grade, marks, marks_key, note) VALUES ($1, $2, $3, $4, $5, $6, $7)`;
const insertLot = `
  INSERT INTO lots (thing_id, part_id, words, source, make, maker_id, marks, condition, packet_read, packet_precision, packet_earliest,
                    packet_latest, packet_condition, note)
  VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12, $13, $14)`;
const insertUnsorted = 'INSERT INTO unsorted_boxes (thing_id, words, piece_count, note) VALUES ($1, $2, $3, $4)';
const insertComponent = `
  INSERT INTO components (thing_id, unit_id, position, name, part_id, note, piece, pieces) VALUES ($1, $2, $3, $4, $5, $6, $7, $8)`;
const updateDonor = 'UPDATE lots SET donor_unit_id = $2, donor_position = $3, thickness_mm = $4 WHERE thing_id = $1';

/**
 * A unit that the books did not know: its row, its code, and the holder that it is for what is in it. It is nowhere yet.
 * @param bears the code that was printed beforehand and is on it; without one it is given the next
 */
export async function addUnit(
  transaction: Transaction,
  id: string,
  ownerId: string | null,
  facts: UnitFacts,
  bears: LabelCode | null = null,
): Promise<LabelCode> {
  await transaction.rows(insertThing, [id, 'U', ownerId]);
  const { unitTypeId, words, grade, marks, note } = facts;
  await transaction.rows(insertUnit, [id, unitTypeId, words, grade, marks, marksKey(marks), note]);
  holderOf(transaction, id, 'unit');
  return bears ?? giveCode(transaction, 'U', id);
}

/** A lot that the books did not know. It is nowhere yet. @param bears as of a unit */
export async function addLot(
  transaction: Transaction,
  id: string,
  ownerId: string | null,
  facts: LotFacts,
  bears: LabelCode | null = null,
): Promise<LabelCode> {
  await transaction.rows(insertThing, [id, 'L', ownerId]);
  await transaction.rows(insertLot, [id, ...lotColumns(facts)]);
  return bears ?? giveCode(transaction, 'L', id);
}

export interface Donor {
  unitId: string;
  position: number;
  /** of shims, in millimetres */
  thickness: string | null;
}

/** A lot that was taken out of a unit: where it sat, and for shims how thick it is. It is nowhere yet. */
export async function addHarvestedLot(
  transaction: Transaction,
  id: string,
  ownerId: string | null,
  facts: Omit<LotFacts, 'source' | 'packet' | 'packetCondition'>,
  donor: Donor,
): Promise<LabelCode> {
  const packet: PacketDate = { asRead: '', precision: 'unknown', earliest: null, latest: null };
  const code = await addLot(transaction, id, ownerId, { ...facts, source: 'harvested', packet, packetCondition: 'none' });
  await transaction.rows(updateDonor, [id, donor.unitId, donor.position, donor.thickness]);
  return code;
}

/** A box that nobody has sorted. It is nowhere yet. @param bears as of a unit */
export async function addUnsorted(
  transaction: Transaction,
  id: string,
  ownerId: string | null,
  facts: UnsortedFacts,
  bears: LabelCode | null = null,
): Promise<LabelCode> {
  await transaction.rows(insertThing, [id, 'X', ownerId]);
  await transaction.rows(insertUnsorted, [id, facts.words, facts.pieceCount, facts.note]);
  return bears ?? giveCode(transaction, 'X', id);
}

export interface ComponentFacts {
  unitId: string;
  position: number;
  name: string;
  partId: string | null;
  note: string;
  /** which of several at its position, and how many of them bear this one tag; the first and one where nobody says */
  piece?: number;
  pieces?: number;
}

/** A component that leaves its unit with a tag of its own; it has the unit's owner. It is nowhere yet. */
export async function addComponent(
  transaction: Transaction,
  id: string,
  ownerId: string | null,
  facts: ComponentFacts,
): Promise<LabelCode> {
  await transaction.rows(insertThing, [id, 'C', ownerId]);
  const { unitId, position, name, partId, note, piece = 1, pieces = 1 } = facts;
  await transaction.rows(insertComponent, [id, unitId, position, name, partId, note, piece, pieces]);
  return giveCode(transaction, 'C', id);
}

const updateUnit = `
  UPDATE units SET unit_type_id = $2, words = $3, grade = $4, marks = $5, marks_key = $6, note = $7 WHERE thing_id = $1`;
const updateLot = `
  UPDATE lots SET part_id = $2, words = $3, source = $4, make = $5, maker_id = $6, marks = $7, condition = $8, packet_read = $9,
                  packet_precision = $10, packet_earliest = $11, packet_latest = $12, packet_condition = $13, note = $14
   WHERE thing_id = $1`;
const updateUnsorted = 'UPDATE unsorted_boxes SET words = $2, piece_count = $3, note = $4 WHERE thing_id = $1';
const touchThing = 'UPDATE things SET version = version + 1 WHERE id = $1';

/** Facts read wrongly are put right: a fact is what was seen, not a movement. Whose a thing is changes by an act of its own. */
export async function correctUnit(transaction: Transaction, id: string, facts: UnitFacts): Promise<void> {
  const { unitTypeId, words, grade, marks, note } = facts;
  await transaction.rows(updateUnit, [id, unitTypeId, words, grade, marks, marksKey(marks), note]);
  await transaction.rows(touchThing, [id]);
}

export async function correctLot(transaction: Transaction, id: string, facts: LotFacts): Promise<void> {
  await transaction.rows(updateLot, [id, ...lotColumns(facts)]);
  await transaction.rows(touchThing, [id]);
}

export async function correctUnsorted(transaction: Transaction, id: string, facts: UnsortedFacts): Promise<void> {
  await transaction.rows(updateUnsorted, [id, facts.words, facts.pieceCount, facts.note]);
  await transaction.rows(touchThing, [id]);
}

function lotColumns({
  partId,
  words,
  source,
  make,
  makerId,
  marks,
  condition,
  packet,
  packetCondition,
  note,
}: LotFacts): unknown[] {
  const { asRead, precision, earliest, latest } = packet;
  return [partId, words, source, make, makerId, marks, condition, asRead, precision, earliest, latest, packetCondition, note];
}
