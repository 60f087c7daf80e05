import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { type Balance, holderOf, move } from '../ledger.js';

/** Moves all that lies in these places to a holder beyond our books, or to a customer, with a reason. */
export function leaveStores(
  transaction: Transaction,
  thingId: string,
  balances: readonly Balance[],
  to: string | { customerId: string },
  reason: string,
): void {
  const toHolderId = typeof to === 'string' ? to : holderOf(transaction, to.customerId, 'customer');
  for (const { holderId, quantity } of balances)
    move(transaction, { thingId, quantity, fromHolderId: holderId, toHolderId, reason });
}
