import { execFile } from 'node:child_process';
import { chown, mkdir, readdir, rename, rm, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { promisify } from 'node:util';
import { exists } from './postgres-binaries.js';
import { explainFailure } from './postgres-failure.js';
import type { PostgresPlace } from './postgres-place.js';

const run = promisify(execFile);

/** The logins of the embedded server. The first is for this server's own housekeeping and serves nobody. */
export const embeddedLogins = {
  superuser: 'corewright_superuser',
  owner: 'corewright_owner',
  serving: 'corewright_serving',
} as const;

/** Character types tell letters from other characters; `C` alone knows only the English ones. Order is always by bytes. */
const characterTypes = ['C.UTF-8', 'UTF-8', 'C'];

/**
 * Makes a cluster where there is none: UTF-8, data checksums, ordered by bytes. It is made in a folder beside its
 * final place and renamed, so that a start that was cut short leaves nothing that looks like data.
 * @returns true where it was made now
 */
export async function ensureCluster(place: PostgresPlace, options: { durable: boolean }): Promise<boolean> {
  if (await exists(place.dataFolder)) return false;
  await removeAbandoned(place.homeFolder);
  const fresh = `${place.dataFolder}.new-${process.pid}`;
  for (const characterType of characterTypes) {
    const failure = await initialise(place, fresh, characterType, options.durable);
    if (failure === null) break;
    await rm(fresh, { recursive: true, force: true });
    const isLast = characterType === characterTypes.at(-1);
    if (isLast || !/invalid locale name/i.test(failure)) throw explainFailure(failure, place.folder);
  }
  await rename(fresh, place.dataFolder).catch(async (error: NodeJS.ErrnoException) => {
    await rm(fresh, { recursive: true, force: true });
    // Another process was first; its cluster is as good.
    if (error.code !== 'ENOTEMPTY' && error.code !== 'EEXIST') throw error;
  });
  return true;
}

async function initialise(place: PostgresPlace, target: string, characterType: string, durable: boolean): Promise<string | null> {
  await mkdir(target, { mode: 0o700 });
  if (place.runAs) await chown(target, place.runAs.uid, place.runAs.gid);
  const settings = [
    ...['-D', target, '-U', embeddedLogins.superuser, '--encoding=UTF8', '--locale=C', `--lc-ctype=${characterType}`],
    ...['--data-checksums', '--auth-local=peer', '--auth-host=reject', '--no-instructions'],
    ...(durable ? [] : ['--no-sync']),
  ];
  try {
    await run(join(place.nativeFolder, 'bin', 'initdb'), settings, { ...place.runAs, cwd: target, env: environmentOfPostgres() });
    return null;
  } catch (error) {
    const failure = error as Error & { stderr?: string };
    return `${failure.stderr ?? ''}\n${failure.message}`;
  }
}

/** Removes what an earlier start that was cut short left behind. */
async function removeAbandoned(homeFolder: string): Promise<void> {
  for (const name of await readdir(homeFolder)) {
    const maker = /^postgres\.new-(\d+)$/.exec(name)?.[1];
    if (maker !== undefined && !isAlive(Number(maker))) await rm(join(homeFolder, name), { recursive: true, force: true });
  }
}

/**
 * Says who may connect: the named users of this machine through the socket, nobody from elsewhere. The system vouches
 * for the user, so there is no password to keep.
 */
export async function writeAccessRules(place: PostgresPlace): Promise<void> {
  // Every login by its name: the word for all of them is known only since Postgres 16.
  const pairs = place.peers.flatMap((name) => Object.values(embeddedLogins).map((login) => [name.replaceAll('"', '""'), login]));
  const map = pairs.map(([name, login]) => `corewright "${name}" ${login}\n`).join('');
  await writeOwned(place, 'pg_ident.conf', `# Written at every start.\n${map}`);
  await writeOwned(place, 'pg_hba.conf', '# Written at every start.\nlocal all all peer map=corewright\n');
}

async function writeOwned(place: PostgresPlace, name: string, text: string): Promise<void> {
  const path = join(place.dataFolder, name);
  await writeFile(path, text, { mode: 0o600 });
  if (place.runAs) await chown(path, place.runAs.uid, place.runAs.gid);
}

/** Variables of the caller that would change what the server does are kept from it. */
export function environmentOfPostgres(): NodeJS.ProcessEnv {
  const kept = Object.entries(process.env).filter(
    ([name]) => !name.startsWith('PG') && !name.startsWith('LC_') && name !== 'LANG',
  );
  return { ...Object.fromEntries(kept), LC_ALL: 'C', TZ: 'UTC' };
}

/** Whether a process of this number lives (one that belongs to somebody else included). */
export function isAlive(pid: number): boolean {
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    return (error as NodeJS.ErrnoException).code === 'EPERM';
  }
}
