/**
 * The Postgres of the measurements: the embedded one on the settings of production, everything forced to the disk.
 *
 * A filled workshop takes long to make, so it is kept from run to run under a name that changes with the migrations and with
 * what fills it. What is measured is a copy of it, dropped afterwards.
 */
import { createHash, randomBytes } from 'node:crypto';
import { mkdir, readdir, readFile, rm } from 'node:fs/promises';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { Database } from '@corewright/api/dist/platform/database/database.js';
import { type EmbeddedPostgres, startEmbeddedPostgres } from '@corewright/api/dist/platform/database/embedded-postgres.js';
import { migrate } from '@corewright/api/dist/platform/database/migrate.js';
import { createPool } from '@corewright/api/dist/platform/database/pool.js';
import { embeddedLogins } from '@corewright/api/dist/platform/database/postgres-cluster.js';
import { verifyBooks } from '@corewright/api/dist/stores/verify/verify-books.js';
import pg from 'pg';
import { say } from './say.js';
import { fillWorkshop, type WorkshopSize } from './workshop-data.js';

export interface BenchDatabase {
  ownerUrl: string;
  servingUrl: string;
}

export interface BenchCluster {
  /** A workshop of this size in a database of its own, the same one for the whole run. */
  workshopOf(size: WorkshopSize): Promise<BenchDatabase>;
  stop(): Promise<void>;
}

const root = fileURLToPath(new URL('../../..', import.meta.url));
const cacheFolder = join(root, '.cache', 'bench');

export async function startCluster(): Promise<BenchCluster> {
  const folder = await folderForToday();
  const postgres = await startEmbeddedPostgres({ folder, durable: true, log: () => {} });
  const copies = new Map<string, Promise<BenchDatabase>>();
  return {
    workshopOf: (size) => {
      const name = `bench_${size.lots}_${size.units}_${size.jobs}_${size.numbers ?? 0}${size.isStripped === true ? '_stripped' : ''}${size.movements === undefined ? '' : `_moved_${size.movements}`}`;
      const copy = copies.get(name) ?? copyOf(postgres, name, size);
      copies.set(name, copy);
      return copy;
    },
    stop: async () => {
      for (const name of copies.keys()) await drop(postgres, `${name}_copy`);
      await postgres.stop();
    },
  };
}

/** Clusters that other migrations or another filling made are of no more use. */
async function folderForToday(): Promise<string> {
  const name = (await fingerprint()).slice(0, 16);
  await mkdir(cacheFolder, { recursive: true });
  for (const other of await readdir(cacheFolder))
    if (other !== name) await rm(join(cacheFolder, other), { recursive: true, force: true });
  return join(cacheFolder, name);
}

async function fingerprint(): Promise<string> {
  const migrations = join(root, 'apps/api/dist/migrations');
  const names = (await readdir(migrations)).filter((name) => name.endsWith('.js')).sort();
  const fillers = ['workshop-data.js', 'catalogue-data.js', 'strip-data.js', 'history-data.js'].map((name) =>
    fileURLToPath(new URL(name, import.meta.url)),
  );
  const files = [...names.map((name) => join(migrations, name)), ...fillers];
  const hash = createHash('sha256');
  for (const file of files) hash.update(await readFile(file));
  return hash.digest('hex');
}

async function copyOf(postgres: EmbeddedPostgres, name: string, size: WorkshopSize): Promise<BenchDatabase> {
  if (!(await exists(postgres, name))) await makeOriginal(postgres, name, size);
  const copy = `${name}_copy`;
  await drop(postgres, copy);
  await withClient(postgres.ownerUrl, (client) => client.query(`CREATE DATABASE ${copy} TEMPLATE ${name} STRATEGY file_copy`));
  return addressesOf(postgres, copy);
}

/** It gets its name when it is whole, so that a run that was cut short leaves nothing that looks filled. */
async function makeOriginal(postgres: EmbeddedPostgres, name: string, size: WorkshopSize): Promise<void> {
  say(
    `Filling a workshop of ${size.parts} parts, ${size.lots} lots, ${size.units} units and ${size.jobs} jobs; later runs use it again …`,
  );
  const begun = Date.now();
  const unfinished = `${name}_unfinished`;
  const addresses = addressesOf(postgres, unfinished);
  await drop(postgres, unfinished);
  await withClient(postgres.ownerUrl, (client) =>
    client.query(`CREATE DATABASE ${unfinished} TEMPLATE template0 ENCODING 'UTF8'`),
  );
  await migrate(addresses.ownerUrl, { servingRole: embeddedLogins.serving });
  await withClient(addresses.ownerUrl, (client) => fillWorkshop(client, size));
  await demandTrueBooks(addresses);
  await withClient(postgres.ownerUrl, (client) => client.query(`ALTER DATABASE ${unfinished} RENAME TO ${name}`));
  say(`Filled and verified in ${((Date.now() - begun) / 1000).toFixed(1)} s.`);
}

/** @throws Error where a balance or counter differs from what the movements and claims say: the figures would mean nothing */
export async function demandTrueBooks({ servingUrl }: BenchDatabase): Promise<void> {
  const pool = createPool(servingUrl, { max: 2 });
  try {
    const differences = await verifyBooks(new Database(pool, servingUrl));
    if (differences.length > 0)
      throw new Error(`The books differ from the movements: ${JSON.stringify(differences.slice(0, 3))}`);
  } finally {
    await pool.end();
  }
}

export async function withClient<T>(url: string, work: (client: pg.Client) => Promise<T>): Promise<T> {
  const client = new pg.Client({ connectionString: url });
  await client.connect();
  try {
    return await work(client);
  } finally {
    await client.end();
  }
}

/** @returns the headers of somebody signed in at a server that was started with `--port 0` */
export async function signIn({ ownerUrl }: BenchDatabase): Promise<Record<string, string>> {
  const token = randomBytes(16).toString('base64url');
  const insert = `INSERT INTO sessions (token_hash, person_id, expires_at) SELECT $1, id, now() + interval '1 day' FROM people`;
  await withClient(ownerUrl, (client) => client.query(insert, [createHash('sha256').update(token).digest()]));
  // The cookie's name carries the port that was asked for.
  return { cookie: `__Host-corewright-0=${token}` };
}

async function exists(postgres: EmbeddedPostgres, name: string): Promise<boolean> {
  const found = await withClient(postgres.ownerUrl, (client) =>
    client.query('SELECT 1 FROM pg_database WHERE datname = $1', [name]),
  );
  return found.rowCount === 1;
}

async function drop(postgres: EmbeddedPostgres, name: string): Promise<void> {
  await withClient(postgres.ownerUrl, (client) => client.query(`DROP DATABASE IF EXISTS ${name} WITH (FORCE)`));
}

function addressesOf(postgres: EmbeddedPostgres, name: string): BenchDatabase {
  return { ownerUrl: withDatabase(postgres.ownerUrl, name), servingUrl: withDatabase(postgres.servingUrl, name) };
}

function withDatabase(address: string, name: string): string {
  const url = new URL(address);
  url.pathname = `/${name}`;
  return url.toString();
}
