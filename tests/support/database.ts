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
 */
export async function createTestDatabase(name = 'case'): Promise<TestDatabase> {
  if (!/^[a-z0-9_]{1,12}$/.test(name)) throw new Error(`Not a name for a test database: ${name}`);
  const template = settingOf('CW_TEST_TEMPLATE');
  const database = `${template}_${name}_${randomBytes(4).toString('hex')}`;
  const ownerUrl = withDatabase(settingOf('CW_TEST_OWNER_URL'), database);
  const servingUrl = withDatabase(settingOf('CW_TEST_SERVING_URL'), database);
  await asAdmin(async (client) => {
    await client.query(`CREATE DATABASE "${database}" TEMPLATE "${template}" OWNER "${loginOf(ownerUrl)}"`);
    // Rights on the database itself are not cloned.
    await client.query(`REVOKE ALL ON DATABASE "${database}" FROM PUBLIC`);
    await client.query(`GRANT CONNECT ON DATABASE "${database}" TO "${loginOf(servingUrl)}"`);
  });
  const drop = () => asAdmin((client) => client.query(`DROP DATABASE IF EXISTS "${database}" WITH (FORCE)`)).then(() => {});
  return { ownerUrl, servingUrl, drop };
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

function withDatabase(address: string, name: string): string {
  const url = new URL(address);
  url.pathname = `/${name}`;
  return url.toString();
}
