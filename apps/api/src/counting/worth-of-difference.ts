import { costsOfParts } from '@corewright/costing/share-cost';
import {
  type Decimal,
  decimalFrom,
  lesserDecimal,
  notBelowZero,
  subtractDecimals,
  sumDecimals,
  zero,
} from '@corewright/quantities/decimal';
import type { Money } from '@corewright/quantities/money';
import type { Reader } from '../platform/database/database.js';
import { costOf } from '../stores/costs/thing-cost.queries.js';
import { countDifferenceId } from '../stores/ledger.js';

const writtenOff = 'SELECT quantity FROM balances WHERE thing_id = $1 AND holder_id = $2 AND quantity > 0';

/**
 * What a difference cost by the value ledger: its part of the cost of its own lot, to the minor unit. What is written off keeps its part of the
 * cost and takes it out of stores; what is found brings back what was written off of it before, and has no cost that anybody knows beyond that.
 * Nothing is written in the value ledger by either.
 * @returns below nought for what is short; null where nobody knows
 */
export async function worthOf(
  reader: Reader,
  { thingId, difference }: { thingId: string; difference: Decimal },
): Promise<Money | null> {
  const { amount, parts } = await costOf(reader, thingId);
  if (amount === null || difference === zero) return null;
  const whole = sumDecimals(parts.map(({ quantity }) => quantity));
  if (difference < zero) {
    const lost = lesserDecimal(subtractDecimals(zero, difference), whole);
    const [share] = costsOfParts(amount, [lost, notBelowZero(subtractDecimals(whole, lost))]);
    return share === undefined ? null : (-share as Money);
  }
  const lost = await reader.row<{ quantity: string }>(writtenOff, [thingId, countDifferenceId]);
  if (lost === null || decimalFrom(lost.quantity) < difference) return null;
  const [share] = costsOfParts(amount, [lesserDecimal(difference, whole), notBelowZero(subtractDecimals(whole, difference))]);
  return share ?? null;
}
