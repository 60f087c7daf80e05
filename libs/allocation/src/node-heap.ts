/** Nodes by nearness, the nearest on top; a node whose distance has become less is raised to where it belongs. */
export class NodeHeap {
  private readonly nodes: number[] = [];
  /** where each node stands; -1 is nowhere */
  private readonly placeOf: Int32Array;

  constructor(
    count: number,
    private readonly isNearer: (one: number, other: number) => boolean,
  ) {
    this.placeOf = new Int32Array(count).fill(-1);
  }

  /** Takes a node in, or raises it after it has come nearer. */
  raise(node: number): void {
    let at = this.placeOf[node]!;
    if (at === -1) at = this.nodes.push(node) - 1;
    while (at > 0) {
      const above = (at - 1) >> 1;
      if (!this.isNearer(node, this.nodes[above]!)) break;
      this.put(this.nodes[above]!, at);
      at = above;
    }
    this.put(node, at);
  }

  /** The nearest, which is then no longer there; -1 for none. */
  take(): number {
    const nearest = this.nodes[0];
    const last = this.nodes.pop();
    if (nearest === undefined || last === undefined) return -1;
    this.placeOf[nearest] = -1;
    if (last !== nearest) this.sink(last);
    return nearest;
  }

  /** Takes all out. */
  clear(): void {
    for (const node of this.nodes) this.placeOf[node] = -1;
    this.nodes.length = 0;
  }

  private sink(node: number): void {
    let at = 0;
    for (;;) {
      const [left, right] = [2 * at + 1, 2 * at + 2];
      if (left >= this.nodes.length) break;
      const below = right < this.nodes.length && this.isNearer(this.nodes[right]!, this.nodes[left]!) ? right : left;
      if (!this.isNearer(this.nodes[below]!, node)) break;
      this.put(this.nodes[below]!, at);
      at = below;
    }
    this.put(node, at);
  }

  private put(node: number, at: number): void {
    this.nodes[at] = node;
    this.placeOf[node] = at;
  }
}
