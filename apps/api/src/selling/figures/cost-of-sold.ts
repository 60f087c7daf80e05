import type { Decimal } from '@corewright/quantities/decimal';
import type { Money } from '@corewright/quantities/money';

/**
 * What each of several sales of one thing cost: its part of what the whole cost, whole minor units, so that all of them with the rest come to
 * the whole exactly. A later sale changes nothing of an earlier one.
 * @param cost of all that there ever was of the thing
 * @param whole how many that is
 * @param sold how many each sale has for good, in the order in which they were sold
 */
export function costsOfSold(cost: Money, whole: Decimal, sold: readonly Decimal[]): Money[] {
  let upTo = 0n;
  return sold.map((quantity) => {
    const before = whole === 0n ? 0n : (cost * upTo) / whole;
    upTo += quantity;
    return (whole === 0n ? 0n : (cost * upTo) / whole - before) as Money;
  });
}
