import type { Network } from './network.js';
import { NodeHeap } from './node-heap.js';
import type { PackedCosts } from './packed-costs.js';

/**
 * What is given so far in a part, and the search for the cheapest way to give one demand more: by a supply that has some left, or from another
 * demand that takes of another supply instead, and so on to a supply that has some left.
 *
 * A node is a supply or a demand; a way from node v ends at a demand of the level that is served, and costs the links that it gives by less
 * those that it takes back. dist(v) is the cost of the cheapest, found from its end backwards by Dijkstra's search with potentials p, nearest
 * first by dist(v) + p(v). When the search comes to the first supply g that has some left, every node before it gets p(v) = dist(g) - dist(v),
 * a difference of the costs of two ways, and all others keep theirs; nought where none was set. That is the usual change of potentials (by what
 * a node is nearer than g), and no reduced cost c + p(from) - p(to) falls below nought by it. A supply that has some left never was one of
 * those before g, so its p is nought, and it needs no source to lead to it.
 * Of ways that cost the same the one of fewest links is taken, then by the order of the links: which it is depends on what was given alone.
 *
 * Where no supply with some left is found, none leads to any node that was seen, now or ever after: they are spent, and never looked at again.
 * A level that is done therefore needs no sink to keep its sum. Either all of it is served, or all ways to what it still asks for are spent.
 */
export class Residual {
  /** of each supply, what is left; of each demand, what it still asks for; of each link, what is given by it */
  private readonly left: Float64Array;
  private readonly wanted: Float64Array;
  readonly given: Float64Array;
  /** of each supply, the links by which anything is given */
  private readonly givingOf: number[][];
  /** `width` numbers for each node: the cost of the cheapest way so far, the potential, and both together */
  private readonly distance: Float64Array;
  private readonly potential: Float64Array;
  private readonly nearness: Float64Array;
  /** the cost of the way that is looked at */
  private readonly further: Float64Array;
  private readonly hops: Int32Array;
  /** the link by which a node's way begins; -1 at a way's end */
  private readonly goesBy: Int32Array;
  /** the search in which a node was seen last, and in which its way was settled; a spent one is settled in all */
  private readonly seenIn: Int32Array;
  private readonly settledIn: Float64Array;
  private searches = 0;
  private readonly settled: number[] = [];
  /** of the supplies that have some left, the nearest that was seen; -1 for none */
  private goal = -1;
  private readonly heap: NodeHeap;

  constructor(
    private readonly network: Network,
    private readonly costs: PackedCosts,
  ) {
    const nodes = network.supplies.length + network.demands.length;
    this.left = Float64Array.from(network.supplies, ({ quantity }) => quantity);
    this.wanted = Float64Array.from(network.demands, ({ quantity }) => quantity);
    this.given = new Float64Array(network.links.length);
    this.givingOf = network.supplies.map(() => []);
    this.distance = new Float64Array(nodes * costs.width);
    this.potential = new Float64Array(nodes * costs.width);
    this.nearness = new Float64Array(nodes * costs.width);
    this.further = new Float64Array(costs.width);
    this.hops = new Int32Array(nodes);
    this.goesBy = new Int32Array(nodes);
    this.seenIn = new Int32Array(nodes);
    this.settledIn = new Float64Array(nodes);
    this.heap = new NodeHeap(nodes, (one, other) => this.isNearer(one, other));
  }

  /** Gives the demands from `first` up to, not with, `end` as much as can be given, at the least cost. Whoever was served before keeps as much. */
  serve(first: number, end: number): void {
    for (let supply = this.search(first, end); supply !== -1; supply = this.search(first, end)) {
      this.takeIn(supply);
      this.giveAlong(supply);
    }
    this.spend();
  }

  /** The nearest supply that has some left; -1 for none. */
  private search(first: number, end: number): number {
    this.begin(first, end);
    const supplies = this.network.supplies.length;
    for (let node = this.heap.take(); node !== -1; node = this.heap.take()) {
      if (this.goal !== -1 && this.isNearer(this.goal, node)) break;
      this.settledIn[node] = this.searches;
      this.settled.push(node);
      if (node < supplies) this.lookFromSupply(node);
      else this.lookFromDemand(node - supplies);
    }
    return this.goal;
  }

  private begin(first: number, end: number): void {
    const { width } = this.costs;
    this.searches += 1;
    this.goal = -1;
    this.settled.length = 0;
    this.heap.clear();
    for (let demand = first; demand < end; demand += 1) {
      const node = this.network.supplies.length + demand;
      if (this.wanted[demand] === 0) continue;
      this.distance.fill(0, node * width, (node + 1) * width);
      for (let at = node * width; at < (node + 1) * width; at += 1) this.nearness[at] = this.potential[at]!;
      this.hops[node] = 0;
      this.goesBy[node] = -1;
      this.seenIn[node] = this.searches;
      this.heap.raise(node);
    }
  }

  /** A supply may give to a demand by any link. */
  private lookFromDemand(demand: number): void {
    const { supplyOf, firstOfDemand, supplies } = this.network;
    const from = supplies.length + demand;
    // the links of one demand have the same numbers, so that each puts its own where the one before put its
    this.setOut(from);
    for (let link = firstOfDemand[demand]!; link < firstOfDemand[demand + 1]!; link += 1)
      this.look(from, link, 1, supplyOf[link]!);
  }

  /** A demand can give back to a supply what it has of it. */
  private lookFromSupply(supply: number): void {
    const { demandOf, supplies } = this.network;
    for (const link of this.givingOf[supply]!) {
      this.setOut(supply);
      this.look(supply, link, -1, supplies.length + demandOf[link]!);
    }
  }

  private look(from: number, link: number, sign: 1 | -1, node: number): void {
    if (this.settledIn[node]! >= this.searches) return;
    this.goBy(from, link, sign);
    if (!this.isBetter(from, link, node) || this.isBeyondGoal(node)) return;
    this.takeWay(node);
    this.hops[node] = this.hops[from]! + 1;
    this.goesBy[node] = link;
    if (node >= this.network.supplies.length || this.left[node] === 0) this.heap.raise(node);
    else if (this.goal === -1 || this.isNearer(node, this.goal)) this.goal = node;
  }

  private setOut(from: number): void {
    const { width } = this.costs;
    for (let number = 0; number < width; number += 1) this.further[number] = this.distance[from * width + number]!;
  }

  private goBy(from: number, link: number, sign: 1 | -1): void {
    const { width, places, firstPlace, amounts, firstAmount } = this.costs;
    const demand = this.network.demandOf[link]!;
    let amount = firstAmount[link]!;
    for (let at = firstPlace[demand]!; at < firstPlace[demand + 1]!; at += 1) {
      const number = places[at]!;
      this.further[number] = this.distance[from * width + number]! + sign * amounts[amount]!;
      amount += 1;
    }
  }

  /** Whether the way that begins by this link is the first that was found, or better than those that were. */
  private isBetter(from: number, link: number, node: number): boolean {
    if (this.seenIn[node] !== this.searches) return true;
    const { further, distance, hops } = this;
    const { width } = this.costs;
    const first = node * width;
    for (let number = 0; number < width; number += 1)
      if (further[number] !== distance[first + number]) return further[number]! < distance[first + number]!;
    const fewer = hops[node]! - hops[from]! - 1;
    return fewer > 0 || (fewer === 0 && link < this.goesBy[node]!);
  }

  /** Whether a supply that has some left is nearer than the node would be by that way, so that nobody will ask how far it is. */
  private isBeyondGoal(node: number): boolean {
    const { goal, further, potential, distance } = this;
    const { width } = this.costs;
    if (goal === -1) return false;
    for (let number = 0; number < width; number += 1) {
      const beyond = further[number]! + potential[node * width + number]! - distance[goal * width + number]!;
      if (beyond !== 0) return beyond > 0;
    }
    return false;
  }

  private takeWay(node: number): void {
    const { width } = this.costs;
    for (let number = 0; number < width; number += 1) {
      const at = node * width + number;
      this.distance[at] = this.further[number]!;
      this.nearness[at] = this.further[number]! + this.potential[at]!;
    }
    this.seenIn[node] = this.searches;
  }

  private isNearer(one: number, other: number): boolean {
    const { nearness, hops } = this;
    const { width } = this.costs;
    for (let number = 0; number < width; number += 1) {
      const [of, than] = [nearness[one * width + number]!, nearness[other * width + number]!];
      if (of !== than) return of < than;
    }
    return hops[one] === hops[other] ? one < other : hops[one]! < hops[other]!;
  }

  private takeIn(supply: number): void {
    const { width } = this.costs;
    for (const node of this.settled)
      for (let number = 0; number < width; number += 1)
        this.potential[node * width + number] = this.distance[supply * width + number]! - this.distance[node * width + number]!;
  }

  /** As much as can go along the way that was found: given by its first link, taken back along its second, and so on. */
  private giveAlong(supply: number): void {
    const way = this.wayFrom(supply);
    const demand = this.network.demandOf[way.at(-1)!]!;
    let most = Math.min(this.left[supply]!, this.wanted[demand]!);
    for (let at = 1; at < way.length; at += 2) most = Math.min(most, this.given[way[at]!]!);
    for (const [at, link] of way.entries()) this.give(link, at % 2 === 0 ? most : -most);
    this.left[supply]! -= most;
    this.wanted[demand]! -= most;
  }

  private give(link: number, more: number): void {
    const giving = this.givingOf[this.network.supplyOf[link]!]!;
    if (this.given[link] === 0) giving.push(link);
    this.given[link]! += more;
    if (this.given[link] === 0) giving.splice(giving.indexOf(link), 1);
  }

  private wayFrom(supply: number): number[] {
    const { supplies, supplyOf, demandOf } = this.network;
    const way: number[] = [];
    for (let node = supply; this.goesBy[node] !== -1; ) {
      const link = this.goesBy[node]!;
      way.push(link);
      node = node < supplies.length ? supplies.length + demandOf[link]! : supplyOf[link]!;
    }
    return way;
  }

  /** Nothing leads to what the last search saw. */
  private spend(): void {
    for (const node of this.settled) this.settledIn[node] = Number.POSITIVE_INFINITY;
  }
}
