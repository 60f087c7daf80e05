/** The best use of supplies by a solver of linear programs, one program after another: what was reached before is held fast. */
import type { Given } from '@corewright/allocation/allocate';
import type { AllocationProblem, Cost } from '@corewright/allocation/allocation-problem';
import type { Highs } from 'highs';

/** What the levels have, first to last, and what the figures of cost come to. */
export interface Reached {
  readonly covers: readonly number[];
  readonly costs: readonly number[];
}

export function figureOf(cost: Cost, place: number): number {
  return ('get' in cost ? cost.get(place) : cost[place]) ?? 0;
}

/** The places at which any link has a figure. */
export function placesOf({ links }: AllocationProblem): number[] {
  return [...new Set(links.flatMap(({ cost }) => [...cost.keys()]))].toSorted((one, other) => one - other);
}

export function levelsOf({ demands }: AllocationProblem): number[] {
  return [...new Set(demands.map(({ level }) => level))].toSorted((one, other) => one - other);
}

/** @throws Error where the solver finds none */
export function byPrograms(problem: AllocationProblem, highs: Highs): Reached {
  const { supplies, demands, links } = problem;
  const atMost = [
    ...supplies.map(({ id, quantity }) => ({ of: links.map(({ supplyId }) => Number(supplyId === id)), quantity })),
    ...demands.map(({ id, quantity }) => ({ of: links.map(({ demandId }) => Number(demandId === id)), quantity })),
  ].map(({ of, quantity }, index) => ` r${index}: ${terms(of)} <= ${quantity}`);
  const held: string[] = [];
  const best = (goal: 'Maximize' | 'Minimize', of: readonly number[]): number => {
    if (of.every((weight) => weight === 0)) return 0;
    const program = [goal, ` obj: ${terms(of)}`, 'Subject To', ...atMost, ...held, 'End'].join('\n');
    const answer = highs.solve(program);
    if (answer.Status !== 'Optimal') throw new Error(`The solver says ${answer.Status} of:\n${program}`);
    const reached = Math.round(answer.ObjectiveValue);
    held.push(` h${held.length}: ${terms(of)} = ${reached}`);
    return reached;
  };
  const levelOf = new Map(demands.map(({ id, level }) => [id, level]));
  return {
    covers: levelsOf(problem).map((level) =>
      best(
        'Maximize',
        links.map(({ demandId }) => Number(levelOf.get(demandId) === level)),
      ),
    ),
    costs: placesOf(problem).map((place) =>
      best(
        'Minimize',
        links.map(({ cost }) => figureOf(cost, place)),
      ),
    ),
  };
}

function terms(weights: readonly number[]): string {
  const named = weights.flatMap((weight, index) => (weight === 0 ? [] : [`+ ${weight} x${index}`]));
  return named.length === 0 ? '0 x0' : named.join(' ');
}

/** What was given, in the same figures. */
export function reachedBy(problem: AllocationProblem, given: readonly Given[]): Reached {
  const pair = ({ supplyId, demandId }: { readonly supplyId: string; readonly demandId: string }) => `${supplyId} ${demandId}`;
  const costOf = new Map(problem.links.map((link) => [pair(link), link.cost]));
  const levelOf = new Map(problem.demands.map(({ id, level }) => [id, level]));
  return {
    covers: levelsOf(problem).map((level) =>
      given.reduce((sum, { demandId, quantity }) => sum + (levelOf.get(demandId) === level ? quantity : 0), 0),
    ),
    costs: placesOf(problem).map((place) =>
      given.reduce((sum, each) => sum + each.quantity * figureOf(costOf.get(pair(each))!, place), 0),
    ),
  };
}
