import { oursOf } from '../../people/workshop.js';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import type { LockedThing } from '../ledger.js';
import { writeOwnerChange } from './write-owner-change.js';

/** An owner who was keyed wrongly, as in its row at goods-in, is put right by an act that stays on the record. */
export async function correctOwner(
  transaction: Transaction,
  { id: thingId, ownerId: from }: Pick<LockedThing, 'id' | 'ownerId'>,
  { to, on, where }: { to: string | null; on: string; where: string },
): Promise<void> {
  if (to === from) return;
  const words = `keyed wrongly ${where}`;
  const currency = await oursOf(transaction);
  await writeOwnerChange(transaction, { thingId, from, to, how: 'put right', price: null, currency, on, words });
}
