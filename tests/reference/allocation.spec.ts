import { allocate, type Given } from '@corewright/allocation/allocate';
import type { AllocationProblem } from '@corewright/allocation/allocation-problem';
import fc from 'fast-check';
import loadHighs from 'highs';
import { byPrograms, type Reached, reachedBy } from '../bench/src/lexicographic-programs.js';

const highs = await loadHighs({});
const isLong = process.env.CW_LONG === '1';

const reached = (problem: AllocationProblem) => reachedBy(problem, allocate(problem));

/**
 * So many jobs of so many lines, each with its critical ones before the rest; bags that serve some lines, at costs with ties: one figure for
 * each job, of its own lines alone, and five more.
 */
const anyWorkshop = (jobsMax: number, linesMax: number, bagsMax: number, isFull = false) =>
  fc
    .record({
      jobs: fc.array(
        fc.array(fc.record({ isCritical: fc.boolean(), quantity: fc.integer({ min: 1, max: 4 }) }), {
          minLength: isFull ? linesMax : 1,
          maxLength: linesMax,
        }),
        { minLength: isFull ? jobsMax : 1, maxLength: jobsMax },
      ),
      bags: fc.array(fc.integer({ min: 1, max: 5 }), { minLength: isFull ? bagsMax : 1, maxLength: bagsMax }),
      serves: fc.array(
        fc.record({
          bag: fc.nat(),
          line: fc.nat(),
          comfort: fc.constantFrom(0, 0, 1, 3),
          others: fc.tuple(...[4, 3, 9, 400, bagsMax].map((max) => fc.nat({ max }))),
        }),
        { minLength: isFull ? 3 * bagsMax : 1, maxLength: 3 * bagsMax },
      ),
    })
    .map(({ jobs, bags, serves }): AllocationProblem => {
      const demands = jobs.flatMap((lines, job) =>
        lines.map(({ isCritical, quantity }, line) => ({
          id: `${job}.${line}`,
          job,
          level: 2 * job + (isCritical ? 0 : 1),
          quantity,
        })),
      );
      const links = new Map(
        serves.map(({ bag, line, comfort, others }) => {
          const demand = demands[line % demands.length]!;
          const [supplyId, demandId] = [`bag ${bag % bags.length}`, demand.id];
          const cost = new Map([[demand.job, comfort], ...others.map((figure, index) => [jobs.length + index, figure] as const)]);
          return [`${supplyId} ${demandId}`, { supplyId, demandId, cost }];
        }),
      );
      return { supplies: bags.map((quantity, index) => ({ id: `bag ${index}`, quantity })), demands, links: [...links.values()] };
    });

/** Bags that all serve all lines, one line after another: who is served late takes from many before. */
const anyContest = fc
  .tuple(fc.integer({ min: 2, max: 7 }), fc.integer({ min: 2, max: 6 }))
  .chain(([lines, bags]) => {
    const times = (count: number) => ({ minLength: count, maxLength: count });
    return fc.record({
      wanted: fc.array(fc.record({ level: fc.nat({ max: lines }), quantity: fc.integer({ min: 1, max: 3 }) }), times(lines)),
      there: fc.array(fc.integer({ min: 1, max: 4 }), times(bags)),
      costs: fc.array(fc.array(fc.tuple(fc.nat({ max: 3 }), fc.nat({ max: 9 })), times(bags)), times(lines)),
    });
  })
  .map(
    ({ wanted, there, costs }): AllocationProblem => ({
      supplies: there.map((quantity, bag) => ({ id: `bag ${bag}`, quantity })),
      demands: wanted.map((each, line) => ({ id: `line ${line}`, ...each })),
      links: costs.flatMap((row, line) => row.map((cost, bag) => ({ supplyId: `bag ${bag}`, demandId: `line ${line}`, cost }))),
    }),
  );

/** Published problems, all from memory: what there is, what is wanted, the cost of one from each row to each column (null: not allowed). */
const published: { from: string; has: number[]; wants: number[]; costs: (number | null)[][]; least: number }[] = [
  {
    from: 'Winston, Operations Research: three power stations and four cities (Powerco)',
    has: [35, 50, 40],
    wants: [45, 20, 30, 30],
    costs: [
      [8, 6, 10, 9],
      [9, 12, 13, 7],
      [14, 9, 16, 5],
    ],
    least: 1020,
  },
  {
    from: 'Winston, Operations Research: four machines and four jobs (Machineco)',
    has: [1, 1, 1, 1],
    wants: [1, 1, 1, 1],
    costs: [
      [14, 5, 8, 7],
      [2, 12, 6, 5],
      [7, 8, 3, 9],
      [2, 4, 6, 10],
    ],
    least: 15,
  },
  {
    from: 'Hillier and Lieberman, Introduction to Operations Research: three canneries and four warehouses',
    has: [75, 125, 100],
    wants: [80, 65, 70, 85],
    costs: [
      [464, 513, 654, 867],
      [352, 416, 690, 791],
      [995, 682, 388, 685],
    ],
    least: 152_535,
  },
  {
    from: 'Hillier and Lieberman, Introduction to Operations Research: three machines and four locations, of which one is barred to one machine',
    has: [1, 1, 1],
    wants: [1, 1, 1, 1],
    costs: [
      [13, 16, 12, 11],
      [15, null, 13, 20],
      [5, 7, 10, 6],
    ],
    least: 29,
  },
  {
    from: 'Taha, Operations Research: three silos and four mills',
    has: [15, 25, 10],
    wants: [5, 15, 15, 15],
    costs: [
      [10, 2, 20, 11],
      [12, 7, 9, 20],
      [4, 14, 16, 18],
    ],
    least: 435,
  },
  {
    from: 'Taha, Operations Research: three plants and two distribution centres',
    has: [1000, 1500, 1200],
    wants: [2300, 1400],
    costs: [
      [80, 215],
      [100, 108],
      [102, 68],
    ],
    least: 313_200,
  },
  {
    from: 'Taha, Operations Research: three children and three chores',
    has: [1, 1, 1],
    wants: [1, 1, 1],
    costs: [
      [15, 10, 9],
      [9, 15, 10],
      [10, 12, 8],
    ],
    least: 27,
  },
];

describe('what goes where', () => {
  it.each(published)('costs the least that is published: $from', ({ has, wants, costs, least }) => {
    const problem = {
      supplies: has.map((quantity, index) => ({ id: `s${index}`, quantity })),
      demands: wants.map((quantity, index) => ({ id: `d${index}`, level: 0, quantity })),
      links: costs.flatMap((row, s) =>
        row.flatMap((each, d) => (each === null ? [] : [{ supplyId: `s${s}`, demandId: `d${d}`, cost: [each] }])),
      ),
    };
    const covered = Math.min(...[has, wants].map((each) => each.reduce((sum, quantity) => sum + quantity, 0)));
    expect(reached(problem)).toEqual({ covers: [covered], costs: [least] });
    expect(byPrograms(problem, highs)).toEqual({ covers: [covered], costs: [least] });
  });

  it('is, level by level and figure by figure, what an exact solver of linear programs finds on random workshops (HiGHS)', () => {
    fc.assert(
      fc.property(anyWorkshop(5, 4, 8), (problem) => {
        expect(reached(problem)).toEqual(byPrograms(problem, highs));
      }),
      { numRuns: isLong ? 2000 : 200 },
    );
  });

  it('is the same where all bags serve all lines (HiGHS)', () => {
    fc.assert(
      fc.property(anyContest, (problem) => {
        expect(reached(problem)).toEqual(byPrograms(problem, highs));
      }),
      { numRuns: isLong ? 2000 : 200 },
    );
  });

  it('is the same on workshops of twenty jobs of twenty lines (HiGHS)', () => {
    fc.assert(
      fc.property(anyWorkshop(20, 20, 120, true), (problem) => {
        expect(reached(problem)).toEqual(byPrograms(problem, highs));
      }),
      { numRuns: isLong ? 20 : 2 },
    );
  });

  it('is the best of all ways, tried one by one, where there are few', () => {
    fc.assert(
      fc.property(anyWorkshop(2, 2, 2), (problem) => {
        fc.pre(problem.links.length <= 4);
        expect(reached(problem)).toEqual(byTrying(problem));
      }),
      { numRuns: isLong ? 2000 : 200 },
    );
  });
});

/** Every way of giving, compared as lists: more cover of the first level, then of the next; then less of the first figure of cost, and so on. */
function byTrying({ supplies, demands, links }: AllocationProblem): Reached {
  let best: Reached | null = null;
  const ways = (index: number, given: Given[]): void => {
    const link = links[index];
    if (link === undefined) {
      const found = reachedBy({ supplies, demands, links }, given);
      if (best === null || isBetter(found, best)) best = found;
      return;
    }
    const used = (key: 'supplyId' | 'demandId') =>
      given.filter((each) => each[key] === link[key]).reduce((sum, { quantity }) => sum + quantity, 0);
    const most = Math.min(
      supplies.find(({ id }) => id === link.supplyId)!.quantity - used('supplyId'),
      demands.find(({ id }) => id === link.demandId)!.quantity - used('demandId'),
    );
    for (let quantity = 0; quantity <= most; quantity += 1) ways(index + 1, [...given, { ...link, quantity }]);
  };
  ways(0, []);
  if (best === null) throw new Error('There is always one way: to give nothing.');
  return best;
}

function isBetter(one: Reached, other: Reached): boolean {
  const differences = [
    ...one.covers.map((cover, index) => cover - other.covers[index]!),
    ...one.costs.map((cost, index) => other.costs[index]! - cost),
  ];
  return (differences.find((difference) => difference !== 0) ?? 0) > 0;
}
