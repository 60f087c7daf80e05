import type { Named } from '@corewright/contracts/base';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import type { Reader } from '../../platform/database/database.js';
import { badInput, done, type Result, refused } from '../../platform/refusal.js';
import { holderOf } from '../../stores/ledger.js';

/** Whoever buys and is no firm of the books, as the books know them. */
export const counterBuyerId = '00000000-0000-7000-8000-00000000c057';

export interface Buyer {
  firm: Named | null;
  /** what is sold goes to this holder */
  holderId: string;
}

const markCustomer = 'UPDATE parties SET is_customer = true WHERE id = $1 RETURNING id, name';
const kindOf = 'SELECT kind FROM holders WHERE id = $1';

/** A firm that buys is a customer from then on. One that holds things of ours, as an outworker does, buys as anybody at the counter does. */
export async function buyerOf(transaction: Transaction, firmId: string | null): Promise<Result<Buyer>> {
  if (firmId === null) return done({ firm: null, holderId: counterBuyerId });
  const firm = await transaction.row<Named & Record<string, unknown>>(markCustomer, [firmId]);
  if (firm === null)
    return refused(badInput('buyerId', 'That firm is not in the books. Choose it from the list, or key a name.'));
  holderOf(transaction, firm.id, 'customer');
  return done({ firm, holderId: await holderThatBuys(transaction, firm.id) });
}

async function holderThatBuys(reader: Reader, firmId: string): Promise<string> {
  const holder = await reader.row<{ kind: string }>(kindOf, [firmId]);
  return holder?.kind === 'customer' ? firmId : counterBuyerId;
}
