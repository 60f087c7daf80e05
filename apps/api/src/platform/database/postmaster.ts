import { type ChildProcess, execFile, spawn } from 'node:child_process';
import { chown, open, readdir, readFile, readlink, realpath, rename, rm, stat } from 'node:fs/promises';
import { totalmem } from 'node:os';
import { join } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import { promisify } from 'node:util';
import { environmentOfPostgres, isAlive } from './postgres-cluster.js';
import { EmbeddedPostgresError, explainFailure } from './postgres-failure.js';
import { type PostgresPlace, socketName } from './postgres-place.js';

const run = promisify(execFile);

/** Beyond this size the log of an earlier run is put aside at a start. */
const logBytesMax = 10 * 1024 * 1024;

/** How long a fast shutdown may take before the server is told to drop everything, in milliseconds. */
const shutdownMillisecondsMax = 60_000;

/** The process number in the lock file of the data folder; null where there is no such file. */
export async function readPostmasterPid(dataFolder: string): Promise<number | null> {
  const text = await readFile(join(dataFolder, 'postmaster.pid'), 'utf8').catch(() => null);
  const pid = text === null ? Number.NaN : Number.parseInt(text, 10);
  return Number.isSafeInteger(pid) && pid > 0 ? pid : null;
}

/**
 * The processes of Postgres that work in the data folder: the server itself, and backends that a killed server left
 * behind and that have not noticed yet. All of them have the folder as their working directory.
 */
export async function findWorkers(dataFolder: string): Promise<number[]> {
  const folder = await realpath(dataFolder).catch(() => null);
  if (folder === null) return [];
  const names = await readdir('/proc').catch(() => null);
  if (names === null) return findServerByName(dataFolder);
  const pids = names.filter((name) => /^\d+$/.test(name)).map(Number);
  const folders = await Promise.all(pids.map((pid) => readlink(`/proc/${pid}/cwd`).catch(() => null)));
  const here = pids.filter((_pid, index) => folders[index] === folder);
  const states = await Promise.all(here.map(isPostgres));
  return here.filter((_pid, index) => states[index]);
}

/** A shell that somebody opened in the data folder is no server. */
async function isPostgres(pid: number): Promise<boolean> {
  const status = await readFile(`/proc/${pid}/stat`, 'utf8').catch(() => '');
  return status.includes('(postgres)') && !/\) Z /.test(status);
}

/** For systems without /proc: only the process that the lock file names can be looked at. */
async function findServerByName(dataFolder: string): Promise<number[]> {
  const pid = await readPostmasterPid(dataFolder);
  if (pid === null || !isAlive(pid)) return [];
  const shown = await run('ps', ['-o', 'comm=', '-p', String(pid)]).catch(() => ({ stdout: '' }));
  return shown.stdout.includes('postgres') ? [pid] : [];
}

/** Removes the lock and socket files of a server that is gone. To be called only when nobody works in the folder. */
export async function removeStaleFiles(place: PostgresPlace): Promise<void> {
  const stale = [
    join(place.dataFolder, 'postmaster.pid'),
    join(place.socketFolder, socketName),
    join(place.socketFolder, `${socketName}.lock`),
  ];
  for (const path of stale) await rm(path, { force: true });
}

export interface Postmaster {
  pid: number;
  /** Settles when the process has ended, with what it wrote since it was started. */
  ended: Promise<string>;
}

/**
 * Starts the server of a cluster in a session of its own, so that Ctrl-C at the terminal reaches only this process,
 * which then stops it in order.
 */
export async function spawnPostmaster(place: PostgresPlace, options: { durable: boolean }): Promise<Postmaster> {
  const log = await openLog(place);
  try {
    const settings = { ...commonSettings(place), ...(options.durable ? durableSettings() : hastySettings) };
    const words = Object.entries(settings).flatMap(([name, value]) => ['-c', `${name}=${value}`]);
    const child = spawn(join(place.nativeFolder, 'bin', 'postgres'), ['-D', place.dataFolder, ...words], {
      ...place.runAs,
      cwd: place.dataFolder,
      detached: true,
      env: environmentOfPostgres(),
      stdio: ['ignore', log.handle.fd, log.handle.fd],
    });
    const ended = waitForEnd(child, () => readFrom(place.logFile, log.size));
    if (child.pid === undefined) throw explainFailure(await ended, place.folder);
    child.unref();
    return { pid: child.pid, ended };
  } finally {
    await log.handle.close();
  }
}

/** Settings of every embedded server: no port on the network, the socket for its user only, all times in UTC. */
function commonSettings(place: PostgresPlace): Record<string, string> {
  return {
    listen_addresses: '',
    port: '5432',
    // A list: quoted, so that a comma in the path does not part it.
    unix_socket_directories: `"${place.socketFolder.replaceAll('"', '""')}"`,
    unix_socket_permissions: '0700',
    timezone: 'UTC',
    log_timezone: 'UTC',
    jit: 'off',
    log_checkpoints: 'off',
    log_line_prefix: '%m [%p] %u@%d ',
  };
}

const mebibyte = 1024 * 1024;
const sharedMebibytesMax = 1024;

/** That an acknowledged scan rests on the disk is said outright, so that a setting in the data folder cannot weaken it. */
function durableSettings(): Record<string, string> {
  // The manual of Postgres advises a quarter of a machine that does nothing else; this one also runs the server, and a browser.
  const shared = Math.min(sharedMebibytesMax, Math.floor(totalmem() / 8 / mebibyte));
  return { fsync: 'on', synchronous_commit: 'on', full_page_writes: 'on', shared_buffers: `${shared}MB` };
}

/** For tests, whose data nobody needs after a power cut. */
const hastySettings = {
  fsync: 'off',
  synchronous_commit: 'off',
  full_page_writes: 'off',
  wal_level: 'minimal',
  max_wal_senders: '0',
  max_connections: '300',
};

async function openLog(place: PostgresPlace) {
  const earlier = await stat(place.logFile).catch(() => null);
  if (earlier && earlier.size > logBytesMax) await rename(place.logFile, `${place.logFile}.1`);
  const handle = await open(place.logFile, 'a', 0o600);
  if (place.runAs) await chown(place.logFile, place.runAs.uid, place.runAs.gid);
  return { handle, size: (await handle.stat()).size };
}

async function readFrom(path: string, start: number): Promise<string> {
  const text = await readFile(path).catch(() => Buffer.alloc(0));
  return text.subarray(start).toString('utf8').slice(-8000);
}

function waitForEnd(child: ChildProcess, readLog: () => Promise<string>): Promise<string> {
  return new Promise((settle) => {
    child.once('error', (error) => settle(error.message));
    child.once('exit', () => void readLog().then(settle));
  });
}

/**
 * Stops a server: SIGINT cuts off its clients and writes everything down (SIGTERM would wait for the clients to go).
 * @throws EmbeddedPostgresError where it does not stop
 */
export async function stopPostmaster(place: PostgresPlace, pid: number): Promise<void> {
  sendSignal(pid, 'SIGINT');
  if (await hasGone(place, pid, shutdownMillisecondsMax)) return;
  sendSignal(pid, 'SIGQUIT');
  if (await hasGone(place, pid, 10_000)) return;
  throw new EmbeddedPostgresError(`Postgres (process ${pid}) in ${place.folder} does not stop. See ${place.logFile}.`);
}

function sendSignal(pid: number, signal: NodeJS.Signals): void {
  try {
    process.kill(pid, signal);
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== 'ESRCH') throw error;
  }
}

async function hasGone(place: PostgresPlace, pid: number, millisecondsMax: number): Promise<boolean> {
  for (let waited = 0; waited < millisecondsMax; waited += 20) {
    // An adopted server is not our child, and a dead one may stand in the list of processes until its parent looks:
    // its own lock file tells sooner, and the list of those at work leaves the dead out.
    const named = await readPostmasterPid(place.dataFolder);
    if (!isAlive(pid) || (named !== pid && !(await findWorkers(place.dataFolder)).includes(pid))) return true;
    if (waited % 200 === 0 && !(await findWorkers(place.dataFolder)).includes(pid)) return true;
    await pause(20);
  }
  return false;
}
