import { jest } from '@jest/globals';
import pg from 'pg';
import { newId } from '../../apps/api/src/platform/new-id.js';
import { ownerPassPhrase, tokenIn, Visitor } from '../support/bare-server.js';
import { createTestDatabase, type TestDatabase } from '../support/database.js';
import {
  booksIn,
  endAll,
  newDataFolder,
  runServerProgram,
  type ServerProcess,
  setUpThroughLink,
  startServerProcess,
} from '../support/server-process.js';

// A new cluster takes a few seconds, and longer on a busy machine.
jest.setTimeout(180_000);

const newPassPhrase = 'the shim under the pinion again';
const pathIn = (output: string): string => /http:\/\/localhost:4780(\/pass-phrase\?token=[\w-]{22})$/m.exec(output)?.[1] ?? '';

const choose = (server: ServerProcess, path: string, passPhrase = newPassPhrase) =>
  new Visitor(server.url).post('/api/pass-phrase', { token: tokenIn(path), passPhrase }, { key: null });

interface Kept {
  route: string;
  name: string;
  status: number;
}

/** What the audit trail holds of links made at the terminal. */
async function keptIn(ownerUrl: string): Promise<Kept[]> {
  return query<Kept>(
    ownerUrl,
    `SELECT route, sign_in_name AS name, status FROM commands JOIN outcomes ON command_key = key
       JOIN people ON people.id = person_id WHERE route = 'terminal link' ORDER BY arrived_at`,
  );
}

async function query<Row extends pg.QueryResultRow>(ownerUrl: string, text: string, values: unknown[] = []): Promise<Row[]> {
  const client = new pg.Client({ connectionString: ownerUrl });
  await client.connect();
  try {
    return (await client.query<Row>(text, values)).rows;
  } finally {
    await client.end();
  }
}

afterAll(endAll);

describe('an owner who has forgotten the pass phrase, in the books of a folder', () => {
  let folder: string;
  let server: ServerProcess;
  let owner: Visitor;

  beforeAll(async () => {
    folder = newDataFolder();
    server = await startServerProcess(['--data', folder]);
    owner = await setUpThroughLink(server);
  });

  it('gets a link beside the running server, chooses a new pass phrase with it, and the old one is of no use', async () => {
    const made = await runServerProgram(['link', '--data', folder]);
    expect(made).toMatchObject({ code: 0, output: expect.stringContaining('Edie Marrack (edie)') });
    expect((await choose(server, pathIn(made.output))).status).toBe(200);
    const visitor = new Visitor(server.url);
    expect((await visitor.signIn('edie', ownerPassPhrase)).status).toBe(403);
    expect((await visitor.signIn('edie', newPassPhrase)).status).toBe(200);
    // Whoever was signed in as the owner, on whatever device, is out.
    expect((await owner.get('/api/me')).status).toBe(401);
    expect((await choose(server, pathIn(made.output))).body).toMatchObject({ code: 'link-used' });
  });

  it('gets it too while the server rests; the books are closed again and the next start finds it', async () => {
    // As when its terminal is closed.
    expect(await server.end('SIGHUP')).toEqual({ code: 0, signal: null });
    const made = await runServerProgram(['link', '--data', folder, '--person', 'edie']);
    expect(made.code).toBe(0);
    await expect(booksIn(folder)).rejects.toThrow('No Postgres answers');
    server = await startServerProcess(['--data', folder]);
    expect((await choose(server, pathIn(made.output), ownerPassPhrase)).status).toBe(200);
    expect(await keptIn((await booksIn(folder)).ownerUrl)).toEqual([
      { route: 'terminal link', name: 'edie', status: 200 },
      { route: 'terminal link', name: 'edie', status: 200 },
    ]);
  });

  it('of a folder without books gets none, and no books are made there', async () => {
    const elsewhere = newDataFolder();
    const refused = await runServerProgram(['link', '--data', elsewhere]);
    expect(refused).toMatchObject({ code: 1, output: expect.stringContaining('There are no books in') });
    expect(await runServerProgram(['link', '--data', elsewhere])).toEqual(refused);
  });
});

describe('an owner who has forgotten the pass phrase, in a Postgres of the workshop', () => {
  let books: TestDatabase;
  let server: ServerProcess;
  let environment: Record<string, string>;
  let owner: Visitor;
  const link = (...words: string[]) => runServerProgram(['link', ...words], environment);

  beforeAll(async () => {
    books = await createTestDatabase('link');
    environment = { DATABASE_URL: books.servingUrl, DATABASE_OWNER_URL: books.ownerUrl };
    server = await startServerProcess(['--data', newDataFolder()], environment);
  });
  afterAll(async () => {
    await server.end('SIGTERM');
    await books.drop();
  });

  it('gets none before the set-up', async () => {
    expect(await link()).toMatchObject({ code: 1, output: expect.stringContaining('has not been set up') });
    owner = await setUpThroughLink(server);
  });

  it('gets a link that is good for an hour, kept hashed, and for the newest only', async () => {
    const first = pathIn((await link()).output);
    const second = pathIn((await link()).output);
    expect(await keptIn(books.ownerUrl)).toHaveLength(2);
    const tickets = await query<{ minutes: number; isText: boolean }>(
      books.ownerUrl,
      `SELECT extract(epoch FROM expires_at - created_at)::int / 60 AS minutes, encode(token_hash, 'escape') = $1 AS "isText"
         FROM sign_in_tickets WHERE purpose = 'pass-phrase' AND used_at IS NULL`,
      [tokenIn(second)],
    );
    expect(tickets).toEqual([{ minutes: 60, isText: false }]);
    expect((await choose(server, first)).body).toMatchObject({ code: 'link-used' });
    expect((await choose(server, second, ownerPassPhrase)).status).toBe(200);
    await owner.signIn('edie', ownerPassPhrase);
  });

  it('comes too late after the hour, and is told so', async () => {
    const path = pathIn((await link()).output);
    await query(
      books.ownerUrl,
      `UPDATE sign_in_tickets SET created_at = created_at - interval '61 minutes', expires_at = expires_at - interval '61 minutes'
        WHERE used_at IS NULL`,
    );
    expect((await choose(server, path)).body).toMatchObject({
      code: 'link-too-old',
      detail: expect.stringContaining('good for one hour. Ask an owner'),
    });
  });

  it('is named where there are several, and nobody else is', async () => {
    for (const [signInName, role] of [
      ['wilf', 'owner'],
      ['tom', 'bench'],
    ] as const) {
      const added = await owner.post('/api/people', { id: newId(), displayName: `${signInName} at the bench`, signInName, role });
      expect(added.status).toBe(200);
    }
    const before = await keptIn(books.ownerUrl);
    expect(await link()).toMatchObject({ code: 1, output: expect.stringContaining('one of edie, wilf.') });
    expect(await link('--person', 'tom')).toMatchObject({ code: 1, output: expect.stringContaining('"tom" is not') });
    expect(await keptIn(books.ownerUrl)).toEqual(before);
    expect(await link('--person', 'wilf')).toMatchObject({ code: 0, output: expect.stringContaining('(wilf)') });
    expect((await keptIn(books.ownerUrl)).slice(before.length)).toEqual([{ route: 'terminal link', name: 'wilf', status: 200 }]);
  });

  it('is not made for words that the command does not know', async () => {
    expect(await link('--persn', 'edie')).toMatchObject({ code: 2, output: expect.stringContaining('link [--data FOLDER]') });
  });
});
