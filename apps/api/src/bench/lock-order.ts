import { BeginAgain } from '../platform/database/database-failure.js';

/** After so many the scan locks out of order, and Postgres sees to it that somebody gives way. */
const beginningsMax = 2;

/** Things that a scan has to lock together with the one in hand, in the order of their ids: found out by a try that is then undone. */
export class LockOrder {
  private readonly together = new Set<string>();
  private beginnings = 0;

  /** To be locked with the thing in hand. */
  with(thingId: string): string[] {
    return [...this.together, thingId];
  }

  /** Whether these may be locked now, after what is locked already. @throws BeginAgain where they come before it: they are locked first then */
  follow(thingId: string, ids: readonly string[]): void {
    const last = this.with(thingId).toSorted().at(-1) ?? thingId;
    if (ids.every((id) => id > last || this.together.has(id)) || this.beginnings === beginningsMax) return;
    this.beginnings += 1;
    for (const id of ids) this.together.add(id);
    throw new BeginAgain();
  }
}
