import type { CommandLine } from '../../platform/config/command-line.js';
import { Database } from '../../platform/database/database.js';
import { type Books, openBooks } from '../../platform/database/open-books.js';
import { createPool } from '../../platform/database/pool.js';
import { findRunningPostgres } from '../../platform/database/running-postgres.js';
import { Log } from '../../platform/log.js';
import { countMovements, verifyBooks } from './verify-books.js';

/** `npm run verify`: says whether the books agree with their movements; ends with 1 where they do not. */
export async function verifyCommand(line: CommandLine): Promise<void> {
  const books = await booksOf(line);
  const pool = createPool(books.servingUrl, { max: 2 });
  try {
    const database = new Database(pool, books.servingUrl);
    const started = performance.now();
    const differences = await verifyBooks(database);
    const seconds = ((performance.now() - started) / 1000).toFixed(1);
    const movements = await countMovements(database);
    if (differences.length === 0) {
      process.stdout.write(
        `The books agree: every balance rebuilt from ${movements} movements in ${seconds} s, no difference.\n`,
      );
      return;
    }
    process.stdout.write(`The books do not agree: ${differences.length} differences in ${movements} movements.\n`);
    for (const difference of differences)
      process.stdout.write(
        `${difference.thing}: ${difference.what}${difference.holder ? ` at ${difference.holder}` : ''}: kept ${difference.kept}, rebuilt ${difference.rebuilt}\n`,
      );
    process.exitCode = 1;
  } finally {
    await pool.end();
    await books.close();
  }
}

/** A workshop at work can be verified beside its server; one that rests is opened for it. */
async function booksOf(line: CommandLine): Promise<Books> {
  const running = line.database ? null : await findRunningPostgres(line.dataFolder);
  return running ? { ...running, close: async () => undefined } : openBooks(line, new Log('warn'));
}
