import type { ToLookAt } from './cover-look.js';

/** What was committed within so long is looked at together. */
const gatherMilliseconds = 150;

/** Of things and of parts so many at a time: where hundreds of scans a second come in, what was touched waits, and the scans do not. */
const thingsAtOnce = 30;

function takeFirst(waiting: Set<string>, most: number): string[] {
  const taken = [...waiting].slice(0, most);
  for (const id of taken) waiting.delete(id);
  return taken;
}

/** What waits to be looked at, and from when on it may be. */
export class Lane {
  /** the first come first */
  private readonly jobs = new Set<string>();
  private readonly things = new Set<string>();
  private readonly parts = new Set<string>();
  private since = Number.NEGATIVE_INFINITY;
  private restUntil = Number.NEGATIVE_INFINITY;

  /**
   * @param jobsAtOnce so many jobs at a time, so that what is under way is never long
   * @param restPerLook a look costs time that scans could use: it is followed by so many times its own length of rest,
   * @param restMax but by so many milliseconds at most: on a machine that is busy it waits more than it works
   */
  constructor(
    private readonly jobsAtOnce: number,
    private readonly restPerLook: number,
    private readonly restMax: number,
  ) {}

  get isEmpty(): boolean {
    return this.jobs.size + this.things.size + this.parts.size === 0;
  }

  /** When it may be looked at, by `performance.now()`; never where nothing waits. */
  get due(): number {
    return this.isEmpty ? Number.POSITIVE_INFINITY : Math.max(this.since + gatherMilliseconds, this.restUntil);
  }

  add({ jobIds, thingIds, partIds }: Partial<ToLookAt>): void {
    if (this.isEmpty) this.since = performance.now();
    for (const id of jobIds ?? []) this.jobs.add(id);
    for (const id of thingIds ?? []) this.things.add(id);
    for (const id of partIds ?? []) this.parts.add(id);
  }

  take(): ToLookAt {
    return {
      jobIds: takeFirst(this.jobs, this.jobsAtOnce),
      thingIds: takeFirst(this.things, thingsAtOnce),
      partIds: takeFirst(this.parts, thingsAtOnce),
    };
  }

  restAfter(milliseconds: number): void {
    this.restUntil = performance.now() + Math.min(this.restMax, this.restPerLook * milliseconds);
  }

  restFor(milliseconds: number): void {
    this.restUntil = performance.now() + milliseconds;
  }
}
