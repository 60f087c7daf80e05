import type { Source } from '@corewright/contracts/base';
import { type Decimal, decimalFrom, formatDecimal, subtractDecimals, zero } from '@corewright/quantities/decimal';
import { badInput, type Result, refused } from '../../platform/refusal.js';

export interface ExpectedGoods {
  orderReference: string;
  quantity: string;
  quantityReceived: string;
  calledOff: boolean;
}

/** What a supplier cannot send: it comes out of a unit of ours. */
const sourcesOfOurOwn: readonly Source[] = ['this unit', 'harvested'];

/**
 * Whether so many may be booked in against an order.
 * @returns what is still outstanding afterwards
 */
export function decideArrival(receipt: ExpectedGoods, arrived: Decimal, source: Source): Result<{ outstanding: Decimal }> {
  if (sourcesOfOurOwn.includes(source))
    return refused(
      badInput('source', `Goods of an order do not come from a unit of ours. Choose another source than "${source}".`),
    );
  if (receipt.calledOff)
    return refused({
      status: 409,
      code: 'called-off',
      title: 'Called off',
      detail: `This row of order ${receipt.orderReference} was called off. If goods came all the same, open the row again, or book them in at Goods-in.`,
    });
  const outstanding = subtractDecimals(decimalFrom(receipt.quantity), decimalFrom(receipt.quantityReceived));
  if (outstanding <= zero)
    return refused(more(`Everything of this row of order ${receipt.orderReference} has come already.`, receipt));
  if (arrived > outstanding)
    return refused(
      more(
        `${formatDecimal(outstanding)} are outstanding on order ${receipt.orderReference}, and ${formatDecimal(arrived)} were keyed.`,
        receipt,
      ),
    );
  return { ok: true, value: { outstanding: subtractDecimals(outstanding, arrived) } };
}

function more(why: string, receipt: ExpectedGoods) {
  return {
    status: 409,
    code: 'more-than-ordered',
    title: 'More than was ordered',
    detail: `${why} Book in what was ordered here, and what came beyond it at Goods-in.`,
    values: { quantity: receipt.quantity, quantityReceived: receipt.quantityReceived },
  };
}
