import { realpath } from 'node:fs/promises';
import { setTimeout as pause } from 'node:timers/promises';
import pg, { type Client } from 'pg';
import { embeddedLogins } from './postgres-cluster.js';
import { EmbeddedPostgresError } from './postgres-failure.js';
import type { PostgresPlace } from './postgres-place.js';

const databaseName = 'corewright';

/** The key of the advisory lock that the owner of a cluster holds, on the database `postgres`. */
const ownershipKey = 1_668_248_949;

/** An owner that was killed is gone as soon as its connection is closed, which takes the server a moment. */
const ownershipMillisecondsMax = 1500;

/** The address of the embedded server for one of its logins. */
export function urlOf(place: PostgresPlace, login: string): string {
  const database = login === embeddedLogins.superuser ? 'postgres' : databaseName;
  return `postgresql://${login}@localhost/${database}?host=${encodeURIComponent(place.socketFolder)}`;
}

/**
 * A connection to the server that answers in the folder, as its superuser; null where none answers or it is not ready.
 * @throws EmbeddedPostgresError where the server answers and refuses for good
 */
export async function connectToCluster(place: PostgresPlace): Promise<Client | null> {
  const client = new pg.Client({
    connectionString: urlOf(place, embeddedLogins.superuser),
    application_name: `corewright owner ${process.pid}`,
    connectionTimeoutMillis: 10_000,
  });
  // A lost connection is noticed by its end; without a listener it would end this process.
  client.on('error', () => {});
  try {
    await client.connect();
    return client;
  } catch (error) {
    await client.end().catch(() => {});
    const failure = error as NodeJS.ErrnoException;
    // 57P03: starting up or shutting down. 53300: too many clients. Without a SQLSTATE nobody answered.
    const isRefusal =
      /^[0-9A-Z]{5}$/.test(failure.code ?? '') && !['57P03', '53300'].includes(failure.code ?? '') && 'severity' in failure;
    if (isRefusal)
      throw new EmbeddedPostgresError(
        `The server in ${place.folder} does not let this program in: ${failure.message}.`,
        failure.code,
      );
    return null;
  }
}

/** Whether the server that answers is the one of this data folder. */
export async function isServingFolder(client: Client, place: PostgresPlace): Promise<boolean> {
  const shown = await client.query<{ data_directory: string }>('SHOW data_directory');
  const answering = await realpath(shown.rows[0]?.data_directory ?? '').catch(() => null);
  return answering !== null && answering === (await realpath(place.dataFolder).catch(() => null));
}

/** Takes the ownership of the cluster for as long as this connection lives; false where another process has it. */
export async function holdOwnership(client: Client): Promise<boolean> {
  for (let waited = 0; waited <= ownershipMillisecondsMax; waited += 100) {
    const answer = await client.query<{ held: boolean }>('SELECT pg_try_advisory_lock($1) AS held', [ownershipKey]);
    if (answer.rows[0]?.held) return true;
    await pause(100);
  }
  return false;
}

/** The process number of the program that owns the cluster, where it can be told. */
export async function ownerAtWork(client: Client): Promise<number | null> {
  const answer = await client.query<{ application_name: string }>(
    `SELECT a.application_name FROM pg_locks l JOIN pg_stat_activity a USING (pid)
      WHERE l.locktype = 'advisory' AND l.classid = 0 AND l.objid = $1::bigint::oid AND l.granted`,
    [ownershipKey],
  );
  const pid = /^corewright owner (\d+)$/.exec(answer.rows[0]?.application_name ?? '')?.[1];
  return pid === undefined ? null : Number(pid);
}

/** Makes the logins and the database where they are missing. To be called by the owner of the cluster only. */
export async function prepareDatabase(client: Client): Promise<void> {
  const { owner, serving } = embeddedLogins;
  const logins = await client.query<{ rolname: string }>('SELECT rolname FROM pg_roles WHERE rolname = ANY($1)', [
    [owner, serving],
  ]);
  const known = new Set(logins.rows.map((row) => row.rolname));
  if (!known.has(owner)) await client.query(`CREATE ROLE ${owner} LOGIN CREATEDB`);
  if (!known.has(serving)) await client.query(`CREATE ROLE ${serving} LOGIN`);
  const databases = await client.query('SELECT 1 FROM pg_database WHERE datname = $1', [databaseName]);
  if (databases.rowCount === 0) await client.query(`CREATE DATABASE ${databaseName} OWNER ${owner}`);
  // Otherwise every login could make temporary tables.
  await client.query(`REVOKE ALL ON DATABASE ${databaseName} FROM PUBLIC`);
  await client.query(`GRANT CONNECT ON DATABASE ${databaseName} TO ${serving}`);
}
