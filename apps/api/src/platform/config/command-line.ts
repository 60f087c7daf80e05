import { resolve } from 'node:path';
import { parseArgs } from 'node:util';

export interface CommandLine {
  ok: true;
  command: 'serve' | 'verify';
  dataFolder: string;
  host: string;
  port: number;
  example: boolean;
  tls: { cert: string; key: string } | null;
  /** a Postgres of the workshop's own; null: the embedded one */
  database: { servingUrl: string; ownerUrl: string } | null;
  logLevel: string;
}

type Read = CommandLine | { ok: false; words: string };

const help = `Corewright

  serve    [--data FOLDER] [--port 4780] [--host 127.0.0.1] [--example] [--cert FILE --key FILE]
  verify   [--data FOLDER]

Without DATABASE_URL the server runs its own Postgres in the data folder. With it, DATABASE_OWNER_URL must name
the owner of the same database.`;

const loopback = new Set(['127.0.0.1', '::1', 'localhost']);

/** Reads arguments and environment; what is wrong comes back in words. */
export function readCommandLine(args: string[], environment: NodeJS.ProcessEnv): Read {
  const [command, ...rest] = args;
  if (command !== 'serve' && command !== 'verify') return refuse(help);
  const options = {
    data: { type: 'string', default: '.data/workshop' },
    port: { type: 'string', default: '4780' },
    host: { type: 'string', default: '127.0.0.1' },
    example: { type: 'boolean', default: false },
    cert: { type: 'string' },
    key: { type: 'string' },
  } as const;
  let values: ReturnType<typeof parse>;
  function parse() {
    return parseArgs({ args: rest, options, strict: true, allowPositionals: false }).values;
  }
  try {
    values = parse();
  } catch (error) {
    return refuse(`${(error as Error).message}\n\n${help}`);
  }
  const port = Number(values.port);
  if (!Number.isInteger(port) || port < 0 || port > 65535)
    return refuse(`"${values.port}" is not a port. Give a number from 0 to 65535.`);
  if ((values.cert === undefined) !== (values.key === undefined)) return refuse('--cert and --key go together.');
  const tls = values.cert !== undefined && values.key !== undefined ? { cert: values.cert, key: values.key } : null;
  if (!loopback.has(values.host) && !tls)
    return refuse(
      `Beyond this machine Corewright speaks HTTPS only, since sign-in, camera and the offline queue need it: give --cert and --key, or leave --host out.`,
    );
  const database = databaseOf(environment);
  if (typeof database === 'string') return refuse(database);
  return {
    ok: true,
    command,
    dataFolder: resolve(values.data),
    host: values.host,
    port,
    example: values.example,
    tls,
    database,
    logLevel: environment.LOG_LEVEL ?? 'info',
  };
}

function databaseOf(environment: NodeJS.ProcessEnv): CommandLine['database'] | string {
  const servingUrl = environment.DATABASE_URL;
  const ownerUrl = environment.DATABASE_OWNER_URL;
  if (!servingUrl && !ownerUrl) return null;
  if (!servingUrl || !ownerUrl)
    return 'DATABASE_URL (the serving login) and DATABASE_OWNER_URL (the owner, for migrations) go together.';
  return { servingUrl, ownerUrl };
}

function refuse(words: string): Read {
  return { ok: false, words };
}
