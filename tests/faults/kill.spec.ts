import { readFileSync } from 'node:fs';
import { createServer } from 'node:net';
import { join } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import { jest } from '@jest/globals';
import pg from 'pg';
import { newId } from '../../apps/api/src/platform/new-id.js';
import type { Answer, Visitor } from '../support/bare-server.js';
import { createTestDatabase } from '../support/database.js';
import {
  type BooksOfProcess,
  booksIn,
  endAll,
  newDataFolder,
  runServerProgram,
  type ServerProcess,
  setUpThroughLink,
  startServerProcess,
  visitorAt,
} from '../support/server-process.js';
import { type Made, Stock } from '../support/stock.js';

// The settings are those of production: everything is forced to the disk before it is acknowledged. Even so a kill proves
// only that the work outlives the death of a process. It says nothing of a power cut, which these tests cannot make.

const isLong = process.env.CW_LONG === '1';
const rounds = isLong ? 20 : 1;
const clients = 8;
/** The kill comes when so many scans were acknowledged: in the middle of the burst. */
const acknowledgedBeforeKill = 40;
const recoveryMillisecondsMax = 60_000;

jest.setTimeout(isLong ? 3_600_000 : 240_000);

interface Scan {
  key: string;
  body: { code: string; jobId: string; quantity: string };
  /** the act that was acknowledged; null where no answer came */
  actId: string | null;
}

let folder: string;
let server: ServerProcess;
let owner: Visitor;
let books: BooksOfProcess;
let lot: Made;
let jobs: Made[];
const scans: Scan[] = [];
const stocked = 100_000;

beforeAll(async () => {
  folder = newDataFolder();
  server = await startServerProcess(['--data', folder]);
  owner = await setUpThroughLink(server);
  books = await booksIn(folder);
  const stock = await Stock.open(books.ownerUrl);
  const partId = await stock.part({ name: 'Planet wheel' });
  lot = await stock.lot(partId, { quantity: String(stocked) });
  jobs = [];
  for (let index = 0; index < clients; index += 1) jobs.push(await stock.job([{ partId, quantity: String(stocked) }]));
  await stock.close();
});
afterAll(() => endAll());

async function ask<Row extends pg.QueryResultRow>(url: string, text: string, values: unknown[] = []): Promise<Row[]> {
  const client = new pg.Client({ connectionString: url });
  client.on('error', () => undefined);
  await client.connect();
  try {
    return (await client.query<Row>(text, values)).rows;
  } finally {
    await client.end();
  }
}

type FitAnswer = Answer<{ actId: string; code?: string }>;

async function send(scan: Scan): Promise<FitAnswer | null> {
  return owner.post<{ actId: string; code?: string }>('/api/fits', scan.body, { key: scan.key }).catch(() => null);
}

/**
 * Eight clients fit one after another, each on its own job, until `strike` has struck and an answer fails to come; each then
 * has one scan of which it does not know whether it was written.
 */
async function burst(strike: () => void): Promise<void> {
  let acknowledged = 0;
  let struck = false;
  const client = async (job: Made): Promise<void> => {
    for (;;) {
      const scan: Scan = { key: newId(), body: { code: lot.code, jobId: job.id, quantity: '1' }, actId: null };
      scans.push(scan);
      const answer = await send(scan);
      if (answer?.status !== 200) {
        // Before the strike nothing fails, and after it nothing is answered but the truth: that the books cannot be reached.
        expect({ struck, status: answer?.status ?? 503 }).toEqual({ struck: true, status: 503 });
        return;
      }
      scan.actId = answer.body.actId;
      acknowledged += 1;
      if (acknowledged === acknowledgedBeforeKill) {
        struck = true;
        strike();
      }
      if (acknowledged > acknowledgedBeforeKill + 2000) throw new Error('The strike did not hit');
    }
  };
  await Promise.all(jobs.map((job) => client(job)));
}

/** Sends what was not acknowledged again, with the keys that it had, until each is. */
async function resend(): Promise<number> {
  const open = scans.filter((scan) => scan.actId === null);
  await Promise.all(
    open.map(async (scan) => {
      const deadline = Date.now() + recoveryMillisecondsMax;
      for (;;) {
        const answer = await send(scan);
        if (answer?.status === 200) {
          scan.actId = answer.body.actId;
          return;
        }
        expect(answer?.status ?? 503).toBe(503);
        if (Date.now() > deadline) throw new Error(`The books were not reached again: ${server.output()}`);
        await pause(50);
      }
    }),
  );
  return open.length;
}

/** No scan that was acknowledged is lost, and none is there twice. */
async function expectEachOnce(): Promise<void> {
  const written = await ask<{ key: string; id: string; quantity: string; fittings: number }>(
    books.ownerUrl,
    `SELECT command_key AS key, id, trim_scale(quantity)::text AS quantity,
            (SELECT count(*)::int FROM fittings WHERE movement_id = movements.id) AS fittings
       FROM movements WHERE thing_id = $1 AND reason = 'fitted'`,
    [lot.id],
  );
  const expected = scans.map((scan) => ({ key: scan.key, id: scan.actId, quantity: '1', fittings: 1 }));
  const inOrder = (one: { key: string }, other: { key: string }): number => (one.key < other.key ? -1 : 1);
  expect(written.sort(inOrder)).toEqual(expected.sort(inOrder));
  const [thing] = await ask<{ held: string }>(books.ownerUrl, 'SELECT trim_scale(held)::text AS held FROM things WHERE id = $1', [
    lot.id,
  ]);
  expect(thing!.held).toBe(String(stocked - scans.length));
  const verified = await runServerProgram(['verify', '--data', folder]);
  expect(verified).toMatchObject({ code: 0, output: expect.stringMatching(/The books agree: .* no difference/) });
}

/** An outage leaves no connections over: the server listens for news on one, as before. */
async function expectOneListener(): Promise<void> {
  const listeners = async (): Promise<number> =>
    (await ask(books.superuserUrl, "SELECT 1 FROM pg_stat_activity WHERE application_name = 'corewright news'")).length;
  const deadline = Date.now() + recoveryMillisecondsMax;
  while ((await listeners()) === 0 && Date.now() < deadline) await pause(50);
  // Longer than the server waits before it tries again: one too many would show by then.
  await pause(1500);
  expect(await listeners()).toBe(1);
}

async function startAgain(): Promise<void> {
  server = await startServerProcess(['--data', folder]);
  owner = visitorAt(server.url, owner);
  expect((await owner.get('/api/me')).status).toBe(200);
}

async function postmasterPid(): Promise<number> {
  const [row] = await ask<{ data_directory: string }>(books.superuserUrl, 'SHOW data_directory');
  return Number.parseInt(readFileSync(join(row!.data_directory, 'postmaster.pid'), 'utf8'), 10);
}

describe('a server that is killed', () => {
  it('runs on the settings of production', async () => {
    const settings = await ask(
      books.servingUrl,
      `SELECT current_setting('fsync') AS fsync, current_setting('synchronous_commit') AS commit, current_setting('full_page_writes') AS pages`,
    );
    expect(settings).toEqual([{ fsync: 'on', commit: 'on', pages: 'on' }]);
  });

  it('with its Postgres left alive, in the middle of a burst: started again, nothing acknowledged is lost and nothing is twice', async () => {
    for (let round = 0; round < rounds; round += 1) {
      await burst(() => process.kill(server.pid, 'SIGKILL'));
      expect(await server.ended).toEqual({ code: null, signal: 'SIGKILL' });
      await startAgain();
      expect(await resend()).toBe(clients);
      await expectEachOnce();
    }
  });

  it('of whose Postgres is killed: says that the books cannot be reached, takes them up again, and nothing is lost or twice', async () => {
    for (let round = 0; round < rounds; round += 1) {
      const before = await postmasterPid();
      await burst(() => process.kill(before, 'SIGKILL'));
      expect(await resend()).toBe(clients);
      expect(await postmasterPid()).not.toBe(before);
      expect((await owner.get('/api/health')).body).toMatchObject({ status: 'well', database: 'answers' });
      await expectOneListener();
      await expectEachOnce();
    }
  });

  it('together with its Postgres: started again, nothing acknowledged is lost and nothing is twice', async () => {
    for (let round = 0; round < rounds; round += 1) {
      const postmaster = await postmasterPid();
      await burst(() => {
        process.kill(postmaster, 'SIGKILL');
        process.kill(server.pid, 'SIGKILL');
      });
      await server.ended;
      await startAgain();
      await resend();
      await expectEachOnce();
    }
  });

  it('politely, in the middle of a burst: ends with 0, its Postgres too, and nothing acknowledged is lost', async () => {
    const postmaster = await postmasterPid();
    // A screen that listens for news is open all day; it must not keep the server from ending.
    const screen = await fetch(`${server.url}/api/events`, { headers: { cookie: owner.cookie ?? '' } });
    let ended: ReturnType<ServerProcess['end']> | null = null;
    await burst(() => {
      ended = server.end('SIGTERM');
    });
    expect(await ended).toEqual({ code: 0, signal: null });
    await screen.text();
    expect(() => process.kill(postmaster, 0)).toThrow(/ESRCH/);
    // At rest it is opened for the check and closed again.
    expect(await runServerProgram(['verify', '--data', folder])).toMatchObject({ code: 0 });
    await startAgain();
    await resend();
    await expectEachOnce();
  });
});

describe('a second server', () => {
  it('on the same data is refused in words, and the first goes on', async () => {
    const second = await runServerProgram(['serve', '--port', '0', '--data', folder]);
    expect(second.code).toBe(1);
    expect(second.output).toMatch(
      new RegExp(`Another Corewright \\(process ${server.pid}\\) is already working on .*Stop it first`),
    );
    expect(second.output).not.toMatch(/\bat .*\.js:\d+/);
    expect((await owner.get('/api/me')).status).toBe(200);
  });

  it('on a port that is taken is refused in words, and says which other to give', async () => {
    const taken = createServer();
    await new Promise<void>((settle) => taken.listen(0, '127.0.0.1', settle));
    const { port } = taken.address() as { port: number };
    const database = await createTestDatabase('port');
    try {
      const second = await runServerProgram(['serve', '--port', String(port), '--data', newDataFolder()], {
        DATABASE_URL: database.servingUrl,
        DATABASE_OWNER_URL: database.ownerUrl,
      });
      expect(second.code).toBe(1);
      expect(second.output).toContain(`Port ${port} on 127.0.0.1 is taken`);
      expect(second.output).toContain(`--port ${port + 1}`);
      expect(second.output).not.toMatch(/\bat .*\.js:\d+/);
    } finally {
      await database.drop();
      taken.close();
    }
  });
});

describe('books that somebody tampered with', () => {
  const tamper = async (...statements: string[]): Promise<void> => {
    for (const statement of statements) await ask(books.superuserUrl, statement);
  };

  it('are found out by verify, which ends with 1 and says what differs', async () => {
    await tamper(
      'ALTER TABLE things DISABLE TRIGGER ALL',
      'ALTER TABLE balances DISABLE TRIGGER ALL',
      `UPDATE balances SET quantity = quantity + 7 WHERE thing_id = '${lot.id}' AND NOT boundary AND holder_id IN (SELECT holder_id FROM places)`,
    );
    const found = await runServerProgram(['verify', '--data', folder]);
    expect(found.code).toBe(1);
    const held = stocked - scans.length;
    expect(found.output).toMatch(/^The books do not agree: 2 differences/m);
    expect(found.output).toMatch(
      new RegExp(`^${lot.code}: balance at [0-9a-f-]+: kept ${held + 7}\\.0000, rebuilt ${held}\\.0000$`, 'm'),
    );
    expect(found.output).toMatch(new RegExp(`^${lot.code}: conservation: kept 7\\.0000, rebuilt 0$`, 'm'));
    await tamper(
      `UPDATE balances SET quantity = quantity - 7 WHERE thing_id = '${lot.id}' AND NOT boundary AND holder_id IN (SELECT holder_id FROM places)`,
    );
    expect(await runServerProgram(['verify', '--data', folder])).toMatchObject({ code: 0 });
  });

  it('are found out where a counter was raised, or a movement taken away', async () => {
    await tamper(`UPDATE things SET held = held + 1 WHERE id = '${lot.id}'`);
    const raised = await runServerProgram(['verify', '--data', folder]);
    expect(raised).toMatchObject({
      code: 1,
      output: expect.stringContaining(`${lot.code}: held: kept ${stocked - scans.length + 1}.0000`),
    });
    await tamper(
      `UPDATE things SET held = held - 1 WHERE id = '${lot.id}'`,
      'ALTER TABLE movements DISABLE TRIGGER ALL',
      'ALTER TABLE fittings DISABLE TRIGGER ALL',
      `DELETE FROM movements WHERE id = '${scans[0]!.actId}'`,
    );
    const removed = await runServerProgram(['verify', '--data', folder]);
    expect(removed.code).toBe(1);
    expect(removed.output).toMatch(
      new RegExp(
        `^${lot.code}: balance at .*: kept ${stocked - scans.length}\\.0000, rebuilt ${stocked - scans.length + 1}\\.0000$`,
        'm',
      ),
    );
  });
});
