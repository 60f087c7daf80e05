import { Injectable } from '@nestjs/common';
import type { Pool, QueryResultRow } from 'pg';
import { rowOf, rowsOf } from './statements.js';

/** Something that answers statements: the pool, or a transaction under way. */
export interface Reader {
  rows<Row extends QueryResultRow>(text: string, values?: readonly unknown[]): Promise<Row[]>;
  row<Row extends QueryResultRow>(text: string, values?: readonly unknown[]): Promise<Row | null>;
}

/** Reads outside a transaction, through the pool of the serving login. */
@Injectable()
export class Database implements Reader {
  constructor(
    readonly pool: Pool,
    /** For the connection that listens for news; the serving login. */
    readonly servingUrl: string,
  ) {}

  rows<Row extends QueryResultRow>(text: string, values: readonly unknown[] = []): Promise<Row[]> {
    return rowsOf<Row>(this.pool, text, values);
  }

  row<Row extends QueryResultRow>(text: string, values: readonly unknown[] = []): Promise<Row | null> {
    return rowOf<Row>(this.pool, text, values);
  }

  /**
   * What is asked for within goes over one connection, in one message and with one answer, where each by itself would wake a process of Postgres
   * of its own: for a few quick look-ups that do not wait for one another.
   */
  async together<T>(ask: (reader: Reader) => Promise<T>): Promise<T> {
    const client = await this.pool.connect();
    try {
      const answer = await ask({
        rows: (text, values) => rowsOf(client, text, values),
        row: (text, values) => rowOf(client, text, values),
      });
      client.release();
      return answer;
    } catch (error) {
      // what was asked for beside the one that failed may still be under way
      client.release(true);
      throw error;
    }
  }

  /**
   * Two questions at once that each read a table through: what one process of Postgres does best alone need not wait for what others share. Each has more memory than other questions for each
   * step that adds up or sorts, and one process of Postgres to help where there is one to spare: a second would reckon each sum once more. All of it as the books stand at one
   * moment; nothing can be written. It takes two connections of the pool.
   * @param memory as Postgres writes it: "32MB"; a constant
   */
  async bothWithMemory<One, Other>(
    memory: string,
    one: (reader: Reader) => Promise<One>,
    other: (reader: Reader) => Promise<Other>,
  ): Promise<[One, Other]> {
    return this.withMemory(memory, null, async (reader) => {
      const row = await reader.row<{ moment: string }>('SELECT pg_export_snapshot() AS moment');
      const asked = await Promise.allSettled([one(reader), this.withMemory(memory, row?.moment ?? null, other)]);
      const [first, second] = asked;
      if (first.status === 'rejected') throw first.reason;
      if (second.status === 'rejected') throw second.reason;
      return [first.value, second.value];
    });
  }

  /** @param moment as `pg_export_snapshot` names it, of a transaction under way; null: now */
  private async withMemory<T>(memory: string, moment: string | null, ask: (reader: Reader) => Promise<T>): Promise<T> {
    const client = await this.pool.connect();
    let broken: Error | undefined;
    try {
      await client.query('BEGIN ISOLATION LEVEL REPEATABLE READ READ ONLY');
      if (moment !== null) await client.query(`SET TRANSACTION SNAPSHOT ${client.escapeLiteral(moment)}`);
      await client.query(`SET LOCAL work_mem = '${memory}'; SET LOCAL max_parallel_workers_per_gather = 1`);
      return await ask({
        rows: (text, values) => rowsOf(client, text, values),
        row: (text, values) => rowOf(client, text, values),
      });
    } finally {
      await client.query('ROLLBACK').catch((failure: Error) => {
        broken = failure;
      });
      client.release(broken);
    }
  }
}
