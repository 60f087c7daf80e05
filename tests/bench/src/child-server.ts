/** Servers in processes of their own, as in a workshop: the one under measurement, and the bare one that is the floor. */
import { type ChildProcess, spawn } from 'node:child_process';
import { readFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { fileURLToPath } from 'node:url';
import { type BenchDatabase, signIn } from './bench-cluster.js';

/** What there is to know of a server to ask it. */
export interface AskedServer {
  /** `http://127.0.0.1:PORT` */
  origin: string;
  headers: Record<string, string>;
}

export interface ChildServer extends AskedServer {
  /** the most memory that its process has held so far */
  peakMegabytes(): Promise<number>;
  stop(): Promise<void>;
}

const root = fileURLToPath(new URL('../../..', import.meta.url));
const address = /http:\/\/(?:localhost|127\.0\.0\.1):(\d+)/;

/** The server as `npm start` runs it, on this database, with somebody signed in. */
export async function startOurs(database: BenchDatabase): Promise<ChildServer> {
  const photographs = join(tmpdir(), 'corewright-bench-photographs');
  const words = ['apps/api/dist/main.js', 'serve', '--port', '0', '--photographs', photographs];
  const server = await start(words, { DATABASE_URL: database.servingUrl, DATABASE_OWNER_URL: database.ownerUrl });
  return { ...server, headers: await signIn(database) };
}

/** A bare Nest route that does one primary-key SELECT. */
export async function startBare(database: BenchDatabase): Promise<ChildServer> {
  const script = fileURLToPath(new URL('bare-server.js', import.meta.url));
  return { ...(await start([script], { DATABASE_URL: database.servingUrl })), headers: {} };
}

async function start(words: string[], environment: Record<string, string>): Promise<Omit<ChildServer, 'headers'>> {
  const child = spawn(process.execPath, words, {
    cwd: root,
    stdio: ['ignore', 'pipe', 'inherit'],
    env: { ...process.env, NODE_ENV: 'production', ...environment },
  });
  const ended = new Promise<void>((settle) => child.once('exit', () => settle()));
  const port = await portOf(child);
  return {
    origin: `http://127.0.0.1:${port}`,
    peakMegabytes: () => peakMegabytesOf(child),
    stop: async () => {
      child.kill('SIGTERM');
      await ended;
    },
  };
}

/** @throws Error where the machine keeps no such count: only Linux does */
async function peakMegabytesOf({ pid }: ChildProcess): Promise<number> {
  const found = /^VmHWM:\s+(\d+) kB$/m.exec(await readFile(`/proc/${pid}/status`, 'utf8'));
  if (!found) throw new Error(`What the process ${pid} held cannot be read`);
  return Number(found[1]) / 1024;
}

function portOf(child: ChildProcess): Promise<number> {
  return new Promise((settle, fail) => {
    child.once('error', fail);
    child.once('exit', (code) => fail(new Error(`A server ended with ${code} before it listened`)));
    createInterface({ input: child.stdout! }).on('line', (line) => {
      const found = address.exec(line);
      if (found) settle(Number(found[1]));
    });
  });
}
