import type { StorageLife as StorageLifeShown } from '@corewright/contracts/base';
import { formatPlainDate } from '@corewright/quantities/plain-date';
import {
  type Material,
  type PacketCondition,
  type StorageLife,
  type StorageState,
  storageState,
} from '@corewright/standards/storage-life';

/** What is known of a part and its packet, as the books keep it. */
export interface StoredFacts {
  material: string | null;
  polymer: string | null;
  packetRead: string;
  packetEarliest: string | null;
  packetLatest: string | null;
  packetCondition: string;
}

/** Storage life on a day of the workshop. A part that nobody has named has no limit that could be known. */
export function storageLifeOf(facts: StoredFacts, today: string): StorageLife {
  return storageState(
    {
      material: (facts.material ?? 'other') as Material,
      polymer: facts.polymer,
      packetDate: { asRead: facts.packetRead, earliest: facts.packetEarliest, latest: facts.packetLatest },
      packetCondition: facts.packetCondition as PacketCondition,
      inspectedOn: null,
    },
    today,
  );
}

const stateWords: Record<StorageState, StorageLifeShown['state']> = {
  'in-life': 'in life',
  extendable: 'extendable',
  past: 'past',
  unknown: 'unknown date',
  'no-limit': 'no limit',
};

/** Storage life as the contracts show it. */
export function storageLifeShown(life: StorageLife): StorageLifeShown {
  return { state: stateWords[life.state], sentence: life.reasons.join(' ') };
}

/** The few words for a row or a label where it may not be fitted: "past life 1 Jul 2001", "date unknown"; null where it may. */
export function storageStop(life: StorageLife): string | null {
  if (!life.stopsFitting) return null;
  return life.since === null ? 'date unknown' : `past life ${formatPlainDate(life.since)}`;
}
