import { NodeHeap } from './node-heap.js';

/**
 * A network with what still can flow in it, and the search for the cheapest way from the source to a sink. A cost is a list of figures, compared
 * from the first on; potentials keep what is left of each cost at nought or more, so that Dijkstra's search serves.
 */
export class Residual {
  /** arcs from each node; an arc and the way back along it are neighbours: `arc ^ 1` */
  private readonly arcsFrom: number[][];
  private readonly to: number[] = [];
  private readonly left: number[] = [];
  /** `figures` numbers for each arc, for each node */
  private readonly cost: number[] = [];
  private readonly potential: number[];
  private distance = new Float64Array(0);
  private cameBy = new Int32Array(0);

  /** @param figures how many figures a cost has */
  constructor(
    nodes: number,
    private readonly figures: number,
  ) {
    this.arcsFrom = Array.from({ length: nodes }, () => []);
    this.potential = Array<number>(nodes * figures).fill(0);
  }

  addNode(): number {
    for (let figure = 0; figure < this.figures; figure += 1) this.potential.push(0);
    return this.arcsFrom.push([]) - 1;
  }

  /** Joins two nodes one way; returns the arc. No cost is nought. */
  join(from: number, to: number, capacity: number, cost: readonly number[] | null): number {
    const arc = this.to.push(to, from) - 2;
    this.left.push(capacity, 0);
    for (const sign of [1, -1])
      for (let figure = 0; figure < this.figures; figure += 1) this.cost.push(sign * (cost?.[figure] ?? 0));
    this.arcsFrom[from]!.push(arc);
    this.arcsFrom[to]!.push(arc + 1);
    return arc;
  }

  /** A sink into which so much can flow from each of these nodes, at no cost. What flows so far stays as cheap as it can be. */
  addSink(from: readonly { readonly node: number; readonly capacity: number }[]): number {
    const sink = this.addNode();
    for (const [index, { node, capacity }] of from.entries()) {
      if (index === 0 || this.isPotentialLess(node, sink)) this.copyPotential(node, sink);
      this.join(node, sink, capacity, null);
    }
    return sink;
  }

  /** What flows along an arc. */
  flowOf(arc: number): number {
    return this.left[arc ^ 1]!;
  }

  /** Sends as much as can go along one cheapest way; false where there is none. */
  augment(source: number, sink: number): boolean {
    if (!this.search(source, sink)) return false;
    let most = Number.POSITIVE_INFINITY;
    for (let node = sink; node !== source; node = this.to[this.cameBy[node]! ^ 1]!)
      most = Math.min(most, this.left[this.cameBy[node]!]!);
    for (let node = sink; node !== source; node = this.to[this.cameBy[node]! ^ 1]!) {
      const arc = this.cameBy[node]!;
      this.left[arc]! -= most;
      this.left[arc ^ 1]! += most;
    }
    return true;
  }

  /** Dijkstra's search from the source until the sink is settled; then all potentials take in what was found. */
  private search(source: number, sink: number): boolean {
    const nodes = this.arcsFrom.length;
    if (this.cameBy.length < nodes) {
      this.cameBy = new Int32Array(nodes);
      this.distance = new Float64Array(nodes * this.figures);
    }
    this.cameBy.fill(-1);
    this.distance.fill(0, source * this.figures, (source + 1) * this.figures);
    const settled = new Uint8Array(nodes);
    const heap = new NodeHeap(nodes, (one, other) => this.isNearer(one, other));
    heap.raise(source);
    for (let node = heap.take(); node !== -1; node = heap.take()) {
      settled[node] = 1;
      if (node === sink) {
        this.takeIn(settled, sink);
        return true;
      }
      for (const arc of this.arcsFrom[node]!) {
        const next = this.to[arc]!;
        if (this.left[arc] === 0 || settled[next] === 1 || next === source || !this.comesNearer(node, arc, next)) continue;
        this.cameBy[next] = arc;
        heap.raise(next);
      }
    }
    return false;
  }

  /** Takes the distance by this arc where it is less than what was found so far, or the first. */
  private comesNearer(node: number, arc: number, next: number): boolean {
    const { figures, distance, potential, cost } = this;
    const isFirst = this.cameBy[next] === -1;
    let isLess = isFirst;
    for (let figure = 0; figure < figures; figure += 1) {
      const [from, at] = [node * figures + figure, next * figures + figure];
      const by = distance[from]! + cost[arc * figures + figure]! + potential[from]! - potential[at]!;
      if (!isLess && by > distance[at]!) return false;
      if (isLess || by < distance[at]!) {
        isLess = true;
        distance[at] = by;
      }
    }
    return isLess;
  }

  private isNearer(one: number, other: number): boolean {
    for (let figure = 0; figure < this.figures; figure += 1) {
      const less = this.distance[one * this.figures + figure]! - this.distance[other * this.figures + figure]!;
      if (less !== 0) return less < 0;
    }
    return one < other;
  }

  /** What was settled is as far as was found; all else is as far as the sink at least. */
  private takeIn(settled: Uint8Array, sink: number): void {
    const { figures, distance, potential } = this;
    for (let node = 0; node < settled.length; node += 1) {
      const from = settled[node] === 1 ? node : sink;
      for (let figure = 0; figure < figures; figure += 1)
        potential[node * figures + figure]! += distance[from * figures + figure]!;
    }
  }

  private isPotentialLess(one: number, other: number): boolean {
    for (let figure = 0; figure < this.figures; figure += 1) {
      const less = this.potential[one * this.figures + figure]! - this.potential[other * this.figures + figure]!;
      if (less !== 0) return less < 0;
    }
    return false;
  }

  private copyPotential(from: number, to: number): void {
    for (let figure = 0; figure < this.figures; figure += 1)
      this.potential[to * this.figures + figure] = this.potential[from * this.figures + figure]!;
  }
}
