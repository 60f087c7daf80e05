import { type Decimal, decimalFrom } from '@corewright/quantities/decimal';
import type { Money } from '@corewright/quantities/money';
import fc from 'fast-check';
import { shareByLargestRemainder } from './largest-remainder.js';
import {
  type BearingRow,
  changesOfShares,
  costsOfParts,
  type Shared,
  type Shares,
  shareByHand,
  shareCost,
} from './share-cost.js';

// the same runs each time; a failure prints its seed and path
fc.configureGlobal({ seed: 20261126 });

const pence = (value: number): Money => BigInt(value) as Money;
const row = (id: string, worth: number | null, weight: string | null = null): BearingRow => ({
  id,
  worth: worth === null ? null : pence(worth),
  weight: weight === null ? null : decimalFrom(weight),
});
const sharesOf = (shared: Shared): Shares => {
  if (!shared.ok) throw new Error(`Not shared: ${shared.obstacle.code}`);
  return shared.shares;
};
const listed = (shared: Shared): [string, number][] => [...sharesOf(shared)].map(([id, share]) => [id, Number(share)]);
const sum = (values: Iterable<bigint>): bigint => [...values].reduce((total, value) => total + value, 0n);

const amount = fc.bigInt({ min: 0n, max: 10n ** 13n });
const weights = fc
  .array(fc.oneof(fc.bigInt({ min: 0n, max: 20n }), fc.bigInt({ min: 0n, max: 10n ** 14n })), { minLength: 1, maxLength: 30 })
  .filter((list) => list.some((weight) => weight > 0n));

describe('the largest remainder', () => {
  it('gives each part its quota rounded down or up, and all of them together the amount', () => {
    fc.assert(
      fc.property(amount, weights, (total, list) => {
        const shares = shareByLargestRemainder(total, list);
        expect(sum(shares)).toBe(total);
        const all = sum(list);
        for (const [index, share] of shares.entries()) {
          const down = (total * list[index]!) / all;
          expect(share === down || (share === down + 1n && (total * list[index]!) % all !== 0n)).toBe(true);
        }
      }),
    );
  });

  it('never gives a part less than one that weighs less', () => {
    fc.assert(
      fc.property(amount, weights, (total, list) => {
        const shares = shareByLargestRemainder(total, list);
        const inOrder = list
          .map((weight, index) => ({ weight, share: shares[index]! }))
          .sort((a, b) => Number(a.weight - b.weight));
        for (const [index, each] of inOrder.slice(1).entries())
          if (each.weight > inOrder[index]!.weight) expect(each.share >= inOrder[index]!.share).toBe(true);
      }),
    );
  });

  it('does not mind the order, but among equal remainders', () => {
    fc.assert(
      fc.property(amount, weights, fc.infiniteStream(fc.nat()), (total, list, stream) => {
        const all = sum(list);
        const remainders = list.map((weight) => (total * weight) % all);
        fc.pre(new Set(remainders).size === remainders.length);
        const order = list.map((_, index) => ({ index, key: stream.next().value ?? 0 })).sort((a, b) => a.key - b.key);
        const shares = shareByLargestRemainder(total, list);
        const shuffled = shareByLargestRemainder(
          total,
          order.map(({ index }) => list[index]!),
        );
        expect(shuffled).toEqual(order.map(({ index }) => shares[index]));
      }),
    );
  });

  it('among equal remainders gives the odd unit to the one that stands first', () => {
    expect(shareByLargestRemainder(100n, [1n, 1n, 1n])).toEqual([34n, 33n, 33n]);
    expect(shareByLargestRemainder(-100n, [1n, 1n, 1n])).toEqual([-34n, -33n, -33n]);
  });

  it('shares nothing over nothing, and never something', () => {
    expect(shareByLargestRemainder(0n, [0n, 0n])).toEqual([0n, 0n]);
    expect(() => shareByLargestRemainder(1n, [0n])).toThrow(RangeError);
    expect(() => shareByLargestRemainder(1n, [])).toThrow(RangeError);
    expect(() => shareByLargestRemainder(1n, [2n, -1n])).toThrow(RangeError);
  });
});

describe('a cost', () => {
  const rows = [row('a', 30_000, '186'), row('b', 10_000, '12.5'), row('c', 0, '0.75')];

  it('is shared by value, by weight and equally', () => {
    expect(listed(shareCost(pence(10_001), 'relative value', rows))).toEqual([
      ['a', 7_501],
      ['b', 2_500],
      ['c', 0],
    ]);
    expect(listed(shareCost(pence(10_000), 'weight', rows))).toEqual([
      ['a', 9_335],
      ['b', 627],
      ['c', 38],
    ]);
    expect(listed(shareCost(pence(10_001), 'equally', rows))).toEqual([
      ['a', 3_334],
      ['b', 3_334],
      ['c', 3_333],
    ]);
  });

  it('is not shared while a worth or a weight is unknown, and says of which rows', () => {
    const some = [row('a', 100, '1'), row('b', null, '2'), row('c', null)];
    expect(shareCost(pence(500), 'relative value', some)).toEqual({
      ok: false,
      obstacle: { code: 'not-known', rowIds: ['b', 'c'], left: 0n },
    });
    expect(shareCost(pence(500), 'weight', some)).toMatchObject({ obstacle: { code: 'not-known', rowIds: ['c'] } });
    expect(shareCost(pence(500), 'equally', some)).toMatchObject({ ok: true });
  });

  it('is not shared over no rows, nor by values that are all nought', () => {
    expect(shareCost(pence(500), 'equally', [])).toMatchObject({ obstacle: { code: 'no-rows' } });
    expect(shareCost(pence(500), 'relative value', [row('a', 0), row('b', 0)])).toMatchObject({
      obstacle: { code: 'all-nought', rowIds: ['a', 'b'] },
    });
  });

  it('named by hand is taken where it adds up, and else told what is left', () => {
    const named = (...list: [string, number][]): Shares => new Map(list.map(([id, share]) => [id, pence(share)]));
    expect(listed(shareByHand(pence(100), ['a', 'b'], named(['b', 40], ['a', 60])))).toEqual([
      ['a', 60],
      ['b', 40],
    ]);
    const stoppedBy = (...list: [string, number][]) => shareByHand(pence(100), ['a', 'b'], named(...list));
    expect(stoppedBy(['a', 60], ['b', 39])).toEqual({ ok: false, obstacle: { code: 'does-not-add-up', rowIds: [], left: 1n } });
    expect(stoppedBy(['a', 60], ['b', 41])).toMatchObject({ obstacle: { code: 'does-not-add-up', left: -1n } });
    expect(stoppedBy(['a', 60])).toEqual({ ok: false, obstacle: { code: 'not-named', rowIds: ['b'], left: 40n } });
    expect(stoppedBy(['a', 160], ['b', -60])).toMatchObject({ obstacle: { code: 'below-nought', rowIds: ['b'] } });
    expect(stoppedBy(['a', 60], ['b', 40], ['z', 0])).toMatchObject({ obstacle: { code: 'not-a-row', rowIds: ['z'] } });
    expect(shareByHand(pence(0), [], new Map())).toMatchObject({ obstacle: { code: 'no-rows' } });
  });
});

describe('shares in the place of earlier ones', () => {
  const list = fc.uniqueArray(fc.record({ id: fc.nat({ max: 60 }), worth: fc.integer({ min: 1, max: 500_000 }) }), {
    selector: (each) => each.id,
    minLength: 1,
    maxLength: 20,
  });
  const shared = (cost: bigint, rows: { id: number; worth: number }[]) =>
    sharesOf(
      shareCost(
        cost as Money,
        'relative value',
        rows.map(({ id, worth }) => row(String(id), worth)),
      ),
    );

  it('change each row by the difference, so that all changes together are the change of the cost', () => {
    fc.assert(
      fc.property(amount, amount, list, list, (costBefore, costAfter, rowsBefore, rowsAfter) => {
        const [before, after] = [shared(costBefore, rowsBefore), shared(costAfter, rowsAfter)];
        const changes = changesOfShares(before, after);
        expect(sum(changes.values())).toBe(costAfter - costBefore);
        for (const [id, share] of after) expect((before.get(id) ?? 0n) + (changes.get(id) ?? 0n)).toBe(share);
        for (const [id, share] of before) if (!after.has(id)) expect(share + (changes.get(id) ?? 0n)).toBe(0n);
      }),
    );
  });

  it('after a row was added take from the others what it bears, and never add to one of them', () => {
    fc.assert(
      fc.property(amount, list, fc.integer({ min: 1, max: 500_000 }), (cost, rows, worth) => {
        const before = shared(cost, rows);
        const after = shared(cost, [...rows, { id: 99, worth }]);
        const changes = changesOfShares(before, after);
        expect(changes.get('99')).toBe(after.get('99'));
        expect(sum(changes.values())).toBe(0n);
        // to the last unit: the odd one may fall to another row than before
        for (const { id } of rows) expect((changes.get(String(id)) ?? 0n) <= 1n).toBe(true);
      }),
    );
  });

  it('name a row that never bore one even where its share is nought, and no row that stays as it is', () => {
    const before: Shares = new Map([['a', pence(50)]]);
    const after: Shares = new Map([
      ['a', pence(50)],
      ['b', pence(0)],
    ]);
    expect([...changesOfShares(before, after)]).toEqual([['b', 0n]]);
  });
});

describe('parts of a lot', () => {
  it('cost together what the lot cost', () => {
    const quantity = fc.integer({ min: 1, max: 1_000_000 }).map((value) => BigInt(value) as Decimal);
    fc.assert(
      fc.property(amount, fc.array(quantity, { minLength: 1, maxLength: 8 }), (cost, quantities) => {
        expect(sum(costsOfParts(cost as Money, quantities))).toBe(cost);
      }),
    );
    expect(costsOfParts(pence(1_000), [decimalFrom('3'), decimalFrom('4')])).toEqual([429n, 571n]);
    expect(costsOfParts(pence(1_000), [])).toEqual([]);
  });
});
