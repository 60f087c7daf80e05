import { rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { basename, join } from 'node:path';
import type { NestExpressApplication } from '@nestjs/platform-express';
import { createApp } from '../../apps/api/src/app.js';
import { SignInLinks } from '../../apps/api/src/people/sign-in-links.js';
import { Config } from '../../apps/api/src/platform/config/config.js';
import { Database } from '../../apps/api/src/platform/database/database.js';
import { createPool } from '../../apps/api/src/platform/database/pool.js';
import { Log } from '../../apps/api/src/platform/log.js';
import { newId } from '../../apps/api/src/platform/new-id.js';
import { createTestDatabase, type TestDatabase } from './database.js';

/** A server on a real Postgres for a workshop that nobody has set up yet: no person, no session, nothing. */
export interface BareServer {
  url: string;
  app: NestExpressApplication;
  config: Config;
  /** Statements by the serving login. */
  database: Database;
  testDatabase: TestDatabase;
  /** A browser that nobody has signed in with. */
  visitor(): Visitor;
  /** Sets the workshop up through the printed link; the browser is its owner's. */
  setUp(): Promise<Visitor>;
  /** Ends it and leaves its database. */
  close(): Promise<void>;
  /** Ends it and drops its database. */
  stop(): Promise<void>;
}

export interface Answer<Body> {
  status: number;
  headers: Headers;
  body: Body;
}

type Fields = Record<string, unknown>;

export interface SendOptions {
  key?: string | null;
  ifMatch?: number;
  headers?: Record<string, string>;
}

export const ownerPassPhrase = 'eight teeth of the worm wheel';

export interface BareServerOptions {
  /** folder of a built web app */
  webFolder?: string;
  log?: Log;
  photographMegabytesMax?: number;
  /** name of the template whose clone it runs on; without one the workshop is empty */
  template?: string;
}

export async function startBareServer(name: string, options: BareServerOptions = {}): Promise<BareServer> {
  return serveOn(await createTestDatabase(name, options.template), options);
}

/** The same on a database that is there already. */
export async function serveOn(testDatabase: TestDatabase, options: BareServerOptions = {}): Promise<BareServer> {
  const pool = createPool(testDatabase.servingUrl, { max: 8 });
  const photographs = { folder: photographFolderOf(testDatabase), megabytesMax: options.photographMegabytesMax ?? 40 };
  const config = new Config('127.0.0.1', 4780, '', false, null, options.webFolder ?? null, '0.0.0', 'silent', photographs);
  const database = new Database(pool, testDatabase.servingUrl);
  const app = await createApp(config, database, options.log ?? new Log(process.env.CW_TEST_LOG ?? 'silent'));
  await app.listen(0, '127.0.0.1');
  const url = `http://127.0.0.1:${(app.getHttpServer().address() as { port: number }).port}`;
  const visitor = (): Visitor => new Visitor(url);
  const close = async () => {
    await app.close();
    await pool.end();
  };
  return {
    url,
    app,
    config,
    database,
    testDatabase,
    visitor,
    setUp: () => setUpWorkshop(app, visitor()),
    close,
    stop: async () => {
      await close();
      await testDatabase.drop();
      rmSync(photographs.folder, { recursive: true, force: true });
    },
  };
}

/** Servers on one database share it. */
function photographFolderOf({ ownerUrl }: TestDatabase): string {
  return join(tmpdir(), 'corewright-test-photographs', basename(new URL(ownerUrl).pathname));
}

/** What a person keys at the set-up, but for the token. */
export const workshopKeyed = {
  workshopName: 'Orrisden Axle & Gear',
  timeZone: 'Europe/London',
  locale: 'en-GB',
  displayName: 'Edie Marrack',
  signInName: 'edie',
  passPhrase: ownerPassPhrase,
};

async function setUpWorkshop(app: NestExpressApplication, owner: Visitor): Promise<Visitor> {
  const path = await app.get(SignInLinks).pathForTerminal(false);
  const answer = await owner.post('/api/set-up', { ...workshopKeyed, token: tokenIn(path) }, { key: null });
  if (answer.status !== 200) throw new Error(`The set-up was refused: ${JSON.stringify(answer.body)}`);
  return owner;
}

export function tokenIn(path: string | null | undefined): string {
  return new URL(path ?? '', 'http://here.invalid').searchParams.get('token') ?? '';
}

/** Keeps one cookie as a browser would, and sends what the web app sends. */
export class Visitor {
  cookie: string | null = null;
  /** the last Set-Cookie header as it came */
  setCookie: string | null = null;

  constructor(private readonly url: string) {}

  get<Body = Fields>(path: string, headers: Record<string, string> = {}): Promise<Answer<Body>> {
    return this.request<Body>('GET', path, null, headers);
  }

  post<Body = Fields>(path: string, body: unknown, options: SendOptions = {}): Promise<Answer<Body>> {
    return this.send<Body>('POST', path, body, options);
  }

  put<Body = Fields>(path: string, body: unknown, options: SendOptions = {}): Promise<Answer<Body>> {
    return this.send<Body>('PUT', path, body, options);
  }

  patch<Body = Fields>(path: string, body: unknown, options: SendOptions = {}): Promise<Answer<Body>> {
    return this.send<Body>('PATCH', path, body, options);
  }

  /** A write with a key of its own, unless the options say otherwise (null: none). */
  send<Body = Fields>(method: string, path: string, body: unknown, options: SendOptions = {}): Promise<Answer<Body>> {
    const headers: Record<string, string> = { 'content-type': 'application/json', ...options.headers };
    const key = options.key === undefined ? newId() : options.key;
    if (key !== null) headers['idempotency-key'] = key;
    if (options.ifMatch !== undefined) headers['if-match'] = `"${options.ifMatch}"`;
    return this.request<Body>(method, path, JSON.stringify(body), headers);
  }

  /** Signs somebody in by name and pass phrase. */
  signIn(signInName: string, passPhrase: string): Promise<Answer<Fields>> {
    return this.post('/api/sign-in', { signInName, passPhrase }, { key: null });
  }

  private async request<Body>(
    method: string,
    path: string,
    body: string | null,
    headers: Record<string, string>,
  ): Promise<Answer<Body>> {
    const cookie: Record<string, string> = this.cookie === null ? {} : { cookie: this.cookie };
    const response = await fetch(`${this.url}${path}`, { method, headers: { ...cookie, ...headers }, body, redirect: 'manual' });
    this.keepCookie(response.headers.getSetCookie());
    const text = await response.text();
    const isJson = /json/.test(response.headers.get('content-type') ?? '');
    return { status: response.status, headers: response.headers, body: (isJson ? JSON.parse(text) : text) as Body };
  }

  private keepCookie(sent: string[]): void {
    const [first] = sent;
    if (first === undefined) return;
    this.setCookie = first;
    const pair = first.split(';')[0] ?? '';
    this.cookie = /Max-Age=0/.test(first) ? null : pair;
  }
}

/** Adds a person and lets them choose a pass phrase through the owner's link; the browser is theirs. */
export async function addPerson(
  server: BareServer,
  owner: Visitor,
  role: string,
  signInName: string,
  displayName: string,
): Promise<Visitor & { id: string }> {
  const id = newId();
  const added = await owner.post('/api/people', { id, displayName, signInName, role });
  if (added.status !== 200) throw new Error(`The person was refused: ${JSON.stringify(added.body)}`);
  const link = await owner.post<{ path: string }>(`/api/people/${id}/pass-phrase-link`, {});
  const visitor = server.visitor();
  const chosen = await visitor.post(
    '/api/pass-phrase',
    { token: tokenIn(link.body.path), passPhrase: `${ownerPassPhrase} of ${signInName}` },
    { key: null },
  );
  if (chosen.status !== 200) throw new Error(`The pass phrase was refused: ${JSON.stringify(chosen.body)}`);
  return Object.assign(visitor, { id });
}
