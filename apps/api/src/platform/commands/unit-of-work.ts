import { Injectable } from '@nestjs/common';
import type { Pool, PoolClient, QueryResultRow } from 'pg';
import { Database, type Reader } from '../database/database.js';
import { isPassingConflict, refusalOfConstraint } from '../database/database-failure.js';
import { rowOf, rowsOf } from '../database/statements.js';
import { NewsRelay } from '../news/news-relay.js';
import { type Refusal, RefusalError, type Result } from '../refusal.js';
import type { Command } from './command.js';

/** A transaction under way. It is passed, never ambient and never nested. */
export class Transaction implements Reader {
  private readonly topics = new Set<string>();

  constructor(
    private readonly client: PoolClient,
    readonly command: Command,
  ) {}

  rows<Row extends QueryResultRow>(text: string, values: readonly unknown[] = []): Promise<Row[]> {
    return rowsOf<Row>(this.client, text, values);
  }

  row<Row extends QueryResultRow>(text: string, values: readonly unknown[] = []): Promise<Row | null> {
    return rowOf<Row>(this.client, text, values);
  }

  /** Says what other screens may want to fetch again; told after the commit. */
  news(...topics: string[]): void {
    for (const topic of topics) this.topics.add(topic);
  }

  get newsTopics(): string[] {
    return [...this.topics];
  }
}

const triesMax = 4;

const insertCommand = `
  INSERT INTO commands (key, person_id, device_id, made_at, route, request_hash)
  VALUES ($1, $2, $3, $4, $5, $6) ON CONFLICT (key) DO NOTHING RETURNING 1 AS claimed`;
const insertOutcome = 'INSERT INTO outcomes (command_key, status, body) VALUES ($1, $2, $3)';
const insertOutcomeAndNews = `
  WITH told AS (INSERT INTO outbox (topics) VALUES ($4))
  INSERT INTO outcomes (command_key, status, body) VALUES ($1, $2, $3)`;
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
  async run<T>(command: Command, work: (transaction: Transaction) => Promise<Result<T>>): Promise<T> {
    for (let attempt = 1; ; attempt += 1) {
      try {
        return await this.attempt(command, work);
      } catch (error) {
        if (!isPassingConflict(error) || attempt === triesMax) throw error;
      }
    }
  }

  private async attempt<T>(command: Command, work: (transaction: Transaction) => Promise<Result<T>>): Promise<T> {
    const outcome = await inTransaction(this.database.pool, async (client) => {
      if (!(await claim(client, command))) return { replay: true as const };
      const transaction = new Transaction(client, command);
      const result = await work(transaction);
      if (!result.ok) throw new RefusedInside(result.error);
      const topics = transaction.newsTopics;
      const values = [command.key, 200, JSON.stringify(result.value)];
      if (topics.length > 0) await rowsOf(client, insertOutcomeAndNews, [...values, topics]);
      else await rowsOf(client, insertOutcome, values);
      return { replay: false as const, value: result.value, topics };
    }).catch((error: unknown) => {
      const refusal =
        error instanceof RefusedInside
          ? error.refusal
          : error instanceof RefusalError
            ? error.refusal
            : refusalOfConstraint(error);
      if (!refusal) throw error;
      return { replay: false as const, refusal };
    });
    if (outcome.replay) return this.replay<T>(command);
    if ('refusal' in outcome) return this.keepRefusal<T>(command, outcome.refusal);
    if (outcome.topics.length > 0) this.relay.afterCommit(outcome.topics);
    return outcome.value;
  }

  private async keepRefusal<T>(command: Command, refusal: Refusal): Promise<T> {
    const kept = await inTransaction(this.database.pool, async (client) => {
      if (!(await claim(client, command))) return false;
      await rowsOf(client, insertOutcome, [command.key, refusal.status, JSON.stringify(refusal)]);
      return true;
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

class RefusedInside extends Error {
  constructor(readonly refusal: Refusal) {
    super(refusal.detail);
  }
}

async function claim(client: PoolClient, command: Command): Promise<boolean> {
  const row = await rowOf(client, insertCommand, [
    command.key,
    command.person.id,
    command.deviceId,
    command.madeAt,
    command.route,
    command.requestHash,
  ]);
  return row !== null;
}

/** One transaction on one connection; rolled back when the work throws. A broken connection is thrown away. */
export async function inTransaction<T>(pool: Pool, work: (client: PoolClient) => Promise<T>): Promise<T> {
  const client = await pool.connect();
  let broken: Error | undefined;
  try {
    await client.query('BEGIN');
    const value = await work(client);
    await client.query('COMMIT');
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
