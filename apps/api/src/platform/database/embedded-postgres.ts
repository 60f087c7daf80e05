import { setTimeout as pause } from 'node:timers/promises';
import type { Client } from 'pg';
import { connectToCluster, holdOwnership, isServingFolder, ownerAtWork, prepareDatabase, urlOf } from './cluster-connection.js';
import { embeddedLogins, ensureCluster, writeAccessRules } from './postgres-cluster.js';
import { EmbeddedPostgresError, explainFailure } from './postgres-failure.js';
import { type PostgresPlace, preparePlace } from './postgres-place.js';
import {
  findWorkers,
  type Postmaster,
  readPostmasterPid,
  removeStaleFiles,
  spawnPostmaster,
  stopPostmaster,
} from './postmaster.js';
import { releaseStart, seizeStart } from './start-lock.js';

export interface EmbeddedPostgresOptions {
  /** The workshop's folder, `.data/workshop` for one; made where it is not there. */
  folder: string;
  /** False only for tests: nothing is forced to the disk. */
  durable: boolean;
  /** Takes a line in plain words on what is being done. */
  log: (line: string) => void;
  /** Binaries other than the bundled ones: a folder with `bin`, `lib` and `share`. */
  nativeFolder?: string;
  /** Called where the server went away and could not be started again. */
  onGone?: (error: Error) => void;
}

export interface EmbeddedPostgres {
  /** For migrations: owns the database and may make more databases; not a superuser. */
  readonly ownerUrl: string;
  /** For requests: may do what the migrations grant, and make nothing. */
  readonly servingUrl: string;
  /** For tests and repairs only: the superuser, on the database `postgres`. */
  readonly superuserUrl: string;
  /** Where the files of the cluster lie: in the folder, unless the user whom Postgres runs as cannot enter that. */
  readonly dataFolder: string;
  /** The process number of the server; another one after it had to be started again. */
  readonly pid: number;
  /** Stops the server, cutting off its clients; everything committed is on the disk afterwards. */
  stop(): Promise<void>;
}

interface Ownership {
  pid: number;
  /** Holds the advisory lock as long as it lives. */
  lock: Client;
}

/** How long to wait for a server in the folder that neither answers nor ends, in milliseconds. */
const occupiedMillisecondsMax = 60_000;
const restartsMax = 5;

/**
 * Starts the workshop's own Postgres, or takes over one that is still running in the folder, and makes the two logins
 * and the database where they are missing. The caller owns the folder until `stop()`.
 * @throws EmbeddedPostgresError with a sentence for the person: another owner, a full disk, data of another version …
 */
export async function startEmbeddedPostgres(options: EmbeddedPostgresOptions): Promise<EmbeddedPostgres> {
  const place = await preparePlace(options);
  if (place.homeFolder !== place.folder) options.log(`The files of the database are kept in ${place.dataFolder}.`);
  let owned = await takeOwnership(place, options);
  await prepareDatabase(owned.lock).catch(async (error: Error) => {
    await stopPostmaster(place, owned.pid);
    throw explainFailure(error.message, place.folder);
  });
  let stopping = false;
  let recovering: Promise<void> = Promise.resolve();

  const watch = () => {
    owned.lock.once('end', () => {
      if (!stopping) recovering = recover();
    });
    // An idle process should end by itself even where somebody forgot to stop the server.
    (owned.lock as Client & { unref(): void }).unref();
  };
  const recover = async () => {
    options.log('The connection to Postgres was lost; taking it up again.');
    try {
      owned = await retakeOwnership(place, options, () => stopping);
      watch();
    } catch (error) {
      if (!stopping) options.onGone?.(error as Error);
    }
  };
  const stop = async () => {
    if (stopping) return;
    stopping = true;
    await recovering;
    await stopPostmaster(place, owned.pid);
    await owned.lock.end().catch(() => {});
  };

  watch();
  return {
    ownerUrl: urlOf(place, embeddedLogins.owner),
    servingUrl: urlOf(place, embeddedLogins.serving),
    superuserUrl: urlOf(place, embeddedLogins.superuser),
    dataFolder: place.dataFolder,
    get pid() {
      return owned.pid;
    },
    stop,
  };
}

async function retakeOwnership(
  place: PostgresPlace,
  options: EmbeddedPostgresOptions,
  isStopping: () => boolean,
): Promise<Ownership> {
  for (let restart = 1; ; restart += 1) {
    if (isStopping()) throw new EmbeddedPostgresError('The server is being stopped.');
    try {
      return await takeOwnership(place, options);
    } catch (error) {
      options.log((error as Error).message);
      if (restart >= restartsMax) throw error;
      await pause(1000 * restart);
    }
  }
}

/** One of three things is true of the folder: its server answers, somebody works in it, or it lies idle. */
async function takeOwnership(place: PostgresPlace, options: EmbeddedPostgresOptions): Promise<Ownership> {
  const deadline = Date.now() + occupiedMillisecondsMax;
  for (;;) {
    const answering = await connectToCluster(place);
    const owned = answering ? await adopt(place, options, answering) : await startWhereIdle(place, options);
    if (owned) return owned;
    if (Date.now() > deadline) await giveUp(place);
    await pause(100);
  }
}

async function giveUp(place: PostgresPlace): Promise<never> {
  const workers = await findWorkers(place.dataFolder);
  throw new EmbeddedPostgresError(
    `Something still works in ${place.folder} and does not answer` +
      `${workers.length > 0 ? ` (process ${workers.join(', ')})` : ''}. Wait until it has ended, then start again.`,
  );
}

/** Takes over a running server, unless another process owns it; null where it must be looked at afresh. */
async function adopt(place: PostgresPlace, options: EmbeddedPostgresOptions, client: Client): Promise<Ownership | null> {
  if (!(await isServingFolder(client, place))) {
    await client.end();
    throw new EmbeddedPostgresError(
      `The socket in ${place.socketFolder} belongs to another server. Stop that server and start again.`,
    );
  }
  if (!(await holdOwnership(client))) {
    const owner = await ownerAtWork(client);
    await client.end();
    throw new EmbeddedPostgresError(
      `Another Corewright${owner === null ? '' : ` (process ${owner})`} is already working on ${place.folder}. ` +
        'Stop it first, or let both work on one database through DATABASE_URL.',
    );
  }
  const pid = await readPostmasterPid(place.dataFolder);
  const found = await client.query<{ fsync: string }>('SHOW fsync');
  if (pid !== null && (found.rows[0]?.fsync === 'on') === options.durable) {
    options.log(`Postgres was still running (process ${pid}); it is taken over.`);
    return { pid, lock: client };
  }
  // It runs on other settings than are asked for, and nobody owns it: it is started again.
  if (pid !== null) await stopPostmaster(place, pid);
  await client.end().catch(() => {});
  return null;
}

/** Starts the server where nobody works in the folder; null where somebody does, or somebody was quicker. */
async function startWhereIdle(place: PostgresPlace, options: EmbeddedPostgresOptions): Promise<Ownership | null> {
  if (!(await seizeStart(place.homeFolder))) return null;
  try {
    if ((await findWorkers(place.dataFolder)).length > 0) return null;
    await removeStaleFiles(place);
    const begun = Date.now();
    if (await ensureCluster(place, options)) options.log(`Made a new database in ${place.folder}.`);
    await writeAccessRules(place);
    const postmaster = await spawnPostmaster(place, options);
    const client = await waitUntilReady(place, postmaster, options).catch(async (error: unknown) => {
      await stopPostmaster(place, postmaster.pid);
      throw error;
    });
    if (client === null) return null;
    if (!(await holdOwnership(client))) {
      await client.end();
      return null;
    }
    options.log(`Postgres is ready (process ${postmaster.pid}, ${((Date.now() - begun) / 1000).toFixed(1)} s).`);
    return { pid: postmaster.pid, lock: client };
  } finally {
    await releaseStart(place.homeFolder);
  }
}

async function waitUntilReady(
  place: PostgresPlace,
  postmaster: Postmaster,
  options: EmbeddedPostgresOptions,
): Promise<Client | null> {
  let output: string | null = null;
  void postmaster.ended.then((text) => {
    output = text;
  });
  for (let waited = 0; output === null; waited += 25) {
    const client = await connectToCluster(place);
    if (client) return client;
    if (waited === 5000) options.log('Postgres is putting its data in order after an unclean end; this can take a while.');
    await pause(25);
  }
  // A server that another process started in the same moment: that one is looked at next.
  if (/lock file "postmaster\.pid" already exists/.test(output)) return null;
  throw explainFailure(output, place.folder);
}
