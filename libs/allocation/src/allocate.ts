import type { AllocationProblem } from './allocation-problem.js';
import { connectedParts } from './connected-parts.js';
import { Residual } from './residual.js';

/**
 * What of which supply goes to which demand, when the demands of many jobs want the same supplies.
 *
 * With x(s, d) >= 0 of supply s given to demand d, and L(1), L(2), … the demands by their level, the first job's critical ones first:
 *   sum over d of x(s, d) <= quantity(s)      nothing is given twice
 *   sum over s of x(s, d) <= quantity(d)      a demand may be covered in part
 *   1. greatest F(1) = sum of x into L(1); then, F(1) kept, greatest F(2); and so on
 *   2. of all x that keep every F: least sum of x(s, d) cost(s, d), compared figure by figure from the first
 * The sums F that can be had are the bases of a polymatroid, so that serving level by level along augmenting paths is exact (Edmonds 1970); each
 * path is a shortest one by cost in the residual network, with one sink for each level, so that the cost is least among all ways to give the
 * same F (successive shortest paths: Ford and Fulkerson 1962; with potentials: Edmonds and Karp 1972). Costs are compared as lists, which is
 * an ordered group, so that none of the weights needs to be large.
 */

export interface Given {
  readonly supplyId: string;
  readonly demandId: string;
  /** more than nought */
  readonly quantity: number;
}

/**
 * The best use of the supplies. It depends on what is asked and not on the order in which it is asked.
 * @returns what is given, by demand and supply
 * @throws RangeError for an id that comes twice or that a link names in vain, for figures that are not whole, and where sums would be inexact
 */
export function allocate(problem: AllocationProblem): readonly Given[] {
  checkFigures(problem);
  return connectedParts(problem)
    .flatMap((part) => allocateConnected(part))
    .toSorted((one, other) => compare(one.demandId, other.demandId) || compare(one.supplyId, other.supplyId));
}

/** The same of what hangs together: every supply and every demand can be reached from every other by links. */
export function allocateConnected(part: AllocationProblem): readonly Given[] {
  const { supplies, demands, links } = inOrder(part);
  const residual = new Residual(supplies.length + demands.length, links[0]?.cost.length ?? 0);
  const source = residual.addNode();
  const supplyNodes = new Map(supplies.map((supply, node) => [supply.id, { ...supply, node }]));
  const demandNodes = new Map(demands.map((demand, index) => [demand.id, { ...demand, node: supplies.length + index }]));
  for (const { node, quantity } of supplyNodes.values()) residual.join(source, node, quantity, null);
  const arcs = links.map(({ supplyId, demandId, cost }) => {
    const [supply, demand] = [supplyNodes.get(supplyId)!, demandNodes.get(demandId)!];
    return residual.join(supply.node, demand.node, Math.min(supply.quantity, demand.quantity), cost);
  });
  const levels = new Map<number, { node: number; capacity: number }[]>();
  for (const { level, node, quantity } of demandNodes.values()) {
    const equals = levels.get(level) ?? [];
    equals.push({ node, capacity: quantity });
    levels.set(level, equals);
  }
  for (const equals of levels.values()) {
    const sink = residual.addSink(equals);
    while (residual.augment(source, sink));
  }
  return links.flatMap(({ supplyId, demandId }, index) => {
    const quantity = residual.flowOf(arcs[index]!);
    return quantity === 0 ? [] : [{ supplyId, demandId, quantity }];
  });
}

/** Ties are settled by the first found, so what is looked through first must not depend on how it was asked. */
function inOrder({ supplies, demands, links }: AllocationProblem): AllocationProblem {
  return {
    supplies: supplies.toSorted((one, other) => compare(one.id, other.id)),
    demands: demands.toSorted((one, other) => one.level - other.level || compare(one.id, other.id)),
    links: links.toSorted((one, other) => compare(one.demandId, other.demandId) || compare(one.supplyId, other.supplyId)),
  };
}

function compare(one: string, other: string): number {
  if (one === other) return 0;
  return one < other ? -1 : 1;
}

function checkFigures({ supplies, demands, links }: AllocationProblem): void {
  const supplyIds = new Set(supplies.map(({ id }) => id));
  const demandIds = new Set(demands.map(({ id }) => id));
  if (supplyIds.size !== supplies.length || demandIds.size !== demands.length) throw new RangeError('An id comes twice.');
  const quantities = [...supplies, ...demands].map(({ quantity }) => quantity);
  const costs = links.flatMap(({ cost }) => cost);
  for (const figure of [...quantities, ...demands.map(({ level }) => level), ...costs])
    if (!Number.isSafeInteger(figure) || figure < 0) throw new RangeError(`Not a whole figure of nought or more: ${figure}.`);
  const wanted = demands.reduce((sum, { quantity }) => sum + quantity, 0);
  // a path crosses each demand once at most
  const steps = 2 * demands.length + 2;
  if (!Number.isSafeInteger(wanted) || !Number.isSafeInteger(maxOf(costs) * steps))
    throw new RangeError('The figures are too large to be summed exactly.');
  const pairs = new Set(links.map(({ supplyId, demandId }) => `${supplyId}\n${demandId}`));
  if (pairs.size !== links.length) throw new RangeError('A link comes twice.');
  for (const { supplyId, demandId, cost } of links) {
    if (!supplyIds.has(supplyId) || !demandIds.has(demandId)) throw new RangeError('A link names what is not there.');
    if (cost.length !== links[0]!.cost.length) throw new RangeError('A cost has more figures than another.');
  }
}

function maxOf(figures: readonly number[]): number {
  return figures.reduce((most, figure) => Math.max(most, figure), 0);
}
