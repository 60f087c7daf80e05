import type { AllocationProblem, Demand, Link, Supply } from './allocation-problem.js';

interface GatheredPart {
  readonly supplies: Supply[];
  readonly demands: Demand[];
  readonly links: Link[];
}

/**
 * What hangs together by links, each part by itself: nothing in one part bears on another, so that a change is reckoned anew in its part alone.
 * Supplies and demands without a link stand in no part. The parts come in the order of their first link.
 * @throws RangeError for an id that comes twice or that a link names in vain
 */
export function connectedParts({ supplies, demands, links }: AllocationProblem): readonly AllocationProblem[] {
  const supplyNodes = nodesOf(supplies);
  const demandNodes = nodesOf(demands);
  const roots = new Joined(supplies.length + demands.length);
  const supplyOf = new Int32Array(links.length);
  let index = 0;
  let last: string | null = null;
  let demand: number | undefined;
  for (const { supplyId, demandId } of links) {
    const supply = supplyNodes.get(supplyId);
    // the links of one demand mostly come one after another
    if (demandId !== last) demand = demandNodes.get(demandId);
    last = demandId;
    if (supply === undefined || demand === undefined) throw new RangeError('A link names what is not there.');
    roots.join(supply, supplies.length + demand);
    supplyOf[index] = supply;
    index += 1;
  }
  const partAt: (GatheredPart | undefined)[] = Array(supplies.length + demands.length);
  const parts: GatheredPart[] = [];
  index = 0;
  for (const link of links) {
    const root = roots.rootOf(supplyOf[index]!);
    let part = partAt[root];
    if (part === undefined) {
      part = { supplies: [], demands: [], links: [] };
      partAt[root] = part;
      parts.push(part);
    }
    part.links.push(link);
    index += 1;
  }
  let node = 0;
  for (const supply of supplies) {
    partAt[roots.rootOf(node)]?.supplies.push(supply);
    node += 1;
  }
  for (const demand of demands) {
    partAt[roots.rootOf(node)]?.demands.push(demand);
    node += 1;
  }
  return parts;
}

function nodesOf(named: readonly { readonly id: string }[]): Map<string, number> {
  const nodes = new Map<string, number>();
  for (const { id } of named) nodes.set(id, nodes.size);
  if (nodes.size !== named.length) throw new RangeError('An id comes twice.');
  return nodes;
}

/** Which of so many belong together, by joining two at a time. */
class Joined {
  private readonly above: Int32Array;

  constructor(count: number) {
    this.above = new Int32Array(count).map((_, index) => index);
  }

  rootOf(node: number): number {
    let root = node;
    while (this.above[root] !== root) root = this.above[root]!;
    // the way is shortened for whoever comes next
    for (let at = node; this.above[at] !== root; ) {
      const next = this.above[at]!;
      this.above[at] = root;
      at = next;
    }
    return root;
  }

  join(one: number, other: number): void {
    this.above[this.rootOf(one)] = this.rootOf(other);
  }
}
