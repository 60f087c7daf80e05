import { newId } from '../../apps/api/src/platform/new-id.js';
import { verifyBooks } from '../../apps/api/src/stores/verify/verify-books.js';
import { formatCode, type LabelCode } from '../../libs/codes/src/label-code.js';
import { addPerson, type BareServer, startBareServer, type Visitor } from '../support/bare-server.js';
import { LabelDesk } from '../support/label-changes.js';
import { Stock } from '../support/stock.js';

let server: BareServer;
let owner: Visitor;
let bench: Visitor;
let viewer: Visitor;
let stock: Stock;
let desk: LabelDesk;

beforeAll(async () => {
  server = await startBareServer('labelchanges');
  owner = await server.setUp();
  bench = await addPerson(server, owner, 'bench', 'tom', 'Tom Hasleby');
  viewer = await addPerson(server, owner, 'viewer', 'ada', 'Ada Quill');
  stock = await Stock.open(server.testDatabase.ownerUrl);
  desk = new LabelDesk(bench);
});
afterAll(async () => {
  expect(await verifyBooks(server.database)).toEqual([]);
  await stock.close();
  await server.stop();
});

const seal = async (quantity = '1') => stock.lot(await stock.part({ name: 'Big seal' }), { quantity });
const said = (code: string) => formatCode(code as LabelCode);

describe('a lost or spoiled label', () => {
  it('is replaced by a blank one: the old code is void and says what it was on, when, by whom, and what it is now', async () => {
    const [lot, [blank]] = [await seal(), await desk.blanks('lot', 1)];
    const key = newId();
    const replaced = await desk.replace(lot.code, blank!, 'lost', key);
    expect([replaced.status, replaced.body.code]).toEqual([200, blank]);
    expect((await desk.replace(lot.code, blank!, 'lost', key)).body).toEqual(replaced.body);
    expect(await desk.scan(blank!)).toMatchObject({ id: lot.id });
    const { detail, values } = await desk.scan(lot.code);
    expect(detail).toMatch(
      new RegExp(
        `^It was on Big seal: this label was lost, and ${said(blank!)} took its place on \\d+ \\w+ \\d{4} by Tom Hasleby\\. Take this label off: it is now ${said(blank!)}\\.$`,
      ),
    );
    expect(values).toMatchObject({ nowCode: blank, nowId: lot.id });
    const { labels, changes } = await desk.borne(lot.id);
    expect(labels.map(({ code, state }) => [code, state])).toEqual([
      [blank, 'shown'],
      [lot.code, 'void'],
    ]);
    expect(changes).toMatchObject([{ by: 'Tom Hasleby', words: `${said(lot.code)} replaced by ${said(blank!)}`, why: 'lost' }]);
  });

  it('is replaced by a new code where no blank one is at hand, and a place and a tray too', async () => {
    const [place, unit] = [await stock.place(), await stock.unit()];
    for (const { id, code } of [place, unit]) {
      const replaced = await desk.replace(code, null, 'spoiled');
      expect(replaced.status).toBe(200);
      expect(replaced.body.code).not.toBe(code);
      expect(await desk.scan(replaced.body.code)).toMatchObject({ id });
      expect(await desk.scan(code)).toMatchObject({ code: 'code-void' });
    }
    const lot = await seal();
    const put = await bench.post<{ code: string; detail: string }>('/api/put-aways', { code: lot.code, placeId: place.id });
    expect(put.status).toBe(200);
    const job = await stock.job([{ partId: await stock.part() }]);
    const [tray] = await stock.query<{ code: string }>('SELECT code FROM codes WHERE subject_id = $1', [job.trayId]);
    expect((await desk.replace(tray!.code, null)).status).toBe(200);
    expect((await bench.get<{ lines: unknown[] }>(`/api/jobs/${job.id}/coverage`)).body.lines).toHaveLength(1);
  });

  it('is refused in every mode once it is void, with what it is now', async () => {
    const lot = await seal('3');
    const job = await stock.job([
      { partId: (await stock.query<{ id: string }>('SELECT part_id AS id FROM lots WHERE thing_id = $1', [lot.id]))[0]!.id },
    ]);
    const now = (await desk.replace(lot.code, null)).body.code;
    const scans = {
      '/api/picks': { code: lot.code, jobId: job.id },
      '/api/fits': { code: lot.code, jobId: job.id },
      '/api/put-aways': { code: lot.code, placeId: stock.placeId },
    };
    for (const [path, body] of Object.entries(scans))
      expect((await bench.post<{ code: string; detail: string }>(path, body)).body).toMatchObject({
        code: 'code-void',
        detail: expect.stringContaining(`it is now ${said(now)}`),
      });
    expect(await desk.replace(lot.code, null)).toMatchObject({ status: 409, body: { code: 'code-void' } });
    expect((await bench.post<{ act: string }>('/api/picks', { ...scans['/api/picks'], code: now })).status).toBe(200);
  });

  it('follows the label through several that were lost one after another', async () => {
    const lot = await seal();
    const second = (await desk.replace(lot.code, null)).body.code;
    const third = (await desk.replace(second, null, 'spoiled')).body.code;
    expect((await desk.scan(lot.code)).values).toMatchObject({ nowCode: third });
  });

  it('is replaced only by a blank label of its own kind that was printed here and is on nothing', async () => {
    const [lot, other, [box], [lotBlank]] = [
      await seal(),
      await seal(),
      await desk.blanks('unsorted', 1),
      await desk.blanks('lot', 1),
    ];
    const place = await stock.place();
    expect((await desk.replace(lot.code, box!)).body.code).toBe('code-of-another-kind');
    expect((await desk.replace(place.code, lotBlank!)).body.code).toBe('code-of-another-kind');
    expect((await desk.replace(lot.code, other.code)).body.code).toBe('code-claimed');
    expect((await desk.replace(lot.code, lot.code)).body.code).toBe('code-claimed');
    const next = await desk.replace(other.code, null);
    expect((await desk.replace(lot.code, other.code)).body.code).toBe('code-claimed');
    expect(next.status).toBe(200);
    expect((await desk.replace(lot.code, 'L99999930')).status).toBe(422);
    expect(await desk.scan(lot.code)).toMatchObject({ id: lot.id });
    expect((await viewer.post(`/api/labels/${lot.code}/replacement`, { was: 'lost', code: null, note: '' })).status).toBe(403);
    const job = await stock.job([]);
    expect((await desk.replace(job.code, null)).body.code).toBe('code-of-another-kind');
  });

  it('goes to one of two who scan the same blank at once', async () => {
    const [one, other, [blank]] = [await seal(), await seal(), await desk.blanks('lot', 1)];
    const answers = await Promise.all([desk.replace(one.code, blank!), desk.replace(other.code, blank!)]);
    expect(answers.map(({ status }) => status).sort()).toEqual([200, 409]);
    expect(answers.find(({ status }) => status === 409)!.body.code).toBe('code-claimed');
    const loser = answers[0]!.status === 409 ? one : other;
    expect(await desk.scan(loser.code)).toMatchObject({ id: loser.id });
  });

  it('is replaced once by two who replace it at the same moment', async () => {
    const lot = await seal();
    const answers = await Promise.all([desk.replace(lot.code, null), desk.replace(lot.code, null)]);
    expect(answers.map(({ status }) => status).sort()).toEqual([200, 409]);
    expect((await desk.borne(lot.id)).labels.filter(({ state }) => state === 'shown')).toHaveLength(1);
  });

  it('never lives again, whatever the code does, and the record of it is kept', async () => {
    const lot = await seal();
    await desk.replace(lot.code, null);
    await expect(stock.query('UPDATE codes SET voided_at = NULL, void_words = NULL WHERE code = $1', [lot.code])).rejects.toThrow(
      /never lives again/,
    );
    await expect(stock.query('DELETE FROM label_changes')).rejects.toThrow(/kept for good/);
    await expect(server.database.rows('UPDATE label_changes SET why = $1', ['no'])).rejects.toThrow(/denied/);
  });
});

describe('two labels on one thing', () => {
  it('both open it, in every list it stands once, and each is void by itself; the last one stays', async () => {
    const partId = await stock.part({ name: 'Cover' });
    const lot = await stock.lot(partId, { quantity: '2' });
    const [blank] = await desk.blanks('lot', 1);
    expect((await desk.putFurther(lot.code, blank!)).body).toMatchObject({ code: blank });
    for (const code of [lot.code, blank!]) expect(await desk.scan(code)).toMatchObject({ id: lot.id, code });
    const job = await stock.job([{ partId, quantity: '2' }]);
    const { lines } = (await bench.get<{ lines: { shares: unknown[] }[] }>(`/api/jobs/${job.id}/coverage`)).body;
    expect(JSON.stringify(lines).match(new RegExp(lot.code, 'g'))?.length).toBeGreaterThan(0);
    expect(JSON.stringify(lines)).not.toContain(blank!);
    expect((await bench.get<{ lots: unknown[] }>(`/api/parts/${partId}`)).body.lots).toHaveLength(1);
    expect((await bench.post('/api/picks', { code: blank, jobId: job.id, quantity: '1' })).status).toBe(200);
    expect((await desk.takeOff(lot.code)).body).toMatchObject({ code: blank });
    expect(await desk.scan(lot.code)).toMatchObject({ code: 'code-void', values: { nowCode: blank } });
    expect(await desk.takeOff(blank!)).toMatchObject({ status: 409, body: { code: 'last-label' } });
    expect((await bench.get<{ code: string }>(`/api/things/${lot.id}`)).body.code).toBe(blank);
  });

  it('are both taken off at once by two people: one stays', async () => {
    const lot = await seal();
    const { code } = (await desk.putFurther(lot.code, null)).body;
    const answers = await Promise.all([desk.takeOff(lot.code), desk.takeOff(code)]);
    expect(answers.map(({ status }) => status).sort()).toEqual([200, 409]);
  });

  it('stand on a unit with an open job, which is listed once', async () => {
    const job = await stock.job([]);
    await desk.putFurther(job.unit.code, null);
    const { jobs } = (await bench.get<{ jobs: { id: string }[] }>('/api/jobs')).body;
    expect(jobs.filter(({ id }) => id === job.id)).toHaveLength(1);
    expect((await bench.get<{ unit: { code: string } }>(`/api/jobs/${job.id}`)).body.unit.code).toBe(job.unit.code);
  });
});

describe('a blank label', () => {
  it('says that it is blank and what can be done with it', async () => {
    const [blank] = await desk.blanks('unit', 1);
    expect(await desk.scan(blank!)).toMatchObject({
      code: 'code-blank',
      detail: expect.stringMatching(/begins a row.*lost its own/),
    });
  });
});
