import type { ShelfState } from '@corewright/contracts/opening-stock';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import type { Reader } from '../../platform/database/database.js';
import { newId } from '../../platform/new-id.js';

type Act = 'begun' | 'done' | 'opened again';

const lockShared = 'SELECT 1 AS there FROM places WHERE holder_id = $1 FOR SHARE';
const lockAlone = 'SELECT 1 AS there FROM places WHERE holder_id = ANY ($1::uuid[]) ORDER BY holder_id FOR NO KEY UPDATE';
const lastAct = `
  SELECT opening_acts.kind, opening_acts.recorded_at AS at, display_name AS by
    FROM opening_acts JOIN people ON people.id = person_id WHERE place_id = $1 ORDER BY sequence DESC LIMIT 1`;
const insertAct = `
  INSERT INTO opening_acts (id, command_key, place_id, kind, why, person_id)
  SELECT id, $2, place_id, $3, $4, $5 FROM unnest($1::uuid[], $6::uuid[]) AS acts (id, place_id)`;

export interface Shelf {
  state: ShelfState;
  by: string;
  at: string | null;
}

/** How far a place is. */
export async function shelfOf(reader: Reader, placeId: string): Promise<Shelf> {
  const last = await reader.row<{ kind: Act; at: string; by: string }>(lastAct, [placeId]);
  if (last === null) return { state: 'not yet', by: '', at: null };
  return { state: last.kind === 'done' ? 'done' : 'begun', by: last.by, at: last.at };
}

/** Those who key at one shelf do so side by side; whoever says that it is done waits for them, and they for that. */
export async function lockShelf(transaction: Transaction, placeId: string): Promise<void> {
  await transaction.rows(lockShared, [placeId]);
}

export async function lockShelves(transaction: Transaction, placeIds: readonly string[]): Promise<void> {
  await transaction.rows(lockAlone, [placeIds]);
}

export async function writeActs(transaction: Transaction, placeIds: readonly string[], kind: Act, why = ''): Promise<void> {
  const { key, person } = transaction.command;
  await transaction.rows(insertAct, [placeIds.map(() => newId()), key, kind, why, person.id, placeIds]);
  transaction.news('stores', 'today');
}
