import fc from 'fast-check';
import { allocate, type Given } from './allocate.js';
import type { AllocationProblem, Link } from './allocation-problem.js';
import { connectedParts } from './connected-parts.js';

const link = (supplyId: string, demandId: string, ...cost: number[]): Link => ({ supplyId, demandId, cost });
const supply = (id: string, quantity: number) => ({ id, quantity });
const demand = (id: string, level: number, quantity: number) => ({ id, level, quantity });
const shown = (given: readonly Given[]) =>
  given.map(({ supplyId, demandId, quantity }) => `${quantity} of ${supplyId} to ${demandId}`);

describe('the best use of what there is', () => {
  it('gives the last one to the job that comes first, whatever it costs', () => {
    const given = allocate({
      supplies: [supply('seal', 1)],
      demands: [demand('second', 1, 1), demand('first', 0, 1)],
      links: [link('seal', 'second', 0), link('seal', 'first', 9)],
    });
    expect(shown(given)).toEqual(['1 of seal to first']);
  });

  it('lets the first job have what only it can use, so that the second is served too', () => {
    const given = allocate({
      supplies: [supply('exact', 1), supply('will serve', 1)],
      demands: [demand('either', 0, 1), demand('exact only', 1, 1)],
      links: [link('exact', 'either', 0), link('will serve', 'either', 5), link('exact', 'exact only', 0)],
    });
    expect(shown(given)).toEqual(['1 of will serve to either', '1 of exact to exact only']);
  });

  it('covers a line of four by three where there are no more, and out of two bags where it must', () => {
    const given = allocate({
      supplies: [supply('bag a', 1), supply('bag b', 2)],
      demands: [demand('line', 0, 4)],
      links: [link('bag a', 'line', 1), link('bag b', 'line', 0)],
    });
    expect(shown(given)).toEqual(['1 of bag a to line', '2 of bag b to line']);
  });

  it('compares costs figure by figure: no number of small ones outweighs a larger one', () => {
    const given = allocate({
      supplies: [supply('old packet', 1), supply('new packet', 1)],
      demands: [demand('line', 0, 1)],
      links: [link('old packet', 'line', 1, 0), link('new packet', 'line', 0, 1_000_000)],
    });
    expect(shown(given)).toEqual(['1 of new packet to line']);
  });

  it('settles the comfort of the first job before that of the second, among all ways to cover both', () => {
    const worn = { first: 0, second: 1 };
    const problem = {
      supplies: [supply('fresh', 1), supply('old', 1)],
      demands: [demand('first', 0, 1), demand('second', 1, 1)],
      links: [
        { supplyId: 'fresh', demandId: 'first', cost: new Map([[worn.first, 1]]) },
        { supplyId: 'old', demandId: 'first', cost: new Map([[worn.first, 2]]) },
        { supplyId: 'fresh', demandId: 'second', cost: new Map([[worn.second, 0]]) },
        { supplyId: 'old', demandId: 'second', cost: new Map([[worn.second, 9]]) },
      ],
    };
    expect(shown(allocate(problem))).toEqual(['1 of fresh to first', '1 of old to second']);
  });

  it('swaps no more than it must: of ways that cost the same it takes the shortest', () => {
    const given = allocate({
      supplies: [supply('a', 1), supply('b', 1), supply('c', 1)],
      demands: [demand('first', 0, 1), demand('second', 1, 1)],
      links: [link('a', 'first', 0), link('b', 'first', 0), link('a', 'second', 0), link('c', 'second', 0)],
    });
    expect(shown(given)).toEqual(['1 of a to first', '1 of c to second']);
  });

  it('is nothing of nothing', () => {
    expect(allocate({ supplies: [], demands: [], links: [] })).toEqual([]);
    expect(allocate({ supplies: [supply('a', 1)], demands: [demand('b', 0, 1)], links: [] })).toEqual([]);
    expect(allocate({ supplies: [supply('a', 0)], demands: [demand('b', 0, 1)], links: [link('a', 'b')] })).toEqual([]);
  });

  it.each<[string, AllocationProblem]>([
    ['twice', { supplies: [supply('a', 1), supply('a', 1)], demands: [], links: [] }],
    ['in vain', { supplies: [supply('a', 1)], demands: [], links: [link('a', 'b')] }],
    ['not whole', { supplies: [supply('a', 0.5)], demands: [], links: [] }],
    ['below nought', { supplies: [supply('a', 1)], demands: [demand('b', 0, 1)], links: [link('a', 'b', -1)] }],
    [
      'too large',
      {
        supplies: [supply('a', 1), supply('c', 1)],
        demands: [demand('b', 0, 1)],
        links: [link('a', 'b', Number.MAX_SAFE_INTEGER), link('c', 'b', 0)],
      },
    ],
    [
      'too much of it',
      { supplies: [], demands: [demand('a', 0, Number.MAX_SAFE_INTEGER), demand('b', 0, Number.MAX_SAFE_INTEGER)], links: [] },
    ],
    [
      'below nought at a place',
      {
        supplies: [supply('a', 1)],
        demands: [demand('b', 0, 1)],
        links: [{ supplyId: 'a', demandId: 'b', cost: new Map([[7, -1]]) }],
      },
    ],
    [
      'of unequal lists',
      {
        supplies: [supply('a', 1), supply('c', 1)],
        demands: [demand('b', 0, 1)],
        links: [link('a', 'b', 1), link('c', 'b', 1, 2)],
      },
    ],
    ['a link twice', { supplies: [supply('a', 1)], demands: [demand('b', 0, 1)], links: [link('a', 'b', 1), link('a', 'b', 2)] }],
  ])('refuses what it cannot reckon exactly: %s', (_, problem) => {
    expect(() => allocate(problem)).toThrow(RangeError);
  });
});

const runs = process.env.CW_LONG === '1' ? { numRuns: 3000 } : { numRuns: 300 };

/** Workshops small enough to look at, with ties on purpose. */
const anyProblem = fc
  .record({
    supplies: fc.array(fc.integer({ min: 0, max: 4 }), { minLength: 1, maxLength: 6 }),
    demands: fc.array(fc.record({ level: fc.integer({ min: 0, max: 3 }), quantity: fc.integer({ min: 0, max: 4 }) }), {
      minLength: 1,
      maxLength: 6,
    }),
    links: fc.uniqueArray(
      fc.record({
        s: fc.nat({ max: 5 }),
        d: fc.nat({ max: 5 }),
        cost: fc.tuple(fc.integer({ min: 0, max: 2 }), fc.integer({ min: 0, max: 3 })),
      }),
      { maxLength: 18, selector: ({ s, d }) => s * 6 + d },
    ),
  })
  .map(
    ({ supplies, demands, links }): AllocationProblem => ({
      supplies: supplies.map((quantity, index) => supply(`s${index}`, quantity)),
      demands: demands.map(({ level, quantity }, index) => demand(`d${index}`, level, quantity)),
      links: links
        .filter(({ s, d }) => s < supplies.length && d < demands.length)
        .map(({ s, d, cost }) => link(`s${s}`, `d${d}`, ...cost)),
    }),
  );

/** What each level has. */
function coverOf({ demands }: AllocationProblem, given: readonly Given[]): number[] {
  const levelOf = new Map(demands.map(({ id, level }) => [id, level]));
  return [0, 1, 2, 3].map((level) =>
    given.filter(({ demandId }) => levelOf.get(demandId) === level).reduce((sum, { quantity }) => sum + quantity, 0),
  );
}

describe('whatever is asked', () => {
  it('nothing is given twice, and no demand has more than it asks for', () => {
    fc.assert(
      fc.property(anyProblem, (problem) => {
        const given = allocate(problem);
        const sumBy = (key: 'supplyId' | 'demandId', id: string) =>
          given.filter((each) => each[key] === id).reduce((sum, { quantity }) => sum + quantity, 0);
        for (const { id, quantity } of problem.supplies) expect(sumBy('supplyId', id)).toBeLessThanOrEqual(quantity);
        for (const { id, quantity } of problem.demands) expect(sumBy('demandId', id)).toBeLessThanOrEqual(quantity);
      }),
      runs,
    );
  });

  it('the answer does not depend on the order in which it was asked', () => {
    fc.assert(
      fc.property(
        anyProblem.chain((problem) =>
          fc.tuple(
            fc.constant(problem),
            fc.shuffledSubarray([...problem.supplies], { minLength: problem.supplies.length }),
            fc.shuffledSubarray([...problem.demands], { minLength: problem.demands.length }),
            fc.shuffledSubarray([...problem.links], { minLength: problem.links.length }),
          ),
        ),
        ([problem, supplies, demands, links]) => {
          expect(allocate({ supplies, demands, links })).toEqual(allocate(problem));
        },
      ),
      runs,
    );
  });

  it('more stock takes from nobody: no level has less, whichever supply grows', () => {
    fc.assert(
      fc.property(anyProblem, fc.nat({ max: 5 }), fc.integer({ min: 1, max: 3 }), (problem, which, more) => {
        const supplies = problem.supplies.map((each, index) =>
          index === which % problem.supplies.length ? { ...each, quantity: each.quantity + more } : each,
        );
        const [before, after] = [coverOf(problem, allocate(problem)), coverOf(problem, allocate({ ...problem, supplies }))];
        for (const [level, cover] of before.entries()) expect(after[level]).toBeGreaterThanOrEqual(cover);
      }),
      runs,
    );
  });

  it('who is put first has no less than before', () => {
    fc.assert(
      fc.property(anyProblem, fc.nat({ max: 3 }), (problem, which) => {
        const demands = problem.demands.map((each) => ({ ...each, level: each.level === which ? 0 : each.level + 1 }));
        const [before, after] = [allocate(problem), allocate({ ...problem, demands })];
        expect(coverOf({ ...problem, demands }, after)[0]).toBeGreaterThanOrEqual(coverOf(problem, before)[which]!);
      }),
      runs,
    );
  });

  it('no level has more than all that is linked to it could give it by itself, and the first has just that', () => {
    fc.assert(
      fc.property(anyProblem, (problem) => {
        const given = allocate(problem);
        const covers = coverOf(problem, given);
        const alone = covers.map((_, level) => {
          const demands = problem.demands.filter((each) => each.level === level);
          const ids = new Set(demands.map(({ id }) => id));
          const links = problem.links.filter(({ demandId }) => ids.has(demandId));
          return coverOf(problem, allocate({ supplies: problem.supplies, demands, links }))[level]!;
        });
        for (const [level, cover] of covers.entries()) expect(cover).toBeLessThanOrEqual(alone[level]!);
        expect(covers[0]).toBe(alone[0]);
        for (const { id, quantity } of problem.demands) {
          const linked = problem.links.filter(({ demandId }) => demandId === id).map(({ supplyId }) => supplyId);
          const most = problem.supplies.filter((each) => linked.includes(each.id)).reduce((sum, each) => sum + each.quantity, 0);
          const has = given.filter(({ demandId }) => demandId === id);
          expect(has.reduce((sum, each) => sum + each.quantity, 0)).toBeLessThanOrEqual(Math.min(quantity, most));
        }
      }),
      runs,
    );
  });

  it('costs by their places are those of the full lists', () => {
    fc.assert(
      fc.property(anyProblem, (problem) => {
        const links = problem.links.map((each) => ({
          ...each,
          cost: new Map([...each.cost.entries()].filter(([, figure]) => figure > 0)),
        }));
        expect(allocate({ ...problem, links })).toEqual(allocate(problem));
      }),
      runs,
    );
  });

  it('what does not hang together is answered alike by itself and among all the rest', () => {
    fc.assert(
      fc.property(anyProblem, (problem) => {
        const parts = connectedParts(problem);
        expect(parts.reduce((sum, { links }) => sum + links.length, 0)).toBe(problem.links.length);
        const apart = parts.flatMap((part) => allocate(part));
        expect(new Set(shown(apart))).toEqual(new Set(shown(allocate(problem))));
      }),
      runs,
    );
  });
});
