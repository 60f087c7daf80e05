import { jest } from '@jest/globals';
import { newId } from '../../apps/api/src/platform/new-id.js';
import { verifyBooks } from '../../apps/api/src/stores/verify/verify-books.js';
import type { LoadCost } from '../../libs/contracts/src/costs.js';
import { addPerson, type BareServer, startBareServer, type Visitor } from '../support/bare-server.js';
import { CostDesk, paid } from '../support/cost-desk.js';
import { keyRow, lotRow, openLoad, type RowShown, unitType } from '../support/load-stock.js';
import { Stock } from '../support/stock.js';

jest.setTimeout(60_000);

let server: BareServer;
let owner: Visitor;
let stock: Stock;
let washerId: string;
let typeId: string;
let desk: CostDesk;

beforeAll(async () => {
  server = await startBareServer('load_costs');
  owner = await server.setUp();
  stock = await Stock.open(server.testDatabase.ownerUrl);
  washerId = await stock.part({ name: 'Bronze thrust washer' });
  typeId = await unitType(stock, { maker: 'Dunmarrow', model: 'S11', weightKg: '140' });
  desk = new CostDesk(owner, typeId, washerId);
});
afterAll(async () => {
  expect(await verifyBooks(server.database)).toEqual([]);
  await stock.close();
  await server.stop();
});

describe('what was paid', () => {
  it('is kept as it was keyed, unknown as unknown, and adds up', async () => {
    const { id } = await openLoad(owner);
    expect(await desk.costOf(id)).toMatchObject({ price: null, cost: null, notKnown: ['price', 'haulage', 'fees'], ours: 'GBP' });
    const answer = await desk.pay(id, { price: '1250.5', haulage: '', fees: '0' });
    expect(answer.body).toMatchObject({
      price: '1250.50',
      haulage: null,
      fees: '0.00',
      paid: '1250.50',
      cost: '1250.50',
      notKnown: ['haulage'],
      version: 2,
    });
    expect(answer.headers.get('etag')).toBe('"2"');
  });

  it.each([
    ['a price of nought', { price: '0' }, 'price', /nought is no price/],
    ['a price of nought pence', { price: '0.00' }, 'price', /nought/],
    ['a price below nought', { price: '-5' }, 'price', /less than nought/],
    ['half a penny', { price: '0.005' }, 'price', /too fine/],
    ['words', { haulage: 'two hundred' }, 'haulage', /figures alone/],
    ['a comma', { fees: '1,000' }, 'fees', /comma/],
    ['another currency without its rate', { currency: 'EUR' }, 'rate', /what 1 EUR came to in GBP/],
    ['a rate of nought', { currency: 'EUR', rate: '0' }, 'rate', /nought/],
    ['a rate for our own currency', { rate: '0.86' }, 'rate', /there is no rate/],
    ['a rate at which it came to nothing', { currency: 'EUR', rate: '0.0000001', price: '0.01' }, 'rate', /came to 0\.00 GBP/],
  ])('%s is refused with its field', async (_, fields, path, words) => {
    const { id } = await openLoad(owner);
    const answer = await desk.pay(id, fields);
    expect(answer.status).toBe(422);
    expect(answer.body).toMatchObject({ values: { fields: [{ path, words: expect.stringMatching(words) }] } });
    expect(await desk.costOf(id)).toMatchObject({ price: null, version: 1 });
  });

  it('in another currency keeps the rate as keyed and what it came to in ours, rounded once', async () => {
    const { id } = await openLoad(owner);
    const answer = await desk.pay(id, { price: '1000.01', haulage: '99.99', fees: '12.34', currency: 'EUR', rate: '0.8640' });
    // 1112.34 at 0.864 is 961.06176
    expect(answer.body).toMatchObject({ paidIn: 'EUR', rate: '0.8640', price: '1000.01', paid: '1112.34', cost: '961.06' });
    expect((await desk.pay(id, { price: '50000', haulage: '', fees: '', currency: 'JPY', rate: '0.0052' })).body).toMatchObject({
      price: '50000',
      paid: '50000',
      cost: '260.00',
    });
  });

  it('needs the version that was seen, and does not overwrite what another keyed', async () => {
    const { id } = await openLoad(owner);
    expect((await owner.patch(`/api/loads/${id}/cost`, paid())).status).toBe(428);
    expect((await owner.patch(`/api/loads/${id}/cost`, paid(), { ifMatch: 1 })).status).toBe(200);
    const late = await owner.patch<{ values: { current: LoadCost } }>(`/api/loads/${id}/cost`, paid({ price: '7' }), {
      ifMatch: 1,
    });
    expect(late.status).toBe(412);
    expect(late.body.values.current.price).toBe('1000.00');
  });

  it('of no load is refused', async () => {
    expect((await owner.get(`/api/loads/${newId()}/cost`)).status).toBe(404);
    expect((await owner.patch(`/api/loads/${newId()}/cost`, paid(), { ifMatch: 1 })).status).toBe(404);
    expect((await desk.share(newId(), 'equally')).status).toBe(404);
  });
});

describe('what was said to be in it', () => {
  it('stands beside what was found, with the difference', async () => {
    const load = await desk.threeRows({
      said: [
        { words: 'worm axles', quantity: 2, unitTypeId: typeId },
        { words: 'thrust washers', quantity: 7, partId: washerId },
        { words: 'Tobacco tin:  shims, lock tabs, two keys', quantity: 1 },
        { words: 'a hoist', quantity: 1 },
      ],
    });
    await keyRow(owner, load.id, lotRow(null, { position: 4, words: 'felt rings', quantity: '3' }));
    const { found, said } = await desk.costOf(load.id);
    expect(said[0]).toMatchObject({ words: 'worm axles', referenceName: 'Dunmarrow S11' });
    expect(found).toEqual([
      { words: 'worm axles', said: 2, found: '1', difference: '1 short', agrees: false },
      { words: 'thrust washers', said: 7, found: '7', difference: 'as said', agrees: true },
      { words: 'Tobacco tin:  shims, lock tabs, two keys', said: 1, found: '1', difference: 'as said', agrees: true },
      { words: 'a hoist', said: 1, found: null, difference: expect.stringContaining('words alone'), agrees: false },
      { words: 'felt rings', said: null, found: '3', difference: 'nobody said a word of it', agrees: false },
    ]);
  });

  it('of a type that is not in the books is refused', async () => {
    const { id } = await openLoad(owner);
    expect((await desk.pay(id, { said: [{ words: 'axle', quantity: 1, unitTypeId: newId() }] })).status).toBe(422);
    expect((await desk.pay(id, { said: [{ words: 'axle', quantity: 1, unitTypeId: typeId, partId: washerId }] })).status).toBe(
      422,
    );
    expect((await desk.pay(id, { said: [{ words: 'axle', quantity: 0 }] })).status).toBe(422);
  });
});

describe('what a row is worth and weighs', () => {
  it('is kept apart from the row as it is keyed, each with a version of its own', async () => {
    const load = await desk.threeRows();
    const [unit] = load.rows;
    const answer = await desk.worth(load.id, unit!.id, { worth: '600', weightKg: '133.5' });
    expect(answer.body.rows[0]).toMatchObject({ worth: '600.00', weightKg: '133.5', weightByType: false, version: 2 });
    expect((await owner.get<{ rows: RowShown[] }>(`/api/loads/${load.id}`)).body.rows[0]!.version).toBe(1);
    const late = await owner.put(`/api/loads/${load.id}/rows/${unit!.id}/worth`, { worth: '1' }, { ifMatch: 1 });
    expect(late.status).toBe(412);
    expect((await owner.put(`/api/loads/${load.id}/rows/${unit!.id}/worth`, { worth: '1' })).status).toBe(428);
  });

  it.each([
    { worth: '-1' },
    { worth: 'a fiver' },
    { worth: '1.001' },
    { weightKg: '0' },
    { weightKg: '-2' },
    { weightKg: '1.00001' },
  ])('%j is refused', async (keyed) => {
    const load = await desk.threeRows();
    expect((await desk.worth(load.id, load.rows[0]!.id, keyed)).status).toBe(422);
  });

  it('of a row of another load is refused', async () => {
    const [one, other] = [await desk.threeRows(), await desk.threeRows()];
    const path = `/api/loads/${one.id}/rows/${other.rows[0]!.id}/worth`;
    expect((await owner.put(path, { worth: '1' }, { ifMatch: 1 })).status).toBe(422);
    expect((await owner.put(`/api/loads/${one.id}/rows/${newId()}/worth`, { worth: '1' }, { ifMatch: 1 })).status).toBe(404);
  });

  it('by its type where nobody weighed it', async () => {
    const load = await desk.threeRows();
    expect((await desk.costOf(load.id)).rows.map((row) => [row.weightKg, row.weightByType])).toEqual([
      ['140', true],
      [null, false],
      [null, false],
    ]);
  });
});

describe('the figures', () => {
  it('are for those who keep the books: others neither see nor change them', async () => {
    const load = await desk.threeWorths();
    await desk.share(load.id, 'equally');
    const stores = await addPerson(server, owner, 'stores', 'wilf', 'Wilf Peskett');
    expect((await stores.get(`/api/loads/${load.id}/cost`)).status).toBe(200);
    for (const role of ['bench', 'viewer']) {
      const other = await addPerson(server, owner, role, `of${role}`, `A ${role}`);
      expect((await other.get(`/api/loads/${load.id}/cost`)).status).toBe(403);
      expect((await other.get(`/api/things/${load.rows[0]!.id}/cost`)).status).toBe(403);
      expect((await other.patch(`/api/loads/${load.id}/cost`, paid(), { ifMatch: 2 })).status).toBe(403);
      expect((await other.post(`/api/loads/${load.id}/cost-shares`, { way: 'equally' })).status).toBe(403);
      const shown = [
        await other.get<string>(`/api/loads/${load.id}`),
        await other.get<string>('/api/loads'),
        await other.get<string>(`/api/things/${load.rows[0]!.id}`),
      ];
      expect(JSON.stringify(shown.map((answer) => answer.body))).not.toMatch(/333\.3|"(price|cost|worth)"/);
    }
  });

  it('of what came without a load are not known, which is not nought', async () => {
    const lot = await stock.lot(washerId, { quantity: '2' });
    expect(await desk.thingCost(lot.id)).toMatchObject({ amount: null, parts: [], entries: [], notKnown: [] });
    expect((await owner.get(`/api/things/${newId()}/cost`)).status).toBe(404);
  });
});

describe('the database itself', () => {
  const entry = (loadId: string, sharingId: string, thingId: string, amount: string) =>
    [
      `INSERT INTO cost_entries (id, command_key, thing_id, amount_minor, currency, kind, load_id, sharing_id, person_id)
     SELECT $1, command_key, $2, $3, 'GBP', 'load share', $4, $5, person_id FROM load_sharings WHERE id = $5`,
      [newId(), thingId, amount, loadId, sharingId],
    ] as const;

  it('refuses a share that is one penny over, and one that nobody bears, whatever the code does', async () => {
    const load = await desk.threeWorths();
    const { sharings } = (await desk.share(load.id, 'equally')).body;
    await expect(stock.query(...mutable(entry(load.id, sharings[0]!.id, load.rows[0]!.id, '1')))).rejects.toMatchObject({
      code: 'CW004',
    });
    await expect(
      stock.query(
        `INSERT INTO load_sharings (id, command_key, load_id, way, cost_minor, currency, not_known, person_id)
         SELECT $1, command_key, load_id, way, cost_minor + 1, currency, not_known, person_id FROM load_sharings WHERE id = $2`,
        [newId(), sharings[0]!.id],
      ),
    ).rejects.toMatchObject({ code: 'CW004' });
  });

  it.each(['UPDATE cost_entries SET amount_minor = 0', 'DELETE FROM cost_entries', 'DELETE FROM load_sharings'])(
    'refuses: %s',
    async (text) => {
      await expect(stock.query(text)).rejects.toMatchObject({ code: 'CW001' });
      await expect(server.database.rows(text)).rejects.toMatchObject({ code: '42501' });
    },
  );

  it('finds it all the same where its own rule was put out of force', async () => {
    const load = await desk.threeWorths();
    const { sharings } = (await desk.share(load.id, 'equally')).body;
    await stock.query('ALTER TABLE cost_entries DISABLE TRIGGER USER');
    try {
      const [text, values] = mutable(entry(load.id, sharings[0]!.id, load.rows[0]!.id, '1'));
      await stock.query(text, values);
      expect(await verifyBooks(server.database)).toMatchObject([{ what: 'cost of a load', kept: '100001', rebuilt: '100000' }]);
      await stock.query('DELETE FROM cost_entries WHERE id = $1', [values[0]]);
    } finally {
      await stock.query('ALTER TABLE cost_entries ENABLE TRIGGER USER');
    }
    expect(await verifyBooks(server.database)).toEqual([]);
  });
});

function mutable(statement: readonly [string, readonly unknown[]]): [string, unknown[]] {
  return [statement[0], [...statement[1]]];
}
