import type { BearingRead, BearingsCompared, BearingsMeasured } from '@corewright/contracts/bearings';
import fc from 'fast-check';
import { frontOf } from '../../apps/api/src/catalogue/bearings/bearing-fronts.js';
import { newId } from '../../apps/api/src/platform/new-id.js';
import { addPerson, type BareServer, serveOn, startBareServer, type Visitor } from '../support/bare-server.js';
import { Stock } from '../support/stock.js';

let server: BareServer;
let owner: Visitor;
let stock: Stock;
let makerId: string;

beforeAll(async () => {
  server = await startBareServer('bearings');
  owner = await server.setUp();
  stock = await Stock.open(server.testDatabase.ownerUrl);
  makerId = newId();
  await stock.query("INSERT INTO makers (id, name) VALUES ($1, 'Veldrow Bearings')", [makerId]);
});
afterAll(async () => {
  await stock.close();
  await server.stop();
});

/** A part with this number, and so many of it free. */
async function partNumbered(number: string, quantity = '0'): Promise<string> {
  const partId = await stock.part({ name: `Bearing ${number}` });
  const key = number.toUpperCase().replace(/[^A-Z0-9]/g, '');
  await stock.query('INSERT INTO part_numbers (id, part_id, maker_id, number, number_key) VALUES ($1, $2, $3, $4, $5)', [
    newId(),
    partId,
    makerId,
    number,
    key,
  ]);
  if (quantity !== '0') await stock.lot(partId, { quantity });
  return partId;
}

const ask = async <Body>(path: string, query: Record<string, string>) => {
  const answer = await owner.get<Body & { detail?: string }>(`/api/bearings/${path}?${new URLSearchParams(query)}`);
  return answer;
};
const read = async (designation: string) => (await ask<BearingRead>('read', { designation })).body;
const measured = async (query: Record<string, string>) => (await ask<BearingsMeasured>('measured', query)).body;
const compare = async (a: string, b: string) => (await ask<BearingsCompared>('compare', { a, b })).body;

describe('the front of a number', () => {
  it('is the same to the database and to the program, whatever stands there', async () => {
    const hand = [
      '6205-2RS',
      'nu 310 e',
      '618/6',
      '62052RS',
      '--',
      '',
      ' /12',
      'LM11949/LM11910',
      'é 62',
      'ß12',
      'K 30',
      'R12-2Z',
      '٣62',
    ];
    const drawn = fc.sample(fc.string({ unit: 'grapheme', maxLength: 14 }), { numRuns: 500, seed: 20 });
    const texts = [...hand, ...drawn].filter((text) => !text.includes('\0'));
    const rows = await stock.query<{ front: string | null }>('SELECT number_front(of) AS front FROM unnest($1::text[]) AS of', [
      texts,
    ]);
    expect(texts.map(frontOf)).toEqual(rows.map(({ front }) => front));
    expect(texts.slice(0, 4).map(frontOf)).toEqual(['6205', 'NU310', '618', '62052']);
  });
});

describe('a bearing by its designation', () => {
  it('shows what it says, its dimensions with their source, and what is in stores', async () => {
    const partId = await partNumbered('6205-2RS C3', '4');
    await partNumbered('62052');
    const shown = await read('6205 ZZ');
    expect(shown.reading).toMatchObject({ basic: '6205', type: 'deep groove ball', boreMm: 25, stopped: null });
    expect(shown.reading.suffixes).toMatchObject([{ suffix: 'ZZ', value: 'two shields' }]);
    expect(shown.dimensions).toMatchObject({ boreMm: 25, outsideMm: 52, widthMm: 15, chamferMinMm: 1, shipped: true });
    expect(shown.dimensions?.source).not.toBe('');
    expect(shown.stores).toEqual([
      { partId, name: 'Bearing 6205-2RS C3', numbers: [{ maker: 'Veldrow Bearings', number: '6205-2RS C3' }], free: '4' },
    ]);
  });

  it('is found in stores under an older number or short form, and a capped inch one under a marking of its maker', async () => {
    const thin = await partNumbered('6801ZZ', '1');
    const inch = await partNumbered('R8ZZ', '2');
    expect((await read('61801')).stores).toMatchObject([{ partId: thin, free: '1' }]);
    expect((await read('R8-2RS')).stores).toMatchObject([{ partId: inch, free: '2' }]);
    expect((await read('R8')).stores).toEqual([]);
    const old = await partNumbered('208', '1');
    expect((await read('6208-2RS')).stores).toMatchObject([{ partId: old, numbers: [{ number: '208' }], free: '1' }]);
    expect((await read('208')).dimensions).toMatchObject({ designation: '6208', outsideMm: 80 });
  });

  it('that stands in the books under two numbers of one part is one part', async () => {
    const partId = await partNumbered('6010-ZZ', '5');
    await stock.query(
      "INSERT INTO part_numbers (id, part_id, maker_id, number, number_key) VALUES ($1, $2, $3, '6010', '6010')",
      [newId(), partId, makerId],
    );
    const { stores } = await read('6010');
    expect(stores).toMatchObject([{ partId, free: '5' }]);
    expect(stores[0]?.numbers.map((each) => each.number)).toEqual(['6010', '6010-ZZ']);
  });

  it('tells a half from a whole, and to which assemblies it belongs, with letters or without', async () => {
    const cone = await read('LM11949');
    expect(cone.reading.piece).toBe('cone');
    expect(cone.belongsTo.map((row) => row.designation)).toEqual(['LM11949/LM11910']);
    expect((await read('15245')).belongsTo.map((row) => row.designation)).toEqual(['15101/15245', '15123/15245']);
    const whole = await partNumbered('LM 11949/10', '1');
    expect((await read('LM11949/LM11910')).stores).toMatchObject([{ partId: whole }]);
  });

  it('that is unknown is read as far as it goes', async () => {
    const shown = await read('6205-QX7');
    expect(shown.reading.stopped).toMatchObject({ at: 5, rest: 'QX7' });
    expect(shown.dimensions?.boreMm).toBe(25);
    expect(await read('rear hub')).toMatchObject({ reading: { system: null }, dimensions: null, stores: [] });
  });

  it('that was measured as well tells what does not agree', async () => {
    const { body } = await ask<BearingRead>('read', { designation: '6205', d: '1 in', D: '2.047', B: '15' });
    expect(body.contradictions).toEqual([
      '6205 has bore 25 mm, but 25.4 mm was measured.',
      '6205 has outside diameter 52 mm, but 2.047 mm was measured. Did you measure in inches?',
    ]);
    expect((await ask('read', { designation: '6205', d: 'wide' })).status).toBe(422);
  });

  it("follows the workshop's table of makers' suffixes", async () => {
    expect((await read('6205-HH')).reading.stopped?.rest).toBe('HH');
    await stock.query(
      `INSERT INTO bearing_suffixes (maker, suffix, aspect, value, words, source)
       VALUES ('Pellow', 'HH', 'seals', 'two contact seals', 'felt seals on both sides', 'their list of 1938')`,
    );
    expect((await read('6205-HH')).reading).toMatchObject({ stopped: null, suffixes: [{ suffix: 'HH', source: 'Pellow' }] });
  });
});

describe('a bearing by measurement', () => {
  it('comes best first with its deviation and what is in stores, from millimetres and inches', async () => {
    const partId = await partNumbered('NU 306', '3');
    const found = await measured({ d: '30', D: '72.05', B: '19' });
    expect(found.toleranceMm).toBe(0.1);
    expect(found.candidates.map((each) => each.dimensions.designation)).toEqual(
      expect.arrayContaining(['6306', 'NU 306', '7306', '1306']),
    );
    expect(found.count).toBe(found.candidates.length);
    const roller = found.candidates.find((each) => each.dimensions.designation === 'NU 306');
    expect(roller).toMatchObject({ deviation: { boreMm: 0, outsideMm: -0.05, widthMm: 0 }, stores: [{ partId, free: '3' }] });
    const inch = await measured({ d: '1 1/4', D: '2.75 in', B: '' });
    expect(inch.candidates.map((each) => each.dimensions.designation)).toContain('RLS10');
    expect(inch.measured).toEqual({ boreMm: 31.75, outsideMm: 69.85, widthMm: null });
  });

  it('asks about the unit where a figure fits only 25.4 times larger', async () => {
    const found = await measured({ d: '1.25', D: '2.75', B: '0.6875' });
    expect(found.candidates).toEqual([]);
    expect(found.doubt?.question).toBe('Nothing fits as keyed. Did you measure in inches?');
    expect(found.doubt?.candidates.map((each) => each.dimensions.designation)).toContain('RLS10');
  });

  it('tells at most 50 and counts the rest', async () => {
    const found = await measured({ d: '30', D: '70', tolerance: '40' });
    expect(found.candidates).toHaveLength(50);
    expect(found.count).toBeGreaterThan(50);
  });

  it.each([
    [{ d: '25' }, 'Measure at least two'],
    [{ d: 'wide', D: '52' }, '"wide" is no length'],
    [{ d: '25', D: '52', tolerance: '-1' }, '"-1" is no length'],
  ])('refuses %p in words', async (query, words) => {
    const answer = await ask<BearingsMeasured>('measured', query);
    expect(answer.status).toBe(422);
    expect(answer.body.detail).toContain(words);
  });
});

describe('two bearings compared', () => {
  it('give a verdict, a reason for each point, and what is in stores of both', async () => {
    const compared = await compare('6205-C3', '6205');
    expect(compared.verdict).toBe('with care');
    expect(compared.points).toHaveLength(12);
    expect(compared.points.find((each) => each.point === 'clearance')).toMatchObject({ answer: 'with care' });
    expect(compared.points.find((each) => each.point === 'rating')).toMatchObject({ answer: 'unknown' });
    expect(compared.wanted.dimensions?.designation).toBe('6205');
    expect(compared.caution).toContain("maker's manual");
    expect((await compare('6205', 'NU 205')).verdict).toBe('no');
    expect((await compare('6205', '6205')).verdict).toBe('drop-in');
    expect((await compare('LM11949/LM11910', 'LM11949')).sentence).toMatch(/^No: .*pieces/);
  });

  it('flag a row whose dimensions contradict its designation', async () => {
    await stock.query(
      "INSERT INTO bearing_dimensions (designation, type, bore_mm, outside_mm, width_mm, source) VALUES ('6252', 'deep groove ball', 250, 480, 80, 'keyed in haste')",
    );
    expect((await compare('6252', '6252')).contradictions[0]).toBe('6252 says bore 260 mm, but 250 mm stands beside it.');
  });
});

describe('the shipped tables', () => {
  it('are brought in again at a start, and leave the rows of the workshop alone', async () => {
    const rows = () => stock.query<{ n: number }>('SELECT count(*)::int AS n FROM bearing_dimensions');
    const [before] = await rows();
    expect(before!.n).toBeGreaterThanOrEqual(640);
    await stock.query("UPDATE bearing_dimensions SET outside_mm = 53, shipped = false WHERE designation = '6205'");
    await stock.query("UPDATE bearing_dimensions SET outside_mm = 63 WHERE designation = '6206'");
    const again = await serveOn(server.testDatabase);
    await again.close();
    const outside = await stock.query<{ outside: number }>(
      "SELECT outside_mm::float8 AS outside FROM bearing_dimensions WHERE designation IN ('6205', '6206') ORDER BY designation",
    );
    expect(outside.map((row) => row.outside)).toEqual([53, 62]);
    expect(await rows()).toEqual([before]);
  });

  it('may be read by a viewer, and by nobody who has not signed in', async () => {
    const viewer = await addPerson(server, owner, 'viewer', 'wren', 'Wren Tolley');
    expect((await viewer.get('/api/bearings/read?designation=6205')).status).toBe(200);
    expect((await server.visitor().get('/api/bearings/read?designation=6205')).status).toBe(401);
  });
});
