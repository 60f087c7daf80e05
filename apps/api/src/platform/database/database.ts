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
}
