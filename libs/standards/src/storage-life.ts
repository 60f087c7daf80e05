import { addYears, formatPlainDate, type PlainDate } from '@corewright/quantities/plain-date';
import { accept, type Result, refuse } from '@corewright/quantities/result';
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
  /** The day of the inspection that found it good, if the last one did; null when nobody inspected it. */
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
  /** Null where no extension can be had. */
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
 * can mean, and of the shortest group, without extension, when the kind of rubber is unknown or in no group. Periods by ISO 2230
 * (see `storagePeriods`), whole calendar years from packing; the day on which a period ends no longer belongs to it. An inspection
 * extends once: to the fixed day when made after the first period; made within it, for the years of the extension from its own
 * day, since it says nothing about a later one.
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

interface Ends {
  readonly packedOn: PlainDate;
  readonly firstPeriodEndsOn: PlainDate;
  readonly longestExtensionEndsOn: PlainDate | null;
}

function endsOf(polymer: string | null, packedOn: PlainDate): Ends {
  const { firstYears, extensionYears } = storagePeriods[groupOf(polymer)];
  const longestExtensionEndsOn = hasExtension(polymer) ? addYears(packedOn, firstYears + extensionYears) : null;
  return { packedOn, firstPeriodEndsOn: addYears(packedOn, firstYears), longestExtensionEndsOn };
}

function ofDatedRubber(part: StoredPart, packedOn: PlainDate, onDate: PlainDate): StorageLife {
  const ends = endsOf(part.polymer, packedOn);
  const grounds = [packedSentence(part, packedOn), groupSentence(part.polymer, groupOf(part.polymer))];
  const counts = part.inspectedOn !== null && part.inspectedOn <= onDate;
  const extendedTo = counts ? extensionEnd(part.polymer, ends, part.inspectedOn) : null;
  const state = stateOn(onDate, ends, extendedTo);
  return {
    ...ends,
    group: groupOf(part.polymer),
    state,
    ...consequence(state, extendedTo, ends),
    reasons: [...grounds, ...outcome(state, extendedTo, part, ends), ...packetNote(part)],
  };
}

/** The day to which an inspection extends; null where it extends nothing. */
function extensionEnd(polymer: string | null, ends: Ends, inspectedOn: PlainDate): PlainDate | null {
  const { packedOn, firstPeriodEndsOn, longestExtensionEndsOn } = ends;
  if (longestExtensionEndsOn === null || inspectedOn < packedOn || inspectedOn >= longestExtensionEndsOn) return null;
  if (inspectedOn >= firstPeriodEndsOn) return longestExtensionEndsOn;
  const extendedTo = addYears(inspectedOn, storagePeriods[groupOf(polymer)].extensionYears);
  return extendedTo > firstPeriodEndsOn ? extendedTo : null;
}

function stateOn(onDate: PlainDate, ends: Ends, extendedTo: PlainDate | null): StorageState {
  if (onDate < ends.firstPeriodEndsOn) return 'in-life';
  if (extendedTo !== null) return onDate < extendedTo ? 'in-life' : 'past';
  return ends.longestExtensionEndsOn !== null && onDate < ends.longestExtensionEndsOn ? 'extendable' : 'past';
}

function consequence(
  state: StorageState,
  extendedTo: PlainDate | null,
  ends: Ends,
): Pick<StorageLife, 'stopsFitting' | 'since' | 'until'> {
  const lifeEnds = extendedTo ?? ends.firstPeriodEndsOn;
  if (state === 'in-life') return { stopsFitting: false, since: null, until: lifeEnds };
  return { stopsFitting: true, since: lifeEnds, until: state === 'extendable' ? ends.longestExtensionEndsOn : null };
}

function outcome(state: StorageState, extendedTo: PlainDate | null, part: StoredPart, ends: Ends): string[] {
  const first = formatPlainDate(ends.firstPeriodEndsOn, 'full');
  const last = ends.longestExtensionEndsOn === null ? null : formatPlainDate(ends.longestExtensionEndsOn, 'full');
  if (extendedTo !== null) {
    const end = formatPlainDate(extendedTo, 'full');
    if (state === 'past') return [`Past since ${end}, the end of its extension.`];
    return [`Inspected ${formatPlainDate(part.inspectedOn ?? '', 'full')}: in life to ${end}, and no longer.`];
  }
  if (state === 'in-life') return [`In life to ${first}.`];
  if (last === null) return [`Past since ${first}. ${withoutExtension(part.polymer)}`];
  if (state === 'extendable') return [`Past since ${first}.`, `An inspection would extend it to ${last}.`];
  return [`Past since ${first}, and past the longest extension, ${last}.`];
}

export type InspectionRefusal =
  | 'undated'
  | 'no-extension'
  | 'extended-already'
  | 'past-extension'
  | 'too-early'
  | 'before-packing';

/**
 * What an inspection on a day that finds a part good gives it: the day to which its life is extended, null for a material without
 * limit, where it is a note. Refused where ISO 2230 gives no extension.
 */
export function inspectionExtends(
  part: StoredPart,
  onDate: PlainDate,
): Result<{ readonly extendsTo: PlainDate | null }, InspectionRefusal> {
  if (part.material !== 'rubber' || isPtfe(part.polymer)) return accept({ extendsTo: null });
  const packedOn = part.packetDate.earliest;
  if (packedOn === null)
    return refuse('undated', 'Its first period cannot be known without a packing date, so nothing can extend it.');
  const ends = endsOf(part.polymer, packedOn);
  if (ends.longestExtensionEndsOn === null) return refuse('no-extension', withoutExtension(part.polymer));
  const last = formatPlainDate(ends.longestExtensionEndsOn, 'full');
  const before = part.inspectedOn === null ? null : extensionEnd(part.polymer, ends, part.inspectedOn);
  if (before !== null)
    return refuse(
      'extended-already',
      `It was extended once already, to ${formatPlainDate(before, 'full')}. ISO 2230 gives no second.`,
    );
  if (onDate < packedOn) return refuse('before-packing', `On that day it was not packed: ${formatPlainDate(packedOn, 'full')}.`);
  if (onDate >= ends.longestExtensionEndsOn) return refuse('past-extension', `Even extended, its life was over on ${last}.`);
  const extendsTo = extensionEnd(part.polymer, ends, onDate);
  if (extendsTo !== null) return accept({ extendsTo });
  const first = formatPlainDate(ends.firstPeriodEndsOn, 'full');
  return refuse(
    'too-early',
    `Its first period lasts to ${first}: an inspection now would be over before that. Inspect it nearer that day.`,
  );
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

/** Only a kind that is in a group has an extension: what is not known could be one that has none. */
function hasExtension(polymer: string | null): boolean {
  return (rubberKind(polymer ?? '')?.group ?? null) !== null;
}

function withoutExtension(polymer: string | null): string {
  return rubberKind(polymer ?? '') === null
    ? 'No extension: the kind of rubber is not known, and it could be one that has none.'
    : 'No extension: ISO 2230 has no group for this kind of rubber, so none is given.';
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
