import type { Transaction } from '../platform/commands/unit-of-work.js';
import { claimsOn } from './ledger.js';

/** Whoever counts on this thing sees that it may not be used, or may be again. */
export async function tellOthers(transaction: Transaction, thingId: string): Promise<void> {
  transaction.news(`thing:${thingId}`, 'stores', 'jobs', 'today');
  for (const claim of await claimsOn(transaction, thingId)) transaction.news(`job:${claim.claimantId}`);
}
