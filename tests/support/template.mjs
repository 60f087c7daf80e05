// The template database: made once for a run, cloned for each test file.
import pg from 'pg';
import { migrate } from '../../apps/api/dist/platform/database/migrate.js';

/**
 * @param {import('./server.mjs').TestServer} server
 * @returns {Promise<string>} the name of the template
 */
export async function makeTemplate(server) {
  // Two runs may share one server.
  const name = `corewright_test_template_${process.pid}_${Date.now().toString(36)}`;
  const owner = decodeURIComponent(new URL(server.ownerUrl).username);
  const serving = decodeURIComponent(new URL(server.servingUrl).username);
  await asAdmin(server, (client) =>
    client.query(`CREATE DATABASE "${name}" TEMPLATE template0 ENCODING 'UTF8' OWNER "${owner}"`),
  );
  await migrate(withDatabase(server.ownerUrl, name), { servingRole: serving });
  return name;
}

/** Drops the template, and the clones that a test left behind. */
export async function dropTemplate(server, template) {
  await asAdmin(server, async (client) => {
    const { rows } = await client.query('SELECT datname FROM pg_database WHERE datname = $1 OR starts_with(datname, $2)', [
      template,
      `${template}_`,
    ]);
    for (const row of rows) await client.query(`DROP DATABASE IF EXISTS "${row.datname}" WITH (FORCE)`);
  });
}

export function withDatabase(address, name) {
  const url = new URL(address);
  url.pathname = `/${name}`;
  return url.toString();
}

async function asAdmin(server, work) {
  const client = new pg.Client({ connectionString: server.adminUrl });
  await client.connect();
  try {
    return await work(client);
  } finally {
    await client.end();
  }
}
