import { type Money, sumMoney } from '@corewright/quantities/money';
import fc from 'fast-check';
import { chargedInHundred, sharesOfUses, type UsesOfContainer } from './share-uses.js';

// the same runs each time; a failure prints its seed and path
fc.configureGlobal({ seed: 20261127 });

const pence = (value: number): Money => BigInt(value) as Money;
const cost = fc.bigInt({ min: 0n, max: 10n ** 13n }).map((value) => value as Money);
const uses = fc.array(fc.record({ uses: fc.integer({ min: 1, max: 50 }), perContainer: fc.integer({ min: 1, max: 400 }) }), {
  maxLength: 40,
});
const sumOf = (shares: readonly Money[]) => sumMoney(shares);

/** In halves, thirds and so on of one common whole, without a running fraction: another way to the same sums. */
function naive(total: Money, list: readonly UsesOfContainer[]): bigint {
  const whole = list.reduce((product, each) => product * BigInt(each.perContainer), 1n);
  const part = list.reduce((sum, each) => sum + (whole / BigInt(each.perContainer)) * BigInt(each.uses), 0n);
  return part >= whole ? total : (total * part) / whole;
}

describe('what the uses of a container bear of its cost', () => {
  it('never comes to more than the cost, and never falls below nought', () => {
    fc.assert(
      fc.property(cost, uses, (total, list) => {
        const shares = sharesOfUses(total, list);
        expect(shares.every((share) => share >= 0n)).toBe(true);
        expect(sumOf(shares) <= total).toBe(true);
      }),
    );
  });

  it('is what a reckoning over one common whole comes to, to the last minor unit', () => {
    fc.assert(fc.property(cost, uses, (total, list) => expect(sumOf(sharesOfUses(total, list))).toBe(naive(total, list))));
  });

  it('is all of the cost when the container has given what it is held to give, whatever the cost', () => {
    fc.assert(
      fc.property(cost, fc.integer({ min: 1, max: 300 }), (total, perContainer) => {
        const shares = sharesOfUses(
          total,
          Array.from({ length: perContainer }, () => ({ uses: 1, perContainer })),
        );
        expect(sumOf(shares)).toBe(total);
        const [least, most] = [total / BigInt(perContainer), total / BigInt(perContainer) + 1n];
        expect(shares.every((share) => share >= least && share <= most)).toBe(true);
      }),
    );
  });

  it('leaves the shares of earlier uses as they are when more is used', () => {
    fc.assert(
      fc.property(cost, uses, (total, list) =>
        expect(sharesOfUses(total, list).slice(0, -1)).toEqual(sharesOfUses(total, list.slice(0, -1))),
      ),
    );
  });

  it('is nothing for what is used after the last that the container is held to give', () => {
    const twice = { uses: 2, perContainer: 3 };
    expect(sharesOfUses(pence(1000), [twice, twice, twice])).toEqual([666n, 334n, 0n]);
    expect(chargedInHundred([twice])).toBe(66);
    expect(chargedInHundred([twice, twice])).toBe(100);
    expect(chargedInHundred([])).toBe(0);
  });
});
