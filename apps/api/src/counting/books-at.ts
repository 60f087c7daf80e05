import { addDecimals, type Decimal, subtractDecimals, zero } from '@corewright/quantities/decimal';

/** A movement of one thing into a place or out of it, as the books have it. */
export interface Moved {
  sequence: number;
  /** Unix milliseconds; by the clock of the device on which it was scanned */
  occurredAt: number;
  /** Unix milliseconds; by the clock of the server */
  recordedAt: number;
  /** more there, or less */
  change: Decimal;
  /** the sequence of the movement that this one undoes */
  reverses: number | null;
  /** a difference of this very count that was put right */
  isOwn: boolean;
}

export interface BooksThen {
  held: Decimal;
  /** what they would have held if all that was taken back since had never been; null where nothing was */
  otherwise: Decimal | null;
}

/**
 * What the books held of a thing at a place at the moment of an entry. This is the rule by which a count and the work that goes on beside it
 * do not disturb one another:
 *
 * 1. A movement comes before an entry if it *occurred* at that moment or earlier, whenever it was recorded: a pick that waited for the
 *    network had emptied the bin all the same. It never occurred later than it was recorded, whatever a device's clock says.
 * 2. What this count itself has put right is left out: it mends what the books held then.
 * 3. Of what occurred before the entry and was taken back after it nobody knows whether the bag had moved or the scan was wrong from the
 *    beginning: both figures are possible, and an entry that equals either agrees.
 *
 * @param at the moment of the entry, Unix milliseconds
 */
export function booksAt(moved: readonly Moved[], at: number): BooksThen {
  const others = moved.filter(({ isOwn }) => !isOwn);
  const before = new Map(others.filter((each) => occurredOf(each) <= at).map((each) => [each.sequence, each]));
  let held = zero;
  for (const { change } of before.values()) held = addDecimals(held, change);
  const takenBack = others.filter((each) => each.reverses !== null && before.has(each.reverses) && !before.has(each.sequence));
  if (takenBack.length === 0) return { held, otherwise: null };
  let otherwise = held;
  for (const { reverses } of takenBack) {
    const first = before.get(reverses as number);
    if (first !== undefined) otherwise = subtractDecimals(otherwise, first.change);
  }
  return { held, otherwise: otherwise === held ? null : otherwise };
}

/** So much has this count put right there by now. */
export function putRight(moved: readonly Moved[]): Decimal {
  let sum = zero;
  for (const { isOwn, change } of moved) if (isOwn) sum = addDecimals(sum, change);
  return sum;
}

function occurredOf({ occurredAt, recordedAt }: Moved): number {
  return Math.min(occurredAt, recordedAt);
}
