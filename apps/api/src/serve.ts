import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { createApp } from './app.js';
import { loadExample } from './imports/load-example.js';
import { SignInLinks } from './people/sign-in-links.js';
import { Config, loopback } from './platform/config/config.js';
import { Database } from './platform/database/database.js';
import { openBooks } from './platform/database/open-books.js';
import { createPool } from './platform/database/pool.js';
import { Log } from './platform/log.js';
import { readServeLine, type ServeLine, serveOptions } from './platform/terminal/serve-line.js';
import { say, terminalCommand } from './platform/terminal/terminal-command.js';
import { type CheckedCertificate, checkCertificate, dayOf } from './platform/tls/certificate-check.js';
import { originOf } from './platform/tls/certificate-words.js';
import { readyPhotographFolder } from './stores/pictures/photograph-folder.js';

const connectionsMax = 16;

/** The end of a certificate is told at each start from this long before, in days. */
const noticeDays = 30;

export const serveCommand = terminalCommand({
  usage:
    'serve [--data FOLDER] [--port 4780] [--host 127.0.0.1] [--example] [--cert FILE --key FILE] [--photographs FOLDER] [--photograph-mb 40]',
  options: serveOptions,
  read: readServeLine,
  run: serve,
});

/** Starts the server and keeps it until it is told to stop. What a person needs to see goes to standard output. */
async function serve(line: ServeLine): Promise<void> {
  const certificate = certificateOf(line, new Date());
  const log = new Log(line.logLevel);
  const books = await openBooks(line, say);
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
    readyPhotographFolder(config.photographs.folder, config.webFolder);
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
    say(`Corewright answers at ${originOf(line.tls ? 'https' : 'http', hostOf(line, certificate), address.port)}${link ?? ''}`);
    say('Stop it with Ctrl-C.');
  } catch (error) {
    await close().catch(() => undefined);
    throw error;
  }
}

/** @throws Error in words where the server cannot start with the certificate that it was given */
function certificateOf(line: ServeLine, now: Date): CheckedCertificate | null {
  if (line.tls === null) return null;
  const checked = checkCertificate(line.tls, now);
  if (!checked.ok) throw new Error(checked.words);
  const { endsAt } = checked.value;
  const isNearEnd = endsAt.getTime() - now.getTime() < noticeDays * 86_400_000;
  say(`The certificate is ${line.tls.cert}, good until ${dayOf(endsAt)}.${isNearEnd ? ' Have a new one made before then.' : ''}`);
  return checked.value;
}

/** A server that listens at all addresses is reached by the first name of its certificate. */
function hostOf(line: ServeLine, certificate: CheckedCertificate | null): string {
  if (loopback.has(line.host)) return 'localhost';
  return everyAddress.has(line.host) ? (certificate?.names[0] ?? 'localhost') : line.host;
}

const everyAddress: ReadonlySet<string> = new Set(['0.0.0.0', '::']);

function configOf(line: ServeLine): Config {
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
    line.photographs,
  );
}

async function listen(start: () => Promise<unknown>, line: ServeLine): Promise<void> {
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
