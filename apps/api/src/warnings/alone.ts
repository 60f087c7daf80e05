import type { Pool } from 'pg';
import type { Reader } from '../platform/database/database.js';
import { rowOf, rowsOf } from '../platform/database/statements.js';

const lock = 'SELECT pg_advisory_lock($1)';
const unlock = 'SELECT pg_advisory_unlock($1)';

/**
 * One transaction that sees the books as they are at one moment, while no other server does the same. The lock comes before the transaction:
 * what it sees is what was committed once it was alone.
 */
export async function alone<T>(pool: Pool, key: number, work: (reader: Reader) => Promise<T>): Promise<T> {
  const client = await pool.connect();
  try {
    await rowsOf(client, lock, [key]);
    await client.query('BEGIN ISOLATION LEVEL REPEATABLE READ');
    const value = await work({
      rows: (text, values) => rowsOf(client, text, values),
      row: (text, values) => rowOf(client, text, values),
    });
    await client.query('COMMIT');
    await rowsOf(client, unlock, [key]);
    client.release();
    return value;
  } catch (error) {
    // with the connection go the transaction and the lock
    client.release(true);
    throw error;
  }
}
