import type { StorageLife as StorageLifeShown } from '@corewright/contracts/base';
import { formatPlainDate } from '@corewright/quantities/plain-date';
import {
  type BearingPacking,
  type BearingStorageState,
  type BearingStore,
  bearingStorageState,
  type StoredBearing,
} from '@corewright/standards/bearing-storage';
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
  /** the day of its last inspection, if that one was passed; for a bearing, if it was preserved anew as well */
  inspectedOn: string | null;
  /** null where nobody has said that it is a preserved bearing */
  bearingPacking: BearingPacking | null;
  bearingStore: BearingStore | null;
}

/** What nobody has looked at or said yet, of a lot that has only come. */
export const nothingInspected = { inspectedOn: null, bearingPacking: null, bearingStore: null } as const;

/** For a statement that reads `lots`: a failed inspection takes back what an earlier one gave. */
export const inspectedFacts = `
  (SELECT CASE WHEN passed AND (preserved_anew OR lots.bearing_packing IS NULL) THEN inspected_on END FROM storage_inspections
    WHERE storage_inspections.thing_id = lots.thing_id ORDER BY inspected_on DESC, recorded_at DESC LIMIT 1) AS "inspectedOn",
  lots.bearing_packing AS "bearingPacking", lots.bearing_store AS "bearingStore"`;

/** The columns of `StoredFacts`, for a statement that reads `parts` and `lots`. */
export const storedFacts = `
  parts.material, parts.polymer, lots.packet_read AS "packetRead", lots.packet_earliest AS "packetEarliest",
  lots.packet_latest AS "packetLatest", lots.packet_condition AS "packetCondition", ${inspectedFacts}`;

/** Storage life on a day of the workshop: of rubber by its kind, of a bearing by how it is preserved. */
export function storageLifeOf(facts: StoredFacts, today: string): StorageLife {
  const bearing = storedBearing(facts);
  return bearing === null ? storageState(storedPart(facts), today) : lifeOfBearing(bearing, today);
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

/** Whether a part of some material, null for what nobody has named, can be a bearing that lies in preservative. */
export function canBeBearing(material: string | null): boolean {
  return material === null || material === 'metal' || material === 'other';
}

/** Null for what is no preserved bearing. What is of rubber goes by its own rule, whatever else is said of it. */
export function storedBearing(facts: StoredFacts): StoredBearing | null {
  if (facts.bearingPacking === null || !canBeBearing(facts.material)) return null;
  return {
    packing: facts.bearingPacking,
    store: facts.bearingStore,
    isClosed: facts.packetCondition === 'sealed',
    packedEarliest: facts.packetEarliest,
    inspectedOn: facts.inspectedOn,
  };
}

const stateOfBearing: Record<BearingStorageState, StorageState> = {
  'in-life': 'in-life',
  'look-again': 'extendable',
  past: 'past',
  unknown: 'unknown',
};

/** A bearing's storage in the words that rubber has, so that whoever asks about age asks once. */
function lifeOfBearing(bearing: StoredBearing, today: string): StorageLife {
  const { state, endsOn, isOver, reasons } = bearingStorageState(bearing, today);
  const hasEnded = state === 'look-again' || state === 'past';
  return {
    state: stateOfBearing[state],
    stopsFitting: isOver,
    since: hasEnded ? endsOn : null,
    until: state === 'in-life' ? endsOn : null,
    group: null,
    packedOn: bearing.packedEarliest,
    firstPeriodEndsOn: endsOn,
    longestExtensionEndsOn: null,
    reasons,
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

/** The few words for a row or a label where it may not be fitted: "rubber, past life 1 Jul 2001"; null where it may. */
export function storageStop(life: StorageLife): string | null {
  if (!life.stopsFitting) return null;
  const what = life.group === null ? 'bearing' : 'rubber';
  return life.since === null ? `${what}, date unknown` : `${what}, past life ${formatPlainDate(life.since)}`;
}
