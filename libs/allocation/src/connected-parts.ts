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
  const supplyNodes = nodesOf(supplies, 0);
  const demandNodes = nodesOf(demands, supplies.length);
  const roots = new Joined(supplies.length + demands.length);
  const nodeOfLink = new Int32Array(links.length);
  for (const [index, { supplyId, demandId }] of links.entries()) {
    const [supply, demand] = [supplyNodes.get(supplyId), demandNodes.get(demandId)];
    if (supply === undefined || demand === undefined) throw new RangeError('A link names what is not there.');
    roots.join(supply, demand);
    nodeOfLink[index] = supply;
  }
  const parts = new Map<number, GatheredPart>();
  for (const [index, link] of links.entries()) {
    const root = roots.rootOf(nodeOfLink[index]!);
    const part = parts.get(root);
    if (part === undefined) parts.set(root, { supplies: [], demands: [], links: [link] });
    else part.links.push(link);
  }
  for (const [node, supply] of supplies.entries()) parts.get(roots.rootOf(node))?.supplies.push(supply);
  for (const [index, demand] of demands.entries()) parts.get(roots.rootOf(supplies.length + index))?.demands.push(demand);
  return [...parts.values()];
}

function nodesOf(named: readonly { readonly id: string }[], first: number): Map<string, number> {
  const nodes = new Map<string, number>();
  for (const { id } of named) nodes.set(id, first + nodes.size);
  if (nodes.size !== named.length) throw new RangeError('An id comes twice.');
  return nodes;
}

/** Which of so many belong together, by joining two at a time. */
class Joined {
  private readonly above: Int32Array;

  constructor(count: number) {
    this.above = Int32Array.from({ length: count }, (_, index) => index);
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
