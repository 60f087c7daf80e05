import { ShippedBearings } from '../../apps/api/src/catalogue/bearings/shipped-bearings.js';
import { newId } from '../../apps/api/src/platform/new-id.js';
import type { BearingRead, BearingsMeasured, BearingTables } from '../../libs/contracts/src/bearings.js';
import { addPerson, type BareServer, type SendOptions, startBareServer, type Visitor } from '../support/bare-server.js';
import { listenTo } from '../support/news.js';
import { Stock } from '../support/stock.js';

let server: BareServer;
let owner: Visitor;
let stock: Stock;

beforeAll(async () => {
  server = await startBareServer('owntables');
  owner = await server.setUp();
  stock = await Stock.open(server.testDatabase.ownerUrl);
});
afterAll(async () => {
  await stock.close();
  await server.stop();
});

const post = (path: string, body: Record<string, unknown>, options: SendOptions = {}) =>
  owner.post<BearingTables & { code: string; detail: string }>(`/api/bearing-tables/${path}`, body, options);
const tables = async (q = ''): Promise<BearingTables> =>
  (await owner.get<BearingTables>(`/api/bearing-tables?q=${encodeURIComponent(q)}`)).body;
const read = async (designation: string): Promise<BearingRead> =>
  (await owner.get<BearingRead>(`/api/bearings/read?designation=${encodeURIComponent(designation)}`)).body;
const own = (over: Record<string, unknown> = {}): Record<string, unknown> => ({
  designation: 'CX 4471',
  type: 'deep groove ball',
  bore: '1 1/4',
  outside: '2,75 in',
  width: '17.5',
  chamfer: '1',
  source: 'measured with the micrometer',
  ...over,
});
const suffix = (over: Record<string, unknown> = {}): Record<string, unknown> => ({
  maker: 'Corvane',
  suffix: 'gg',
  aspect: 'seals',
  value: 'two contact seals',
  words: 'rubber lips on both sides',
  source: 'the box',
  ...over,
});

describe('a bearing of the workshop’s own', () => {
  it('is kept once however often it is sent, read by its number, found by its measures, and changed', async () => {
    const key = newId();
    const [first, again] = [await post('dimensions', own(), { key }), await post('dimensions', own(), { key })];
    expect(first).toMatchObject({
      status: 200,
      body: {
        own: [{ designation: 'CX4471', boreMm: 31.75, outsideMm: 69.85, widthMm: 17.5, by: 'Edie Marrack', contradictions: [] }],
      },
    });
    expect(again.body).toEqual(first.body);
    expect((await read('cx 4471')).dimensions).toMatchObject({ boreMm: 31.75, shipped: false });
    const found = (await owner.get<BearingsMeasured>('/api/bearings/measured?d=31.75&D=69.85')).body.candidates;
    expect(found.map(({ dimensions }) => dimensions.designation)).toContain('CX4471');
    expect((await post('dimensions', own({ width: '18' }))).body.own).toMatchObject([{ widthMm: 18 }]);
    expect(await stock.query("SELECT struck_out FROM bearing_changes WHERE row_key = 'CX4471'")).toHaveLength(2);
  });

  it('that contradicts its designation and a shipped row is kept with that said, and the shipped row comes back when it is struck out', async () => {
    const shipped = (await read('6205')).dimensions!;
    expect(shipped).toMatchObject({ shipped: true, boreMm: 25, outsideMm: 52 });
    const kept = await post('dimensions', own({ designation: '6205-2RS', bore: '26', outside: '53', width: '15' }));
    const row = kept.body.own.find(({ designation }) => designation === '6205');
    expect(row?.contradictions.join(' ')).toMatch(/6205 says bore 25 mm, but 26 mm stands beside it/);
    expect(row?.contradictions.join(' ')).toMatch(/The shipped row has outside diameter 52 mm .*; this one has 53 mm/);
    // a start of the program leaves it alone
    await server.app.get(ShippedBearings).onModuleInit();
    expect((await read('6205')).dimensions).toMatchObject({ shipped: false, boreMm: 26 });
    const struck = await post('dimensions/strike', { designation: '6205', why: 'the callipers were bent' });
    expect(struck.body.own.map(({ designation }) => designation)).not.toContain('6205');
    expect((await read('6205')).dimensions).toEqual(shipped);
    const [last] = await stock.query(
      "SELECT struck_out, why, row ->> 'bore_mm' AS bore FROM bearing_changes WHERE row_key = '6205' ORDER BY recorded_at DESC LIMIT 1",
    );
    expect(last).toMatchObject({ struck_out: true, why: 'the callipers were bent', bore: expect.stringMatching(/^26/) });
  });

  it('is told to every screen, and loses a rating that came from another source', async () => {
    await post('dimensions', own({ designation: 'CX 10' }));
    await stock.query("UPDATE bearing_dimensions SET dynamic_rating_n = 9000, source = 'a list' WHERE designation = 'CX10'");
    const news = await listenTo(server.url, owner);
    await post('dimensions', own({ designation: 'CX 10' }));
    await news.until((topics) => topics.includes('stores'));
    news.stop();
    expect((await read('CX10')).dimensions).toMatchObject({ ratingN: null, source: 'measured with the micrometer' });
  });

  it('that nothing is shipped for is gone when it is struck out, and stays in the log', async () => {
    await post('dimensions', own({ designation: 'CX 9' }));
    expect((await post('dimensions/strike', { designation: 'CX9', why: 'never seen' })).status).toBe(200);
    expect((await read('CX9')).dimensions).toBeNull();
    expect((await post('dimensions/strike', { designation: 'CX9', why: 'again' })).status).toBe(404);
    await expect(stock.query("DELETE FROM bearing_changes WHERE row_key = 'CX9'")).rejects.toThrow(/kept for good/);
  });

  it.each([
    [{ outside: '30' }, 422],
    [{ bore: '' }, 422],
    [{ bore: 'thick' }, 422],
    [{ type: 'plain bush' }, 422],
    [{ chamfer: '20' }, 422],
    [{ source: ' ' }, 422],
  ])('with %j is refused, and changes nothing', async (over, status) => {
    const before = await tables();
    expect((await post('dimensions', own({ designation: 'CX 12', ...over }))).status).toBe(status);
    expect(await tables()).toEqual(before);
  });
});

describe('a suffix of a maker’s own', () => {
  it('is read in a number, and struck out again', async () => {
    const kept = await post('suffixes', suffix());
    expect(kept.body.suffixes[0]).toMatchObject({
      maker: 'Corvane',
      suffix: 'GG',
      shipped: false,
      by: 'Edie Marrack',
      contradictions: [],
    });
    expect((await read('6205 GG')).reading.suffixes).toMatchObject([{ suffix: 'GG', value: 'two contact seals' }]);
    expect((await post('suffixes/strike', { maker: 'Corvane', suffix: 'GG', why: 'it was a date' })).status).toBe(200);
    expect((await read('6205 GG')).reading.stopped).not.toBeNull();
  });

  it('is of a maker of the books, as the books write the name', async () => {
    await post('suffixes', suffix({ maker: 'Pellow', suffix: 'HH' }));
    const kept = await post('suffixes', suffix({ maker: 'PELLOW', suffix: 'HH', words: 'lips' }));
    expect(kept.body.suffixes.filter((row) => row.suffix === 'HH')).toMatchObject([{ maker: 'Pellow', words: 'lips' }]);
    const { makers } = (await owner.get<{ makers: { name: string }[] }>('/api/makers')).body;
    expect(makers.filter(({ name }) => name.toLowerCase() === 'pellow')).toHaveLength(1);
  });

  it('that contradicts a shipped one or the standard is kept with that said; the shipped one comes back', async () => {
    const zz = await post('suffixes', suffix({ maker: '', suffix: 'ZZ', value: 'two contact seals' }));
    expect(zz.body.suffixes.find((row) => row.suffix === 'ZZ')?.contradictions).toEqual([
      expect.stringMatching(/^Elsewhere it means shields on both sides/),
    ]);
    const c3 = await post('suffixes', suffix({ suffix: 'C3', aspect: 'clearance', value: 'C4', words: 'loose' }));
    expect(c3.body.suffixes.find((row) => row.suffix === 'C3')?.contradictions).toEqual([expect.stringMatching(/DIN 623-1/)]);
    const struck = await post('suffixes/strike', { suffix: 'ZZ', why: 'the list was right' });
    expect(struck.body.suffixes.find((row) => row.suffix === 'ZZ' && row.maker === '')).toMatchObject({
      shipped: true,
      value: 'two shields',
    });
  });

  it('is refused where comparing would not know what it means, or it is none', async () => {
    const statuses = await Promise.all(
      [{ value: 'leather seals' }, { aspect: 'colour' }, { suffix: '2-RS' }, { words: '' }].map(
        async (over) => (await post('suffixes', suffix(over))).status,
      ),
    );
    expect(statuses).toEqual([422, 422, 422, 422]);
  });
});

describe('shipped rows', () => {
  it('are shown with their source by the beginning of their number, and are not struck out', async () => {
    const { shipped } = await tables('nu 20');
    expect(shipped.map(({ designation }) => designation)).toContain('NU 202');
    expect(shipped.every(({ source }) => source !== '')).toBe(true);
    expect((await tables()).shipped).toEqual([]);
    expect(await post('dimensions/strike', { designation: '6204', why: 'x' })).toMatchObject({
      status: 409,
      body: { code: 'shipped-row' },
    });
    expect(await post('suffixes/strike', { suffix: 'VV', why: 'x' })).toMatchObject({
      status: 409,
      body: { code: 'shipped-row' },
    });
  });

  it('and our own are for keepers to edit, and for everybody to read', async () => {
    const bench = await addPerson(server, owner, 'bench', 'tom', 'Tom Hasleby');
    expect((await bench.get('/api/bearing-tables')).status).toBe(200);
    for (const path of ['dimensions', 'dimensions/strike', 'suffixes', 'suffixes/strike'])
      expect((await bench.post(`/api/bearing-tables/${path}`, {})).status).toBe(403);
  });
});
