import http from 'node:http';
import { gzipSync } from 'node:zlib';
import { jest } from '@jest/globals';
import { newId } from '../../apps/api/src/platform/new-id.js';
import { Problem } from '../../libs/contracts/src/problem.js';
import { type BareServer, startBareServer, type Visitor } from '../support/bare-server.js';
import { Stock } from '../support/stock.js';

jest.setTimeout(60_000);

let server: BareServer;
let owner: Visitor;
let stock: Stock;

beforeAll(async () => {
  server = await startBareServer('bad');
  owner = await server.setUp();
  stock = await Stock.open(server.testDatabase.ownerUrl);
});
afterAll(async () => {
  await stock.close();
  await server.stop();
});

function firm(name: string): Record<string, unknown> & { id: string } {
  return { id: newId(), name, isCustomer: true, isSupplier: false, isOutworker: false };
}

interface Raw {
  status: number;
  type: string;
  headers: http.IncomingHttpHeaders;
  body: Record<string, unknown>;
}

/** Sends bytes as they are, which a well-meaning client would not. */
function sendRaw(method: string, path: string, body: string | Buffer | null, headers: Record<string, string> = {}): Promise<Raw> {
  const all = { cookie: owner.cookie ?? '', 'content-type': 'application/json', 'idempotency-key': newId(), ...headers };
  return new Promise((settle, fail) => {
    const request = http.request(`${server.url}${path}`, { method, headers: all, agent: false }, (response) => {
      let text = '';
      response.setEncoding('utf8').on('data', (piece: string) => (text += piece));
      response.on('end', () =>
        settle({
          status: response.statusCode ?? 0,
          type: response.headers['content-type'] ?? '',
          headers: response.headers,
          body: JSON.parse(text || '{}') as Record<string, unknown>,
        }),
      );
    });
    request.on('error', fail);
    request.end(body ?? undefined);
  });
}

/** The answer is a problem document of RFC 9457, says what is wrong in a sentence, and gives nothing away. */
function expectProblem(raw: Raw, status: number, code: string): void {
  expect({ status: raw.status, code: raw.body.code }).toEqual({ status, code });
  expect(raw.type).toMatch(/^application\/problem\+json(;|$)/);
  const problem = Problem.parse(raw.body);
  expect(problem.status).toBe(status);
  expect(problem.type).toBe(`urn:corewright:problem:${code}`);
  expect(problem.title).toMatch(/^[A-Z]/);
  expect(problem.detail).toMatch(/\w+ \w+/);
  expect(problem.correlationId).not.toBe('none');
  expect(JSON.stringify(raw.body)).not.toMatch(/at .*\.(ts|js):\d+|node_modules|SELECT |INSERT /);
}

const commands = async (): Promise<number> =>
  (await stock.query<{ count: number }>('SELECT count(*)::int AS count FROM commands'))[0]!.count;

describe('the key of a change', () => {
  it.each([
    ['missing', null],
    ['empty', ''],
    ['not a UUID', 'again-please'],
    ['a UUID with something after it', `${newId()}x`],
  ])('that is %s: refused, and nothing is written', async (_, key) => {
    const before = await commands();
    const headers: Record<string, string> = key === null ? {} : { 'idempotency-key': key };
    const answer = await owner.post('/api/firms', firm('Pellow'), { key: null, headers });
    expect(answer).toMatchObject({ status: 400, body: { code: 'key-missing' } });
    expect(await commands()).toBe(before);
  });

  it('with another body, another route or another version seen: refused, and the first stays as it is', async () => {
    const key = newId();
    const body = firm('Corvane Castings');
    expect((await owner.post('/api/firms', body, { key })).status).toBe(200);
    const others = [
      sendRaw('POST', '/api/firms', JSON.stringify({ ...body, name: 'Corvane Forgings' }), { 'idempotency-key': key }),
      sendRaw('POST', '/api/firms', JSON.stringify(body), { 'idempotency-key': key, 'if-match': '"3"' }),
      sendRaw('POST', '/api/places', JSON.stringify({ id: newId(), parentId: null, name: 'Yard', kind: 'area' }), {
        'idempotency-key': key,
      }),
    ];
    for (const other of await Promise.all(others)) expectProblem(other, 422, 'key-used-otherwise');
    expect(await stock.query("SELECT name FROM parties WHERE name LIKE 'Corvane%'")).toEqual([{ name: 'Corvane Castings' }]);
    expect(await stock.query("SELECT name FROM places WHERE name = 'Yard'")).toEqual([]);
  });

  it('in capitals is the same key', async () => {
    const key = newId();
    const body = firm('Veldrow Bearings');
    expect((await owner.post('/api/firms', body, { key: key.toUpperCase() })).status).toBe(200);
    expect((await owner.post('/api/firms', body, { key })).status).toBe(200);
    expect(await stock.query('SELECT 1 AS one FROM parties WHERE id = $1', [body.id])).toHaveLength(1);
  });
});

describe('a body', () => {
  it.each([
    ['cut short', '{"id": "', 400, 'unreadable'],
    ['that is no JSON', 'id=1&name=x', 400, 'unreadable'],
    ['that is a bare word', '"a firm"', 400, 'unreadable'],
    ['with a comma too many', '{"a": 1,}', 400, 'unreadable'],
    ['that is empty', '', 422, 'bad-input'],
    ['that is a list', '[]', 422, 'bad-input'],
    ['that is null', 'null', 400, 'unreadable'],
    ['with a member that nobody asked for', JSON.stringify({ ...firm('Strake Grinding'), isOwner: true }), 422, 'bad-input'],
    ['that would change what all objects inherit', '{"__proto__": {"isCustomer": true}, "id": "x"}', 422, 'bad-input'],
  ])('%s: refused in words', async (_, body, status, code) => {
    expectProblem(await sendRaw('POST', '/api/firms', body), status, code);
    expect(({} as { isCustomer?: boolean }).isCustomer).toBeUndefined();
  });

  it('of two megabytes: refused by its size, and the server goes on', async () => {
    const huge = JSON.stringify({ ...firm('Halloran Seals'), note: 'x'.repeat(2 * 1024 * 1024) });
    expectProblem(await sendRaw('POST', '/api/firms', huge), 413, 'too-large');
    expect((await owner.get('/api/me')).status).toBe(200);
  });

  it('that is packed small and unfolds to a hundred megabytes: refused', async () => {
    const bomb = gzipSync(Buffer.from(`{"name":"${'x'.repeat(100 * 1024 * 1024)}"}`));
    expect(bomb.length).toBeLessThan(200_000);
    const answer = await sendRaw('POST', '/api/firms', bomb, { 'content-encoding': 'gzip' });
    expectProblem(answer, 413, 'too-large');
  });

  it('in an encoding or a character set that nobody reads: refused', async () => {
    const body = JSON.stringify(firm('Ostrey-Kell'));
    const answers = [
      await sendRaw('POST', '/api/firms', body, { 'content-encoding': 'walnut' }),
      await sendRaw('POST', '/api/firms', body, { 'content-type': 'application/json; charset=walnut' }),
    ];
    for (const answer of answers) {
      expect(answer.status).toBeGreaterThanOrEqual(400);
      expect(answer.status).toBeLessThan(500);
      expect(answer.type).toMatch(/problem\+json/);
    }
  });

  it('names each field that is wrong', async () => {
    const answer = await sendRaw(
      'POST',
      '/api/firms',
      JSON.stringify({ id: 'nobody', name: '  ', isCustomer: 'yes', isSupplier: true, isOutworker: false }),
    );
    expectProblem(answer, 422, 'bad-input');
    const fields = (answer.body.values as { fields: { path: string; words: string }[] }).fields;
    expect(fields.map((field) => field.path).sort()).toEqual(['id', 'isCustomer', 'name']);
    for (const field of fields) expect(field.words).toMatch(/\w+ \w+/);
  });

  it('with a character that the database cannot keep: refused, never a fault of the program', async () => {
    const answer = await sendRaw('POST', '/api/firms', JSON.stringify(firm(`Brantock\u0000 Axles`)));
    expect(answer.status).toBe(422);
    const scan = await owner.get(`/api/scan/${encodeURIComponent('L0000\u000011')}`);
    expect(scan.status).toBeLessThan(500);
    const search = await owner.get(`/api/search?q=${encodeURIComponent('worm\u0000wheel')}`);
    expect(search.status).toBeLessThan(500);
  });
});

describe('a day, a number or an address', () => {
  it.each(['2026-02-30', '2026-13-01', '0000-00-00', '30.2.2026', 'tomorrow', ''])(
    'the day "%s": not of the calendar',
    async (day) => {
      const load = { id: newId(), words: 'Two axles from a barn', sellerName: 'Dunmarrow', boughtOn: day };
      expectProblem(await sendRaw('POST', '/api/loads', JSON.stringify(load)), 422, 'bad-input');
      expectProblem(
        await sendRaw('POST', '/api/calendar/closed-days', JSON.stringify({ day, reason: 'stocktaking' })),
        422,
        'bad-input',
      );
    },
  );

  it('the leap day of a leap year is a day, that of another year is none', async () => {
    expect((await owner.post('/api/calendar/closed-days', { day: '2028-02-29', reason: 'shut' })).status).toBe(200);
    expectProblem(await sendRaw('POST', '/api/calendar/closed-days', '{"day":"2100-02-29","reason":"shut"}'), 422, 'bad-input');
  });

  it.each(['0', '-1', '1e3', '0x10', '1.23456', '12345678901', 'NaN', '½'])('the quantity "%s": refused', async (quantity) => {
    const partId = await stock.part();
    const lot = await stock.lot(partId, { quantity: '9' });
    const job = await stock.job([{ partId, quantity: '9' }]);
    const answer = await sendRaw('POST', '/api/fits', JSON.stringify({ code: lot.code, jobId: job.id, quantity }));
    expect([409, 422]).toContain(answer.status);
    expect(answer.type).toMatch(/problem\+json/);
    expect(await stock.query('SELECT trim_scale(held)::text AS held FROM things WHERE id = $1', [lot.id])).toEqual([
      { held: '9' },
    ]);
  });

  it.each([
    ['GET', '/api/nothing-here', 404, 'not-found'],
    ['GET', '/api', 404, 'not-found'],
    ['POST', '/api/nothing-here', 404, 'not-found'],
    ['DELETE', '/api/firms', 404, 'not-found'],
    ['PUT', '/api/fits', 404, 'not-found'],
    ['GET', `/api/things/${newId()}`, 404, 'not-found'],
    ['GET', '/api/things/17', 422, 'bad-input'],
    ['GET', '/api/things/%E0%A4%A', 404, 'not-found'],
    ['GET', '/api/loads?limit=0', 422, 'bad-input'],
    ['GET', '/api/loads?limit=5&limit=6', 422, 'bad-input'],
    ['GET', '/api/loads?cursor=made-up', 422, 'bad-input'],
    ['GET', '/api/loads?colour=red', 422, 'bad-input'],
  ])('%s %s: %i %s', async (method, path, status, code) => {
    expectProblem(await sendRaw(method, path, method === 'GET' ? null : '{}'), status, code);
  });
});

describe('an edit', () => {
  async function jobToEdit(): Promise<{ path: string; body: Record<string, unknown> }> {
    const job = await stock.job([{ partId: await stock.part() }]);
    return {
      path: `/api/jobs/${job.id}`,
      body: { title: 'Axle, rear', wanted: '', buildStandard: 'serviceable', priority: 2, state: 'building' },
    };
  }

  it.each([
    ['without If-Match', {}],
    ['with an If-Match that is no version', { 'if-match': '*' }],
    ['with an If-Match of words', { 'if-match': '"latest"' }],
  ])('%s: which version?', async (_, headers) => {
    const { path, body } = await jobToEdit();
    expectProblem(await sendRaw('PATCH', path, JSON.stringify(body), headers as Record<string, string>), 428, 'if-match-missing');
  });

  it('of what somebody else changed meanwhile: refused, with the row as it is now, and nothing is overwritten', async () => {
    const { path, body } = await jobToEdit();
    expect((await owner.patch(path, { ...body, title: 'Axle, front' }, { ifMatch: 1 })).status).toBe(200);
    const late = await sendRaw('PATCH', path, JSON.stringify({ ...body, title: 'Axle, rear' }), { 'if-match': '"1"' });
    expectProblem(late, 412, 'changed-meanwhile');
    expect((late.body.values as { current: { title: string } }).current.title).toBe('Axle, front');
    expect((await owner.get<{ title: string }>(path)).body.title).toBe('Axle, front');
  });

  it('by two at once of the same version: one is taken, the other told', async () => {
    const { path, body } = await jobToEdit();
    const answers = await Promise.all(
      ['one', 'two', 'three', 'four'].map((title) => owner.patch(path, { ...body, title }, { ifMatch: 1 })),
    );
    expect(answers.map((answer) => answer.status).sort()).toEqual([200, 412, 412, 412]);
    expect((await owner.get<{ version: number }>(path)).body.version).toBe(2);
  });
});
