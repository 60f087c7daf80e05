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
}
