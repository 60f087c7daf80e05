import type { TrayRow } from '@corewright/contracts/un-kit';
import {
  addDecimals,
  type Decimal,
  decimalFrom,
  formatDecimal,
  lesserDecimal,
  subtractDecimals,
  sumDecimals,
  zero,
} from '@corewright/quantities/decimal';
import { compareWays } from '../pick-list/walking-order.js';

/** So many of a thing lie in a tray. */
export interface InTray {
  thing: TrayRow['thing'];
  unitOfMeasure: TrayRow['unitOfMeasure'];
  quantity: string;
}

/** A movement that brought some of a thing into the tray; the newest first. */
export interface BroughtIn {
  thingId: string;
  quantity: string;
  /** null where it came from no place of the stores */
  from: TrayRow['from'];
  words: string;
  /** so many of them the job had reserved before */
  reserved: string;
}

/**
 * Where all that lies in a tray came from, in walking order; what came from no place is last. What was brought last is taken to be what lies there:
 * what was brought before it has been fitted, or went back.
 */
export function trayRows(lying: readonly InTray[], brought: readonly BroughtIn[]): TrayRow[] {
  const rows = lying.flatMap((each) =>
    rowsOfThing(
      each,
      brought.filter(({ thingId }) => thingId === each.thing.id),
    ),
  );
  return rows.toSorted(inWalkingOrder);
}

function rowsOfThing({ thing, unitOfMeasure, quantity }: InTray, brought: readonly BroughtIn[]): TrayRow[] {
  const byPlace = new Map<string, TrayRow>();
  let left = decimalFrom(quantity);
  const add = (part: Decimal, { from, words, reserved }: Omit<BroughtIn, 'thingId' | 'quantity'>) => {
    const key = from?.id ?? '';
    const there = byPlace.get(key);
    const more = sumDecimals([part, decimalFrom(there?.quantity ?? '0')]);
    const kept = addDecimals(lesserDecimal(part, decimalFrom(reserved)), decimalFrom(there?.reserved ?? '0'));
    const row = { thing, unitOfMeasure, from, words: there?.words ?? words };
    byPlace.set(key, { ...row, quantity: formatDecimal(more), reserved: formatDecimal(kept) });
  };
  for (const movement of brought) {
    const part = lesserDecimal(left, decimalFrom(movement.quantity));
    if (part > zero) add(part, movement);
    left = subtractDecimals(left, part);
  }
  if (left > zero) add(left, { from: null, words: 'the books do not say from where', reserved: '0' });
  return [...byPlace.values()];
}

function inWalkingOrder(one: TrayRow, other: TrayRow): number {
  if (one.from === null || other.from === null) return Number(one.from === null) - Number(other.from === null);
  return compareWays(one.from.path, other.from.path) || (one.thing.code < other.thing.code ? -1 : 1);
}
