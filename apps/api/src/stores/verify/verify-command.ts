import { Database } from '../../platform/database/database.js';
import { openBooksBeside } from '../../platform/database/open-books.js';
import { createPool } from '../../platform/database/pool.js';
import { type BooksLine, booksOptions, readBooksLine } from '../../platform/terminal/books-line.js';
import { terminalCommand } from '../../platform/terminal/terminal-command.js';
import { countMovements, verifyBooks } from './verify-books.js';

/** `npm run verify`: says whether the books agree with their movements; ends with 1 where they do not. */
export const verifyCommand = terminalCommand({
  usage: 'verify [--data FOLDER]',
  options: booksOptions,
  read: readBooksLine,
  run: verify,
});

async function verify(line: BooksLine): Promise<void> {
  const books = await openBooksBeside(line);
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
