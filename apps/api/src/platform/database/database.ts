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
   * For a question that reads a table through: more memory than the others get for each step that adds up or sorts, and the table shared out among processes of Postgres
   * where it has some to spare. All of it as the books stand at one moment; nothing can be written.
   * @param memory as Postgres writes it: "32MB"; a constant
   */
  async withMemory<T>(memory: string, ask: (reader: Reader) => Promise<T>): Promise<T> {
    const client = await this.pool.connect();
    let broken: Error | undefined;
    try {
      await client.query('BEGIN ISOLATION LEVEL REPEATABLE READ READ ONLY');
      await client.query(`SET LOCAL work_mem = '${memory}'`);
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
