import { Injectable, type OnApplicationBootstrap, type OnModuleDestroy } from '@nestjs/common';
import type { Subscription } from 'rxjs';
import { WorkshopClock } from '../people/workshop.js';
import { Database } from '../platform/database/database.js';
import { Log } from '../platform/log.js';
import { NewsRelay } from '../platform/news/news-relay.js';
import { alone } from './alone.js';
import { CoverLook, type Looked, type ToLookAt } from './cover-look.js';
import { Lane } from './lane.js';
import { everyJob, hintOf } from './touched.js';

/** The key of the advisory lock under which one server at a time looks. */
const lookKey = 1_668_248_951;
const tryAgainMilliseconds = 2_000;
const dayCheckMilliseconds = 20_000;

const insertNews = 'INSERT INTO outbox (topics) VALUES ($1)';

/**
 * Watches what is committed here, and every job at the start and whenever the workshop's day changes, so that whoever counts on a job hears
 * once of what went wrong. It runs beside the commands, after they were answered: what fails is tried again, and nobody waits for it.
 */
@Injectable()
export class CoverWatch implements OnApplicationBootstrap, OnModuleDestroy {
  /** what was committed just now */
  private readonly touched = new Lane(8, 9, 600);
  /** all jobs, in turn: a few at a time, since what is touched waits for those that are under way */
  private readonly inPassing = new Lane(4, 19, 1_000);
  private day = '';
  private sleepers = 0;
  private stopped = false;
  private timer: NodeJS.Timeout | null = null;
  private looking: Promise<void> | null = null;
  private dayCheck: NodeJS.Timeout | null = null;
  private hearing: Subscription | null = null;

  constructor(
    private readonly database: Database,
    private readonly relay: NewsRelay,
    private readonly clock: WorkshopClock,
    private readonly look: CoverLook,
    private readonly log: Log,
  ) {}

  onApplicationBootstrap(): void {
    this.hearing = this.relay.committedHere.subscribe((topics) => this.hear(topics));
    this.dayCheck = setInterval(() => void this.lookAtTheDay(), dayCheckMilliseconds);
    this.dayCheck.unref();
    void this.lookAtTheDay();
  }

  async onModuleDestroy(): Promise<void> {
    this.stopped = true;
    this.hearing?.unsubscribe();
    if (this.dayCheck) clearInterval(this.dayCheck);
    if (this.timer) clearTimeout(this.timer);
    await this.looking;
  }

  /** While this is done nothing is looked at: what it brings about is how things stand, and is no news. */
  async asleep<T>(work: () => Promise<T>): Promise<T> {
    this.sleepers += 1;
    try {
      await this.looking;
      return await work();
    } finally {
      this.sleepers -= 1;
      this.wake();
    }
  }

  /** Where the workshop's day is another than when all was looked at, everything is looked at. */
  async lookAtTheDay(): Promise<void> {
    const day = await this.clock.today().catch(() => this.day);
    if (day === this.day) return;
    this.day = day;
    await this.goThroughAll();
  }

  private hear(topics: readonly string[]): void {
    const hint = hintOf(topics);
    if (hint === null) return;
    this.touched.add(hint);
    if (hint.everything) void this.goThroughAll();
    this.wake();
  }

  private async goThroughAll(): Promise<void> {
    try {
      this.inPassing.add({ jobIds: await everyJob(this.database) });
    } catch (error) {
      this.tell(error);
      // the next check of the day goes through all again
      this.day = '';
    }
    this.wake();
  }

  private wake(): void {
    if (this.looking || this.stopped || this.sleepers > 0) return;
    if (this.timer) clearTimeout(this.timer);
    this.timer = null;
    const due = Math.min(this.touched.due, this.inPassing.due);
    if (due === Number.POSITIVE_INFINITY) return;
    this.timer = setTimeout(() => this.begin(), Math.max(0, due - performance.now()));
    this.timer.unref();
  }

  private begin(): void {
    this.timer = null;
    if (this.sleepers > 0) return;
    const lane = this.touched.due <= this.inPassing.due ? this.touched : this.inPassing;
    this.looking = this.lookOnce(lane).finally(() => {
      this.looking = null;
      this.wake();
    });
  }

  private async lookOnce(lane: Lane): Promise<void> {
    const started = performance.now();
    const taken = lane.take();
    try {
      const { topics, jobsToo } = await this.lookAt(taken);
      if (topics.length > 0) this.relay.poke();
      this.touched.add({ jobIds: jobsToo });
      lane.restAfter(performance.now() - started);
    } catch (error) {
      lane.add(taken);
      lane.restFor(tryAgainMilliseconds);
      this.tell(error);
    }
  }

  private lookAt(taken: ToLookAt): Promise<Looked> {
    return alone(this.database.pool, lookKey, async (reader) => {
      const looked = await this.look.at(reader, taken);
      if (looked.topics.length > 0) await reader.rows(insertNews, [looked.topics]);
      return looked;
    });
  }

  private tell(error: unknown): void {
    if (!this.stopped) this.log.warn({ error: String(error) }, 'the cover of jobs could not be looked at; it will be');
  }
}
