import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { invariant } from '../../platform/refusal.js';
import { type Balance, holderOf, move } from '../ledger.js';

const cameFrom = 'SELECT from_holder_id AS id FROM movements WHERE thing_id = $1 ORDER BY sequence LIMIT 1';
const firstMovements =
  'SELECT id, from_holder_id AS "from", to_holder_id AS "to" FROM movements WHERE thing_id = $1 ORDER BY sequence LIMIT 2';

/** What things are taken out of: each is a holder of what is in it. */
export type WholeKind = 'unit' | 'box';

export interface OutOfWhole {
  kind: WholeKind;
  wholeId: string;
  thingId: string;
  quantity: string;
  toHolderId: string;
  reason: string;
}

/**
 * It came with its unit or its box, from wherever that came, and lay in it until now: both are on the record, so that nothing comes
 * from nowhere, though nobody knew what it was when the whole came in.
 */
export async function outOfWhole(transaction: Transaction, step: OutOfWhole): Promise<void> {
  const { kind, wholeId, thingId, quantity, toHolderId, reason } = step;
  const inWhole = holderOf(transaction, wholeId, kind);
  const originId = await originOf(transaction, wholeId);
  move(transaction, { thingId, quantity, fromHolderId: originId, toHolderId: inWhole, reason: `came in its ${kind}` });
  move(transaction, { thingId, quantity, fromHolderId: inWhole, toHolderId, reason });
}

/** Where a unit or a box came from in the first place. */
export async function originOf(transaction: Transaction, wholeId: string): Promise<string> {
  const origin = await transaction.row<{ id: string }>(cameFrom, [wholeId]);
  invariant(origin, 'what we hold came from somewhere');
  return origin.id;
}

export interface BackIntoWhole {
  wholeId: string;
  thingId: string;
  /** where all of it is now */
  here: Pick<Balance, 'holderId'>;
  quantity: string;
  reason: string;
}

/** It should never have been taken out: it goes back into the whole and out of the books, each by a movement that undoes the first. */
export async function backIntoWhole(transaction: Transaction, { wholeId, here, ...step }: BackIntoWhole): Promise<void> {
  const [cameIn, takenOut] = await transaction.rows<{ id: string; from: string; to: string }>(firstMovements, [step.thingId]);
  invariant(cameIn && takenOut, 'what was taken out of a whole came in it');
  // a movement that began where the first one ended undoes it by name; one that was made since is not named
  const undoes = takenOut.to === here.holderId;
  move(transaction, { ...step, fromHolderId: here.holderId, toHolderId: wholeId, ...(undoes && { reversesId: takenOut.id }) });
  const origin = await originOf(transaction, wholeId);
  move(transaction, { ...step, fromHolderId: wholeId, toHolderId: origin, reversesId: cameIn.id });
}
