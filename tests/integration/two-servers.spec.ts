import { jest } from '@jest/globals';
import { Database } from '../../apps/api/src/platform/database/database.js';
import { createPool } from '../../apps/api/src/platform/database/pool.js';
import { newId } from '../../apps/api/src/platform/new-id.js';
import { verifyBooks } from '../../apps/api/src/stores/verify/verify-books.js';
import { tokenIn, Visitor } from '../support/bare-server.js';
import { createTestDatabase, type TestDatabase } from '../support/database.js';
import { listenTo } from '../support/news.js';
import {
  endAll,
  newDataFolder,
  type ServerProcess,
  setUpThroughLink,
  startServerProcess,
  visitorAt,
} from '../support/server-process.js';
import { Stock } from '../support/stock.js';

const isLong = process.env.CW_LONG === '1';
const rounds = isLong ? 300 : 15;

jest.setTimeout(isLong ? 1_200_000 : 150_000);

let books: TestDatabase;
let servers: [ServerProcess, ServerProcess];
let atA: Visitor;
let atB: Visitor;
let stock: Stock;
let database: Database;

beforeAll(async () => {
  books = await createTestDatabase('two');
  const environment = { DATABASE_URL: books.servingUrl, DATABASE_OWNER_URL: books.ownerUrl };
  const start = (): Promise<ServerProcess> => startServerProcess(['--data', newDataFolder()], environment);
  servers = await Promise.all([start(), start()]);
  atA = await setUpThroughLink(servers[0]);
  // One session is good at both: it is kept in the database.
  atB = visitorAt(servers[1].url, atA);
  stock = await Stock.open(books.ownerUrl);
  database = new Database(createPool(books.servingUrl, { max: 2 }), books.servingUrl);
});
afterAll(async () => {
  expect(await verifyBooks(database)).toEqual([]);
  await database.pool.end();
  await stock.close();
  await endAll();
  await books.drop();
});

interface Done {
  actId?: string;
  code?: string;
}

describe('two servers on one database', () => {
  it('are two processes, and a session of one is good at the other', async () => {
    expect(servers[0].pid).not.toBe(servers[1].pid);
    expect((await atB.get('/api/me')).body).toEqual((await atA.get('/api/me')).body);
  });

  it('given one key at the same time apply it once, and answer alike', async () => {
    const partId = await stock.part();
    for (let round = 0; round < rounds; round += 1) {
      const lot = await stock.lot(partId, { quantity: '9' });
      const job = await stock.job([{ partId, quantity: '9' }]);
      const key = newId();
      const body = { code: lot.code, jobId: job.id, quantity: '2' };
      const answers = await Promise.all([atA, atB, atA, atB].map((at) => at.post<Done>('/api/fits', body, { key })));
      expect(answers.map((answer) => answer.status)).toEqual([200, 200, 200, 200]);
      expect(new Set(answers.map((answer) => answer.body.actId)).size).toBe(1);
      const written = await stock.query('SELECT 1 FROM movements WHERE command_key = $1', [key]);
      expect(written).toHaveLength(1);
    }
  });

  it('race for the last one of a lot: one client of one of them gets it', async () => {
    const partId = await stock.part();
    const jobs: Awaited<ReturnType<Stock['job']>>[] = [];
    for (let index = 0; index < 24; index += 1) jobs.push(await stock.job([{ partId, quantity: '5000' }]));
    const winners = new Set<string>();
    for (let round = 0; round < rounds; round += 1) {
      const lot = await stock.lot(partId, { quantity: '1' });
      const answers = await Promise.all(
        jobs.map((job, index) => (index % 2 === 0 ? atA : atB).post<Done>('/api/fits', { code: lot.code, jobId: job.id })),
      );
      expect(answers.filter((answer) => answer.status === 200)).toHaveLength(1);
      expect(answers.filter((answer) => answer.status === 409)).toHaveLength(jobs.length - 1);
      winners.add(answers.findIndex((answer) => answer.status === 200) % 2 === 0 ? 'A' : 'B');
    }
    expect(winners.size).toBeGreaterThan(0);
  });

  it('tell each other: what is written at one is heard at the other within a second', async () => {
    const partId = await stock.part();
    const lot = await stock.lot(partId, { quantity: '5' });
    const job = await stock.job([{ partId, quantity: '5' }]);
    for (const [writer, listener, url] of [
      [atA, atB, servers[1].url],
      [atB, atA, servers[0].url],
    ] as const) {
      const news = await listenTo(url, listener);
      await writer.post('/api/fits', { code: lot.code, jobId: job.id, quantity: '1' });
      const written = Date.now();
      await news.until((topics) => topics.includes(`job:${job.id}`) && topics.includes(`thing:${lot.id}`));
      expect(Date.now() - written).toBeLessThan(1000);
      news.stop();
    }
  });

  it('let nobody in whom the other switched off, within a second', async () => {
    const id = newId();
    await atA.post('/api/people', { id, displayName: 'Tom Hasleby', signInName: 'tom', role: 'bench' });
    const link = await atA.post<{ path: string }>(`/api/people/${id}/pass-phrase-link`, {});
    const tom = new Visitor(servers[1].url);
    const passPhrase = 'a lock tab for every nut';
    await tom.post('/api/pass-phrase', { token: tokenIn(link.body.path), passPhrase }, { key: null });
    expect((await tom.get('/api/me')).status).toBe(200);
    const { people } = (await atA.get<{ people: { id: string; version: number }[] }>('/api/people')).body;
    const ifMatch = people.find((person) => person.id === id)!.version;
    const off = await atA.patch(`/api/people/${id}`, { displayName: 'Tom Hasleby', role: 'bench', active: false }, { ifMatch });
    expect(off.status).toBe(200);
    const until = performance.now() + 1_000;
    let status = 200;
    while (status === 200 && performance.now() < until) status = (await tom.get('/api/me')).status;
    expect(status).toBe(401);
  });

  it('raise one warning, whichever of them looks, and both tell it', async () => {
    for (let round = 0; round < 3; round += 1) {
      const partId = await stock.part();
      const lots = [await stock.lot(partId), await stock.lot(partId)];
      const job = await stock.job([{ partId, quantity: '2', critical: true }]);
      await atA.post(`/api/jobs/${job.id}/lines/${job.lineIds[0]}/findings`, {
        quantityReused: '0',
        quantityReplaced: '2',
        words: '',
      });
      const looked = () => stock.query('SELECT 1 FROM line_cover WHERE job_id = $1 AND lacking = 0', [job.id]);
      while ((await looked()).length === 0) await new Promise((settle) => setTimeout(settle, 50));
      const news = await Promise.all([listenTo(servers[0].url, atA), listenTo(servers[1].url, atB)]);
      await Promise.all([
        atA.post(`/api/things/${lots[0]!.id}/hold`, { reason: 'rust' }),
        atB.post(`/api/things/${lots[1]!.id}/hold`, { reason: 'a crack' }),
      ]);
      await Promise.all(
        news.map((each) => each.until((topics) => topics.includes('warnings') && topics.includes(`job:${job.id}`))),
      );
      for (const each of news) each.stop();
      const rows = () => stock.query<{ words: string }>('SELECT words FROM warnings WHERE job_id = $1', [job.id]);
      const until = performance.now() + 10_000;
      while (!(await rows()).some(({ words }) => words.includes('2 lacking')) && performance.now() < until)
        await new Promise((settle) => setTimeout(settle, 50));
      expect(await rows()).toEqual([{ words: expect.stringContaining('2 lacking, and it was covered') }]);
      const open = async (at: Visitor) =>
        (await at.get<{ open: { job: { id: string } }[] }>('/api/warnings')).body.open.filter((each) => each.job.id === job.id);
      expect(await open(atB)).toEqual(await open(atA));
    }
  });

  it('go on singly: when one is ended, the other serves what it began', async () => {
    const partId = await stock.part();
    const lot = await stock.lot(partId, { quantity: '5' });
    const job = await stock.job([{ partId, quantity: '5' }]);
    const key = newId();
    const body = { code: lot.code, jobId: job.id, quantity: '1' };
    const first = await atA.post<Done>('/api/fits', body, { key });
    expect(await servers[0].end('SIGTERM')).toEqual({ code: 0, signal: null });
    expect((await atB.post<Done>('/api/fits', body, { key })).body.actId).toBe(first.body.actId);
    expect((await atB.post<Done>('/api/fits', body)).status).toBe(200);
  });
});
