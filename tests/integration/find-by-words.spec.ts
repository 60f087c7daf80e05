import type * as z from 'zod';
import { wordsThatSayNothing } from '../../apps/api/src/catalogue/search-words.js';
import { newId } from '../../apps/api/src/platform/new-id.js';
import { verifyBooks } from '../../apps/api/src/stores/verify/verify-books.js';
import type { SearchAnswer } from '../../libs/contracts/src/stores.js';
import { addPerson, type BareServer, startBareServer, type Visitor } from '../support/bare-server.js';
import { Stock } from '../support/stock.js';

let server: BareServer;
let owner: Visitor;
let bench: Visitor;
let viewer: Visitor;
let stock: Stock;
let seal: string;
let stud: string;
let unitTypeId: string;

beforeAll(async () => {
  server = await startBareServer('words');
  owner = await server.setUp();
  bench = await addPerson(server, owner, 'bench', 'tom', 'Tom Hasleby');
  viewer = await addPerson(server, owner, 'viewer', 'una', 'Una Sproat');
  stock = await Stock.open(server.testDatabase.ownerUrl);
  seal = await stock.part({ name: 'Oil seal, worm input' });
  await stock.query("UPDATE parts SET description = 'two lips, 30 x 47 x 7 mm', nicknames = 'the big doughnut' WHERE id = $1", [
    seal,
  ]);
  stud = await stock.part({ name: 'Bearing cap stud' });
  await stock.query(`UPDATE parts SET description = '1 1/2" under the head, 3/8 BSF' WHERE id = $1`, [stud]);
  unitTypeId = newId();
  await stock.query(
    `INSERT INTO unit_types (id, reference, maker_id, kind, model) SELECT $1, 'T1', id, 'overhead-worm axle', 'WD5' FROM makers LIMIT 1`,
    [unitTypeId],
  );
});
afterAll(async () => {
  expect(await verifyBooks(server.database)).toEqual([]);
  await stock.close();
  await server.stop();
});

const find = async (words: string): Promise<string[]> => {
  const answer = await viewer.get<z.infer<typeof SearchAnswer>>(`/api/search?q=${encodeURIComponent(words)}`);
  expect(answer.status).toBe(200);
  return answer.body.hits.map(({ id }) => id);
};

describe('what people call it', () => {
  it.each([
    ['the big doughnut'],
    ['that doughnut, the big one'],
    ['big doughnuts'],
    ['seals 30x47x7'],
    ['30 x 47 x 7 oil seal'],
    ['30×47×7mm'],
    ['seal 30-47-7'],
    ['SEALS WORM'],
    ['oil saels'],
    ['doughnt'],
    ['big dougnhut'],
  ])('finds a part by “%s”', async (words) => {
    expect(await find(words)).toContain(seal);
  });

  it.each([['stud 1 1/2"'], ['1½ inch stud'], ['studs 1-1/2 in'], ['stud 1.5'], ['3/8 stud']])(
    'finds a fraction of an inch by “%s”',
    async (words) => {
      expect(await find(words)).toContain(stud);
    },
  );

  it('leaves out what lacks one of the words that say something, where another part has them all', async () => {
    const small = await stock.part({ name: 'Felt ring, 30 x 47 x 8' });
    await stock.query("UPDATE parts SET nicknames = 'the small doughnut' WHERE id = $1", [small]);
    expect(await find('the small doughnut')).toEqual([small]);
    expect(await find('ring 30 x 47 x 8')).toEqual([small]);
    expect(await find('big doughnut')).toEqual([seal]);
  });

  it('takes a short word and the last as begun, and a long one before it only where nothing has it whole', async () => {
    const whole = await stock.part({ name: 'Flange shim' });
    const longer = await stock.part({ name: 'Flanged sleeve' });
    expect(await find('flange s')).toEqual([whole]);
    expect(await find('flan s')).toEqual([whole, longer]);
    expect(await find('flanged sl')).toEqual([longer]);
    expect(await find('flang slee')).toEqual([longer]);
  });

  it('finds units by what their type is called, also after it or its maker was called otherwise', async () => {
    const unit = await stock.unit({ unitTypeId });
    expect(await find('worm axles WD5')).toContain(unit.id);
    await stock.query("UPDATE unit_types SET model = 'Kestrel' WHERE id = $1", [unitTypeId]);
    expect(await find('the Kestrel')).toContain(unit.id);
    expect(await find('kestrle axle')).toContain(unit.id);
    expect(await find('WD5')).not.toContain(unit.id);
    await stock.query("UPDATE makers SET name = 'Thornwick' WHERE id = (SELECT maker_id FROM unit_types WHERE id = $1)", [
      unitTypeId,
    ]);
    expect(await find('thornwick kestrel')).toContain(unit.id);
  });

  it('takes a word without an end, written and asked for', async () => {
    const endless = await stock.part({ name: 'Anker plate' });
    await stock.query('UPDATE parts SET description = $2 WHERE id = $1', [endless, 'ä'.repeat(4000)]);
    expect(await find('ä'.repeat(95))).toEqual([endless]);
  });

  it('knows the same words to say nothing as the database does', async () => {
    const [row] = await stock.query<{ words: string[] }>('SELECT sought_words($1) AS words', [
      [...wordsThatSayNothing].join(' '),
    ]);
    expect(row?.words).toEqual([]);
  });
});

describe('a name that a search did not find', () => {
  it('is learnt for a part, once however often it is said, and can be forgotten', async () => {
    const partId = await stock.part({ name: 'Differential spider' });
    expect(await find('the cross piece')).not.toContain(partId);
    const key = newId();
    const say = () => bench.post<{ nicknames: string }>(`/api/parts/${partId}/nicknames`, { words: 'the cross piece' }, { key });
    expect((await say()).body.nicknames).toBe('the cross piece');
    expect((await say()).body.nicknames).toBe('the cross piece');
    expect(
      (await bench.post<{ nicknames: string }>(`/api/parts/${partId}/nicknames`, { words: 'The Cross Piece' })).body.nicknames,
    ).toBe('the cross piece');
    expect(await find('cross pieces')).toContain(partId);
    await bench.post(`/api/parts/${partId}/nicknames`, { words: 'the cross piece', forget: true });
    expect(await find('the cross piece')).not.toContain(partId);
  });

  it('is learnt for a place, with all that stands in it', async () => {
    const place = await stock.place();
    expect((await bench.post(`/api/places/${place.id}/nicknames`, { words: 'Edie’s corner' })).status).toBe(200);
    expect(await find('edies corner')).not.toContain(place.id);
    expect(await find('the Edie corner')).toContain(place.id);
    expect(await find('ediee corner')).toContain(place.id);
  });

  it('is said by those who work with things, of what is in the books, one at a time', async () => {
    const partId = await stock.part();
    expect((await viewer.post(`/api/parts/${partId}/nicknames`, { words: 'x' })).status).toBe(403);
    expect((await bench.post(`/api/parts/${newId()}/nicknames`, { words: 'x' })).status).toBe(404);
    for (const words of ['', 'one; two', 'x'.repeat(61)])
      expect((await bench.post(`/api/parts/${partId}/nicknames`, { words })).status).toBe(422);
    for (let number = 0; number < 4; number += 1)
      await bench.post(`/api/parts/${partId}/nicknames`, { words: `${'long name '.repeat(5)}${number}` });
    const full = await bench.post<{ code: string }>(`/api/parts/${partId}/nicknames`, { words: `one more ${'name'.repeat(12)}` });
    expect({ status: full.status, code: full.body.code }).toEqual({ status: 409, code: 'names-enough' });
  });
});
