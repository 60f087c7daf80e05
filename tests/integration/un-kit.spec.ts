import type * as z from 'zod';
import { newId } from '../../apps/api/src/platform/new-id.js';
import { verifyBooks } from '../../apps/api/src/stores/verify/verify-books.js';
import type { JobList } from '../../libs/contracts/src/jobs.js';
import type { Thing } from '../../libs/contracts/src/stores.js';
import type { TrayContents, UnKitDone } from '../../libs/contracts/src/un-kit.js';
import { addPerson, type BareServer, startBareServer, type Visitor } from '../support/bare-server.js';
import { closeDrawing, drawPages, openReader, readPicture } from '../support/label-reader.js';
import { Stock } from '../support/stock.js';

let server: BareServer;
let owner: Visitor;
let bench: Visitor;
let stock: Stock;

beforeAll(async () => {
  server = await startBareServer('unkit');
  owner = await server.setUp();
  bench = await addPerson(server, owner, 'bench', 'tom', 'Tom Hasleby');
  stock = await Stock.open(server.testDatabase.ownerUrl);
  openReader();
});
afterAll(async () => {
  expect(await verifyBooks(server.database)).toEqual([]);
  closeDrawing();
  await stock.close();
  await server.stop();
});

type Answer = UnKitDone & { code: string; detail: string };
const contents = async (jobId: string) => (await bench.get<TrayContents>(`/api/jobs/${jobId}/tray-contents`)).body;
const unKit = (jobId: string, body: object, options: { key?: string } = {}) =>
  bench.post<Answer>(`/api/jobs/${jobId}/un-kits`, { id: newId(), claims: 'as before', ...body }, options);
const undo = (id: string) => bench.post<Answer>(`/api/un-kits/${id}/undoing`, { id: newId() });
const page = async (id: string) => (await owner.get<Thing>(`/api/things/${id}`)).body;
const reservedOf = async (jobId: string): Promise<string> =>
  (
    await stock.query<{ sum: string }>(
      'SELECT trim_scale(coalesce(sum(quantity), 0))::text AS sum FROM claim_changes WHERE job_id = $1',
      [jobId],
    )
  )[0]!.sum;
const kitOf = async (jobId: string) =>
  (await owner.get<z.infer<typeof JobList>>('/api/jobs?limit=200')).body.jobs.find(({ id }) => id === jobId)!.kit;

/** Two of five reserved, then three fetched; one further part is short. */
async function kitted() {
  const [partId, shortId] = [await stock.part({ name: 'Thrust washer' }), await stock.part({ name: 'Lock plate' })];
  const lot = await stock.lot(partId, { quantity: '5' });
  const job = await stock.job([
    { partId, quantity: '3' },
    { partId: shortId, quantity: '2' },
  ]);
  const reserve = { until: null, lines: [{ lineId: job.lineIds[0], thingId: lot.id, quantity: '2' }] };
  expect((await owner.post(`/api/jobs/${job.id}/reservations`, reserve)).status).toBe(200);
  expect((await bench.post('/api/picks', { code: lot.code, jobId: job.id, quantity: '3' })).status).toBe(200);
  return { lot, job, all: [{ thingId: lot.id, placeId: stock.placeId, quantity: '3' }] };
}

describe('what lies in a tray', () => {
  it('is told with where each of it came from and what had been reserved; the list of jobs says that it is partly kitted', async () => {
    const { lot, job } = await kitted();
    expect(await contents(job.id)).toMatchObject({
      mustGiveUp: false,
      rows: [
        { thing: { id: lot.id }, quantity: '3', reserved: '2', from: { id: stock.placeId }, words: 'picked by Tom Hasleby' },
      ],
      last: null,
    });
    expect(await kitOf(job.id)).toBe('partly kitted');
    const other = await stock.job([{ partId: await stock.part() }]);
    expect(await kitOf(other.id)).toBe('nothing in the tray');
    expect((await bench.get(`/api/jobs/${newId()}/tray-contents`)).status).toBe(404);
  });

  it('came from no place where it was found in hand', async () => {
    const partId = await stock.part();
    const lot = await stock.lot(partId, { quantity: '0' });
    const job = await stock.job([{ partId }]);
    expect((await bench.post('/api/picks', { code: lot.code, jobId: job.id, haveItHere: true })).status).toBe(200);
    expect((await contents(job.id)).rows).toMatchObject([{ thing: { id: lot.id }, from: null }]);
  });
});

describe('an un-kit', () => {
  it('puts all of it back in one act, however often it is sent; what had been reserved stays reserved, the rest is free', async () => {
    const { lot, job, all } = await kitted();
    const [key, id] = [newId(), newId()];
    const first = await unKit(job.id, { id, rows: all }, { key });
    expect(first.status).toBe(200);
    expect((await unKit(job.id, { id, rows: all }, { key })).body).toEqual(first.body);
    expect(await page(lot.id)).toMatchObject({ held: '5', claimed: '2', holdings: [{ holderId: stock.placeId, quantity: '5' }] });
    expect(await reservedOf(job.id)).toBe('2');
    expect(await contents(job.id)).toMatchObject({ rows: [], last: { id, by: 'Tom Hasleby' } });
    expect(await kitOf(job.id)).toBe('nothing in the tray');
  });

  it('gives up what was promised where that is chosen, and a job that is called off can do nothing else', async () => {
    const { lot, job, all } = await kitted();
    await stock.query("UPDATE jobs SET state = 'called off' WHERE id = $1", [job.id]);
    expect((await contents(job.id)).mustGiveUp).toBe(true);
    expect((await unKit(job.id, { rows: all })).body.code).toBe('bad-input');
    expect((await unKit(job.id, { rows: all, claims: 'given up' })).status).toBe(200);
    expect(await page(lot.id)).toMatchObject({ held: '5', claimed: '0' });
    expect(await reservedOf(job.id)).toBe('0');
  });

  it('may put some of it in other places than it came from', async () => {
    const { lot, job } = await kitted();
    const other = await stock.place();
    const rows = [
      { thingId: lot.id, placeId: other.id, quantity: '1' },
      { thingId: lot.id, placeId: stock.placeId, quantity: '1' },
    ];
    expect((await unKit(job.id, { rows })).status).toBe(200);
    const { holdings } = await page(lot.id);
    expect(holdings.map(({ holderId, quantity }) => [holderId, quantity])).toEqual(
      expect.arrayContaining([
        [other.id, '1'],
        [stock.placeId, '3'],
        [job.trayId, '1'],
      ]),
    );
  });

  it('is refused for more than lies there, for a tray and for a place that is not in the books, and changes nothing', async () => {
    const { lot, job, all } = await kitted();
    const row = { thingId: lot.id, placeId: stock.placeId, quantity: '4' };
    expect((await unKit(job.id, { rows: [row] })).body).toMatchObject({ code: 'not-in-the-tray' });
    expect((await unKit(job.id, { rows: [{ ...all[0], placeId: job.trayId }] })).body.code).toBe('cannot-be-put-there');
    expect((await unKit(job.id, { rows: [{ ...all[0], placeId: newId() }] })).body.code).toBe('bad-input');
    expect((await unKit(job.id, { rows: [{ ...all[0], quantity: '0' }] })).body.code).toBe('bad-input');
    expect((await contents(job.id)).rows).toMatchObject([{ quantity: '3' }]);
  });

  it('is undone as one: in the tray again, promised as it was', async () => {
    const { lot, job, all } = await kitted();
    const before = await page(lot.id);
    const { body } = await unKit(job.id, { rows: all });
    expect((await undo(body.id)).status).toBe(200);
    const after = await page(lot.id);
    expect(after).toMatchObject({ held: before.held, claimed: before.claimed, holdings: before.holdings });
    expect(await reservedOf(job.id)).toBe('0');
    expect((await contents(job.id)).rows).toMatchObject([{ quantity: '3', reserved: '2', from: { id: stock.placeId } }]);
    expect((await undo(body.id)).body.code).toBe('undone-already');
    expect((await unKit(job.id, { rows: all })).status).toBe(200);
    expect(await reservedOf(job.id)).toBe('2');
  });

  it('is not undone where it went on meanwhile or was promised to another', async () => {
    const { lot, job, all } = await kitted();
    const { body } = await unKit(job.id, { rows: all, claims: 'given up' });
    const [line] = await stock.query<{ partId: string }>('SELECT part_id AS "partId" FROM lots WHERE thing_id = $1', [lot.id]);
    const other = await stock.job([{ partId: line!.partId, quantity: '5' }]);
    const reserve = { until: null, lines: [{ lineId: other.lineIds[0], thingId: lot.id, quantity: '4' }] };
    expect((await owner.post(`/api/jobs/${other.id}/reservations`, reserve)).status).toBe(200);
    expect((await undo(body.id)).body.code).toBe('claimed-for-another-job');
    expect((await bench.post('/api/picks', { code: lot.code, jobId: other.id, quantity: '4' })).status).toBe(200);
    expect((await undo(body.id)).body.code).toBe('moved-since');
  });

  it('loses nothing when somebody fits at the same moment', async () => {
    for (let round = 0; round < 5; round += 1) {
      const { lot, job, all } = await kitted();
      const [back, fit] = await Promise.all([
        unKit(job.id, { rows: all }),
        bench.post<{ code: string }>('/api/fits', { code: lot.code, jobId: job.id, quantity: '3' }),
      ]);
      const { holdings } = await page(lot.id);
      const inTray = holdings.filter(({ holderId }) => holderId === job.trayId);
      expect(inTray).toEqual([]);
      const inUnit = holdings.find(({ holderKind }) => holderKind === 'unit')?.quantity ?? '0';
      expect(inUnit).toBe(fit.status === 200 ? '3' : '0');
      expect([back.status, fit.status]).toContain(200);
    }
  });
});

describe('the label of a tray', () => {
  it.each([
    ['tie-on tag', 203],
    ['bag label', 300],
  ])('says on a %s what is missing, and its symbols are read', async (stockName, dpi) => {
    const { job } = await kitted();
    const answer = await fetch(
      `${server.url}/api/trays/${job.trayId}/missing-label.pdf?stock=${encodeURIComponent(stockName)}&dotsPerInch=${dpi}`,
      { headers: { cookie: owner.cookie ?? '' } },
    );
    expect(answer.status).toBe(200);
    const [picture] = await drawPages(Buffer.from(await answer.arrayBuffer()), dpi);
    const read = await readPicture(picture!, 2);
    expect(read.map(({ text }) => text)).toEqual([job.code, job.code]);
  });

  it('is for trays of open jobs alone', async () => {
    expect((await owner.get(`/api/trays/${stock.placeId}/missing-label.pdf`)).status).toBe(404);
  });
});
