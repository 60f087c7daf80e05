import type { QueryResultRow } from 'pg';
import { inTransaction } from '../platform/commands/unit-of-work.js';
import type { Database, Reader } from '../platform/database/database.js';
import { rowOf, rowsOf } from '../platform/database/statements.js';

/** One transaction of a change that nobody is signed in for yet; rolled back when the work throws. */
export function withinTransaction<T>(database: Database, work: (transaction: Reader) => Promise<T>): Promise<T> {
  return inTransaction(database.pool, (client) =>
    work({
      rows: <Row extends QueryResultRow>(text: string, values?: readonly unknown[]) => rowsOf<Row>(client, text, values),
      row: <Row extends QueryResultRow>(text: string, values?: readonly unknown[]) => rowOf<Row>(client, text, values),
    }),
  );
}
