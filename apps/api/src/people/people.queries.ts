import type { Role } from '@corewright/contracts/base';
import type { Person } from '@corewright/contracts/people';
import type { Reader } from '../platform/database/database.js';

type PersonRow = Person & Record<string, unknown>;

// A badge that was lost is void and another was given: the live one counts, the newest where there are several.
const columns = `
  people.id, display_name AS "displayName", sign_in_name AS "signInName", role, active,
  pass_phrase_hash IS NOT NULL AS "hasPassPhrase", version,
  coalesce((SELECT code FROM codes WHERE subject_id = people.id AND kind = 'B' AND voided_at IS NULL
             ORDER BY given_at DESC, code DESC LIMIT 1), '') AS badge`;
const selectAll = `SELECT ${columns} FROM people ORDER BY active DESC, display_name, id`;
const selectOne = `SELECT ${columns} FROM people WHERE id = $1`;
const lockOne = `SELECT ${columns} FROM people WHERE id = $1 FOR NO KEY UPDATE OF people`;
// Not the key: a command under way holds the key of the person who sent it, and must not be waited for.
// In the order of their ids: of two owners who demote each other at once, one waits and then sees what the other did.
const lockOwners = `SELECT id FROM people WHERE role = 'owner' AND active ORDER BY id FOR NO KEY UPDATE`;

const selectNames = 'SELECT display_name AS name FROM people WHERE active AND role = ANY ($1) ORDER BY display_name, id';

/** The names of those who are here with one of these roles: whom to ask. */
export async function namesOfRoles(reader: Reader, roles: readonly Role[]): Promise<string[]> {
  return (await reader.rows<{ name: string }>(selectNames, [roles])).map(({ name }) => name);
}

export function listPeople(reader: Reader): Promise<Person[]> {
  return reader.rows<PersonRow>(selectAll);
}

export function readPerson(reader: Reader, id: string): Promise<Person | null> {
  return reader.row<PersonRow>(selectOne, [id]);
}

/** Locks the person for this transaction. */
export function lockPerson(transaction: Reader, id: string): Promise<Person | null> {
  return transaction.row<PersonRow>(lockOne, [id]);
}

/** Locks every active owner; taken before `lockPerson` by whoever may take an owner away. */
export async function lockActiveOwners(transaction: Reader): Promise<string[]> {
  const owners = await transaction.rows<{ id: string }>(lockOwners);
  return owners.map((owner) => owner.id);
}
