import { type AllocationProblem, compareIds } from './allocation-problem.js';
import { checkFigures } from './check-figures.js';
import { connectedParts } from './connected-parts.js';
import { type Network, networkOf } from './network.js';
import { greatestBase, packedCosts } from './packed-costs.js';
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
 * path is a cheapest one in the residual network, so that the cost is least among all ways to give the same F (successive shortest paths: Ford
 * and Fulkerson 1962; with potentials: Edmonds and Karp 1972). Costs are compared as lists, which is an ordered group, so that none of the
 * weights needs to be large; lists are merged into few numbers where that is exact (packed-costs.ts).
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
  return inOrder(connectedParts(problem).flatMap((part) => allocateConnected(part)));
}

export function inOrder(given: readonly Given[]): readonly Given[] {
  return given.toSorted((one, other) => compareIds(one.demandId, other.demandId) || compareIds(one.supplyId, other.supplyId));
}

/**
 * The same of what hangs together: every supply and every demand can be reached from every other by links.
 * @param upTo see packedCosts: the answer is the same whatever it is
 * @returns those given to one demand beside each other, by supply
 */
export function allocateConnected(part: AllocationProblem, upTo = greatestBase): readonly Given[] {
  const network = networkOf(part);
  const residual = new Residual(network, packedCosts(network, upTo));
  for (const [first, end] of levelsOf(network)) residual.serve(first, end);
  return network.links.flatMap(({ supplyId, demandId }, link) => {
    const quantity = residual.given[link]!;
    return quantity === 0 ? [] : [{ supplyId, demandId, quantity }];
  });
}

/** The demands of each level, from the first up to, not with, the end. */
function levelsOf({ demands }: Network): (readonly [first: number, end: number])[] {
  const firsts = demands.flatMap(({ level }, index) => (level === demands[index - 1]?.level ? [] : [index]));
  return firsts.map((first, index) => [first, firsts[index + 1] ?? demands.length]);
}
