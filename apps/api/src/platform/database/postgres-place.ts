import { createHash } from 'node:crypto';
import { chown, lstat, mkdir, stat, writeFile } from 'node:fs/promises';
import { tmpdir, userInfo } from 'node:os';
import { join, resolve } from 'node:path';
import {
  canReach,
  copyNativeFolder,
  ensureSymlinks,
  exists,
  findNativeFolder,
  findUnprivilegedUser,
  nameOfUser,
  type SystemUser,
} from './postgres-binaries.js';
import { EmbeddedPostgresError } from './postgres-failure.js';

/** Where one embedded cluster lives and as whom it runs. All paths are absolute. */
export interface PostgresPlace {
  /** The folder that the person named; messages speak of this one. */
  folder: string;
  nativeFolder: string;
  /** Holds the data folder; a new cluster is made beside it and renamed. */
  homeFolder: string;
  dataFolder: string;
  socketFolder: string;
  logFile: string;
  /** Null: Postgres runs as the user of this process. */
  runAs: SystemUser | null;
  /** Names of the system users that may connect. */
  peers: string[];
}

export const socketName = '.s.PGSQL.5432';

/** The file that says where a cluster is kept that is not in the folder itself. */
export const whereTheDataAre = 'where-the-data-are.txt';

/** For data and binaries that an unprivileged user could not reach where they stand. */
const systemFolder = '/var/lib/corewright';

/** The longest path of a Unix socket in bytes: 108 with its closing zero on Linux, 104 on macOS. */
const socketPathBytesMax = process.platform === 'darwin' ? 103 : 107;

/** Settles where a cluster lives and makes the folders that it needs, the data folder excepted. */
export async function preparePlace(options: { folder: string; nativeFolder?: string }): Promise<PostgresPlace> {
  const folder = resolve(options.folder);
  await mkdir(folder, { recursive: true });
  const packaged = options.nativeFolder ?? findNativeFolder();
  const runsAsRoot = process.getuid?.() === 0;
  const place = runsAsRoot ? await placeForRoot(folder, packaged) : { nativeFolder: packaged, homeFolder: folder, runAs: null };
  await ensureSymlinks(place.nativeFolder);
  const dataFolder = join(place.homeFolder, 'postgres');
  await refuseForeignData(dataFolder, folder);
  const socketFolder = await prepareSocketFolder(place.homeFolder, place.runAs);
  const peers = await namesOfPeers(place.runAs);
  return { folder, ...place, dataFolder, socketFolder, logFile: join(place.homeFolder, 'postgres.log'), peers };
}

async function placeForRoot(folder: string, packaged: string) {
  const hash = shortHash(folder);
  const elsewhere = join(systemFolder, 'clusters', hash);
  const owner = (await ownerOf(join(folder, 'postgres'))) ?? (await ownerOf(join(elsewhere, 'postgres')));
  const runAs = owner && owner.uid > 0 ? owner : await findUnprivilegedUser();
  let nativeFolder = packaged;
  if (!(await canReach(runAs, packaged))) {
    await mkdir(systemFolder, { recursive: true, mode: 0o755 });
    nativeFolder = await copyNativeFolder(packaged, systemFolder);
  }
  if (await canReach(runAs, folder)) return { nativeFolder, homeFolder: folder, runAs };
  await mkdir(elsewhere, { recursive: true, mode: 0o755 });
  // Whoever copies the folder as a backup must learn that the data are not in it.
  const note = `The user whom the database runs as cannot enter this folder, so its files are kept in\n${elsewhere}\n`;
  await writeFile(join(folder, whereTheDataAre), note);
  return { nativeFolder, homeFolder: elsewhere, runAs };
}

async function ownerOf(path: string): Promise<SystemUser | null> {
  return stat(path).then(
    (found) => ({ uid: found.uid, gid: found.gid }),
    () => null,
  );
}

async function refuseForeignData(dataFolder: string, folder: string): Promise<void> {
  const own = process.getuid?.();
  const owner = await ownerOf(dataFolder);
  if (owner === null || own === undefined || own === 0 || owner.uid === own) return;
  const name = (await nameOfUser(owner.uid)) ?? `number ${owner.uid}`;
  throw new EmbeddedPostgresError(`The data in ${folder} belong to the user ${name}. Start the server as that user.`);
}

/**
 * The folder of the socket: beside the data, or in the folder for temporary files where the path would be too long
 * for the system. Only the user of Postgres (and root) can enter it.
 */
async function prepareSocketFolder(homeFolder: string, runAs: SystemUser | null): Promise<string> {
  const name = `corewright-${shortHash(homeFolder)}`;
  const candidates = [join(homeFolder, 'run'), join(tmpdir(), name), join('/tmp', name)];
  const fitting = candidates.find((each) => Buffer.byteLength(join(each, socketName)) <= socketPathBytesMax);
  if (fitting === undefined) throw new EmbeddedPostgresError(`No path short enough for the socket of ${homeFolder} was found.`);
  if (!(await exists(fitting))) {
    await mkdir(fitting, { mode: 0o700 });
    if (runAs) await chown(fitting, runAs.uid, runAs.gid);
  }
  const found = await lstat(fitting);
  const expected = runAs?.uid ?? process.getuid?.();
  // In a folder that all may write to, somebody else could have put this here before us.
  if (!found.isDirectory() || (found.mode & 0o077) !== 0 || (found.uid !== expected && expected !== undefined)) {
    throw new EmbeddedPostgresError(
      `${fitting} should be a private folder for the socket of the database, but it is not. Remove it and start again.`,
    );
  }
  return fitting;
}

async function namesOfPeers(runAs: SystemUser | null): Promise<string[]> {
  const names = new Set<string>(['root']);
  try {
    names.add(userInfo().username);
  } catch {
    throw new EmbeddedPostgresError(
      'Postgres needs a user with a name, and the user of this process has none in the list of users of this machine.',
    );
  }
  const runner = runAs ? await nameOfUser(runAs.uid) : null;
  // An adopted cluster may have been started by the data's own user, who may come back.
  if (runner !== null && runner !== 'nobody') names.add(runner);
  return [...names];
}

function shortHash(text: string): string {
  return createHash('sha256').update(text).digest('hex').slice(0, 16);
}
