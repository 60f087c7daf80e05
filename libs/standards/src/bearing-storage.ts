import { addYears, formatPlainDate, type PlainDate } from '@corewright/quantities/plain-date';
import { accept, type Result, refuse } from '@corewright/quantities/result';

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
  /** Periods are published for closed packing alone. */
  readonly isClosed: boolean;
  /** The earliest day that its packet can mean; null when nothing is known. */
  readonly packedEarliest: PlainDate | null;
  /** The day on which somebody inspected it, found it good and preserved it anew; null when nobody did. */
  readonly inspectedOn: PlainDate | null;
}

/**
 * look-again: the period is over, and an inspection with new preservative begins another. past: the grease is too old, and nobody
 * can look at it. unknown: no period can be counted.
 */
export type BearingStorageState = 'in-life' | 'look-again' | 'past' | 'unknown';

export interface BearingStorage {
  readonly state: BearingStorageState;
  /** The day on which the period ends or ended; null without a date. */
  readonly endsOn: PlainDate | null;
  /** The period is over for certain, however it was stored: what is only unknown stops nothing. */
  readonly isOver: boolean;
  readonly reasons: readonly string[];
}

/** Whether a bearing on the shelf is within its storage period on a day, by the least favourable reading. */
export function bearingStorageState(bearing: StoredBearing, onDate: PlainDate): BearingStorage {
  const { years, ground } = periodOf(bearing);
  const from = beginsOn(bearing, onDate);
  if (from === null) return unknown(null, ['No packing date is known: inspect before fitting.', ground]);
  const endsOn = addYears(from, years);
  const end = formatPlainDate(endsOn, 'full');
  if (onDate < endsOn) {
    if (bearing.isClosed || from !== bearing.packedEarliest)
      return { state: 'in-life', endsOn, isOver: false, reasons: [`In life to ${end}.`, ground] };
    return unknown(endsOn, [
      'Its packing is not closed, and periods are published for closed packing: inspect before fitting.',
      ground,
    ]);
  }
  const isOver = onDate >= addYears(from, longestYears(bearing));
  if (bearing.packing === 'sealed-greased') {
    return {
      state: 'past',
      endsOn,
      isOver,
      reasons: [`Past since ${end}: its grease cannot be looked at behind the seals.`, ground],
    };
  }
  const look = `Look again: the period ended on ${end}. Inspected and preserved anew it begins another.`;
  return { state: 'look-again', endsOn, isOver, reasons: [look, ground] };
}

function unknown(endsOn: PlainDate | null, reasons: readonly string[]): BearingStorage {
  return { state: 'unknown', endsOn, isOver: false, reasons };
}

/** What an inspection that finds a bearing good gives it: another period when it was preserved anew, which nobody can behind seals. */
export function bearingInspection(packing: BearingPacking): Result<null, 'behind-seals'> {
  if (packing === 'open-preserved') return accept(null);
  return refuse('behind-seals', 'Its grease cannot be looked at behind the seals, so no inspection begins another period.');
}

/** The years after which the period is over whatever is not known. */
function longestYears({ packing, store }: StoredBearing): number {
  if (packing === 'sealed-greased') return greasedBearingYears;
  if (store !== null) return openBearingYears[store].years;
  return Math.max(...Object.values(openBearingYears).map(({ years }) => years));
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
