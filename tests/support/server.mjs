// Finds a Postgres for the tests: the one that TEST_DATABASE_URL names, else one in a container, else the embedded one.
import { readdir, readFile, rm, statfs } from 'node:fs/promises';
import http from 'node:http';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import pg from 'pg';
import { startEmbeddedPostgres } from '../../apps/api/dist/platform/database/embedded-postgres.js';

const folderPrefix = 'corewright-test-';

/** Where Linux keeps files in memory, and how much of it must be free for them, in bytes. */
const memoryFolder = '/dev/shm';
const memoryBytesMin = 4 * 2 ** 30;

/** Logins of the tests on a server that is not embedded. Its address is secret, not these. */
const testLogins = { owner: 'corewright_test_owner', serving: 'corewright_test_serving', password: 'corewright-test' };

/**
 * @typedef {object} TestServer
 * @property {string} kind what was found, in words
 * @property {string} adminUrl may make databases for the owner
 * @property {string} ownerUrl the owner's login; its database is of no account
 * @property {string} servingUrl the serving login; its database is of no account
 * @property {boolean} isHasty nothing is forced to the disk
 * @property {() => Promise<void>} stop
 */

/** @returns {Promise<TestServer>} */
export async function findTestServer() {
  const named = process.env.TEST_DATABASE_URL;
  if (named) return { ...(await prepareServer('the Postgres of TEST_DATABASE_URL', named, async () => {})), isHasty: false };
  if (await doesDockerAnswer()) {
    try {
      return await startContainer();
    } catch (error) {
      process.stderr.write(
        `Docker answers, but no Postgres could be started in it (${error.message}); the embedded one is used.\n`,
      );
    }
  }
  return startEmbedded();
}

async function startEmbedded() {
  for (const base of [memoryFolder, tmpdir()]) await sweepAbandoned(base);
  const folder = join(await baseFolder(), `${folderPrefix}${process.pid}`);
  const server = await startEmbeddedPostgres({ folder, durable: false, log: () => {} });
  return {
    kind: 'the embedded Postgres',
    adminUrl: server.superuserUrl,
    ownerUrl: server.ownerUrl,
    servingUrl: server.servingUrl,
    isHasty: true,
    stop: async () => {
      await server.stop();
      await rm(folder, { recursive: true, force: true });
    },
  };
}

/** Some hundred files are made and removed again for each test file: in memory where there is plenty, since on a disk that takes a while. */
async function baseFolder() {
  const memory = await statfs(memoryFolder).catch(() => null);
  return memory !== null && memory.bavail * memory.bsize >= memoryBytesMin ? memoryFolder : tmpdir();
}

/** Ends the servers of test runs that were killed before they could do so themselves. */
async function sweepAbandoned(base) {
  for (const name of await readdir(base).catch(() => [])) {
    const maker = new RegExp(`^${folderPrefix}(\\d+)$`).exec(name)?.[1];
    if (maker === undefined || isAlive(Number(maker))) continue;
    const folder = join(base, name);
    const postmaster = await readFile(join(folder, 'postgres', 'postmaster.pid'), 'utf8').catch(() => '');
    if (Number.parseInt(postmaster, 10) > 0) {
      // Only a server that answers in that very folder is stopped.
      const server = await startEmbeddedPostgres({ folder, durable: false, log: () => {} }).catch(() => null);
      await server?.stop();
    }
    await rm(folder, { recursive: true, force: true });
  }
}

function isAlive(pid) {
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    return error.code === 'EPERM';
  }
}

/** A real answer of an engine, not the mere presence of a program or a socket. */
function doesDockerAnswer() {
  const host = process.env.DOCKER_HOST ?? 'unix:///var/run/docker.sock';
  const socketPath = /^unix:\/\/(.+)$/.exec(host)?.[1];
  const address = /^tcp:\/\/([^:/]+):(\d+)/.exec(host);
  const where = socketPath ? { socketPath } : address ? { host: address[1], port: Number(address[2]) } : null;
  if (where === null) return Promise.resolve(false);
  return new Promise((settle) => {
    const request = http.get({ ...where, path: '/_ping', timeout: 1000 }, (response) => {
      response.resume();
      settle(response.statusCode === 200);
    });
    request.on('timeout', () => request.destroy());
    request.on('error', () => settle(false));
  });
}

async function startContainer() {
  const { PostgreSqlContainer } = await import('@testcontainers/postgresql');
  const container = await new PostgreSqlContainer('postgres:18')
    .withCommand(['postgres', '-c', 'fsync=off', '-c', 'synchronous_commit=off', '-c', 'max_connections=300'])
    .start();
  const stop = () => container.stop();
  return { ...(await prepareServer('a Postgres in a container', container.getConnectionUri(), stop)), isHasty: true };
}

/** Makes the two logins on a server that others manage. */
async function prepareServer(kind, adminUrl, stop) {
  const client = new pg.Client({ connectionString: adminUrl });
  await client.connect();
  try {
    const { rows } = await client.query('SELECT rolsuper, current_user AS name FROM pg_roles WHERE rolname = current_user');
    const isSuperuser = rows[0].rolsuper;
    if (isSuperuser) await ensureLogin(client, testLogins.owner);
    await ensureLogin(client, testLogins.serving);
    const ownerUrl = isSuperuser ? withLogin(adminUrl, testLogins.owner) : adminUrl;
    return { kind, adminUrl, ownerUrl, servingUrl: withLogin(adminUrl, testLogins.serving), stop };
  } finally {
    await client.end();
  }
}

async function ensureLogin(client, name) {
  const { rowCount } = await client.query('SELECT 1 FROM pg_roles WHERE rolname = $1', [name]);
  if (rowCount === 0) await client.query(`CREATE ROLE ${name} LOGIN PASSWORD '${testLogins.password}'`);
}

function withLogin(address, name) {
  const url = new URL(address);
  url.username = name;
  url.password = testLogins.password;
  return url.toString();
}
