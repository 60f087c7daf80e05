import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { invariant } from '../../platform/refusal.js';
import { holderOf, move } from '../ledger.js';

const cameFrom = 'SELECT from_holder_id AS id FROM movements WHERE thing_id = $1 ORDER BY sequence LIMIT 1';

export interface OutOfUnit {
  unitId: string;
  thingId: string;
  quantity: string;
  toHolderId: string;
  reason: string;
}

/** It came with its unit, from wherever the unit came, and lay in it until now: both are on the record. */
export async function outOfUnit(transaction: Transaction, step: OutOfUnit): Promise<void> {
  const { unitId, thingId, quantity, toHolderId, reason } = step;
  const inUnit = holderOf(transaction, unitId, 'unit');
  const originId = await originOf(transaction, unitId);
  move(transaction, { thingId, quantity, fromHolderId: originId, toHolderId: inUnit, reason: 'came in its unit' });
  move(transaction, { thingId, quantity, fromHolderId: inUnit, toHolderId, reason });
}

/** Where a unit came from in the first place. */
export async function originOf(transaction: Transaction, unitId: string): Promise<string> {
  const origin = await transaction.row<{ id: string }>(cameFrom, [unitId]);
  invariant(origin, 'a unit that we hold came from somewhere');
  return origin.id;
}
