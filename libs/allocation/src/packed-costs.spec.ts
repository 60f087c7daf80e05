import fc from 'fast-check';
import { allocateConnected, type Given } from './allocate.js';
import type { AllocationProblem, Cost } from './allocation-problem.js';
import { connectedParts } from './connected-parts.js';
import { networkOf } from './network.js';
import { greatestBase, packedCosts } from './packed-costs.js';

const runs = process.env.CW_LONG === '1' ? { numRuns: 5000 } : { numRuns: 300 };

/** So many demands of one piece each, one after another, all linked to all supplies. */
function square(costs: readonly (readonly Cost[])[]): AllocationProblem {
  return {
    supplies: costs[0]!.map((_, s) => ({ id: `s${s}`, quantity: 1 })),
    demands: costs.map((_, d) => ({ id: `d${d}`, level: d, quantity: 1 })),
    links: costs.flatMap((row, d) => row.map((cost, s) => ({ supplyId: `s${s}`, demandId: `d${d}`, cost }))),
  };
}

/** The cost of each link with all its numbers, by demand and supply. */
function packed(costs: readonly (readonly Cost[])[], upTo?: number): { width: number; numbers: number[][] } {
  const network = networkOf(square(costs));
  const { width, firstPlace, places, firstAmount, amounts } = packedCosts(network, upTo);
  const numbers = network.links.map((_, link) => {
    const all = Array<number>(width).fill(0);
    const demand = network.demandOf[link]!;
    for (let at = firstPlace[demand]!; at < firstPlace[demand + 1]!; at += 1)
      all[places[at]!] = amounts[firstAmount[link]! + at - firstPlace[demand]!]!;
    return all;
  });
  return { width, numbers };
}

/** A comfort for each job and five figures more, of which most are nought. */
const anyWorkshop = fc
  .record({
    jobs: fc.array(fc.array(fc.integer({ min: 1, max: 3 }), { minLength: 1, maxLength: 3 }), { minLength: 1, maxLength: 6 }),
    lots: fc.array(fc.integer({ min: 1, max: 3 }), { minLength: 1, maxLength: 8 }),
    serves: fc.array(
      fc.record({
        lot: fc.nat(),
        line: fc.nat(),
        comfort: fc.constantFrom(0, 0, 1, 2, 5),
        others: fc.tuple(...[1, 3, 2, 1_000_000, 40].map((max) => fc.integer({ min: 0, max }))),
      }),
      { minLength: 1, maxLength: 40 },
    ),
  })
  .map(({ jobs, lots, serves }): AllocationProblem => {
    const demands = jobs.flatMap((lines, job) =>
      lines.map((quantity, line) => ({ id: `${job}.${line}`, job, level: 2 * job + (line % 2), quantity })),
    );
    const links = new Map(
      serves.map(({ lot, line, comfort, others }) => {
        const demand = demands[line % demands.length]!;
        const supplyId = `lot ${lot % lots.length}`;
        const cost = new Map([[demand.job, comfort], ...others.map((figure, index) => [jobs.length + index, figure] as const)]);
        return [`${supplyId} ${demand.id}`, { supplyId, demandId: demand.id, cost }];
      }),
    );
    return { supplies: lots.map((quantity, index) => ({ id: `lot ${index}`, quantity })), demands, links: [...links.values()] };
  });

describe('costs in few numbers', () => {
  it('give the very same answer as figure by figure, however many are merged', () => {
    fc.assert(
      fc.property(anyWorkshop, fc.integer({ min: 1, max: 100_000 }), (workshop, upTo) => {
        for (const part of connectedParts(workshop)) {
          const apart = allocateConnected(part, 1);
          expect(allocateConnected(part)).toEqual(apart);
          expect(allocateConnected(part, upTo)).toEqual(apart);
        }
      }),
      runs,
    );
  });

  it('leave out what all links bear alike, and merge what is left up to the base', () => {
    const some = [0, 1].map((d) => [0, 1].map((s) => [7, 0, d * s, 100 + s]));
    // at most 0 and 1 of the third figure, 1 and 1 of the fourth: bases of 3 and 5
    expect(packed(some)).toEqual({ width: 1, numbers: [[0], [1], [0], [5 + 1]] });
    expect(packed(some, 15).width).toBe(1);
    expect(packed(some, 14)).toEqual({
      width: 2,
      numbers: [
        [0, 0],
        [0, 1],
        [0, 0],
        [1, 1],
      ],
    });
    expect(packed([[[3]], [[3]]]).width).toBe(0);
  });

  it('hold the comfort of 500 jobs of one line in this part, each from 0 to 5, in 34 numbers: fifteen bases of 11 are below 2^52', () => {
    const costs = Array.from({ length: 500 }, (_, job) => [0, 5].map((comfort) => new Map([[job, comfort]])));
    expect(packed(costs).width).toBe(34);
  });

  it('take a figure up to the limit, and refuse one above', () => {
    const half = greatestBase / 2;
    expect(packed([[[0], [half - 1]]])).toEqual({ width: 1, numbers: [[0], [half - 1]] });
    expect(() => packed([[[0], [half]]])).toThrow(RangeError);
    expect(() =>
      packed([
        [[0], [half - 1]],
        [[0], [1]],
      ]),
    ).toThrow(RangeError);
  });

  it('are exact at the limits: the best of all ways, tried one by one and summed without bounds', () => {
    const few = 4;
    const upTo = (most: number) =>
      fc.oneof(
        fc.integer({ min: 0, max: most }),
        fc.integer({ min: Math.max(0, most - 2), max: most }),
        fc.integer({ min: 0, max: 1 }),
      );
    const squares = (limits: readonly number[]) =>
      fc.array(fc.array(fc.tuple(...limits.map(upTo)), { minLength: few, maxLength: few }), { minLength: few, maxLength: few });
    // bases whose products come just to the limit, in one number or in two
    const largest = Math.floor((greatestBase / 2 - 1) / few);
    const anyCosts = fc
      .constantFrom([largest], [largest, largest], [1, largest], [8_388_607, 8_388_607], [1, 2, 8_388_607, 6_000_000])
      .chain(squares);
    fc.assert(
      fc.property(anyCosts, (costs) => {
        const given = allocateConnected(square(costs));
        expect(given).toHaveLength(few);
        expect(sumOf(costs, given)).toEqual(bestOf(costs));
      }),
      runs,
    );
  });
});

function sumOf(costs: readonly (readonly (readonly number[])[])[], given: readonly Given[]): bigint[] {
  return costs[0]![0]!.map((_, figure) =>
    given.reduce(
      (sum, { supplyId, demandId }) => sum + BigInt(costs[Number(demandId.slice(1))]![Number(supplyId.slice(1))]![figure]!),
      0n,
    ),
  );
}

function bestOf(costs: readonly (readonly (readonly number[])[])[]): bigint[] {
  const sums = ordersOf([...costs.keys()]).map((order) =>
    sumOf(
      costs,
      order.map((s, d) => ({ supplyId: `s${s}`, demandId: `d${d}`, quantity: 1 })),
    ),
  );
  return sums.reduce((best, sum) => {
    const figure = sum.findIndex((each, index) => each !== best[index]);
    return figure !== -1 && sum[figure]! < best[figure]! ? sum : best;
  });
}

function ordersOf(all: readonly number[]): number[][] {
  if (all.length === 0) return [[]];
  return all.flatMap((first) => ordersOf(all.filter((each) => each !== first)).map((rest) => [first, ...rest]));
}
