import { Injectable, type OnApplicationBootstrap, type OnModuleDestroy } from '@nestjs/common';
import type { Subscription } from 'rxjs';
import { WorkshopClock } from '../people/workshop.js';
import { Database } from '../platform/database/database.js';
import { Log } from '../platform/log.js';
import { NewsRelay } from '../platform/news/news-relay.js';
import { alone } from './alone.js';
import { CoverLook, type ToLookAt } from './cover-look.js';
import { everyJob, hintOf } from './touched.js';

/** The key of the advisory lock under which one server at a time looks. */
const lookKey = 1_668_248_951;
/** What was committed within so long is looked at together. */
const gatherMilliseconds = 150;
/** A look costs time that scans could use: while much is committed it is followed by so many times its own length of rest, up to a second. */
const restPerLook = 9;
const restMax = 1_000;
const tryAgainMilliseconds = 2_000;
/** So many jobs at a time: what is under way is never long, and what was just touched does not wait for the rest. */
const jobsAtOnce = 8;
const dayCheckMilliseconds = 20_000;

const insertNews = 'INSERT INTO outbox (topics) VALUES ($1)';

/**
 * Watches what is committed here, and every job at the start and whenever the workshop's day changes, so that whoever counts on a job hears
 * once of what went wrong. It runs beside the commands, after they were answered: what fails is tried again, and nobody waits for it.
 */
@Injectable()
export class CoverWatch implements OnApplicationBootstrap, OnModuleDestroy {
  /** the first come first */
  private readonly jobs = new Set<string>();
  private readonly things = new Set<string>();
  private readonly parts = new Set<string>();
  private everything = false;
  private day = '';
  private sleepers = 0;
  private stopped = false;
  private timer: NodeJS.Timeout | null = null;
  private looking: Promise<void> | null = null;
  private restUntil = Number.NEGATIVE_INFINITY;
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

  /** Whether the workshop's day is another than when all was looked at; then everything is looked at. */
  async lookAtTheDay(): Promise<void> {
    const day = await this.clock.today().catch(() => this.day);
    if (day === this.day) return;
    this.day = day;
    this.everything = true;
    this.wake();
  }

  private hear(topics: readonly string[]): void {
    const hint = hintOf(topics);
    if (hint === null) return;
    for (const id of hint.jobIds) this.jobs.add(id);
    for (const id of hint.thingIds) this.things.add(id);
    for (const id of hint.partIds) this.parts.add(id);
    this.everything ||= hint.everything;
    this.wake();
  }

  private wake(): void {
    const waiting = this.jobs.size + this.things.size + this.parts.size;
    if ((waiting === 0 && !this.everything) || this.timer || this.looking || this.stopped || this.sleepers > 0) return;
    const wait = Math.max(gatherMilliseconds, this.restUntil - performance.now());
    this.timer = setTimeout(() => {
      this.timer = null;
      if (this.sleepers > 0) return;
      this.looking = this.lookOnce().finally(() => {
        this.looking = null;
        this.wake();
      });
    }, wait);
    this.timer.unref();
  }

  private async lookOnce(): Promise<void> {
    const started = performance.now();
    let taken: ToLookAt = { jobIds: [], thingIds: [], partIds: [] };
    try {
      if (this.everything) {
        this.everything = false;
        await this.addEveryJob();
      }
      taken = this.take();
      if (taken.jobIds.length + taken.thingIds.length + taken.partIds.length === 0) return;
      const { topics, jobsToo } = await alone(this.database.pool, lookKey, async (reader) => {
        const looked = await this.look.at(reader, taken);
        if (looked.topics.length > 0) await reader.rows(insertNews, [looked.topics]);
        return looked;
      });
      for (const id of jobsToo) this.jobs.add(id);
      if (topics.length > 0) this.relay.poke();
      this.restUntil = performance.now() + Math.min(restMax, restPerLook * (performance.now() - started));
    } catch (error) {
      this.giveBack(taken);
      this.restUntil = performance.now() + tryAgainMilliseconds;
      if (!this.stopped) this.log.warn({ error: String(error) }, 'the cover of jobs could not be looked at; it will be');
    }
  }

  private async addEveryJob(): Promise<void> {
    try {
      for (const id of await everyJob(this.database)) this.jobs.add(id);
    } catch (error) {
      this.everything = true;
      throw error;
    }
  }

  private take(): ToLookAt {
    const jobIds = [...this.jobs].slice(0, jobsAtOnce);
    const [thingIds, partIds] = [[...this.things], [...this.parts]];
    for (const id of jobIds) this.jobs.delete(id);
    this.things.clear();
    this.parts.clear();
    return { jobIds, thingIds, partIds };
  }

  private giveBack({ jobIds, thingIds, partIds }: ToLookAt): void {
    for (const id of jobIds) this.jobs.add(id);
    for (const id of thingIds) this.things.add(id);
    for (const id of partIds) this.parts.add(id);
  }
}
