import { newId } from '../../apps/api/src/platform/new-id.js';
import { addPerson, type BareServer, startBareServer, type Visitor } from '../support/bare-server.js';
import { keyRow, lotRow, openLoad, unitType } from '../support/load-stock.js';
import { Stock } from '../support/stock.js';

interface PartShown {
  id: string;
  name: string;
  number: string;
  maker: string;
  matchedNumber: string | null;
  free: string;
}
interface PartPageShown extends PartShown {
  numbers: { number: string; maker: string; isMain: boolean }[];
  usedIn: { unitType: { name: string }; lineNo: number; quantity: string; critical: boolean }[];
  lots: { id: string; held: string; claimed: string; places: string; storageLife: { state: string }; heldBack: string | null }[];
}

let server: BareServer;
let owner: Visitor;
let stock: Stock;
let makerId: string;

beforeAll(async () => {
  server = await startBareServer('catalogue');
  owner = await server.setUp();
  stock = await Stock.open(server.testDatabase.ownerUrl);
  makerId = newId();
  await stock.query("INSERT INTO makers (id, name) VALUES ($1, 'Veldrow Bearings')", [makerId]);
});
afterAll(async () => {
  await stock.close();
  await server.stop();
});

/** A part that answers to these numbers, the first of them its main one. */
async function partNumbered(name: string, numbers: string[], nicknames = ''): Promise<string> {
  const id = newId();
  await stock.query("INSERT INTO parts (id, name, nicknames, unit_of_measure, material) VALUES ($1, $2, $3, 'each', 'metal')", [
    id,
    name,
    nicknames,
  ]);
  for (const [index, number] of numbers.entries())
    await stock.query(
      'INSERT INTO part_numbers (id, part_id, maker_id, number, number_key, is_main) VALUES ($1, $2, $3, $4, $5, $6)',
      [newId(), id, makerId, number, number.toUpperCase().replace(/[^A-Z0-9]/g, ''), index === 0],
    );
  return id;
}

const find = async (keyed: string, more = ''): Promise<PartShown[]> =>
  (await owner.get<{ parts: PartShown[] }>(`/api/parts?q=${encodeURIComponent(keyed)}${more}`)).body.parts;

describe('a part', () => {
  it.each(['48-7731', '48 7731', '487731', '48.7731', ' 48–7731'])(
    'is found by its number keyed as “%s”, itself first',
    async (keyed) => {
      const [exact] = await stock.query('SELECT 1 FROM part_numbers WHERE number = $1', ['48-7731']);
      if (!exact) {
        await partNumbered('Thrust ring', ['48-77310']);
        await partNumbered('Thrust bearing', ['48-7731', 'VB 17/4']);
        await partNumbered('Spacer', ['148-7731']);
      }
      const first = await owner.get<{ parts: PartShown[]; cursor: string }>(`/api/parts?q=${encodeURIComponent(keyed)}`);
      expect(first.body.parts.map((part) => part.name)).toEqual(['Thrust bearing']);
      // what is like it waits for the next page
      const second = await find(keyed, `&cursor=${first.body.cursor}`);
      expect(second.map((part) => part.name)).toEqual(['Thrust ring', 'Spacer']);
    },
  );

  it('is found by another maker’s number, and says by which', async () => {
    const id = await partNumbered('Cup, front', ['S11-204', 'VBT 662.a']);
    expect(await find('vbt662')).toMatchObject([
      { id, number: 'S11-204', matchedNumber: 'VBT 662.a', maker: 'Veldrow Bearings' },
    ]);
  });

  it('is found by its nickname, by words in any order, and by a word misspelt', async () => {
    const id = await partNumbered('Oil seal, worm input', ['48-9944'], 'the big seal');
    expect((await find('seal big')).map((part) => part.id)).toEqual([id]);
    expect((await find('inptu')).map((part) => part.id)).toContain(id);
    expect((await find('worm seal')).map((part) => part.id)).toContain(id);
  });

  it('is not found by signs that mean something to a database', async () => {
    expect(await find('%')).toEqual([]);
    expect(await find("'; DROP TABLE parts; --")).toEqual([]);
    expect(await find('_______')).toEqual([]);
  });

  it('comes page by page, each once', async () => {
    for (const digit of ['1', '2', '3', '4', '5']) await partNumbered(`Shim ${digit}`, [`SHM-00${digit}`]);
    const first = await owner.get<{ parts: PartShown[]; cursor: string }>('/api/parts?q=SHM00&limit=2');
    const second = await owner.get<{ parts: PartShown[]; cursor: string }>(
      `/api/parts?q=SHM00&limit=2&cursor=${first.body.cursor}`,
    );
    const third = await owner.get<{ parts: PartShown[]; cursor: null }>(
      `/api/parts?q=SHM00&limit=2&cursor=${second.body.cursor}`,
    );
    const names = [first, second, third].flatMap((page) => page.body.parts.map((part) => part.name));
    expect(names).toEqual(['Shim 1', 'Shim 2', 'Shim 3', 'Shim 4', 'Shim 5']);
    expect(third.body.cursor).toBeNull();
    expect(first.headers.get('link')).toContain('rel="next"');
    expect(third.headers.get('link')).toBeNull();
  });

  it('refuses a limit out of range in words', async () => {
    expect((await owner.get('/api/parts?limit=1000')).status).toBe(422);
  });

  it('counts free what is ours, neither claimed nor held back, and shows every lot on its page', async () => {
    const partId = await partNumbered('Tab washer', ['48-5511']);
    const customerId = await stock.customer();
    const load = await openLoad(owner);
    const row = (await keyRow(owner, load.id, lotRow(partId, { quantity: '6', packetRead: '1949' }))).body;
    await stock.lot(partId, { quantity: '5', ownerId: customerId });
    const held = await stock.lot(partId, { quantity: '3' });
    await owner.post(`/api/things/${held.id}/hold`, { reason: 'hardness doubted' });
    const job = await stock.job([{ partId, quantity: '2', critical: true }]);
    await stock.query('INSERT INTO claims (id, thing_id, claimant_id, purpose_id, quantity) VALUES ($1, $2, $3, $4, 2)', [
      newId(),
      row.id,
      job.id,
      job.lineIds[0],
    ]);
    expect((await find('48-5511'))[0]?.free).toBe('4');
    const page = (await owner.get<PartPageShown>(`/api/parts/${partId}`)).body;
    expect(page.lots).toHaveLength(3);
    expect(page.lots.find((lot) => lot.id === row.id)).toMatchObject({
      held: '6',
      claimed: '2',
      places: 'Goods-in',
      storageLife: { state: 'no limit' },
    });
    expect(page.lots.find((lot) => lot.id === held.id)?.heldBack).toBe('hardness doubted');
  });

  it('says which unit types use it', async () => {
    const partId = await partNumbered('Worm', ['48-1001']);
    const typeId = await unitType(stock);
    await stock.query("INSERT INTO unit_type_operations (unit_type_id, number, name, minutes) VALUES ($1, 10, 'Build', 60)", [
      typeId,
    ]);
    await stock.query(
      'INSERT INTO unit_type_lines (unit_type_id, line_no, part_id, quantity, operation_number, critical) VALUES ($1, 4, $2, 1, 10, true)',
      [typeId, partId],
    );
    const page = (await owner.get<PartPageShown>(`/api/parts/${partId}`)).body;
    expect(page.usedIn).toEqual([{ unitType: { id: typeId, name: 'Brantock WD7' }, lineNo: 4, quantity: '1', critical: true }]);
    expect(page.numbers).toMatchObject([{ number: '48-1001', maker: 'Veldrow Bearings', isMain: true }]);
  });

  it('that is not there is said to be so', async () => {
    expect(await owner.get(`/api/parts/${newId()}`)).toMatchObject({ status: 404, body: { code: 'not-found' } });
  });
});

describe('unit types and grades', () => {
  it('are found by maker, model, kind or how to recognise them', async () => {
    await unitType(stock, { maker: 'Pellow', model: '30' });
    for (const keyed of ['pellow', '30 pellow', 'overhead worm'.replace(' ', '-'), 'above wheel']) {
      const answer = await owner.get<{ unitTypes: { name: string; lineCount: number }[] }>(
        `/api/unit-types?q=${encodeURIComponent(keyed)}`,
      );
      expect(answer.body.unitTypes.map((type) => type.name)).toContain('Pellow 30');
    }
  });

  it('come with their meaning, the best first', async () => {
    await stock.query(
      "INSERT INTO grades (scale, letter, rank, meaning) VALUES ('core', 'B', 2, 'worn'), ('core', 'A', 1, 'sound')",
    );
    const answer = await owner.get<{ grades: { letter: string }[] }>('/api/grades');
    expect(answer.body.grades.map((grade) => grade.letter)).toEqual(['A', 'B']);
  });

  it('refuse a grade that is not on the scale', async () => {
    const load = await openLoad(owner);
    const row = { kind: 'unit', position: 1, unitTypeId: null, words: 'axle', grade: 'x' };
    expect((await keyRow(owner, load.id, row)).status).toBe(422);
    expect((await keyRow(owner, load.id, { ...row, grade: 'b' })).body.grade).toBe('B');
  });

  it('are read by a viewer', async () => {
    const viewer = await addPerson(server, owner, 'viewer', 'rs', 'R. Sandiman');
    expect((await viewer.get('/api/parts?q=seal')).status).toBe(200);
    expect((await viewer.get('/api/grades')).status).toBe(200);
    expect((await server.visitor().get('/api/parts')).status).toBe(401);
  });
});
