import { Database } from '../../platform/database/database.js';
import { openBooksBeside } from '../../platform/database/open-books.js';
import { createPool } from '../../platform/database/pool.js';
import { type BooksLine, booksOptions, readBooksLine } from '../../platform/terminal/books-line.js';
import { type Read, say, terminalCommand } from '../../platform/terminal/terminal-command.js';
import { makeTerminalLink } from './make-terminal-link.js';

interface LinkLine extends BooksLine {
  /** null: the only owner */
  signInName: string | null;
}

/** `npm run link`: a one-time link for an owner who has forgotten the pass phrase. */
export const linkCommand = terminalCommand({
  usage: 'link [--data FOLDER] [--person SIGN-IN-NAME]',
  options: { ...booksOptions, person: { type: 'string' } },
  read: (keyed, environment): Read<LinkLine> => {
    const books = readBooksLine(keyed, environment);
    return books.ok ? { ok: true, value: { ...books.value, signInName: keyed.person ?? null } } : books;
  },
  run: link,
});

async function link(line: LinkLine): Promise<void> {
  const books = await openBooksBeside(line);
  const pool = createPool(books.servingUrl, { max: 1 });
  try {
    const made = await makeTerminalLink(new Database(pool, books.servingUrl), line.signInName);
    if (!made.ok) throw new Error(made.words);
    const { owner, path } = made.value;
    say(
      `With this link ${owner.displayName} (${owner.signInName}) chooses a new pass phrase. It opens once, within an hour; links made before are void.`,
    );
    say(`\n  http://localhost:4780${path}\n`);
    say(
      'Where the server answers at another address, put that in the place of http://localhost:4780. That it was made is kept in the books.',
    );
  } finally {
    await pool.end();
    await books.close();
  }
}
