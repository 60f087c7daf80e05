import { jest } from '@jest/globals';
import { newId } from '../../apps/api/src/platform/new-id.js';
import type { ImportUnderWay } from '../../libs/contracts/src/imports.js';
import { type BareServer, serveOn, startBareServer, type Visitor } from '../support/bare-server.js';
import { faultsIn, type ImportAnswer, sendFiles } from '../support/import-client.js';
import { visitorAt } from '../support/server-process.js';
import { lines } from '../support/small-workshop.js';

jest.setTimeout(240_000);

const partCount = 30_000;
const files = {
  makers: lines('name', 'Brantock'),
  parts: lines('maker,number,name', ...Array.from({ length: partCount }, (_, index) => `Brantock,${index}/70,Washer ${index}`)),
};

let server: BareServer;
/** Another server on the same books: what is asked of it is true although it is not the one at work. */
let other: BareServer;
let owner: Visitor;
let atOther: Visitor;

beforeAll(async () => {
  server = await startBareServer('under_way');
  owner = await server.setUp();
  other = await serveOn(server.testDatabase);
  atOther = visitorAt(other.url, owner);
});
afterAll(async () => {
  await other.close();
  await server.stop();
});

const send = (apply: boolean, key = newId()): Promise<ImportAnswer> => sendFiles(server.url, files, { by: owner, apply, key });

async function underWay(): Promise<ImportUnderWay['underWay']> {
  const answer = await atOther.get<ImportUnderWay>('/api/imports/under-way');
  expect(answer.status).toBe(200);
  return answer.body.underWay;
}

const stop = (id: string) => atOther.post(`/api/imports/${id}/stop`, {});

/** Waits until an import has read this many rows. */
async function whenRead(rows: number): Promise<NonNullable<ImportUnderWay['underWay']>> {
  for (;;) {
    const found = await underWay();
    if (found && found.rows >= rows) return found;
    await new Promise((settle) => setTimeout(settle, 20));
  }
}

async function whenEnded(): Promise<void> {
  while (await underWay()) await new Promise((settle) => setTimeout(settle, 50));
}

/** What stands in every table of the books; what is kept of requests and their news is no part of them. */
async function everyTable(): Promise<Record<string, unknown>> {
  const tables = await server.database.rows<{ name: string }>(
    `SELECT tablename AS name FROM pg_tables WHERE schemaname = 'public' AND tablename NOT IN ('commands', 'outcomes', 'outbox', 'migrations', 'sessions')
      ORDER BY tablename`,
  );
  const read: Record<string, unknown> = {};
  for (const { name } of tables)
    read[name] = await server.database.row(
      `SELECT count(*)::int AS rows, md5(string_agg(each::text, ',' ORDER BY each::text)) AS text FROM ${name} AS each`,
    );
  return read;
}

describe('an import under way', () => {
  it('is none while nothing is sent, and then there is nothing to stop', async () => {
    expect(await underWay()).toBeNull();
    const answer = await stop(newId());
    expect(answer.status).toBe(409);
    expect(answer.body).toMatchObject({ code: 'import-ended' });
  });

  it('tells how far it has come, tried or not, and that another cannot begin', async () => {
    const key = newId();
    const sent = send(false, key);
    // The first row is that of makers.csv.
    const first = await whenRead(2);
    expect(first).toMatchObject({ id: key, by: 'Edie Marrack', isTrial: true, file: 'parts', isStopping: false });
    expect(first.bytesTotal).toBe(Buffer.byteLength(files.makers) + Buffer.byteLength(files.parts));
    const second = await send(true);
    expect(second).toMatchObject({ status: 409, body: { code: 'import-under-way' } });
    expect(second.body.detail).toMatch(/^Edie Marrack is trying files, which is under way/);
    const later = await whenRead(first.rows + 1);
    expect(later.bytesRead).toBeGreaterThan(0);
    expect(later.bytesRead).toBeLessThanOrEqual(later.bytesTotal);
    expect((await sent).body).toMatchObject({ applied: false, faultsTotal: 0 });
    expect(await underWay()).toBeNull();
  });

  it('is stopped half way from any server, and leaves every table as it was', async () => {
    const before = await everyTable();
    const key = newId();
    const sent = send(true, key);
    await whenRead(partCount / 3);
    const stopped = await stop(key);
    expect(stopped.status).toBe(200);
    expect(stopped.body).toMatchObject({ underWay: { id: key, isStopping: true } });
    const answer = await sent;
    expect(answer).toMatchObject({ status: 409, body: { code: 'import-stopped' } });
    expect(await everyTable()).toEqual(before);
    // Sent again with its key it is still the one that was stopped.
    expect(await send(true, key)).toMatchObject({ status: 409, body: { code: 'import-stopped' } });
    expect(await everyTable()).toEqual(before);
  });

  it('goes on to its end when the sender is lost, and is there whole', async () => {
    const key = newId();
    const form = new FormData();
    for (const [name, content] of Object.entries(files)) form.append(name, new Blob([content]), `${name}.csv`);
    const lost = new AbortController();
    const headers = { cookie: owner.cookie ?? '', 'idempotency-key': key };
    const sent = fetch(`${server.url}/api/imports?apply=yes`, { method: 'POST', headers, body: form, signal: lost.signal });
    sent.catch(() => undefined);
    await whenRead(1);
    lost.abort();
    await expect(sent).rejects.toThrow();
    await whenEnded();
    const answer = await send(true, key);
    expect(answer.body).toMatchObject({ applied: true, faultsTotal: 0, files: [{ added: 1 }, { added: partCount }] });
    expect(await everyTable()).toMatchObject({
      parts: { rows: partCount },
      part_numbers: { rows: partCount },
      import_runs: { rows: 0 },
    });
  });

  it('is lost whole with an upload that breaks off', async () => {
    const before = await everyTable();
    const boundary = 'a-boundary';
    const body = new ReadableStream({
      start(controller) {
        controller.enqueue(
          new TextEncoder().encode(
            `--${boundary}\r\nContent-Disposition: form-data; name="makers"; filename="makers.csv"\r\nContent-Type: text/csv\r\n\r\nname\nCorvane\n`,
          ),
        );
        setTimeout(() => controller.error(new Error('the wire is cut')), 200);
      },
    });
    const headers = {
      cookie: owner.cookie ?? '',
      'idempotency-key': newId(),
      'content-type': `multipart/form-data; boundary=${boundary}`,
    };
    const init: RequestInit & { duplex: 'half' } = { method: 'POST', headers, body, duplex: 'half' };
    await expect(fetch(`${server.url}/api/imports?apply=yes`, init)).rejects.toThrow();
    await whenEnded();
    expect(await everyTable()).toEqual(before);
  });

  it('changes nothing when it comes again, however many rows there are', async () => {
    const before = await everyTable();
    const { body } = await send(true);
    expect(body).toMatchObject({
      applied: true,
      notes: [],
      files: [
        { added: 0, unchanged: 1 },
        { added: 0, unchanged: partCount },
      ],
    });
    expect(await everyTable()).toEqual(before);
  });

  it('takes relations by the thousand, and sees a circle whose steps lie far apart', async () => {
    const heading = 'from_maker,from_number,kind,to_maker,to_number,since,conditions,evidence,evidence_words';
    const related = (from: number, kind: string, to: number) =>
      `Brantock,${from}/70,${kind},Brantock,${to}/70,,,told,by Tom Hasleby`;
    const rows = Array.from({ length: 6_000 }, (_, index) => related(10 + 2 * index, 'will serve for', 11 + 2 * index));
    rows[0] = related(0, 'supersession', 1);
    rows[3_000] = related(1, 'supersession', 2);
    rows[5_990] = related(3, 'same as', 4);
    rows[5_999] = related(2, 'supersession', 0);
    const tried = await sendFiles(server.url, { relations: lines(heading, ...rows) }, { by: owner, apply: true });
    expect(faultsIn(tried)).toEqual([
      expect.stringMatching(
        /^relations 6001 to_number: 2\/70 would come to supersede itself: 2\/70, then 0\/70, then 1\/70, then 2\/70\./,
      ),
    ]);
    rows[5_999] = related(4, 'same as', 3);
    const taken = await sendFiles(server.url, { relations: lines(heading, ...rows) }, { by: owner, apply: true });
    expect(taken.body).toMatchObject({ applied: true, files: [{ added: 5_999, unchanged: 1 }] });
    const again = await sendFiles(server.url, { relations: lines(heading, ...rows) }, { by: owner, apply: true });
    expect(again.body).toMatchObject({ applied: true, notes: [], files: [{ added: 0, unchanged: 6_000 }] });
  });

  it('finds a row that is there twice though thousands lie between, and each fault by its line', async () => {
    const rows = Array.from({ length: 12_000 }, (_, index) => `Brantock,${index}/71,Washer`);
    rows[11_500] = 'Brantock,17/71,Washer';
    rows[11_900] = 'Brantok,1/72,Washer';
    const { body } = await sendFiles(server.url, { parts: lines('maker,number,name', ...rows) }, { by: owner, apply: true });
    expect(body).toMatchObject({ applied: false, faultsTotal: 2 });
    expect(body.faults).toMatchObject([
      {
        line: 11_502,
        column: 'number',
        words: expect.stringMatching(/^Line 19 is for the same maker, number already/) as string,
      },
      { line: 11_902, column: 'maker' },
    ]);
  });
});
