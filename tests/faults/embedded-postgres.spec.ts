import { execFileSync, spawn } from 'node:child_process';
import { chmodSync, existsSync, mkdtempSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import { jest } from '@jest/globals';
import pg from 'pg';
import { type EmbeddedPostgres, startEmbeddedPostgres } from '../../apps/api/src/platform/database/embedded-postgres';
import { explainFailure } from '../../apps/api/src/platform/database/postgres-failure';
import { findRunningPostgres } from '../../apps/api/src/platform/database/running-postgres';

// Killing a process proves that the work outlives a process; it proves nothing about a power cut.

// A new cluster takes a second or two, and more on a busy machine.
jest.setTimeout(90_000);

const folders: string[] = [];
const running = new Set<EmbeddedPostgres>();

/** A folder that any user may enter, as a home usually is. */
function newFolder(suffix = '', mode = 0o755): string {
  const base = mkdtempSync(join(tmpdir(), 'corewright-life-'));
  chmodSync(base, mode);
  folders.push(base);
  return suffix === '' ? base : join(base, suffix);
}

async function start(folder: string, options: { durable?: boolean; lines?: string[] } = {}): Promise<EmbeddedPostgres> {
  const server = await startEmbeddedPostgres({
    folder,
    durable: options.durable ?? true,
    log: (line) => options.lines?.push(line),
  });
  running.add(server);
  return server;
}

async function stop(server: EmbeddedPostgres): Promise<void> {
  await server.stop();
  running.delete(server);
}

async function ask<Row extends pg.QueryResultRow>(url: string, text: string, values: unknown[] = []): Promise<Row[]> {
  const client = new pg.Client({ connectionString: url });
  // A server that is killed on purpose cuts this client off.
  client.on('error', () => {});
  await client.connect();
  try {
    return (await client.query<Row>(text, values)).rows;
  } finally {
    await client.end();
  }
}

async function waitUntil(holds: () => boolean | Promise<boolean>): Promise<void> {
  const deadline = Date.now() + 30_000;
  while (!(await holds())) {
    if (Date.now() > deadline) throw new Error('It did not come about in 30 s.');
    await pause(25);
  }
}

function isAlive(pid: number): boolean {
  try {
    process.kill(pid, 0);
    return true;
  } catch {
    return false;
  }
}

/** A process that has ended stands in the list until its parent has looked, which a busy machine puts off. */
async function hasEnded(pid: number): Promise<boolean> {
  for (let look = 0; look < 200 && isAlive(pid); look += 1) await new Promise((resolve) => setTimeout(resolve, 25));
  return !isAlive(pid);
}

afterAll(async () => {
  for (const server of running) await server.stop();
  for (const folder of folders) rmSync(folder, { recursive: true, force: true });
});

describe('the life of the embedded Postgres', () => {
  it('is made once, answers on a socket only, with production settings, and keeps its data over a restart', async () => {
    const folder = newFolder('workshop');
    const lines: string[] = [];
    const first = await start(folder, { lines });
    const settings = await ask<Record<string, string>>(
      first.superuserUrl,
      `SELECT current_setting('fsync') AS fsync, current_setting('synchronous_commit') AS commit, current_setting('full_page_writes') AS pages,
              current_setting('data_checksums') AS checksums, current_setting('server_encoding') AS encoding,
              current_setting('listen_addresses') AS addresses, current_setting('unix_socket_permissions') AS permissions`,
    );
    expect(settings).toEqual([
      { fsync: 'on', commit: 'on', pages: 'on', checksums: 'on', encoding: 'UTF8', addresses: '', permissions: '0700' },
    ]);
    await ask(first.ownerUrl, `CREATE TABLE kept (word text)`);
    await ask(first.ownerUrl, `INSERT INTO kept VALUES ('crown wheel')`);
    await stop(first);
    expect(await hasEnded(first.pid)).toBe(true);
    expect(existsSync(join(folder, 'postgres', 'postmaster.pid'))).toBe(false);

    const second = await start(folder, { lines });
    expect(await ask(second.ownerUrl, 'SELECT word FROM kept')).toEqual([{ word: 'crown wheel' }]);
    expect(lines.filter((line) => line.startsWith('Made a new database'))).toHaveLength(1);
    await stop(second);
  });

  it('lets the owner make what the migrations need, and the serving login make nothing', async () => {
    const server = await start(newFolder());
    for (const name of ['pg_trgm', 'btree_gist', 'citext', 'pgcrypto']) await ask(server.ownerUrl, `CREATE EXTENSION ${name}`);
    expect(await ask(server.ownerUrl, 'SELECT rolsuper FROM pg_roles WHERE rolname = current_user')).toEqual([
      { rolsuper: false },
    ]);
    await expect(ask(server.servingUrl, 'CREATE TABLE mine (id int)')).rejects.toMatchObject({ code: '42501' });
    await expect(ask(server.servingUrl, 'CREATE TEMPORARY TABLE mine (id int)')).rejects.toMatchObject({ code: '42501' });
    await expect(ask(server.servingUrl, 'CREATE SCHEMA mine')).rejects.toMatchObject({ code: '42501' });
    await stop(server);
  });

  it('does not run as the superuser of the machine', async () => {
    const folder = newFolder();
    const server = await start(folder);
    const uid = Number(execFileSync('ps', ['-o', 'uid=', '-p', String(server.pid)], { encoding: 'utf8' }));
    expect(uid).toBeGreaterThan(0);
    expect(statSync(new URL(server.ownerUrl).searchParams.get('host') ?? '').mode & 0o077).toBe(0);
    await stop(server);
  });

  it('works from a folder that only its own user may enter, and says where the files are', async () => {
    const folder = newFolder('', 0o700);
    const lines: string[] = [];
    const server = await start(folder, { lines });
    expect(await ask(server.servingUrl, 'SELECT 1 AS one')).toEqual([{ one: 1 }]);
    // Only root must go elsewhere: an ordinary user runs Postgres as itself.
    const isElsewhere = process.getuid?.() === 0;
    expect(server.dataFolder.startsWith(folder)).toBe(!isElsewhere);
    expect(existsSync(join(folder, 'where-the-data-are.txt'))).toBe(isElsewhere);
    expect(lines.some((line) => line.includes(server.dataFolder))).toBe(isElsewhere);
    await stop(server);
    if (isElsewhere) rmSync(dirname(server.dataFolder), { recursive: true, force: true });
  });

  it('refuses a second owner of the same folder in words, and goes on serving the first', async () => {
    const folder = newFolder();
    const server = await start(folder);
    await expect(start(folder)).rejects.toThrow(/Another Corewright \(process \d+\) is already working on .*Stop it first/);
    expect(await ask(server.servingUrl, 'SELECT 1 AS one')).toEqual([{ one: 1 }]);
    await stop(server);
  });

  it('can be read by somebody else beside its owner', async () => {
    const folder = newFolder();
    expect(await findRunningPostgres(folder)).toBeNull();
    const server = await start(folder);
    expect(await findRunningPostgres(folder)).toEqual({ ownerUrl: server.ownerUrl, servingUrl: server.servingUrl });
    await stop(server);
    expect(await findRunningPostgres(folder)).toBeNull();
  });

  it('has one owner when two start in a new folder at the same moment', async () => {
    const folder = newFolder();
    const outcomes = await Promise.allSettled([start(folder), start(folder)]);
    expect(outcomes.map((outcome) => outcome.status).sort()).toEqual(['fulfilled', 'rejected']);
    for (const server of [...running]) await stop(server);
  });

  it('starts again by itself when Postgres is killed, and has every committed row', async () => {
    const folder = newFolder();
    const server = await start(folder);
    await ask(server.ownerUrl, 'CREATE TABLE scans (n int)');
    await ask(server.ownerUrl, 'INSERT INTO scans SELECT generate_series(1, 1000)');
    const killed = server.pid;
    process.kill(killed, 'SIGKILL');
    await waitUntil(() => server.pid !== killed);
    expect(await ask(server.ownerUrl, 'SELECT count(*)::int AS n FROM scans')).toEqual([{ n: 1000 }]);
    await expect(start(folder)).rejects.toThrow(/already working/);
    await stop(server);
  });

  it('takes over the server of an owner that was killed', async () => {
    const folder = newFolder();
    const owner = await startInProcess(folder);
    await ask(owner.ownerUrl, 'CREATE TABLE before_the_kill (n int)');
    owner.kill();
    const lines: string[] = [];
    const server = await start(folder, { lines });
    expect(server.pid).toBe(owner.postgresPid);
    expect(lines.join(' ')).toMatch(/still running .* taken over/);
    expect(await ask(server.ownerUrl, 'SELECT count(*)::int AS n FROM before_the_kill')).toEqual([{ n: 0 }]);
    await stop(server);
    expect(await isServerGone(owner.postgresPid)).toBe(true);
  });

  it('recovers when both the owner and Postgres were killed, though the lock file names a process of somebody else', async () => {
    const folder = newFolder();
    const owner = await startInProcess(folder);
    await ask(owner.ownerUrl, 'CREATE TABLE scans (n int)');
    await ask(owner.ownerUrl, 'INSERT INTO scans VALUES (7)');
    owner.kill();
    process.kill(owner.postgresPid, 'SIGKILL');
    await waitUntil(() => isServerGone(owner.postgresPid));
    // After a restart of the machine the number in the lock file may belong to anything: here to this very process.
    const lockFile = join(folder, 'postgres', 'postmaster.pid');
    writeFileSync(lockFile, readFileSync(lockFile, 'utf8').replace(/^\d+/, String(process.pid)));
    const server = await start(folder);
    expect(await ask(server.ownerUrl, 'SELECT n FROM scans')).toEqual([{ n: 7 }]);
    await stop(server);
  });

  it('starts again on the settings that are asked for where it finds a server on others', async () => {
    const folder = newFolder();
    const owner = await startInProcess(folder, false);
    expect(await ask(owner.ownerUrl, 'SHOW fsync')).toEqual([{ fsync: 'off' }]);
    owner.kill();
    const server = await start(folder, { durable: true });
    expect(server.pid).not.toBe(owner.postgresPid);
    expect(await ask(server.ownerUrl, 'SHOW fsync')).toEqual([{ fsync: 'on' }]);
    await stop(server);
  });

  it('finds a short place for its socket where the folder lies deep, with spaces, commas and accents', async () => {
    const folder = newFolder(join('Werkstatt für Achsen, "hinten"', 'x'.repeat(60), 'y'.repeat(60)));
    const server = await start(folder);
    const socketFolder = new URL(server.ownerUrl).searchParams.get('host') ?? '';
    expect(Buffer.byteLength(join(socketFolder, '.s.PGSQL.5432'))).toBeLessThanOrEqual(107);
    expect(await ask(server.servingUrl, 'SELECT 1 AS one')).toEqual([{ one: 1 }]);
    await stop(server);
    rmSync(socketFolder, { recursive: true, force: true });
  });

  it('uses a socket beside data whose path has a comma and quotes', async () => {
    const folder = newFolder('left, "right"');
    const server = await start(folder);
    expect(new URL(server.ownerUrl).searchParams.get('host')).toBe(join(folder, 'run'));
    await stop(server);
  });

  it('leaves nothing that looks like data when making it was cut short, and clears the remains away', async () => {
    const folder = newFolder();
    const abandoned = join(folder, 'postgres.new-999999999');
    execFileSync('mkdir', ['-p', join(abandoned, 'base')]);
    const server = await start(folder);
    expect(existsSync(abandoned)).toBe(false);
    await stop(server);
  });

  it('says why it does not start', async () => {
    const folder = newFolder();
    const server = await start(folder);
    await stop(server);
    writeFileSync(join(folder, 'postgres', 'PG_VERSION'), '14\n');
    await expect(start(folder)).rejects.toThrow(/made by another version of Postgres/);
  });

  it.each([
    ['FATAL:  could not write to file "pg_wal/xlogtemp.8": No space left on device', /is full\. Free some space/],
    ['LOG:  could not bind Unix address "/tmp/.s.PGSQL.5432": Address already in use', /another server holds it/],
    ['FATAL:  could not map anonymous shared memory: Cannot allocate memory', /not enough memory/],
    ['FATAL:  data directory "/d" has wrong ownership', /Give the folder back/],
    ['PANIC:  could not locate a valid checkpoint record', /damaged/],
    ['something never seen', /Its own words are in the log/],
  ])('puts "%s" into words', (output, sentence) => {
    const failure = explainFailure(output, '/workshop');
    expect(failure.message).toMatch(sentence);
    expect(failure.detail).toBe(output);
  });
});

interface OtherOwner {
  ownerUrl: string;
  postgresPid: number;
  /** Kills the owner, not its Postgres. */
  kill(): void;
}

/** An owner in a process of its own, which can be killed as a crash would. */
async function startInProcess(folder: string, durable = true): Promise<OtherOwner> {
  const program = `
    import { startEmbeddedPostgres } from ${JSON.stringify(new URL('../../apps/api/dist/platform/database/embedded-postgres.js', import.meta.url).href)};
    const server = await startEmbeddedPostgres({ folder: ${JSON.stringify(folder)}, durable: ${durable}, log: () => {} });
    console.log(JSON.stringify({ ownerUrl: server.ownerUrl, postgresPid: server.pid }));
    setInterval(() => {}, 1000);`;
  const child = spawn(process.execPath, ['--input-type=module', '-e', program], { stdio: ['ignore', 'pipe', 'inherit'] });
  const line = await new Promise<string>((settle, refuse) => {
    child.stdout.once('data', (chunk: Buffer) => settle(chunk.toString('utf8')));
    child.once('exit', () => refuse(new Error('The other owner ended.')));
  });
  return { ...(JSON.parse(line) as { ownerUrl: string; postgresPid: number }), kill: () => child.kill('SIGKILL') };
}

/** A dead process whose parent has not looked yet still has a number. */
async function isServerGone(pid: number): Promise<boolean> {
  if (!isAlive(pid)) return true;
  return /^Z/.test(execFileSync('ps', ['-o', 'stat=', '-p', String(pid)], { encoding: 'utf8' }).trim());
}
