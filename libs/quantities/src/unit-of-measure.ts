import {
  addDecimals,
  type Decimal,
  type DecimalRefusal,
  decimalFrom,
  formatDecimal,
  isWhole,
  one,
  parseQuantity,
  wholePartOf,
  zero,
} from './decimal.js';
import { accept, type Result, refuse } from './result.js';

/** How stock is counted or measured. Consumables go by container, so nothing is booked by volume. */
export const unitsOfMeasure = ['each', 'mm', 'm', 'g'] as const;
export type UnitOfMeasure = (typeof unitsOfMeasure)[number];

const largestWhole = decimalFrom('9999999999');

export type QuantityRefusal = DecimalRefusal | 'zero' | 'negative';

/** Reads a quantity to be moved, claimed or needed: more than nothing, whole where the unit is "each", else to four places. */
export function checkQuantity(text: string, unit: UnitOfMeasure): Result<Decimal, QuantityRefusal> {
  const parsed = parseQuantity(text);
  if (!parsed.ok) return parsed;
  const quantity = parsed.value;
  if (quantity === zero) return refuse('zero', 'Nought moves nothing. Key how many, or leave the row out.');
  if (quantity < zero) return refuse('negative', 'A quantity is more than nought. To undo a movement, take it back instead.');
  if (unit === 'each' && !isWhole(quantity)) return refuse('too-fine', `Each comes whole. ${nearestWholes(quantity)}`);
  return accept(quantity);
}

/** "3", "2.5 m": "each" goes without saying. */
export function formatQuantity(quantity: Decimal, unit: UnitOfMeasure): string {
  return unit === 'each' ? formatDecimal(quantity) : `${formatDecimal(quantity)} ${unit}`;
}

function nearestWholes(quantity: Decimal): string {
  const below = wholePartOf(quantity);
  // nought is refused too, and nothing whole lies above the largest quantity
  if (below === zero) return 'Key 1.';
  if (below >= largestWhole) return `Key ${formatDecimal(below)}.`;
  return `Key ${formatDecimal(below)} or ${formatDecimal(addDecimals(below, one))}.`;
}
