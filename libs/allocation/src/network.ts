import { type AllocationProblem, compareIds, type Demand, type Link, type Supply } from './allocation-problem.js';

/**
 * A connected part by numbers. Supplies stand in the order of their ids, demands in that of their levels and ids, links in that of their demands
 * and supplies, so that nothing depends on the order in which it was asked.
 */
export interface Network {
  readonly supplies: readonly Supply[];
  readonly demands: readonly Demand[];
  readonly links: readonly Link[];
  readonly supplyOf: Int32Array;
  readonly demandOf: Int32Array;
  /** the links of demand d are those from `firstOfDemand[d]` up to, not with, `firstOfDemand[d + 1]` */
  readonly firstOfDemand: Int32Array;
}

/** @throws RangeError for a link that comes twice */
export function networkOf(part: AllocationProblem): Network {
  const supplies = part.supplies.toSorted((one, other) => compareIds(one.id, other.id));
  const demands = part.demands.toSorted((one, other) => one.level - other.level || compareIds(one.id, other.id));
  const supplyNumbers = new Map(supplies.map(({ id }, number) => [id, number]));
  const demandNumbers = new Map(demands.map(({ id }, number) => [id, number]));
  const asked = {
    supplyOf: numbersOf(part.links, ({ supplyId }) => supplyNumbers.get(supplyId)!),
    demandOf: numbersOf(part.links, ({ demandId }) => demandNumbers.get(demandId)!),
  };
  // sorted by supplies first: what is then sorted by demands keeps that order within each
  const all = new Int32Array(part.links.length).map((_, index) => index);
  const order = grouped(grouped(all, asked.supplyOf, supplies.length).members, asked.demandOf, demands.length);
  const supplyOf = order.members.map((index) => asked.supplyOf[index]!);
  const demandOf = order.members.map((index) => asked.demandOf[index]!);
  for (let link = 1; link < supplyOf.length; link += 1)
    if (supplyOf[link] === supplyOf[link - 1] && demandOf[link] === demandOf[link - 1])
      throw new RangeError('A link comes twice.');
  return {
    supplies,
    demands,
    links: [...order.members].map((index) => part.links[index]!),
    supplyOf,
    demandOf,
    firstOfDemand: order.first,
  };
}

function numbersOf(links: readonly Link[], numberOf: (link: Link) => number): Int32Array {
  const numbers = new Int32Array(links.length);
  for (let index = 0; index < links.length; index += 1) numbers[index] = numberOf(links[index]!);
  return numbers;
}

/** Members by their group; within a group they keep their order. */
function grouped(members: Int32Array, groupOf: Int32Array, groups: number): { first: Int32Array; members: Int32Array } {
  const first = new Int32Array(groups + 1);
  for (const member of members) first[groupOf[member]! + 1]! += 1;
  for (let group = 0; group < groups; group += 1) first[group + 1]! += first[group]!;
  const next = first.slice();
  const sorted = new Int32Array(members.length);
  for (const member of members) {
    const group = groupOf[member]!;
    sorted[next[group]!] = member;
    next[group]! += 1;
  }
  return { first, members: sorted };
}
