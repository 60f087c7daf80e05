import type { AllocationProblem, Demand, Link, Supply } from './allocation-problem.js';

/**
 * What hangs together by links, each part by itself: nothing in one part bears on another, so that a change is reckoned anew in its part alone.
 * Supplies and demands without a link stand in no part. The parts come in the order of their first link.
 */
export function connectedParts({ supplies, demands, links }: AllocationProblem): readonly AllocationProblem[] {
  const nodes = new Map<string, number>();
  for (const { id } of supplies) nodes.set(`s${id}`, nodes.size);
  for (const { id } of demands) nodes.set(`d${id}`, nodes.size);
  const roots = new Joined(nodes.size);
  for (const { supplyId, demandId } of links) roots.join(nodes.get(`s${supplyId}`)!, nodes.get(`d${demandId}`)!);
  const parts = new Map<number, { supplies: Supply[]; demands: Demand[]; links: Link[] }>();
  for (const link of links) {
    const root = roots.rootOf(nodes.get(`s${link.supplyId}`)!);
    const part = parts.get(root) ?? { supplies: [], demands: [], links: [] };
    part.links.push(link);
    parts.set(root, part);
  }
  for (const supply of supplies) parts.get(roots.rootOf(nodes.get(`s${supply.id}`)!))?.supplies.push(supply);
  for (const demand of demands) parts.get(roots.rootOf(nodes.get(`d${demand.id}`)!))?.demands.push(demand);
  return [...parts.values()];
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
