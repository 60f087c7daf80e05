import pg from 'pg';
import { DataSource } from 'typeorm';
import { migrations } from '../../migrations/index.js';

/** The oldest Postgres on which the migrations are tried. */
const majorVersionMin = 15;

/** The key of the advisory lock under which migrations run, in the database that they change. */
const migrationKey = 1_668_248_950;

export interface MigrateOptions {
  /** The login that serves requests; the migrations grant it what it may do. */
  servingRole: string;
}

/** The database that was given cannot be used. The message is a sentence for the person. */
export class UnfitDatabaseError extends Error {
  override readonly name = 'UnfitDatabaseError';
}

/**
 * Brings the database to the newest form. Servers that start at the same time wait for one another, and the second
 * finds nothing left to do. Each migration is one transaction.
 * @param ownerUrl a login that owns the database; not through a pooler of transactions, since a lock is held
 * @returns the names of the migrations that were run now, in order
 * @throws UnfitDatabaseError where Postgres is too old, the encoding is not UTF-8 or the serving login is missing
 */
export async function migrate(ownerUrl: string, options: MigrateOptions): Promise<string[]> {
  const lock = new pg.Client({ connectionString: ownerUrl, application_name: 'corewright migrations' });
  await lock.connect();
  try {
    await demandFitness(lock, options.servingRole);
    await lock.query('SELECT pg_advisory_lock($1)', [migrationKey]);
    return await runPending(ownerUrl, options.servingRole);
  } finally {
    // Ending the connection gives the lock back, even where the work was cut short.
    await lock.end();
  }
}

async function demandFitness(client: pg.Client, servingRole: string): Promise<void> {
  const answer = await client.query<{ version: string; encoding: string; has_role: boolean }>(
    `SELECT current_setting('server_version_num') AS version, current_setting('server_encoding') AS encoding,
            EXISTS (SELECT 1 FROM pg_roles WHERE rolname = $1) AS has_role`,
    [servingRole],
  );
  const found = answer.rows[0]!;
  const major = Math.floor(Number(found.version) / 10_000);
  if (major < majorVersionMin) throw new UnfitDatabaseError(`This is Postgres ${major}; ${majorVersionMin} or later is needed.`);
  if (found.encoding !== 'UTF8')
    throw new UnfitDatabaseError(`The database is encoded in ${found.encoding}; it must be made with UTF8.`);
  if (!found.has_role)
    throw new UnfitDatabaseError(`The serving login "${servingRole}" does not exist. Make it first: CREATE ROLE ... LOGIN.`);
}

async function runPending(ownerUrl: string, servingRole: string): Promise<string[]> {
  const source = new DataSource({
    type: 'postgres',
    url: ownerUrl,
    applicationName: 'corewright migrations',
    migrations: [...migrations],
    migrationsTableName: 'migrations',
    migrationsTransactionMode: 'each',
    // Extensions are made by the migrations, by name.
    installExtensions: false,
    extra: {
      max: 2,
      // The migrations read the login's name from the session, whichever connection they are given.
      onConnect: (client: pg.ClientBase) =>
        client.query(`SELECT set_config('corewright.serving_role', $1, false)`, [servingRole]),
    },
  });
  await source.initialize();
  try {
    const done = await source.runMigrations();
    return done.map((migration) => migration.name);
  } finally {
    await source.destroy();
  }
}
