import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { newId } from '../../platform/new-id.js';
import { keyOfMark } from '../marks.js';
import type { Bound } from './set-numbers.js';

export interface MemberToBind {
  thingId: string;
  stamped: string;
}

export interface SetToBind {
  id: string;
  words: string;
  /** the unit that they came out of, where that is known */
  unitId: string | null;
  members: readonly MemberToBind[];
}

const insertSet = `
  INSERT INTO kept_sets (id, command_key, number, number_key, words, unit_id, mismatch_reason, bound_by) VALUES ($1, $2, $3, $4, $5, $6, $7, $8)`;
const insertBroken = `
  INSERT INTO kept_sets (id, command_key, number, number_key, words, unit_id, bound_by, broken_by, broken_at, broken_on_word_of, broken_why)
  VALUES ($1, $2, $3, $4, $5, $6, $7, $7, clock_timestamp(), $8, $9)`;
const insertMember = `
  INSERT INTO kept_set_members (set_id, thing_id, stamped, stamped_key, bound) VALUES ($1, $2, $3, $4, $5)`;
const updateNumber = "UPDATE kept_sets SET number = $2, number_key = $3 WHERE id = $1 AND number = ''";
const breakOpen = `
  UPDATE kept_sets SET broken_by = $2, broken_at = clock_timestamp(), broken_on_word_of = $3, broken_why = $4 WHERE id = $1 AND broken_at IS NULL RETURNING id`;
const letGo = 'UPDATE kept_set_members SET bound = false WHERE set_id = $1 AND thing_id = $2';
const updateStamped = 'UPDATE kept_set_members SET stamped = $3, stamped_key = $4 WHERE set_id = $1 AND thing_id = $2';
const updateMismatch = 'UPDATE kept_sets SET mismatch_reason = $2 WHERE id = $1';
const lockSet = 'SELECT id, number, broken_at AS "brokenAt" FROM kept_sets WHERE id = $1 FOR NO KEY UPDATE';

export function lockKeptSet(transaction: Transaction, id: string): Promise<{ number: string; brokenAt: string | null } | null> {
  return transaction.row<{ id: string; number: string; brokenAt: string | null }>(lockSet, [id]);
}

/** Binds things as one set. The database refuses a thing that is bound in another, and members that two jobs hold. */
export async function writeSet(transaction: Transaction, set: SetToBind, bound: Bound): Promise<void> {
  const { key, person } = transaction.command;
  const numberKey = keyOfMark(bound.number);
  await transaction.rows(insertSet, [
    set.id,
    key,
    bound.number,
    numberKey,
    set.words,
    set.unitId,
    bound.mismatchReason,
    person.id,
  ]);
  for (const member of set.members) await joinSet(transaction, set.id, member);
  toldOf(transaction, set.members);
}

/** One more of a set that is there. */
export async function joinSet(transaction: Transaction, setId: string, { thingId, stamped }: MemberToBind): Promise<void> {
  await transaction.rows(insertMember, [setId, thingId, stamped, keyOfMark(stamped), true]);
  if (stamped !== '') await transaction.rows(updateNumber, [setId, stamped, keyOfMark(stamped)]);
  toldOf(transaction, [{ thingId }]);
}

/** What is stamped on a member was read anew. */
export async function readAnew(transaction: Transaction, setId: string, { thingId, stamped }: MemberToBind): Promise<void> {
  await transaction.rows(updateStamped, [setId, thingId, stamped, keyOfMark(stamped)]);
}

/** Why its members belong together though their numbers differ. */
export async function acceptMismatch(transaction: Transaction, setId: string, why: string): Promise<void> {
  await transaction.rows(updateMismatch, [setId, why]);
}

/** What is left of a set whose other parts are elsewhere or gone: an odd one, found by its number. */
export async function writeOdd(
  transaction: Transaction,
  odd: Omit<SetToBind, 'id'> & { onWordOf: string; why: string },
): Promise<void> {
  const { key, person } = transaction.command;
  for (const { thingId, stamped } of odd.members) {
    const id = newId();
    const common = [id, key, stamped, keyOfMark(stamped), odd.words, odd.unitId, person.id];
    await transaction.rows(insertBroken, [...common, odd.onWordOf, odd.why]);
    await transaction.rows(insertMember, [id, thingId, stamped, keyOfMark(stamped), false]);
  }
  toldOf(transaction, odd.members);
}

/** Breaks a set on somebody's word: what is left of it is odd. False where it was broken already. */
export async function breakSet(transaction: Transaction, setId: string, onWordOf: string, why: string): Promise<boolean> {
  const row = await transaction.row(breakOpen, [setId, transaction.command.person.id, onWordOf, why]);
  transaction.news('stores', 'jobs');
  return row !== null;
}

/** A member that was put there by mistake is let go; the set stays. */
export async function leaveSet(transaction: Transaction, setId: string, thingId: string): Promise<void> {
  await transaction.rows(letGo, [setId, thingId]);
  toldOf(transaction, [{ thingId }]);
}

function toldOf(transaction: Transaction, members: readonly { thingId: string }[]): void {
  transaction.news('stores', ...members.map(({ thingId }) => `thing:${thingId}`));
}
