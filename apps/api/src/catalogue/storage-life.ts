import type { StorageLife as StorageLifeShown } from '@corewright/contracts/base';
import { formatPlainDate } from '@corewright/quantities/plain-date';
import {
  type Material,
  type PacketCondition,
  type StorageLife,
  type StorageState,
  type StoredPart,
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
  /** the day of its last inspection, if that one was passed */
  inspectedOn: string | null;
}

/** For a statement that reads `lots`: a failed inspection takes back what an earlier one gave. */
export const inspectedOn = `
  (SELECT CASE WHEN passed THEN inspected_on END FROM storage_inspections
    WHERE storage_inspections.thing_id = lots.thing_id ORDER BY inspected_on DESC, recorded_at DESC LIMIT 1)`;

/** The columns of `StoredFacts`, for a statement that reads `parts` and `lots`. */
export const storedFacts = `
  parts.material, parts.polymer, lots.packet_read AS "packetRead", lots.packet_earliest AS "packetEarliest",
  lots.packet_latest AS "packetLatest", lots.packet_condition AS "packetCondition", ${inspectedOn} AS "inspectedOn"`;

/** Storage life on a day of the workshop. */
export function storageLifeOf(facts: StoredFacts, today: string): StorageLife {
  return storageState(storedPart(facts), today);
}

/** The same facts as the standards take them. A part that nobody has named has no limit that could be known. */
export function storedPart(facts: StoredFacts): StoredPart {
  return {
    material: (facts.material ?? 'other') as Material,
    polymer: facts.polymer,
    packetDate: { asRead: facts.packetRead, earliest: facts.packetEarliest, latest: facts.packetLatest },
    packetCondition: facts.packetCondition as PacketCondition,
    inspectedOn: facts.inspectedOn,
  };
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
  return { state: stateWords[life.state], sentence: life.reasons.join(' '), stops: life.stopsFitting };
}

/** The few words for a row or a label where it may not be fitted: "past life 1 Jul 2001", "date unknown"; null where it may. */
export function storageStop(life: StorageLife): string | null {
  if (!life.stopsFitting) return null;
  return life.since === null ? 'date unknown' : `past life ${formatPlainDate(life.since)}`;
}
