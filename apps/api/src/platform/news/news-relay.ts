import { Injectable, type OnModuleDestroy, type OnModuleInit } from '@nestjs/common';
import pg from 'pg';
import { type Observable, Subject } from 'rxjs';
import { Database } from '../database/database.js';
import { Log } from '../log.js';

const channel = 'corewright_news';
/** News gathered for so long goes out in one notice. */
const gatherMilliseconds = 40;
/** While much is committed, news go out no closer together than this. */
const apartMilliseconds = 150;
/** Rows that a server left behind when it died are told by another. */
const sweepMilliseconds = 5_000;
const reconnectMilliseconds = 1_000;
/** A notice holds 8,000 bytes at most; a topic has at most 45. */
const topicsPerNotice = 150;

/**
 * Takes news and tells them in one statement. It does not wait for the disk: news that a power cut brings back are told twice,
 * which harms nobody, and the scans of a busy minute would have to wait their turn behind it.
 */
const carryNews = `
  WITH taken AS (SELECT id FROM outbox ORDER BY id LIMIT 500 FOR UPDATE SKIP LOCKED),
       gone AS (DELETE FROM outbox USING taken WHERE outbox.id = taken.id RETURNING topics),
       told AS (SELECT topic, (row_number() OVER () - 1) / ${topicsPerNotice} AS notice FROM (SELECT DISTINCT unnest(topics) AS topic FROM gone) AS each)
  SELECT set_config('synchronous_commit', 'off', true), pg_notify($1, json_agg(topic)::text) FROM told GROUP BY notice`;

/**
 * Carries news from the outbox to every server process, and from there to the screens. News are hints: one that is lost
 * costs a screen that is late, never a wrong book.
 */
@Injectable()
export class NewsRelay implements OnModuleInit, OnModuleDestroy {
  private readonly heard = new Subject<string[]>();
  private readonly committed = new Subject<string[]>();
  private gathering: NodeJS.Timeout | null = null;
  private sweep: NodeJS.Timeout | null = null;
  private listener: pg.Client | null = null;
  private carrying: Promise<void> | null = null;
  private carriedAt = Number.NEGATIVE_INFINITY;
  private stopped = false;

  constructor(
    private readonly database: Database,
    private readonly log: Log,
  ) {}

  /** What this process committed, at once; other processes hear it a moment later as news. */
  get committedHere(): Observable<string[]> {
    return this.committed.asObservable();
  }

  /** Whether news of other processes reach this one just now. */
  get listening(): boolean {
    return this.listener !== null;
  }

  /** A command committed with these topics in the outbox. */
  afterCommit(topics: string[]): void {
    this.committed.next(topics);
    this.poke();
  }

  /** Tells something that no command carries. */
  async tell(...topics: string[]): Promise<void> {
    this.committed.next(topics);
    await this.database.rows('INSERT INTO outbox (topics) VALUES ($1)', [topics]);
    this.poke();
  }

  get news(): Observable<string[]> {
    return this.heard.asObservable();
  }

  async onModuleInit(): Promise<void> {
    await this.listen();
    this.sweep = setInterval(() => this.poke(), sweepMilliseconds);
    this.sweep.unref();
  }

  async onModuleDestroy(): Promise<void> {
    this.stopped = true;
    if (this.sweep) clearInterval(this.sweep);
    if (this.gathering) clearTimeout(this.gathering);
    await this.carrying;
    await this.listener?.end().catch(() => undefined);
    this.heard.complete();
    this.committed.complete();
  }

  /** Something was committed: carry it on soon. */
  poke(): void {
    if (this.gathering || this.stopped) return;
    const wait = Math.max(gatherMilliseconds, this.carriedAt + apartMilliseconds - performance.now());
    this.gathering = setTimeout(() => {
      this.gathering = null;
      this.carrying = this.carry().catch((error: unknown) =>
        this.log.warn({ error: String(error) }, 'news could not be carried; they will be'),
      );
    }, wait);
    this.gathering.unref();
  }

  private async carry(): Promise<void> {
    this.carriedAt = performance.now();
    await this.database.rows(carryNews, [channel]);
  }

  private async listen(): Promise<void> {
    const client = new pg.Client({ connectionString: this.database.servingUrl, application_name: 'corewright news' });
    let listens = false;
    client.on('notification', (notice) => this.heard.next(JSON.parse(notice.payload ?? '[]') as string[]));
    // An error is followed by the end, and only the end of a listener that stood makes another: an attempt that fails is
    // followed by one attempt, or in a long outage they would grow in number until the database has no connection left.
    client.on('error', () => undefined);
    client.on('end', () => {
      if (listens) this.listenAgain();
    });
    try {
      await client.connect();
      await client.query(`LISTEN ${channel}`);
    } catch (error) {
      await client.end().catch(() => undefined);
      throw error;
    }
    listens = true;
    this.listener = client;
    if (this.stopped) await client.end();
  }

  private listenAgain(): void {
    if (this.stopped) return;
    this.listener = null;
    const timer = setTimeout(() => {
      // While nobody listened, news went by: a screen fetches all again on `everything`.
      this.listen().then(
        () => this.heard.next(['everything']),
        () => this.listenAgain(),
      );
    }, reconnectMilliseconds);
    timer.unref();
  }
}
