import type { Pool } from 'pg';
import { cellForSpreadsheet } from './spreadsheet-cell.js';

const rowsAtOnce = 1000;

/**
 * A CSV file by RFC 4180, UTF-8 with a byte-order mark so that spreadsheets read it as such; piece by piece, all of it as the
 * books stand at one moment.
 * @param text a constant SELECT whose columns are texts
 * @param values what stands for $1, $2 …
 */
export async function* csvOf(
  pool: Pool,
  columns: readonly string[],
  text: string,
  values: readonly unknown[] = [],
): AsyncGenerator<string> {
  const client = await pool.connect();
  let broken: Error | undefined;
  try {
    await client.query('BEGIN ISOLATION LEVEL REPEATABLE READ READ ONLY');
    await client.query(`DECLARE rows_out NO SCROLL CURSOR FOR ${text}`, [...values]);
    yield `\ufeff${lineOf(columns)}`;
    for (;;) {
      const { rows } = await client.query<(string | null)[]>({ text: `FETCH ${rowsAtOnce} FROM rows_out`, rowMode: 'array' });
      if (rows.length === 0) return;
      yield rows.map(lineOf).join('');
    }
  } finally {
    // Nothing was changed; this also ends the cursor of a reader who went away.
    await client.query('ROLLBACK').catch((failure: Error) => {
      broken = failure;
    });
    client.release(broken);
  }
}

function lineOf(cells: readonly (string | null)[]): string {
  return `${cells.map((cell) => quoted(cellForSpreadsheet(cell ?? ''))).join(',')}\r\n`;
}

function quoted(cell: string): string {
  return /[",\r\n]/.test(cell) ? `"${cell.replaceAll('"', '""')}"` : cell;
}
