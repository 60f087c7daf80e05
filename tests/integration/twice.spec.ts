import { jest } from '@jest/globals';
import pg from 'pg';
import { newId } from '../../apps/api/src/platform/new-id.js';
import { verifyBooks } from '../../apps/api/src/stores/verify/verify-books.js';
import { CoverWatch } from '../../apps/api/src/warnings/cover-watch.js';
import { addPerson, type BareServer, ownerPassPhrase, startBareServer, type Visitor } from '../support/bare-server.js';
import { routesOf } from '../support/routes.js';
import { Stock } from '../support/stock.js';
import { writeCases } from '../support/write-cases.js';
import type { ReadyWrite } from '../support/write-making.js';

jest.setTimeout(60_000);

/** These take no key, or answer a second time otherwise; each has a test of its own below, in the tests of people, or in those of imports. */
const ofTheirOwn = new Set([
  'POST /api/set-up',
  'POST /api/sign-in',
  'POST /api/sign-in-link',
  'POST /api/pass-phrase',
  'POST /api/sign-out',
  'POST /api/people/:id/pass-phrase-link',
  'POST /api/imports/:id/stop',
  // pieces and archives change nothing when they are sent again: see the tests of photographs
  'PUT /api/uploads/:id',
  'POST /api/photograph-archive',
]);

let server: BareServer;
let owner: Visitor;
let stock: Stock;
let watcher: pg.Client;
let wakeUp = (): void => undefined;

beforeAll(async () => {
  server = await startBareServer('twice');
  owner = await server.setUp();
  stock = await Stock.open(server.testDatabase.ownerUrl);
  watcher = new pg.Client({ connectionString: server.testDatabase.ownerUrl });
  await watcher.connect();
  // what jobs rest on is looked at beside the changes: nothing of that is counted here
  void server.app.get(CoverWatch, { strict: false }).asleep(
    () =>
      new Promise<void>((settle) => {
        wakeUp = settle;
      }),
  );
});
afterAll(async () => {
  wakeUp();
  expect(await verifyBooks(server.database)).toEqual([]);
  await watcher.end();
  await stock.close();
  await server.stop();
});

interface Sent {
  status: number;
  body: string;
}

async function send(method: string, write: ReadyWrite, key: string, signal?: AbortSignal): Promise<Sent> {
  const headers: Record<string, string> = { cookie: owner.cookie!, 'idempotency-key': key };
  if (write.ifMatch !== undefined) headers['if-match'] = `"${write.ifMatch}"`;
  let body: FormData | string;
  if (write.files) {
    body = new FormData();
    for (const [field, { name, bytes, type }] of Object.entries(write.files))
      body.append(field, new Blob([new Uint8Array(bytes)], { type }), name);
  } else {
    headers['content-type'] = 'application/json';
    body = JSON.stringify(write.body);
  }
  const response = await fetch(`${server.url}${write.path}`, { method, headers, body, signal: signal ?? null });
  return { status: response.status, body: await response.text() };
}

type Books = Record<string, { rows: number; contents: string }>;

/** Every row of every table but the news, which come and go: how many there are, and a sum of a figure of each that differs where anything in the row does. */
async function books(): Promise<Books> {
  const tables = await stock.query<{ name: string }>(
    "SELECT relname AS name FROM pg_class WHERE relnamespace = 'public'::regnamespace AND relkind = 'r' AND relname NOT IN ('outbox', 'migrations') ORDER BY relname",
  );
  const counted = tables.map(
    ({ name }) =>
      `SELECT '${name}' AS name, count(*)::int AS rows, coalesce(sum(hashtextextended(t::text, 0)::numeric), 0)::text AS contents FROM ${name} AS t`,
  );
  const rows = await stock.query<{ name: string; rows: number; contents: string }>(counted.join(' UNION ALL '));
  return Object.fromEntries(rows.map(({ name, ...book }) => [name, book]));
}

/** How many rows each table gained or lost, and which tables were changed without that. */
function difference(before: Books, after: Books): Record<string, number> {
  const changed = Object.keys(after).filter((table) => before[table]!.contents !== after[table]!.contents);
  return Object.fromEntries(changed.map((table) => [table, after[table]!.rows - before[table]!.rows]));
}

/** What one application of the change does, from the first of the three tests. */
const once = new Map<string, Record<string, number>>();

describe('the table of changes', () => {
  it('names each route that writes, and no other', () => {
    const routes = routesOf(server.app).filter((route) => route.method !== 'GET');
    expect(routes.length).toBeGreaterThan(30);
    const named = new Set([...Object.keys(writeCases).map((name) => name.split(',')[0]!), ...ofTheirOwn]);
    expect([...named].sort()).toEqual(routes.map((route) => route.name).sort());
  });
});

describe.each(Object.entries(writeCases))('%s', (name, makeReady) => {
  const method = name.split(' ')[0]!;

  it('sent again with the same key: applied once, and the first answer is given again', async () => {
    const write = await makeReady({ server, owner, stock });
    const key = newId();
    const before = await books();
    const first = await send(method, write, key);
    expect(first).toMatchObject({ status: 200 });
    const after = await books();
    const change = difference(before, after);
    expect(change).toMatchObject({ commands: 1, outcomes: 1 });
    // More than the log of commands was changed, or this proves nothing.
    expect(Object.keys(change).length).toBeGreaterThan(2);
    once.set(name, change);
    const second = await send(method, write, key);
    expect({ ...second, body: JSON.parse(second.body) }).toEqual({ ...first, body: JSON.parse(first.body) });
    expect(difference(after, await books())).toEqual({});
  });

  it('sent five times at the same moment: applied once, and all get one answer', async () => {
    const write = await makeReady({ server, owner, stock });
    const key = newId();
    const before = await books();
    const answers = await Promise.all(Array.from({ length: 5 }, () => send(method, write, key)));
    expect(answers.map((answer) => answer.status)).toEqual([200, 200, 200, 200, 200]);
    expect(new Set(answers.map((answer) => canonical(answer.body))).size).toBe(1);
    expect(difference(before, await books())).toEqual(once.get(name));
  });

  it('sent again after the client lost patience with the first, which was under way: applied once', async () => {
    const write = await makeReady({ server, owner, stock });
    const key = newId();
    const before = await books();
    // Whoever holds this lock makes the server wait in the middle of the change.
    await watcher.query('BEGIN; LOCK TABLE outcomes IN SHARE ROW EXCLUSIVE MODE');
    const impatience = new AbortController();
    const first = send(method, write, key, impatience.signal).then(
      () => 'answered',
      () => 'gave up',
    );
    await untilSomebodyWaits(1);
    impatience.abort();
    expect(await first).toBe('gave up');
    const second = send(method, write, key);
    await untilSomebodyWaits(2);
    await watcher.query('COMMIT');
    expect(await second).toMatchObject({ status: 200 });
    expect(difference(before, await books())).toEqual(once.get(name));
  });
});

/** Until so many of the server's transactions wait: the first for the table, the second for the first, whose key it has. */
async function untilSomebodyWaits(count: number): Promise<void> {
  const deadline = Date.now() + 20_000;
  for (;;) {
    const [row] = (
      await watcher.query<{ waiting: number }>(
        "SELECT count(DISTINCT pid)::int AS waiting FROM pg_locks WHERE NOT granted AND pid IN (SELECT pid FROM pg_stat_activity WHERE datname = current_database() AND application_name = 'corewright')",
      )
    ).rows;
    if (row!.waiting >= count) return;
    if (Date.now() > deadline) throw new Error(`${row!.waiting} wait, ${count} were expected to`);
    await new Promise((settle) => setTimeout(settle, 10));
  }
}

const canonical = (text: string): string => JSON.stringify(sorted(JSON.parse(text)));

/** The first answer is given as it was made, a later one as the database keeps it: the members come in another order. */
function sorted(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(sorted);
  if (value === null || typeof value !== 'object') return value;
  return Object.fromEntries(
    Object.entries(value)
      .sort(([one], [other]) => (one < other ? -1 : 1))
      .map(([key, each]) => [key, sorted(each)]),
  );
}

describe('those of their own', () => {
  it('a sign-out sent twice: the session is gone, and the second is told that nobody is signed in', async () => {
    const tom = await addPerson(server, owner, 'bench', 'tomh', 'Tom Hasleby');
    const cookie = tom.cookie;
    const key = newId();
    expect((await tom.post('/api/sign-out', {}, { key })).status).toBe(200);
    tom.cookie = cookie;
    const before = await books();
    expect(await tom.post('/api/sign-out', {}, { key })).toMatchObject({ status: 401, body: { code: 'not-signed-in' } });
    expect(difference(before, await books())).toEqual({});
    expect((await tom.signIn('tomh', `${ownerPassPhrase} of tomh`)).status).toBe(200);
  });

  it('a link for a pass phrase is shown once: sent again, no second link is made and the first stays good', async () => {
    const id = newId();
    await owner.post('/api/people', { id, displayName: 'Wilf Peskett', signInName: 'wilfp', role: 'bench' });
    const key = newId();
    const first = await owner.post<{ path: string }>(`/api/people/${id}/pass-phrase-link`, {}, { key });
    expect(first.status).toBe(200);
    const before = await books();
    expect(await owner.post(`/api/people/${id}/pass-phrase-link`, {}, { key })).toMatchObject({
      status: 409,
      body: { code: 'link-shown-once' },
    });
    expect(difference(before, await books())).toEqual({});
    const token = new URL(first.body.path, 'http://here.invalid').searchParams.get('token');
    const chosen = await server
      .visitor()
      .post('/api/pass-phrase', { token, passPhrase: `${ownerPassPhrase} of wilf` }, { key: null });
    expect(chosen.status).toBe(200);
  });
});

describe('a refusal sent twice', () => {
  it('is the same refusal, though what it complained of is mended meanwhile', async () => {
    const partId = await stock.part();
    const lot = await stock.lot(partId, { quantity: '0' });
    const job = await stock.job([{ partId }]);
    const write = { path: '/api/fits', body: { code: lot.code, jobId: job.id } };
    const key = newId();
    const first = await send('POST', write, key);
    expect(first.status).toBe(409);
    await stock.bring(lot.id, '1', stock.placeId);
    const before = await books();
    const second = await send('POST', write, key);
    const [one, other] = [first, second].map(({ status, body }) => ({
      status,
      ...(JSON.parse(body) as object),
      correlationId: '',
    }));
    expect(other).toEqual(one);
    expect(difference(before, await books())).toEqual({});
    expect((await send('POST', write, newId())).status).toBe(200);
  });
});
