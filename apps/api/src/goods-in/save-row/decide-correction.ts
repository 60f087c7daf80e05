import {
  compareDecimals,
  type Decimal,
  formatDecimal,
  lesserDecimal,
  subtractDecimals,
  sumDecimals,
  zero,
} from '@corewright/quantities/decimal';
import { done, type Result, refused } from '../../platform/refusal.js';

/** So much of the thing at one of our places. */
export interface Shelf {
  placeId: string;
  quantity: Decimal;
}

export interface Step {
  fromHolderId: string;
  toHolderId: string;
  quantity: Decimal;
}

export interface CountToCorrect {
  sellerId: string;
  /** how many came by the books */
  received: Decimal;
  /** how many came by what is keyed now */
  wanted: Decimal;
  /** what lies in places; trays, units and outworkers are left alone */
  shelves: readonly Shelf[];
  /** where goods-in put it */
  putIn: string;
}

/**
 * A miscount is put right by movements from or to the seller, for the row that was written stays. Fewer are taken from where
 * goods-in put them, then from the other places, the fullest first; what was picked, fitted or sent out is never taken back so.
 */
export function decideCorrection({ sellerId, received, wanted, shelves, putIn }: CountToCorrect): Result<Step[]> {
  if (wanted === received) return done([]);
  if (wanted > received)
    return done([{ fromHolderId: sellerId, toHolderId: putIn, quantity: subtractDecimals(wanted, received) }]);
  const onShelves = sumDecimals(shelves.map((shelf) => shelf.quantity));
  const surplus = subtractDecimals(received, wanted);
  if (surplus > onShelves)
    return refused({
      status: 409,
      code: 'in-use',
      title: 'More are in use',
      detail: `${formatDecimal(subtractDecimals(received, onShelves))} of this are picked, fitted or sent out, so the count cannot be ${formatDecimal(wanted)}. Take them back first. Nothing was changed.`,
    });
  return done(takenFrom(inOrder(shelves, putIn), surplus, sellerId));
}

function inOrder(shelves: readonly Shelf[], putIn: string): Shelf[] {
  return shelves.toSorted(
    (one, other) =>
      Number(other.placeId === putIn) - Number(one.placeId === putIn) ||
      compareDecimals(other.quantity, one.quantity) ||
      (one.placeId < other.placeId ? -1 : 1),
  );
}

function takenFrom(shelves: readonly Shelf[], surplus: Decimal, sellerId: string): Step[] {
  const steps: Step[] = [];
  let left = surplus;
  for (const { placeId, quantity } of shelves) {
    const taken = lesserDecimal(left, quantity);
    if (taken > zero) steps.push({ fromHolderId: placeId, toHolderId: sellerId, quantity: taken });
    left = subtractDecimals(left, taken);
  }
  return steps;
}

export interface PlaceToCorrect {
  /** the place as keyed now; null where the cell is empty */
  keyed: string | null;
  /** where goods-in put it last */
  putIn: string;
  /** where things stand that have no place yet */
  goodsIn: string | null;
  shelves: readonly Shelf[];
}

/**
 * Where a thing goes because its row says another place than goods-in gave it. Somebody may have put it away since: then a row
 * that still shows the old place means nothing by it, and only one that names a third place is refused.
 * @returns null where nothing moves; `to` is null for the place of what has none yet
 */
export function decidePlaceMove({
  keyed,
  putIn,
  goodsIn,
  shelves,
}: PlaceToCorrect): Result<{ to: string | null; quantity: Decimal } | null> {
  const target = keyed ?? goodsIn;
  if (target === putIn) return done(null);
  const there = shelves.find((shelf) => shelf.placeId === putIn)?.quantity ?? zero;
  if (there > zero) return done({ to: target, quantity: there });
  if (keyed === null || shelves.some((shelf) => shelf.placeId === keyed)) return done(null);
  return refused({
    status: 409,
    code: 'moved-since',
    title: 'It was moved since',
    detail:
      'This is no longer where goods-in put it, so its place is not changed here. Put it away with a scan instead. Nothing was changed.',
  });
}
