import { jest } from '@jest/globals';
import { newId } from '../../apps/api/src/platform/new-id.js';
import { verifyBooks } from '../../apps/api/src/stores/verify/verify-books.js';
import { type BareServer, startBareServer, type Visitor } from '../support/bare-server.js';
import { Stock } from '../support/stock.js';

jest.setTimeout(60_000);

// No disk is filled here: a trigger raises what Postgres raises when it cannot extend a file, SQLSTATE 53100.

let server: BareServer;
let owner: Visitor;
let stock: Stock;

beforeAll(async () => {
  server = await startBareServer('full');
  owner = await server.setUp();
  stock = await Stock.open(server.testDatabase.ownerUrl);
  await stock.query(`
    CREATE FUNCTION disk_is_full() RETURNS trigger LANGUAGE plpgsql AS $$
    BEGIN
      RAISE EXCEPTION 'could not extend file "base/16384/16385": No space left on device' USING ERRCODE = '53100';
    END $$`);
});
afterAll(async () => {
  expect(await verifyBooks(server.database)).toEqual([]);
  await stock.close();
  await server.stop();
});

interface Answered {
  code: string;
  detail: string;
  correlationId: string;
  act?: string;
}

/** While it is full, each insert into the table fails: at once, or no sooner than at the commit. */
async function whileFull<T>(table: string, moment: 'at once' | 'at the commit', work: () => Promise<T>): Promise<T> {
  const timing = moment === 'at once' ? 'TRIGGER full_disk BEFORE INSERT' : 'CONSTRAINT TRIGGER full_disk AFTER INSERT';
  const deferred = moment === 'at once' ? '' : 'DEFERRABLE INITIALLY DEFERRED';
  await stock.query(`CREATE ${timing} ON ${table} ${deferred} FOR EACH ROW EXECUTE FUNCTION disk_is_full()`);
  try {
    return await work();
  } finally {
    await stock.query(`DROP TRIGGER full_disk ON ${table}`);
  }
}

const counts = (): Promise<unknown[]> =>
  stock.query(
    `SELECT (SELECT count(*)::int FROM commands) AS commands, (SELECT count(*)::int FROM outcomes) AS outcomes,
            (SELECT count(*)::int FROM movements) AS movements, (SELECT count(*)::int FROM fittings) AS fittings,
            (SELECT coalesce(sum(quantity), 0) FROM claims) AS claimed, (SELECT coalesce(sum(held), 0) FROM things) AS held,
            (SELECT md5(string_agg(balances::text, '' ORDER BY balances::text)) FROM balances) AS balances`,
  );

describe('a disk that is full', () => {
  it.each([
    ['commands', 'at once'],
    ['movements', 'at once'],
    ['balances', 'at once'],
    ['fittings', 'at once'],
    ['outcomes', 'at once'],
    ['outbox', 'at once'],
    ['movements', 'at the commit'],
    ['outcomes', 'at the commit'],
  ] as const)(
    'when %s are written, %s: said so, nothing changed, and the same key goes through afterwards',
    async (table, moment) => {
      const partId = await stock.part();
      const lot = await stock.lot(partId, { quantity: '5' });
      const job = await stock.job([{ partId, quantity: '5' }]);
      const key = newId();
      const fit = () => owner.post<Answered>('/api/fits', { code: lot.code, jobId: job.id, quantity: '2' }, { key });
      const before = await counts();
      const refused = await whileFull(table, moment, fit);
      expect(refused).toMatchObject({ status: 507, body: { code: 'disk-full' } });
      expect(refused.headers.get('content-type')).toMatch(/^application\/problem\+json/);
      expect(refused.body.detail).toMatch(/Free some space/);
      // What Postgres said of its files is for the log, not for the bench.
      expect(JSON.stringify(refused.body)).not.toContain('base/16384');
      expect(await counts()).toEqual(before);
      expect(await fit()).toMatchObject({ status: 200, body: { act: 'fitted', quantity: '2' } });
      expect(await fit()).toMatchObject({ status: 200, body: { act: 'fitted', quantity: '2' } });
      const written = await stock.query('SELECT 1 FROM movements WHERE command_key = $1', [key]);
      expect(written).toHaveLength(1);
    },
  );

  it('does not stop what only reads', async () => {
    await whileFull('commands', 'at once', async () => {
      expect((await owner.get('/api/me')).status).toBe(200);
      expect((await owner.get('/api/health')).status).toBe(200);
      expect((await owner.get('/api/jobs')).status).toBe(200);
    });
  });

  it('leaves no connection unusable: twenty that failed are followed by twenty that do not', async () => {
    const partId = await stock.part();
    const lot = await stock.lot(partId, { quantity: '50' });
    const job = await stock.job([{ partId, quantity: '50' }]);
    const keys = Array.from({ length: 20 }, () => newId());
    const all = () =>
      Promise.all(
        keys.map((key) => owner.post<Answered>('/api/fits', { code: lot.code, jobId: job.id, quantity: '1' }, { key })),
      );
    const failed = await whileFull('fittings', 'at once', all);
    expect(new Set(failed.map((answer) => answer.status))).toEqual(new Set([507]));
    expect(new Set((await all()).map((answer) => answer.status))).toEqual(new Set([200]));
  });

  it('when a refusal is to be kept: the refusal is not lost either, it comes with the next try', async () => {
    const partId = await stock.part();
    const lot = await stock.lot(partId, { quantity: '0' });
    const job = await stock.job([{ partId, quantity: '5' }]);
    const key = newId();
    const fit = () => owner.post<Answered>('/api/fits', { code: lot.code, jobId: job.id }, { key });
    expect(await whileFull('outcomes', 'at once', fit)).toMatchObject({ status: 507, body: { code: 'disk-full' } });
    expect(await fit()).toMatchObject({ status: 409, body: { code: 'none-left' } });
  });
});
