import fc from 'fast-check';
import { allocate, type Given } from './allocate.js';
import type { AllocationChange } from './allocation-change.js';
import type { AllocationProblem, Demand, Link, Supply } from './allocation-problem.js';
import { connectedParts } from './connected-parts.js';
import { type AnsweredPart, StandingAllocation } from './standing-allocation.js';

const runs = process.env.CW_LONG === '1' ? { numRuns: 3000 } : { numRuns: 200 };

const gearbox: AllocationProblem = {
  supplies: [
    { id: 'seal', quantity: 1 },
    { id: 'shim', quantity: 5 },
    { id: 'spare', quantity: 2 },
  ],
  demands: [
    { id: 'first', level: 0, quantity: 1 },
    { id: 'second', level: 1, quantity: 1 },
    { id: 'shims', level: 1, quantity: 2 },
  ],
  links: [
    { supplyId: 'seal', demandId: 'first', cost: [0] },
    { supplyId: 'seal', demandId: 'second', cost: [0] },
    { supplyId: 'shim', demandId: 'shims', cost: [0] },
  ],
};

describe('an allocation that stands while what is asked changes', () => {
  it('answers anew what a receipt touches alone, and says who got something else', () => {
    const before = StandingAllocation.of(gearbox);
    const { allocation, changed } = before.with({ set: { supplies: [{ id: 'seal', quantity: 2 }] } });
    expect(changed).toEqual(['second']);
    expect(allocation.givenTo('second')).toEqual([{ supplyId: 'seal', demandId: 'second', quantity: 1 }]);
    expect(before.givenTo('second')).toEqual([]);
    const partOf = (of: StandingAllocation, id: string) =>
      [...of.parts].find(({ problem }) => problem.demands.some((each) => each.id === id));
    expect(partOf(allocation, 'shims')).toBe(partOf(before, 'shims'));
  });

  it('joins parts by a link, with a supply that stood in none, and lets them fall apart again', () => {
    const before = StandingAllocation.of(gearbox);
    const link = { supplyId: 'spare', demandId: 'second', cost: [1] };
    const joined = before.with({ set: { links: [link, { ...link, demandId: 'shims' }] } });
    expect([before.parts.size, joined.allocation.parts.size]).toEqual([2, 1]);
    expect(joined.changed).toEqual(['second']);
    const apart = joined.allocation.with({ removed: { supplyIds: ['spare'] } });
    expect(apart.allocation.parts.size).toBe(2);
    expect(apart.allocation.given).toEqual(before.given);
  });

  it('takes a line away that is fitted, and asks it anew with other links in one change', () => {
    const before = StandingAllocation.of(gearbox);
    expect(before.with({ removed: { demandIds: ['first'] } }).changed).toEqual(['first', 'second']);
    const anew = before.with({
      removed: { demandIds: ['first'] },
      set: { demands: [gearbox.demands[0]!], links: [{ supplyId: 'shim', demandId: 'first', cost: [0] }] },
    });
    expect(anew.changed).toEqual(['first', 'second']);
    expect(anew.allocation.givenTo('first')).toEqual([{ supplyId: 'shim', demandId: 'first', quantity: 1 }]);
  });

  it.each<[string, AllocationChange]>([
    ['a supply that is not there, removed', { removed: { supplyIds: ['nut'] } }],
    ['a demand that is not there, removed', { removed: { demandIds: ['third'] } }],
    ['a link that is not there, removed', { removed: { links: [{ supplyId: 'spare', demandId: 'first' }] } }],
    ['a link to what is not there', { set: { links: [{ supplyId: 'nut', demandId: 'first', cost: [0] }] } }],
    ['a link to what is removed with it', { removed: { supplyIds: ['seal'] }, set: { links: [gearbox.links[0]!] } }],
    ['less than nought', { set: { supplies: [{ id: 'seal', quantity: -1 }] } }],
    ['a supply set twice', { set: { supplies: [gearbox.supplies[0]!, gearbox.supplies[0]!] } }],
  ])('refuses %s, and stands as it did', (_, change) => {
    const standing = StandingAllocation.of(gearbox);
    expect(() => standing.with(change)).toThrow(RangeError);
    expect(standing.given).toEqual(allocate(gearbox));
  });

  it('after any changes is the answer from cold, with what they did not touch as it was, and each before it undisturbed', () => {
    fc.assert(
      fc.property(fc.array(anyChange, { minLength: 1, maxLength: 12 }), (changes) => {
        let model = asked({ supplies: [], demands: [], links: [] });
        let standing = StandingAllocation.of({ supplies: [], demands: [], links: [] });
        for (const each of changes) {
          const change = possible(each, model);
          const [before, given, parts] = [standing, standing.given, [...standing.parts]];
          const after = before.with(change);
          model = changedModel(model, change);
          standing = after.allocation;
          const cold = allocate(problemOf(model));
          expect(standing.given).toEqual(cold);
          expect(after.changed).toEqual(differences(given, cold));
          expect(partIds([...standing.parts].map(({ problem }) => problem))).toEqual(partIds(connectedParts(problemOf(model))));
          for (const part of parts) expect(standing.parts.has(part)).toBe(!isNamed(part, change));
          expect([before.given, [...before.parts]]).toEqual([given, parts]);
        }
      }),
      runs,
    );
  });
});

/** What is asked, by ids. */
interface Model {
  readonly supplies: ReadonlyMap<string, Supply>;
  readonly demands: ReadonlyMap<string, Demand>;
  readonly links: ReadonlyMap<string, Link>;
}

const supplyId = fc.nat({ max: 7 }).map((number) => `s${number}`);
const demandId = fc.nat({ max: 7 }).map((number) => `d${number}`);
const quantity = fc.integer({ min: 0, max: 3 });
const few = <T>(of: fc.Arbitrary<T>, most = 3) => fc.array(of, { maxLength: most });
const anyChange = fc.record({
  removed: fc.record({ supplyIds: few(supplyId, 1), demandIds: few(demandId, 1), links: few(fc.record({ supplyId, demandId })) }),
  set: fc.record({
    supplies: few(fc.record({ id: supplyId, quantity })),
    demands: few(fc.record({ id: demandId, level: fc.nat({ max: 3 }), quantity })),
    links: few(fc.record({ supplyId, demandId, cost: fc.tuple(fc.nat({ max: 2 }), fc.nat({ max: 3 })) }), 5),
  }),
});

const pairOf = (link: Pick<Link, 'supplyId' | 'demandId'>) => `${link.supplyId} ${link.demandId}`;
const byId = <T extends { readonly id: string }>(all: readonly T[]) => new Map(all.map((each) => [each.id, each]));

function asked({ supplies, demands, links }: AllocationProblem): Model {
  return { supplies: byId(supplies), demands: byId(demands), links: new Map(links.map((link) => [pairOf(link), link])) };
}

function problemOf({ supplies, demands, links }: Model): AllocationProblem {
  return { supplies: [...supplies.values()], demands: [...demands.values()], links: [...links.values()] };
}

/** What of a change can be done: nothing is removed that is not there, nothing linked that will not be, and nothing named twice. */
function possible({ removed, set }: Required<AllocationChange>, model: Model): Required<AllocationChange> {
  const supplies = [...byId(set.supplies ?? []).values()];
  const demands = [...byId(set.demands ?? []).values()];
  const supplyIds = (removed.supplyIds ?? []).filter((id) => model.supplies.has(id));
  const demandIds = (removed.demandIds ?? []).filter((id) => model.demands.has(id));
  const links = new Map((set.links ?? []).map((link) => [pairOf(link), link]));
  const will = (
    id: string,
    there: ReadonlyMap<string, unknown>,
    gone: readonly string[],
    added: readonly { readonly id: string }[],
  ) => added.some((each) => each.id === id) || (there.has(id) && !gone.includes(id));
  return {
    removed: { supplyIds, demandIds, links: (removed.links ?? []).filter((link) => model.links.has(pairOf(link))) },
    set: {
      supplies,
      demands,
      links: [...links.values()].filter(
        (link) =>
          will(link.supplyId, model.supplies, supplyIds, supplies) && will(link.demandId, model.demands, demandIds, demands),
      ),
    },
  };
}

function changedModel(model: Model, { removed, set }: Required<AllocationChange>): Model {
  const [supplies, demands, links] = [new Map(model.supplies), new Map(model.demands), new Map(model.links)];
  for (const id of removed.supplyIds ?? []) supplies.delete(id);
  for (const id of removed.demandIds ?? []) demands.delete(id);
  for (const link of removed.links ?? []) links.delete(pairOf(link));
  for (const [pair, link] of links) if (!supplies.has(link.supplyId) || !demands.has(link.demandId)) links.delete(pair);
  for (const supply of set.supplies ?? []) supplies.set(supply.id, supply);
  for (const demand of set.demands ?? []) demands.set(demand.id, demand);
  for (const link of set.links ?? []) links.set(pairOf(link), link);
  return { supplies, demands, links };
}

function differences(before: readonly Given[], after: readonly Given[]): string[] {
  const shown = (given: readonly Given[], id: string) => JSON.stringify(given.filter((each) => each.demandId === id));
  const ids = new Set([...before, ...after].map((each) => each.demandId));
  return [...ids].filter((id) => shown(before, id) !== shown(after, id)).toSorted();
}

function partIds(parts: readonly AllocationProblem[]): string[] {
  return parts
    .map(({ supplies, demands }) =>
      [...supplies, ...demands]
        .map(({ id }) => id)
        .toSorted()
        .join(' '),
    )
    .toSorted();
}

function isNamed({ problem }: AnsweredPart, { removed, set }: Required<AllocationChange>): boolean {
  const links = [...(removed.links ?? []), ...(set.links ?? [])];
  const named = new Set([
    ...(removed.supplyIds ?? []),
    ...(removed.demandIds ?? []),
    ...[...(set.supplies ?? []), ...(set.demands ?? [])].map(({ id }) => id),
    ...links.flatMap((link) => [link.supplyId, link.demandId]),
  ]);
  return [...problem.supplies, ...problem.demands].some(({ id }) => named.has(id));
}
