import { allocate, type Given } from '@corewright/allocation/allocate';
import type { AllocationProblem } from '@corewright/allocation/allocation-problem';
import fc from 'fast-check';
import loadHighs from 'highs';

const highs = await loadHighs({});
const isLong = process.env.CW_LONG === '1';

const sum = (figures: readonly number[]) => figures.reduce((total, each) => total + each, 0);

function costOf({ links }: AllocationProblem, given: readonly Given[], figure: number): number {
  return sum(
    given.map(({ supplyId, demandId, quantity }) => {
      const link = links.find((each) => each.supplyId === supplyId && each.demandId === demandId)!;
      return quantity * link.cost[figure]!;
    }),
  );
}

function coverOf({ demands }: AllocationProblem, given: readonly Given[], level: number): number {
  const ids = new Set(demands.filter((demand) => demand.level === level).map(({ id }) => id));
  return sum(given.filter(({ demandId }) => ids.has(demandId)).map(({ quantity }) => quantity));
}

/** Levels first, then figures of cost, one linear program after another, what was reached before held fast. */
function byPrograms(problem: AllocationProblem): { covers: number[]; costs: number[] } {
  const { supplies, demands, links } = problem;
  const name = (index: number) => `x${index}`;
  const rows = [
    ...supplies.map(({ id, quantity }) => ({ of: links.map((link) => (link.supplyId === id ? 1 : 0)), atMost: quantity })),
    ...demands.map(({ id, quantity }) => ({ of: links.map((link) => (link.demandId === id ? 1 : 0)), atMost: quantity })),
  ];
  const held: { of: number[]; is: number }[] = [];
  const best = (goal: 'Maximize' | 'Minimize', of: number[]): number => {
    const terms = (weights: readonly number[]) => weights.map((weight, index) => `+ ${weight} ${name(index)}`).join(' ');
    const program = [
      goal,
      ` obj: ${terms(of)}`,
      'Subject To',
      ...rows.map((row, index) => ` r${index}: ${terms(row.of)} <= ${row.atMost}`),
      ...held.map((row, index) => ` h${index}: ${terms(row.of)} = ${row.is}`),
      'End',
    ].join('\n');
    const answer = highs.solve(program);
    if (answer.Status !== 'Optimal') throw new Error(`The solver says ${answer.Status} of:\n${program}`);
    const reached = Math.round(answer.ObjectiveValue);
    held.push({ of, is: reached });
    return reached;
  };
  const levels = [...new Set(demands.map(({ level }) => level))].toSorted((one, other) => one - other);
  const covers = levels.map((level) =>
    best(
      'Maximize',
      links.map(({ demandId }) => (demands.find(({ id }) => id === demandId)!.level === level ? 1 : 0)),
    ),
  );
  const figures = links[0]?.cost.length ?? 0;
  const costs = Array.from({ length: figures }, (_, figure) =>
    best(
      'Minimize',
      links.map(({ cost }) => cost[figure]!),
    ),
  );
  return { covers, costs };
}

function reached(problem: AllocationProblem): { covers: number[]; costs: number[] } {
  const given = allocate(problem);
  const levels = [...new Set(problem.demands.map(({ level }) => level))].toSorted((one, other) => one - other);
  return {
    covers: levels.map((level) => coverOf(problem, given, level)),
    costs: Array.from({ length: problem.links[0]?.cost.length ?? 0 }, (_, figure) => costOf(problem, given, figure)),
  };
}

/** So many jobs of so many lines, each with its critical ones before the rest; bags that serve some lines, at costs with ties. */
const anyWorkshop = (jobsMax: number, linesMax: number, bagsMax: number) =>
  fc
    .record({
      jobs: fc.array(
        fc.array(fc.record({ isCritical: fc.boolean(), quantity: fc.integer({ min: 1, max: 4 }) }), {
          minLength: 1,
          maxLength: linesMax,
        }),
        {
          minLength: 1,
          maxLength: jobsMax,
        },
      ),
      bags: fc.array(fc.integer({ min: 1, max: 5 }), { minLength: 1, maxLength: bagsMax }),
      serves: fc.array(fc.tuple(fc.nat(), fc.nat(), fc.nat({ max: 4 }), fc.nat({ max: 3 }), fc.nat({ max: 9 })), {
        minLength: 1,
        maxLength: 3 * bagsMax,
      }),
    })
    .map(({ jobs, bags, serves }): AllocationProblem => {
      const demands = jobs.flatMap((lines, job) =>
        lines.map(({ isCritical, quantity }, line) => ({
          id: `${job}.${line}`,
          level: 2 * job + (isCritical ? 0 : 1),
          quantity,
        })),
      );
      const links = new Map(
        serves.map(([bag, line, ...cost]) => {
          const [supplyId, demandId] = [`bag ${bag % bags.length}`, demands[line % demands.length]!.id];
          return [`${supplyId} ${demandId}`, { supplyId, demandId, cost }];
        }),
      );
      return { supplies: bags.map((quantity, index) => ({ id: `bag ${index}`, quantity })), demands, links: [...links.values()] };
    });

describe('what goes where', () => {
  it('costs the least of the transport problem of three power stations and four cities (Winston, Operations Research: Powerco; from memory, solved alike by HiGHS, GLPK and a simplex in JavaScript)', () => {
    const supplies = [35, 50, 40].map((quantity, index) => ({ id: `s${index}`, quantity }));
    const demands = [45, 20, 30, 30].map((quantity, index) => ({ id: `d${index}`, level: 0, quantity }));
    const costs = [
      [8, 6, 10, 9],
      [9, 12, 13, 7],
      [14, 9, 16, 5],
    ];
    const links = costs.flatMap((row, s) => row.map((each, d) => ({ supplyId: `s${s}`, demandId: `d${d}`, cost: [each] })));
    const problem = { supplies, demands, links };
    const given = allocate(problem);
    expect(coverOf(problem, given, 0)).toBe(125);
    expect(costOf(problem, given, 0)).toBe(1020);
  });

  it('is, level by level and figure by figure, what an exact solver of linear programs finds on random workshops (HiGHS)', () => {
    fc.assert(
      fc.property(anyWorkshop(5, 4, 8), (problem) => {
        expect(reached(problem)).toEqual(byPrograms(problem));
      }),
      { numRuns: isLong ? 2000 : 200 },
    );
  });

  it('is the same on workshops of twenty jobs of twenty lines (HiGHS)', () => {
    fc.assert(
      fc.property(anyWorkshop(20, 20, 120), (problem) => {
        expect(reached(problem)).toEqual(byPrograms(problem));
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
function byTrying(problem: AllocationProblem): { covers: number[]; costs: number[] } {
  const { supplies, demands, links } = problem;
  const levels = [...new Set(demands.map(({ level }) => level))].toSorted((one, other) => one - other);
  let best: { covers: number[]; costs: number[] } | null = null;
  const ways = (index: number, given: Given[]): void => {
    const link = links[index];
    if (link === undefined) {
      const found = {
        covers: levels.map((level) => coverOf(problem, given, level)),
        costs: links[0]!.cost.map((_, figure) => costOf(problem, given, figure)),
      };
      if (best === null || isBetter(found, best)) best = found;
      return;
    }
    const used = (key: 'supplyId' | 'demandId') =>
      sum(given.filter((each) => each[key] === link[key]).map(({ quantity }) => quantity));
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

function isBetter(one: { covers: number[]; costs: number[] }, other: { covers: number[]; costs: number[] }): boolean {
  const differences = [
    ...one.covers.map((cover, index) => cover - other.covers[index]!),
    ...one.costs.map((cost, index) => other.costs[index]! - cost),
  ];
  return (differences.find((difference) => difference !== 0) ?? 0) > 0;
}
