import { addYears, formatPlainDate, type PlainDate } from '@corewright/quantities/plain-date';
import { rubberKind, type StorageGroup, shortestGroup, storagePeriods } from './rubber-groups.js';

export type Material = 'metal' | 'rubber' | 'felt' | 'leather' | 'paper' | 'cork' | 'other';
export type PacketCondition = 'sealed' | 'opened' | 're-boxed' | 'none';

export interface StoredPart {
  readonly material: Material;
  /** ISO 1629 symbol such as "NBR"; null or empty when nobody knows. */
  readonly polymer: string | null;
  /** The days that the packet's date can mean; nulls when nothing is known. */
  readonly packetDate: { readonly asRead: string; readonly earliest: PlainDate | null; readonly latest: PlainDate | null };
  readonly packetCondition: PacketCondition;
  /** The day on which somebody inspected it for the extension and found it good; null when nobody did. */
  readonly inspectedOn: PlainDate | null;
}

/**
 * in-life: within the first period, or within the extension after an inspection.
 * extendable: the first period is over, and an inspection would extend it.
 * past: the longest extension is over too, or cannot be had.
 * unknown: rubber without a date.
 * no-limit: nothing that ISO 2230 limits.
 */
export type StorageState = 'in-life' | 'extendable' | 'past' | 'unknown' | 'no-limit';

export interface StorageLife {
  readonly state: StorageState;
  /** Counts as past its life: does not satisfy a job line unless a person overrides it with a reason. */
  readonly stopsFitting: boolean;
  /** The day from which its life is over, where it is over. */
  readonly since: PlainDate | null;
  /** The first day on which the present state no longer holds, where that is known. */
  readonly until: PlainDate | null;
  readonly group: StorageGroup | null;
  /** The least favourable packing day, where there is one. */
  readonly packedOn: PlainDate | null;
  readonly firstPeriodEndsOn: PlainDate | null;
  readonly longestExtensionEndsOn: PlainDate | null;
  /** Sentences to set one after another, the deciding facts first. */
  readonly reasons: readonly string[];
}

const undated = {
  since: null,
  until: null,
  group: null,
  packedOn: null,
  firstPeriodEndsOn: null,
  longestExtensionEndsOn: null,
} as const;

/**
 * Whether a part is within its storage life on a day, in the least favourable reading: packed on the earliest day that the packet
 * can mean, and of the shortest group when the kind of rubber is unknown. Periods by ISO 2230 (see `storagePeriods`), whole calendar
 * years from packing; the day on which a period ends no longer belongs to it. An inspection counts from the end of the first period
 * on (an earlier one says nothing about that day) and extends to the fixed day, whenever it was made.
 */
export function storageState(part: StoredPart, onDate: PlainDate): StorageLife {
  if (part.material !== 'rubber')
    return { ...undated, state: 'no-limit', stopsFitting: false, reasons: [inspectionNote(part.material)] };
  if (isPtfe(part.polymer)) {
    return {
      ...undated,
      state: 'no-limit',
      stopsFitting: false,
      reasons: ['PTFE is no rubber and has no storage limit here. Inspect before fitting.'],
    };
  }
  if (part.packetDate.earliest === null) return withoutDate(part);
  return ofDatedRubber(part, part.packetDate.earliest, onDate);
}

function withoutDate(part: StoredPart): StorageLife {
  const read =
    part.packetDate.asRead === '' ? 'No packet date is known' : `The packet's date, "${part.packetDate.asRead}", tells nothing`;
  const reasons = [`Unknown date. ${read}: rubber without a date counts as past its life.`];
  return { ...undated, state: 'unknown', stopsFitting: true, group: groupOf(part.polymer), reasons };
}

function ofDatedRubber(part: StoredPart, packedOn: PlainDate, onDate: PlainDate): StorageLife {
  const group = groupOf(part.polymer);
  const { firstYears, extensionYears } = storagePeriods[group];
  const firstPeriodEndsOn = addYears(packedOn, firstYears);
  const longestExtensionEndsOn = addYears(packedOn, firstYears + extensionYears);
  const life = { group, packedOn, firstPeriodEndsOn, longestExtensionEndsOn };
  const grounds = [packedSentence(part, packedOn), groupSentence(part.polymer, group)];
  const extended = isExtended(part.inspectedOn, firstPeriodEndsOn, longestExtensionEndsOn, onDate);
  const state = stateOn(onDate, firstPeriodEndsOn, longestExtensionEndsOn, extended);
  return {
    ...life,
    state,
    ...consequence(state, extended, life),
    reasons: [...grounds, ...outcome(state, extended, part, life), ...packetNote(part)],
  };
}

type Ends = Pick<StorageLife, 'packedOn'> & { readonly firstPeriodEndsOn: PlainDate; readonly longestExtensionEndsOn: PlainDate };

function stateOn(onDate: PlainDate, firstEnd: PlainDate, lastEnd: PlainDate, extended: boolean): StorageState {
  if (onDate < firstEnd) return 'in-life';
  if (onDate >= lastEnd) return 'past';
  return extended ? 'in-life' : 'extendable';
}

function isExtended(inspectedOn: PlainDate | null, firstEnd: PlainDate, lastEnd: PlainDate, onDate: PlainDate): boolean {
  return inspectedOn !== null && inspectedOn >= firstEnd && inspectedOn < lastEnd && inspectedOn <= onDate;
}

function consequence(state: StorageState, extended: boolean, ends: Ends): Pick<StorageLife, 'stopsFitting' | 'since' | 'until'> {
  const lifeEnds = extended ? ends.longestExtensionEndsOn : ends.firstPeriodEndsOn;
  if (state === 'in-life') return { stopsFitting: false, since: null, until: lifeEnds };
  return { stopsFitting: true, since: lifeEnds, until: state === 'extendable' ? ends.longestExtensionEndsOn : null };
}

function outcome(state: StorageState, extended: boolean, part: StoredPart, ends: Ends): string[] {
  const first = formatPlainDate(ends.firstPeriodEndsOn, 'full');
  const last = formatPlainDate(ends.longestExtensionEndsOn, 'full');
  if (state === 'in-life' && extended)
    return [`Inspected ${formatPlainDate(part.inspectedOn ?? '', 'full')}: in life to ${last}, and no longer.`];
  if (state === 'in-life') return [`In life to ${first}.`];
  if (state === 'extendable') return [`Past since ${first}.`, `An inspection would extend it to ${last}.`];
  return extended
    ? [`Past since ${last}, the end of its extension.`]
    : [`Past since ${first}, and past the longest extension, ${last}.`];
}

function packedSentence(part: StoredPart, packedOn: PlainDate): string {
  const day = formatPlainDate(packedOn, 'full');
  const exact = part.packetDate.earliest === part.packetDate.latest;
  return exact ? `Packed on ${day}.` : `The packet says "${part.packetDate.asRead}": at worst packed on ${day}.`;
}

function groupSentence(polymer: string | null, group: StorageGroup): string {
  const years = `${storagePeriods[group].firstYears} years from packing (ISO 2230, group ${group})`;
  const symbol = (polymer ?? '').trim().toUpperCase();
  if (symbol === '') return `The kind of rubber is not known, so the shortest period counts: ${years}.`;
  const kind = rubberKind(symbol);
  if (kind === null) return `"${symbol}" is no kind of rubber known here, so the shortest period counts: ${years}.`;
  const name = `${kind.name.charAt(0).toUpperCase()}${kind.name.slice(1)} (${symbol})`;
  return kind.group === null ? `${name} is in no storage group, so the shortest period counts: ${years}.` : `${name}: ${years}.`;
}

/** The periods presume a closed packet; no figure is published for an opened one, so the state stays and the doubt is said. */
function packetNote(part: StoredPart): string[] {
  if (part.packetCondition === 'sealed') return [];
  const packet = { opened: 'The packet was opened', 're-boxed': 'It was re-boxed', none: 'It has no packet' }[
    part.packetCondition
  ];
  return [`${packet}: the period presumes rubber kept closed, cool and dark. Inspect.`];
}

function groupOf(polymer: string | null): StorageGroup {
  return rubberKind(polymer ?? '')?.group ?? shortestGroup;
}

function isPtfe(polymer: string | null): boolean {
  return polymer?.trim().toUpperCase() === 'PTFE';
}

/** What age does to a part that has no storage limit. Common practice. */
function inspectionNote(material: Exclude<Material, 'rubber'>): string {
  switch (material) {
    case 'felt':
      return 'Felt has no storage limit: look for moth, hardening and dried oil before fitting.';
    case 'leather':
      return 'Leather has no storage limit: look for drying and cracks before fitting.';
    case 'paper':
      return 'Paper has no storage limit: look for brittleness, folds and damp before fitting. Old gaskets can hold asbestos: follow local rules.';
    case 'cork':
      return 'Cork has no storage limit: look for shrinkage and crumbling before fitting.';
    case 'metal':
      return 'Metal has no storage limit: look for rust under old preservative before fitting.';
    case 'other':
      return 'No storage limit is recorded for this material: inspect before fitting.';
  }
}
