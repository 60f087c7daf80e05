/**
 * Lets one piece of work after another through, in the order of asking, and turns away what would wait too long.
 * So two tries at once cannot both be the fifth, and pass phrases are never hashed by the hundred.
 */
export class OneAtATime {
  private last: Promise<unknown> = Promise.resolve();
  private waiting = 0;

  constructor(private readonly waitingMax: number) {}

  /** @returns null when too many are waiting already */
  run<T>(work: () => Promise<T>): Promise<T> | null {
    if (this.waiting >= this.waitingMax) return null;
    this.waiting += 1;
    const turn = this.last.then(work).finally(() => {
      this.waiting -= 1;
    });
    this.last = turn.catch(() => undefined);
    return turn;
  }
}
