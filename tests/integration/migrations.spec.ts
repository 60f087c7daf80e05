import { jest } from '@jest/globals';
import pg from 'pg';
import { migrations } from '../../apps/api/src/migrations/index';
import { migrate } from '../../apps/api/src/platform/database/migrate';
import { createPool } from '../../apps/api/src/platform/database/pool';
import { createTestDatabase, type TestDatabase } from '../support/database';
import { findPostgresFifteen, startPostgresFifteen } from '../support/postgres-fifteen';

jest.setTimeout(90_000);

const servingRole = 'corewright_serving';
const names = migrations.map((migration) => migration.name);

describe('migrations', () => {
  it('know nothing of the data of a workshop', () => {
    expect(process.env.DATABASE_URL).toBeUndefined();
    expect(process.env.DATABASE_OWNER_URL).toBeUndefined();
  });

  it('refuse a database that has not got the serving login, in words', async () => {
    const database = await createTestDatabase('unfit');
    await expect(migrate(database.ownerUrl, { servingRole: 'nobody_of_this_name' })).rejects.toThrow(
      'The serving login "nobody_of_this_name" does not exist.',
    );
    await database.drop();
  });

  // The package with the old binaries is made for one kind of machine; elsewhere TEST_DATABASE_URL can name a server of 15.
  const hasFifteen = findPostgresFifteen() !== null;
  if (!hasFifteen) process.stderr.write('Postgres 15 is not packaged for this machine: its migrations are tried elsewhere.\n');
  (hasFifteen ? it : it.skip)(
    'run on Postgres 15, once though two servers start at once, and grant the serving login no more than it needs',
    async () => {
      const server = await startPostgresFifteen();
      try {
        const version = await ask(server.ownerUrl, 'SHOW server_version_num');
        expect(Math.floor(Number(version[0]?.server_version_num) / 10_000)).toBe(15);
        const runs = await Promise.all([migrate(server.ownerUrl, { servingRole }), migrate(server.ownerUrl, { servingRole })]);
        expect(runs.map((run) => run.length).sort((a, b) => a - b)).toEqual([0, names.length]);
        expect(runs.flat()).toEqual(names);
        expect(await migrate(server.ownerUrl, { servingRole })).toEqual([]);
        await expect(ask(server.servingUrl, 'DROP TABLE movements')).rejects.toMatchObject({ code: '42501' });
        await expect(ask(server.servingUrl, 'DELETE FROM movements')).rejects.toMatchObject({ code: '42501' });
        expect(await ask(server.servingUrl, 'SELECT count(*)::int AS n FROM movements')).toEqual([{ n: 0 }]);
      } finally {
        await server.stop();
      }
    },
  );

  it('can be taken up where an earlier version of the server has stopped', async () => {
    const database = await createTestDatabase('later');
    expect(await migrate(database.ownerUrl, { servingRole: loginOf(database.servingUrl) })).toEqual([]);
    await database.drop();
  });
});

describe('databases of tests', () => {
  let one: TestDatabase;
  let other: TestDatabase;

  beforeAll(async () => {
    [one, other] = await Promise.all([createTestDatabase('one'), createTestDatabase('other')]);
  });

  afterAll(async () => {
    await one.drop();
    await other.drop();
  });

  it('are apart, and the serving login can make nothing in them', async () => {
    await ask(one.ownerUrl, 'CREATE TABLE only_here (n int)');
    await expect(ask(other.ownerUrl, 'SELECT * FROM only_here')).rejects.toMatchObject({ code: '42P01' });
    await expect(ask(one.servingUrl, 'CREATE TABLE mine (n int)')).rejects.toMatchObject({ code: '42501' });
    await expect(ask(one.servingUrl, 'CREATE TEMPORARY TABLE mine (n int)')).rejects.toMatchObject({ code: '42501' });
  });

  it('are read by the pool exactly: large integers and decimals as digits, dates as dates, instants in UTC', async () => {
    const pool = createPool(one.servingUrl, { max: 2 });
    const { rows } = await pool.query(
      `SELECT 42::int8 AS small, 9007199254740993::int8 AS large, 0.1000::numeric(14,4) AS exact, DATE '1938-02-28' AS day,
              TIMESTAMPTZ '2026-03-29 02:30:00.125+01' AS instant, 'infinity'::timestamptz AS always,
              ARRAY[1, NULL, 9007199254740993]::int8[] AS integers, ARRAY[DATE '1962-12-31'] AS days,
              ARRAY[[TIMESTAMPTZ '2026-01-01 00:00+05:30']] AS instants, ARRAY[0.10, 2]::numeric[] AS decimals`,
    );
    await pool.end();
    expect(rows).toEqual([
      {
        small: 42,
        large: '9007199254740993',
        exact: '0.1000',
        day: '1938-02-28',
        instant: '2026-03-29T01:30:00.125Z',
        always: 'infinity',
        integers: [1, null, '9007199254740993'],
        days: ['1962-12-31'],
        instants: [['2025-12-31T18:30:00.000Z']],
        decimals: ['0.10', '2'],
      },
    ]);
  });
});

async function ask(url: string, text: string): Promise<Record<string, unknown>[]> {
  const client = new pg.Client({ connectionString: url });
  await client.connect();
  try {
    return (await client.query(text)).rows;
  } finally {
    await client.end();
  }
}

function loginOf(url: string): string {
  return decodeURIComponent(new URL(url).username);
}
