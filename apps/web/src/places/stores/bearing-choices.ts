import { type BearingPacking, type BearingStore, openBearingYears } from '@corewright/standards/bearing-storage';
import type { Choice } from '../../ui/SelectField.js';

export type StoreChoice = BearingStore | 'not known';

/** How a bearing can lie in its packing. */
export const packings: readonly Choice<BearingPacking>[] = [
  { value: 'open-preserved', label: 'open, in preservative' },
  { value: 'sealed-greased', label: 'greased, behind seals or shields' },
];

/** How it can have been stored. */
export const bearingStores: readonly Choice<StoreChoice>[] = [
  { value: 'not known', label: 'not known' },
  ...(Object.keys(openBearingYears) as BearingStore[]).map((store) => ({ value: store, label: openBearingYears[store].words })),
];

/** What was chosen, as the standards take it. */
export function storeOf(choice: StoreChoice): BearingStore | null {
  return choice === 'not known' ? null : choice;
}
