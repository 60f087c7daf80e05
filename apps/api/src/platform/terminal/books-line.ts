import { resolve } from 'node:path';
import { type Read, refuse } from './terminal-command.js';

/** Which books a command is about. */
export interface BooksLine {
  /** absolute; of the embedded database, and of the certificates */
  dataFolder: string;
  /** a Postgres of the workshop's own; null: the embedded one */
  database: { servingUrl: string; ownerUrl: string } | null;
  logLevel: string;
}

export const booksOptions = { data: { type: 'string', default: '.data/workshop' } } as const;

export function readBooksLine(keyed: { data: string }, environment: NodeJS.ProcessEnv): Read<BooksLine> {
  const servingUrl = environment.DATABASE_URL;
  const ownerUrl = environment.DATABASE_OWNER_URL;
  if (!servingUrl !== !ownerUrl)
    return refuse('DATABASE_URL (the serving login) and DATABASE_OWNER_URL (the owner, for migrations) go together.');
  return {
    ok: true,
    value: {
      dataFolder: resolve(keyed.data),
      database: servingUrl && ownerUrl ? { servingUrl, ownerUrl } : null,
      logLevel: environment.LOG_LEVEL ?? 'info',
    },
  };
}
