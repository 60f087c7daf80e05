import { addYears, formatPlainDate, type PlainDate } from '@corewright/quantities/plain-date';

/** Open bearings in their maker's preservative, or greased ones behind seals or shields. */
export type BearingPacking = 'open-preserved' | 'sealed-greased';

export type BearingStore = 'dry' | 'humid' | 'humid-warm' | 'uncontrolled';

/** Years from packing of an open, preserved bearing in its unopened packing: one maker's table (tpsbearing.com, catalogue p. 59). */
export const openBearingYears: Readonly<Record<BearingStore, { readonly years: number; readonly words: string }>> = {
  dry: { years: 10, words: 'at 20 to 25 °C, 65 % humidity' },
  humid: { years: 5, words: 'at 20 to 25 °C, 75 % humidity' },
  'humid-warm': { years: 3, words: 'at 35 to 40 °C, 75 % humidity' },
  uncontrolled: { years: 1, words: 'uncontrolled, as in the tropics' },
};

/** The least of what is published for greased bearings: 2, 3 or 5 years by grease (bearingtips.com), 3 (tpsbearing.com). */
export const greasedBearingYears = 2;

export interface StoredBearing {
  readonly packing: BearingPacking;
  /** Null when nobody knows how it was stored. */
  readonly store: BearingStore | null;
  /** The earliest day that its packet can mean; null when nothing is known. */
  readonly packedEarliest: PlainDate | null;
  /** The day on which somebody inspected it, found it good and preserved it anew; null when nobody did. */
  readonly inspectedOn: PlainDate | null;
}

/** look-again: the period is over, and an inspection with new preservative begins another. past: the grease is too old, and nobody can look at it. */
export type BearingStorageState = 'in-life' | 'look-again' | 'past' | 'unknown';

export interface BearingStorage {
  readonly state: BearingStorageState;
  /** The day on which the period ends or ended; null without a date. */
  readonly endsOn: PlainDate | null;
  readonly reasons: readonly string[];
}

/** Whether a bearing on the shelf is within its storage period on a day, by the least favourable reading. */
export function bearingStorageState(bearing: StoredBearing, onDate: PlainDate): BearingStorage {
  const { years, ground } = periodOf(bearing);
  const from = beginsOn(bearing, onDate);
  if (from === null) {
    return { state: 'unknown', endsOn: null, reasons: ['No packing date is known: inspect before fitting.', ground] };
  }
  const endsOn = addYears(from, years);
  const end = formatPlainDate(endsOn, 'full');
  if (onDate < endsOn) return { state: 'in-life', endsOn, reasons: [`In life to ${end}.`, ground] };
  if (bearing.packing === 'sealed-greased') {
    return { state: 'past', endsOn, reasons: [`Past since ${end}: its grease cannot be looked at behind the seals.`, ground] };
  }
  const look = `Look again: the period ended on ${end}. Inspected and preserved anew it begins another.`;
  return { state: 'look-again', endsOn, reasons: [look, ground] };
}

/** An inspection counts for open bearings alone, and not before it was made. */
function beginsOn({ packing, packedEarliest, inspectedOn }: StoredBearing, onDate: PlainDate): PlainDate | null {
  const counts = packing === 'open-preserved' && inspectedOn !== null && inspectedOn <= onDate;
  if (!counts) return packedEarliest;
  return packedEarliest === null || inspectedOn > packedEarliest ? inspectedOn : packedEarliest;
}

function periodOf({ packing, store }: StoredBearing): { years: number; ground: string } {
  if (packing === 'sealed-greased') {
    const ground = `Greased, behind seals or shields: ${greasedBearingYears} years, the least that makers publish; the grease decides.`;
    return { years: greasedBearingYears, ground };
  }
  const { years, words } = openBearingYears[store ?? 'uncontrolled'];
  const period = `${years} ${years === 1 ? 'year' : 'years'}`;
  if (store === null) return { years, ground: `How it was stored is not known, so the shortest period counts: ${period}.` };
  return { years, ground: `Open, preserved, in its packing, stored ${words}: ${period}, as one maker states it.` };
}
