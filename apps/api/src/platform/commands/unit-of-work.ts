import { Injectable } from '@nestjs/common';
import type { Pool, PoolClient, QueryResultRow } from 'pg';
import { Database, type Reader } from '../database/database.js';
import { isPassingConflict, refusalOfConstraint } from '../database/database-failure.js';
import { rowOf, rowsOf } from '../database/statements.js';
import { NewsRelay } from '../news/news-relay.js';
import { type Refusal, RefusalError, type Result } from '../refusal.js';
import type { Command } from './command.js';

/**
 * A transaction under way. It is passed, never ambient and never nested. Postgres runs its statements in the order in which
 * they were asked for, so those that do not need one another's answers may be asked for together.
 */
export class OpenTransaction implements Reader {
  private readonly topics = new Set<string>();
  /** Why Postgres refuses all further statements; null while it does not. */
  private failure: unknown = null;
  private lastSent: Promise<unknown> = Promise.resolve();

  constructor(private readonly client: PoolClient) {}

  /** @throws whatever failed first: what Postgres says to every statement after it is no reason */
  async rows<Row extends QueryResultRow>(text: string, values: readonly unknown[] = []): Promise<Row[]> {
    try {
      const rows = await rowsOf<Row>(this.client, text, values);
      // It ran, so the transaction is whole, or whole again up to a savepoint.
      this.failure = null;
      return rows;
    } catch (error) {
      this.failure ??= error;
      throw this.failure;
    }
  }

  async row<Row extends QueryResultRow>(text: string, values: readonly unknown[] = []): Promise<Row | null> {
    const [row] = await this.rows<Row>(text, values);
    return row ?? null;
  }

  /** Sends a statement whose answer nobody waits for. Should it fail, so does every later one, with its reason. */
  send(text: string, values: readonly unknown[]): void {
    this.lastSent = this.rows(text, values).catch(() => undefined);
  }

  /** Waits for what was sent. @throws what failed, if anything did */
  async settled(): Promise<void> {
    await this.lastSent;
    if (this.failure !== null) throw this.failure;
  }

  /** Says what other screens may want to fetch again; told after the commit. */
  news(...topics: string[]): void {
    for (const topic of topics) this.topics.add(topic);
  }

  get newsTopics(): string[] {
    return [...this.topics];
  }
}

/** The transaction of a command. */
export class Transaction extends OpenTransaction {
  constructor(
    client: PoolClient,
    readonly command: Command,
  ) {
    super(client);
  }
}

type Work<T> = (transaction: Transaction) => Promise<Result<T>>;
/** @param claimed rejects where the key was used before */
type WorkOnceClaimed<T> = (claimed: Promise<void>, transaction: Transaction) => Promise<Result<T>>;

const triesMax = 4;

const insertCommand = `
  INSERT INTO commands (key, person_id, device_id, made_at, route, request_hash)
  VALUES ($1, $2, $3, $4, $5, $6) ON CONFLICT (key) DO NOTHING RETURNING 1 AS claimed`;
const insertOutcome = 'INSERT INTO outcomes (command_key, status, body) VALUES ($1, $2, $3)';
const insertOutcomeAndNews = `
  WITH told AS (INSERT INTO outbox (topics) VALUES ($4))
  INSERT INTO outcomes (command_key, status, body) VALUES ($1, $2, $3)`;
const insertNews = 'INSERT INTO outbox (topics) VALUES ($1)';
const readOutcome = `
  SELECT person_id, request_hash, status, body FROM commands JOIN outcomes ON command_key = key WHERE key = $1`;

/**
 * Runs a command in one transaction: claims its key, does the work, keeps the outcome. Sent again, it gives the first
 * outcome. A refusal is an outcome too; its changes, if any, are undone.
 */
@Injectable()
export class UnitOfWork {
  constructor(
    private readonly database: Database,
    private readonly relay: NewsRelay,
  ) {}

  /** @throws RefusalError with the refusal, so that the problem filter writes it */
  run<T>(command: Command, work: Work<T>): Promise<T> {
    return tryUntilAlone(() =>
      this.attempt(command, async (claimed, transaction) => {
        await claimed;
        return work(transaction);
      }),
    );
  }

  /**
   * The same for work that touches nothing but its transaction: its first statements travel with the claim of the key. Where
   * the key turns out to have been used, all that it did is undone.
   */
  runAtOnce<T>(command: Command, work: Work<T>): Promise<T> {
    return tryUntilAlone(() =>
      this.attempt(command, async (claimed, transaction) => {
        const [result] = await Promise.allSettled([work(transaction)]);
        await claimed;
        if (result.status === 'rejected') throw result.reason;
        return result.value;
      }),
    );
  }

  /** What the clock brings about by itself: no command, and nobody's doing. */
  byTheClock<T>(work: (transaction: OpenTransaction) => Promise<T>): Promise<T> {
    return tryUntilAlone(async () => {
      const { value, topics } = await inTransaction(this.database.pool, async (client, last) => {
        const transaction = new OpenTransaction(client);
        const value = await work(transaction);
        await transaction.settled();
        const topics = transaction.newsTopics;
        if (topics.length > 0) last(transaction.rows(insertNews, [topics]));
        return { value, topics };
      });
      if (topics.length > 0) this.relay.afterCommit(topics);
      return value;
    });
  }

  private async attempt<T>(command: Command, work: WorkOnceClaimed<T>): Promise<T> {
    const outcome = await inTransaction(this.database.pool, async (client, last) => {
      const claimed = claim(client, command);
      claimed.catch(() => undefined);
      const transaction = new Transaction(client, command);
      const result = await work(claimed, transaction);
      if (!result.ok) throw new RefusalError(result.error);
      const topics = transaction.newsTopics;
      const values = [command.key, 200, JSON.stringify(result.value)];
      last(
        topics.length > 0 ? transaction.rows(insertOutcomeAndNews, [...values, topics]) : transaction.rows(insertOutcome, values),
      );
      return { value: result.value, topics };
    }).catch((error: unknown) => {
      if (error instanceof KeyUsed) return 'replay' as const;
      const refusal = error instanceof RefusalError ? error.refusal : refusalOfConstraint(error);
      if (!refusal) throw error;
      return { refusal };
    });
    if (outcome === 'replay') return this.replay<T>(command);
    if ('refusal' in outcome) return this.keepRefusal<T>(command, outcome.refusal);
    if (outcome.topics.length > 0) this.relay.afterCommit(outcome.topics);
    return outcome.value;
  }

  private async keepRefusal<T>(command: Command, refusal: Refusal): Promise<T> {
    const kept = await inTransaction(this.database.pool, async (client, last) => {
      await claim(client, command);
      last(rowsOf(client, insertOutcome, [command.key, refusal.status, JSON.stringify(refusal)]));
      return true;
    }).catch((error: unknown) => {
      if (error instanceof KeyUsed) return false;
      throw error;
    });
    // Another sender of the same key was quicker: its outcome is the outcome.
    if (!kept) return this.replay<T>(command);
    throw new RefusalError(refusal);
  }

  private async replay<T>(command: Command): Promise<T> {
    const first = await this.database.row<{ person_id: string | null; request_hash: Buffer; status: number; body: unknown }>(
      readOutcome,
      [command.key],
    );
    if (!first) throw new Error(`The command ${command.key} is claimed and has no outcome`);
    if (first.person_id !== command.person.id || !first.request_hash.equals(command.requestHash))
      throw new RefusalError({
        status: 422,
        code: 'key-used-otherwise',
        title: 'The key was used',
        detail: 'This key was used for another change. Nothing was changed now: send it with a key of its own.',
      });
    if (first.status >= 400) throw new RefusalError(first.body as Refusal);
    return first.body as T;
  }
}

async function tryUntilAlone<T>(attempt: () => Promise<T>): Promise<T> {
  for (let tries = 1; ; tries += 1) {
    try {
      return await attempt();
    } catch (error) {
      if (!isPassingConflict(error) || tries === triesMax) throw error;
    }
  }
}

class KeyUsed extends Error {}

/** @throws KeyUsed where the key was claimed before; whoever claimed it has ended by then */
async function claim(client: PoolClient, command: Command): Promise<void> {
  const row = await rowOf(client, insertCommand, [
    command.key,
    command.person.id,
    command.deviceId,
    command.madeAt,
    command.route,
    command.requestHash,
  ]);
  if (row === null) throw new KeyUsed();
}

/**
 * One transaction on one connection; rolled back when the work throws. A broken connection is thrown away.
 * @param work may name its `last` statement, sent and not waited for: it travels with COMMIT, which undoes all if it failed
 */
export async function inTransaction<T>(
  pool: Pool,
  work: (client: PoolClient, last: (statement: Promise<unknown>) => void) => Promise<T>,
): Promise<T> {
  const client = await pool.connect();
  let broken: Error | undefined;
  let last: Promise<unknown> = Promise.resolve();
  try {
    const begun = client.query('BEGIN');
    // Told below, before anything is kept.
    begun.catch(() => undefined);
    const value = await work(client, (statement) => {
      last = statement;
      last.catch(() => undefined);
    });
    await begun;
    const committed = client.query('COMMIT');
    committed.catch(() => undefined);
    await last;
    await committed;
    return value;
  } catch (error) {
    await client.query('ROLLBACK').catch((failure: Error) => {
      broken = failure;
    });
    throw error;
  } finally {
    client.release(broken);
  }
}
