import { readFile, rm, stat, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { isAlive } from './postgres-cluster.js';

/** A lock older than this is taken over though a process of its number lives, in milliseconds. */
const ageMillisecondsMax = 10 * 60_000;

/**
 * Lets one process at a time clear away and start in a folder. It guards only the start: who owns the running server
 * is settled by the server itself.
 * @returns false where another process is at it
 */
export async function seizeStart(folder: string): Promise<boolean> {
  const path = lockPath(folder);
  for (let attempt = 0; attempt < 2; attempt += 1) {
    try {
      await writeFile(path, `${process.pid}\n`, { flag: 'wx' });
      return true;
    } catch (error) {
      if ((error as NodeJS.ErrnoException).code !== 'EEXIST') throw error;
    }
    if (!(await isAbandoned(path))) return false;
    await rm(path, { force: true });
  }
  return false;
}

export async function releaseStart(folder: string): Promise<void> {
  await rm(lockPath(folder), { force: true });
}

function lockPath(folder: string): string {
  return join(folder, 'starting.lock');
}

async function isAbandoned(path: string): Promise<boolean> {
  const text = await readFile(path, 'utf8').catch(() => null);
  if (text === null) return true;
  const made = await stat(path).catch(() => null);
  const age = made ? Date.now() - made.mtimeMs : Number.POSITIVE_INFINITY;
  // Between its making and its writing a lock is empty for a moment.
  if (text === '') return age > 10_000;
  const pid = Number.parseInt(text, 10);
  // Two starts within one process share its number, so its own number proves that somebody is at it.
  return !isAlive(pid) || age > ageMillisecondsMax;
}
