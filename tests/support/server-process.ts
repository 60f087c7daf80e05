import { type ChildProcess, spawn } from 'node:child_process';
import { chmodSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { findRunningPostgres } from '../../apps/api/src/platform/database/running-postgres.js';
import { tokenIn, Visitor, workshopKeyed } from './bare-server.js';

const program = join(import.meta.dirname, '../../apps/api/dist/main.js');
/** A new cluster takes a few seconds, and longer on a busy machine. */
const readyMillisecondsMax = 90_000;

export interface Ended {
  code: number | null;
  signal: NodeJS.Signals | null;
}

/** A built server that runs as a process of its own, as it does in a workshop. */
export interface ServerProcess {
  url: string;
  pid: number;
  /** the path of the one-time link that it printed; null where it printed none */
  link: string | null;
  /** all that it wrote so far, both streams */
  output(): string;
  ended: Promise<Ended>;
  /** Sends a signal and waits for the end. */
  end(signal: NodeJS.Signals): Promise<Ended>;
}

type Environment = Record<string, string>;

/** Processes that a failed test left behind are ended by `endAll`. */
const running = new Set<ChildProcess>();
const folders: string[] = [];

/** A folder for the data of a workshop that any user may enter, since Postgres may run as another. */
export function newDataFolder(): string {
  const base = mkdtempSync(join(tmpdir(), 'corewright-process-'));
  chmodSync(base, 0o755);
  folders.push(base);
  return join(base, 'workshop');
}

/** Ends whatever these helpers started and still runs, each by its own process number, and removes their folders. */
export async function endAll(): Promise<void> {
  await Promise.all(
    [...running].map(async (child) => {
      const gone = new Promise((settle) => child.once('exit', settle));
      child.kill('SIGTERM');
      const impatience = setTimeout(() => child.kill('SIGKILL'), 20_000);
      await gone;
      clearTimeout(impatience);
    }),
  );
  for (const folder of folders) rmSync(folder, { recursive: true, force: true });
}

/** Starts `main.js serve` and waits until it says that it answers. @throws Error with its output where it ends before */
export async function startServerProcess(words: string[], environment: Environment = {}): Promise<ServerProcess> {
  const { child, output, ended } = launch(['serve', '--port', '0', ...words], environment);
  const said = /Corewright answers at (https?):\/\/[\w.-]+:(\d+)(\S*)/;
  const match = await new Promise<RegExpExecArray>((settle, fail) => {
    const overdue = setTimeout(() => fail(new Error(`It does not answer: ${output()}`)), readyMillisecondsMax);
    const look = (): void => {
      const found = said.exec(output());
      if (!found) return;
      clearTimeout(overdue);
      settle(found);
    };
    child.stdout?.on('data', look);
    void ended.then(({ code }) => {
      clearTimeout(overdue);
      fail(new Error(`It ended with ${code} before it answered: ${output()}`));
    });
  });
  return {
    url: `${match[1]}://127.0.0.1:${match[2]}`,
    pid: child.pid!,
    link: match[3] ? match[3] : null,
    output,
    ended,
    end: (signal) => {
      child.kill(signal);
      return ended;
    },
  };
}

/** Runs `main.js` with these words to its end, which comes soon or is brought about. */
export async function runServerProgram(words: string[], environment: Environment = {}): Promise<Ended & { output: string }> {
  const { child, output, ended } = launch(words, environment);
  const overdue = setTimeout(() => child.kill('SIGTERM'), readyMillisecondsMax);
  const end = await ended;
  clearTimeout(overdue);
  return { ...end, output: output() };
}

function launch(words: string[], environment: Environment): { child: ChildProcess; output: () => string; ended: Promise<Ended> } {
  // The database is named by the test or it is the embedded one, whatever the caller's environment says.
  const { DATABASE_URL: _serving, DATABASE_OWNER_URL: _owner, NODE_OPTIONS: _options, ...kept } = process.env;
  const child = spawn(process.execPath, [program, ...words], {
    env: { ...kept, LOG_LEVEL: 'warn', ...environment },
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  running.add(child);
  let text = '';
  for (const stream of [child.stdout, child.stderr]) stream?.setEncoding('utf8').on('data', (piece: string) => (text += piece));
  const ended = new Promise<Ended>((settle) => {
    child.once('close', (code, signal) => {
      running.delete(child);
      settle({ code, signal });
    });
  });
  return { child, output: () => text, ended };
}

/** Sets up the workshop of a fresh server through the link that it printed; the browser is its owner's. */
export async function setUpThroughLink(server: ServerProcess): Promise<Visitor> {
  const owner = new Visitor(server.url);
  const answer = await owner.post('/api/set-up', { ...workshopKeyed, token: tokenIn(server.link) }, { key: null });
  if (answer.status !== 200) throw new Error(`The set-up was refused: ${JSON.stringify(answer.body)}`);
  return owner;
}

/** The same browser at another server, or at the same one after it was started again. */
export function visitorAt(url: string, like: Visitor): Visitor {
  const visitor = new Visitor(url);
  visitor.cookie = like.cookie;
  return visitor;
}

export interface BooksOfProcess {
  ownerUrl: string;
  servingUrl: string;
  /** the superuser, on the same database */
  superuserUrl: string;
}

/** The addresses of the embedded Postgres that a server process runs in its folder. */
export async function booksIn(folder: string): Promise<BooksOfProcess> {
  const found = await findRunningPostgres(folder);
  if (found === null) throw new Error(`No Postgres answers in ${folder}`);
  const superuser = new URL(found.ownerUrl);
  superuser.username = 'corewright_superuser';
  return { ...found, superuserUrl: superuser.toString() };
}
