import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { createApp } from './app.js';
import { loadExample } from './imports/load-example.js';
import { SignInLinks } from './people/sign-in-links.js';
import type { CommandLine } from './platform/config/command-line.js';
import { Config } from './platform/config/config.js';
import { Database } from './platform/database/database.js';
import { openBooks } from './platform/database/open-books.js';
import { createPool } from './platform/database/pool.js';
import { Log } from './platform/log.js';

const connectionsMax = 16;

/** Starts the server and keeps it until it is told to stop. What a person needs to see goes to standard output. */
export async function serve(line: CommandLine): Promise<void> {
  const log = new Log(line.logLevel);
  const books = await openBooks(line, log);
  const pool = createPool(books.servingUrl, {
    max: connectionsMax,
    onError: (error) => log.warn({ error: error.message }, 'an idle connection broke'),
  });
  let close = async (): Promise<void> => {
    await pool.end();
    await books.close();
  };
  try {
    const config = configOf(line);
    const app = await createApp(config, new Database(pool, books.servingUrl), log);
    const withoutApp = close;
    close = async () => {
      await app.close();
      await withoutApp();
    };
    stopOnSignal(() => close());
    await app.init();
    if (line.example) await loadExample(app, say);
    await listen(() => app.listen(line.port, line.host), line);
    const address = app.getHttpServer().address() as { port: number };
    const link = await app.get(SignInLinks).pathForTerminal(line.example);
    say(`Corewright answers at ${config.origin.replace(/:\d+$/, `:${address.port}`)}${link ?? ''}`);
    say('Stop it with Ctrl-C.');
  } catch (error) {
    await close().catch(() => undefined);
    throw error;
  }
}

function say(words: string): void {
  process.stdout.write(`${words}\n`);
}

function configOf(line: CommandLine): Config {
  const here = fileURLToPath(new URL('.', import.meta.url));
  const web = join(here, '../../web/dist');
  const version = (JSON.parse(readFileSync(join(here, '../package.json'), 'utf8')) as { version: string }).version;
  return new Config(
    line.host,
    line.port,
    line.dataFolder,
    line.example,
    line.tls,
    existsSync(web) ? web : null,
    version,
    line.logLevel,
  );
}

async function listen(start: () => Promise<unknown>, line: CommandLine): Promise<void> {
  try {
    await start();
  } catch (error) {
    if ((error as { code?: string }).code === 'EADDRINUSE')
      throw new Error(
        `Port ${line.port} on ${line.host} is taken, perhaps by a Corewright that runs already. Stop that one, or give another: --port ${line.port + 1}`,
      );
    throw error;
  }
}

function stopOnSignal(close: () => Promise<void>): void {
  let stopping = false;
  for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP'] as const) {
    process.on(signal, () => {
      if (stopping) return;
      stopping = true;
      close().then(
        () => process.exit(0),
        (error: unknown) => {
          process.stderr.write(`Stopping failed: ${String(error)}\n`);
          process.exit(1);
        },
      );
    });
  }
}
