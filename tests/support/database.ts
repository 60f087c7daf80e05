import { randomBytes } from 'node:crypto';
import pg from 'pg';

export interface TestDatabase {
  /** The owner's login: may change tables. */
  ownerUrl: string;
  /** The login that serves requests. */
  servingUrl: string;
  /** Drops the database, cutting off whoever is still connected. */
  drop(): Promise<void>;
}

/**
 * A database of its own for a test file, cloned from the template that the run's set-up migrated.
 * @param name a word that helps to tell it from others; lower-case letters, digits and underscores
 * @param from another template than the empty one, by its name
 */
export async function createTestDatabase(name = 'case', from?: string): Promise<TestDatabase> {
  if (!/^[a-z0-9_]{1,12}$/.test(name)) throw new Error(`Not a name for a test database: ${name}`);
  const empty = settingOf('CW_TEST_TEMPLATE');
  const template = from ?? empty;
  const database = `${empty}_${name}_${randomBytes(4).toString('hex')}`;
  const ownerUrl = withDatabase(settingOf('CW_TEST_OWNER_URL'), database);
  const servingUrl = withDatabase(settingOf('CW_TEST_SERVING_URL'), database);
  await asAdmin(async (client) => {
    const strategy = settingOf('CW_TEST_STRATEGY');
    await client.query(`CREATE DATABASE "${database}" TEMPLATE "${template}" STRATEGY ${strategy} OWNER "${loginOf(ownerUrl)}"`);
    // Rights on the database itself are not cloned.
    await client.query(`REVOKE ALL ON DATABASE "${database}" FROM PUBLIC`);
    await client.query(`GRANT CONNECT ON DATABASE "${database}" TO "${loginOf(servingUrl)}"`);
  });
  const drop = () => asAdmin((client) => client.query(`DROP DATABASE IF EXISTS "${database}" WITH (FORCE)`)).then(() => {});
  return { ownerUrl, servingUrl, drop };
}

/**
 * A template made once for the whole run, whichever of its processes asks for it first: the others wait, then have it too.
 * @param name a word for it, as in {@link createTestDatabase}
 * @param fill fills an empty database and leaves no connection to it open
 * @returns its name, to be cloned from
 */
export async function templateFilledOnce(name: string, fill: (database: TestDatabase) => Promise<void>): Promise<string> {
  const template = `${settingOf('CW_TEST_TEMPLATE')}_${name}`;
  return asAdmin(async (client) => {
    await client.query('SELECT pg_advisory_lock(hashtextextended($1, 0))', [template]);
    // The lock goes with the connection. Only a filled one bears the name.
    const { rowCount } = await client.query('SELECT 1 FROM pg_database WHERE datname = $1', [template]);
    if (rowCount !== 0) return template;
    const database = await createTestDatabase(name);
    await fill(database);
    await client.query(`ALTER DATABASE "${databaseOf(database.ownerUrl)}" RENAME TO "${template}"`);
    return template;
  });
}

async function asAdmin<T>(work: (client: pg.Client) => Promise<T>): Promise<T> {
  const client = new pg.Client({ connectionString: settingOf('CW_TEST_ADMIN_URL') });
  await client.connect();
  try {
    return await work(client);
  } finally {
    await client.end();
  }
}

function settingOf(name: string): string {
  const value = process.env[name];
  if (!value) throw new Error(`${name} is not set: this test needs the set-up of the project "whole".`);
  return value;
}

function loginOf(url: string): string {
  return decodeURIComponent(new URL(url).username);
}

function databaseOf(url: string): string {
  return decodeURIComponent(new URL(url).pathname.slice(1));
}

function withDatabase(address: string, name: string): string {
  const url = new URL(address);
  url.pathname = `/${name}`;
  return url.toString();
}
