import { decimalFrom } from '@corewright/quantities/decimal';
import { moneyFrom } from '@corewright/quantities/money';
import fc from 'fast-check';
import { costsOfSold } from './cost-of-sold.js';

describe('what was sold cost', () => {
  it('is its part of what all of it cost', () => {
    expect(
      costsOfSold(moneyFrom('10.00', 'GBP'), decimalFrom('3'), [decimalFrom('1'), decimalFrom('1'), decimalFrom('1')]),
    ).toEqual([333n, 333n, 334n]);
    expect(costsOfSold(moneyFrom('9.00', 'GBP'), decimalFrom('4'), [decimalFrom('2')])).toEqual([450n]);
    expect(costsOfSold(moneyFrom('9.00', 'GBP'), decimalFrom('0'), [])).toEqual([]);
  });

  it('comes to the whole when all is sold, is never a minor unit off its exact part, and is not changed by a later sale', () => {
    const quantities = fc.array(fc.integer({ min: 1, max: 500 }), { minLength: 1, maxLength: 12 });
    fc.assert(
      fc.property(fc.bigInt({ min: 0n, max: 10n ** 12n }), quantities, (cost, sold) => {
        const whole = BigInt(sold.reduce((sum, each) => sum + each, 0));
        const costs = costsOfSold(cost as never, whole as never, sold.map((each) => BigInt(each)) as never);
        expect(costs.reduce<bigint>((sum, each) => sum + each, 0n)).toBe(cost);
        sold.forEach((each, index) => {
          const off = (costs[index] as bigint) * whole - cost * BigInt(each);
          expect(off < whole && off > -whole).toBe(true);
        });
        expect(costsOfSold(cost as never, whole as never, sold.slice(0, -1).map((each) => BigInt(each)) as never)).toEqual(
          costs.slice(0, -1),
        );
      }),
    );
  });
});
