import { addDecimals, compareDecimals, type Decimal, notBelowZero, subtractDecimals, zero } from '@corewright/quantities/decimal';

export interface Watched {
  /** free; of a consumable the full containers that may be used */
  have: Decimal;
  /** on order for stock and reserved by nobody */
  onOrder: Decimal;
  minimum: Decimal;
  /** at least the minimum */
  upTo: Decimal;
}

/** How many are to be bought: where what is here and on order is less than the minimum, as many as bring it up to `upTo`; else none. Pure. */
export function whatToBuy({ have, onOrder, minimum, upTo }: Watched): Decimal {
  const coming = addDecimals(have, onOrder);
  return compareDecimals(coming, minimum) < 0 ? notBelowZero(subtractDecimals(upTo, coming)) : zero;
}
