import type { PreserveLot } from '@corewright/contracts/stores';
import { canBeBearing } from '../../catalogue/storage-life.js';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { badInput, type Refusal } from '../../platform/refusal.js';

const updateLot = 'UPDATE lots SET bearing_packing = $2, bearing_store = $3 WHERE thing_id = $1';

/** Why a lot cannot be preserved so; null where it can. @param material of its part; null where nobody has named it */
export function whyNotPreserved({ packing, store }: PreserveLot, material: string | null): Refusal | null {
  if (packing === null && store !== null)
    return badInput('store', 'Say first how the bearing is preserved: open in preservative, or greased behind seals.');
  if (packing === null || canBeBearing(material)) return null;
  const detail = `This is of ${material}: it goes by the rule of its material, not by that of bearings. Nothing was changed.`;
  return { status: 409, code: 'not-a-bearing', title: 'Not a bearing', detail, values: { packing } };
}

export function preserve(transaction: Transaction, lotId: string, { packing, store }: PreserveLot): void {
  transaction.send(updateLot, [lotId, packing, store]);
}
