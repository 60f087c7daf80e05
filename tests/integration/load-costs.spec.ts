import { jest } from '@jest/globals';
import { newId } from '../../apps/api/src/platform/new-id.js';
import { verifyBooks } from '../../apps/api/src/stores/verify/verify-books.js';
import type { LoadCost, ThingCost } from '../../libs/contracts/src/costs.js';
import { type Answer, addPerson, type BareServer, startBareServer, type Visitor } from '../support/bare-server.js';
import { keyRow, lotRow, openLoad, type RowShown, unitRow, unitType, unsortedRow } from '../support/load-stock.js';
import { Stock } from '../support/stock.js';

jest.setTimeout(60_000);

let server: BareServer;
let owner: Visitor;
let stock: Stock;
let washerId: string;
let typeId: string;

beforeAll(async () => {
  server = await startBareServer('load_costs');
  owner = await server.setUp();
  stock = await Stock.open(server.testDatabase.ownerUrl);
  washerId = await stock.part({ name: 'Bronze thrust washer' });
  typeId = await unitType(stock, { maker: 'Dunmarrow', model: 'S11', weightKg: '140' });
});
afterAll(async () => {
  expect(await verifyBooks(server.database)).toEqual([]);
  await stock.close();
  await server.stop();
});

const costOf = async (loadId: string): Promise<LoadCost> => (await owner.get<LoadCost>(`/api/loads/${loadId}/cost`)).body;
const thingCost = async (thingId: string): Promise<ThingCost> => (await owner.get<ThingCost>(`/api/things/${thingId}/cost`)).body;
const paid = (fields: Record<string, unknown> = {}) => ({ price: '1000', haulage: '0', fees: '0', currency: 'GBP', ...fields });

async function pay(loadId: string, fields: Record<string, unknown> = {}): Promise<Answer<LoadCost>> {
  return owner.patch<LoadCost>(`/api/loads/${loadId}/cost`, paid(fields), { ifMatch: (await costOf(loadId)).version });
}

async function worth(loadId: string, rowId: string, keyed: { worth?: string; weightKg?: string }): Promise<Answer<LoadCost>> {
  const row = (await costOf(loadId)).rows.find((each) => each.id === rowId);
  return owner.put<LoadCost>(`/api/loads/${loadId}/rows/${rowId}/worth`, keyed, { ifMatch: row!.version });
}

const share = (loadId: string, way: string, more: Record<string, unknown> = {}) =>
  owner.post<LoadCost & { detail: string; code: string }>(`/api/loads/${loadId}/cost-shares`, { way, ...more });

const shares = (cost: LoadCost): (string | null)[] => cost.rows.map((row) => row.share);

/** A load of three rows: a unit, seven washers and a tin. */
async function threeRows(fields: Record<string, unknown> = {}): Promise<{ id: string; rows: RowShown[] }> {
  const load = await openLoad(owner);
  const keyed = [
    await keyRow(owner, load.id, unitRow({ position: 1, unitTypeId: typeId, words: '' })),
    await keyRow(owner, load.id, lotRow(washerId, { position: 2, quantity: '7' })),
    await keyRow(owner, load.id, unsortedRow({ position: 3 })),
  ];
  expect((await pay(load.id, fields)).status).toBe(200);
  return { id: load.id, rows: keyed.map((answer) => answer.body) };
}

async function threeWorths(fields: Record<string, unknown> = {}) {
  const load = await threeRows(fields);
  for (const [index, value] of ['600', '200', '50'].entries())
    expect((await worth(load.id, load.rows[index]!.id, { worth: value })).status).toBe(200);
  return load;
}

describe('what was paid', () => {
  it('is kept as it was keyed, unknown as unknown, and adds up', async () => {
    const { id } = await openLoad(owner);
    expect(await costOf(id)).toMatchObject({ price: null, cost: null, notKnown: ['price', 'haulage', 'fees'], ours: 'GBP' });
    const answer = await pay(id, { price: '1250.5', haulage: '', fees: '0' });
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
    const answer = await pay(id, fields);
    expect(answer.status).toBe(422);
    expect(answer.body).toMatchObject({ values: { fields: [{ path, words: expect.stringMatching(words) }] } });
    expect(await costOf(id)).toMatchObject({ price: null, version: 1 });
  });

  it('in another currency keeps the rate as keyed and what it came to in ours, rounded once', async () => {
    const { id } = await openLoad(owner);
    const answer = await pay(id, { price: '1000.01', haulage: '99.99', fees: '12.34', currency: 'EUR', rate: '0.8640' });
    // 1112.34 at 0.864 is 961.06176
    expect(answer.body).toMatchObject({ paidIn: 'EUR', rate: '0.8640', price: '1000.01', paid: '1112.34', cost: '961.06' });
    expect((await pay(id, { price: '50000', haulage: '', fees: '', currency: 'JPY', rate: '0.0052' })).body).toMatchObject({
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
    expect((await share(newId(), 'equally')).status).toBe(404);
  });
});

describe('what was said to be in it', () => {
  it('stands beside what was found, with the difference', async () => {
    const load = await threeRows({
      said: [
        { words: 'worm axles', quantity: 2, unitTypeId: typeId },
        { words: 'thrust washers', quantity: 7, partId: washerId },
        { words: 'Tobacco tin:  shims, lock tabs, two keys', quantity: 1 },
        { words: 'a hoist', quantity: 1 },
      ],
    });
    await keyRow(owner, load.id, lotRow(null, { position: 4, words: 'felt rings', quantity: '3' }));
    const { found, said } = await costOf(load.id);
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
    expect((await pay(id, { said: [{ words: 'axle', quantity: 1, unitTypeId: newId() }] })).status).toBe(422);
    expect((await pay(id, { said: [{ words: 'axle', quantity: 1, unitTypeId: typeId, partId: washerId }] })).status).toBe(422);
    expect((await pay(id, { said: [{ words: 'axle', quantity: 0 }] })).status).toBe(422);
  });
});

describe('what a row is worth and weighs', () => {
  it('is kept apart from the row as it is keyed, each with a version of its own', async () => {
    const load = await threeRows();
    const [unit] = load.rows;
    const answer = await worth(load.id, unit!.id, { worth: '600', weightKg: '133.5' });
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
    const load = await threeRows();
    expect((await worth(load.id, load.rows[0]!.id, keyed)).status).toBe(422);
  });

  it('of a row of another load is refused', async () => {
    const [one, other] = [await threeRows(), await threeRows()];
    const path = `/api/loads/${one.id}/rows/${other.rows[0]!.id}/worth`;
    expect((await owner.put(path, { worth: '1' }, { ifMatch: 1 })).status).toBe(422);
    expect((await owner.put(`/api/loads/${one.id}/rows/${newId()}/worth`, { worth: '1' }, { ifMatch: 1 })).status).toBe(404);
  });

  it('by its type where nobody weighed it', async () => {
    const load = await threeRows();
    expect((await costOf(load.id)).rows.map((row) => [row.weightKg, row.weightByType])).toEqual([
      ['140', true],
      [null, false],
      [null, false],
    ]);
  });
});

describe('a cost that is shared', () => {
  it('by worth: to the last penny, each thing with its cost and where it comes from', async () => {
    const load = await threeWorths({ price: '1000', haulage: '85.50', fees: '14.51' });
    const offer = (await costOf(load.id)).offers.find((each) => each.way === 'relative value');
    expect(offer?.shares?.map((each) => each.amount)).toEqual(['776.48', '258.82', '64.71']);
    expect(await thingCost(load.rows[0]!.id)).toMatchObject({ amount: null, words: expect.stringContaining('not shared') });
    const answer = await share(load.id, 'relative value', { shares: offer?.shares, why: 'by the sale room’s guide' });
    expect(answer.status).toBe(200);
    expect(shares(answer.body)).toEqual(['776.48', '258.82', '64.71']);
    expect(answer.body.outOfDate).toEqual([]);
    expect(answer.body.sharings).toMatchObject([
      { way: 'relative value', cost: '1100.01', by: 'Edie Marrack', why: 'by the sale room’s guide', notKnown: [] },
    ]);
    const cost = await thingCost(load.rows[1]!.id);
    expect(cost).toMatchObject({
      currency: 'GBP',
      amount: '258.82',
      notKnown: [],
      parts: [{ quantity: '7', amount: '258.82' }],
      entries: [{ kind: 'load share', amount: '258.82', load: { id: load.id } }],
    });
  });

  it('counts once however often it is sent at once, and is refused when nothing would change', async () => {
    const load = await threeWorths();
    const answers = await Promise.all(Array.from({ length: 4 }, () => share(load.id, 'equally')));
    expect(answers.map((answer) => answer.status).sort()).toEqual([200, 409, 409, 409]);
    expect(answers.find((answer) => answer.status === 409)?.body.code).toBe('shared-so-already');
    expect((await costOf(load.id)).sharings).toHaveLength(1);
    expect(shares(await costOf(load.id))).toEqual(['333.34', '333.33', '333.33']);
  });

  it('by weight: not while a weight is unknown, and the rows are named', async () => {
    const load = await threeRows();
    const stopped = await share(load.id, 'weight');
    expect(stopped).toMatchObject({ status: 409, body: { code: 'share-not-known' } });
    expect(stopped.body.detail).toContain('rows 2 and 3');
    expect((await costOf(load.id)).offers.find((offer) => offer.way === 'weight')).toMatchObject({
      shares: null,
      rowIds: [load.rows[1]!.id, load.rows[2]!.id],
    });
    await worth(load.id, load.rows[1]!.id, { weightKg: '0.35' });
    await worth(load.id, load.rows[2]!.id, { weightKg: '2' });
    expect(shares((await share(load.id, 'weight')).body)).toEqual(['983.49', '2.46', '14.05']);
  });

  it('by hand: adds up or is refused with what is left', async () => {
    const load = await threeRows();
    const [unit, washers, tin] = load.rows.map((row) => row.id);
    const byHand = (...amounts: [string | undefined, string][]) =>
      share(load.id, 'by hand', { shares: amounts.map(([rowId, amount]) => ({ rowId, amount })) });
    expect(await byHand([unit, '900'], [washers, '99.99'], [tin, '0'])).toMatchObject({
      status: 422,
      body: { code: 'shares-do-not-add-up', detail: expect.stringContaining('0.01 GBP is left'), values: { left: '0.01' } },
    });
    expect((await byHand([unit, '900'], [washers, '100.01'], [tin, '0'])).body.detail).toContain('0.01 GBP too much');
    expect(await byHand([unit, '900'], [washers, '100'])).toMatchObject({ status: 422, body: { code: 'share-not-named' } });
    expect(await byHand([unit, '1100'], [washers, '-100'], [tin, '0'])).toMatchObject({ body: { code: 'share-below-nought' } });
    expect(await byHand([unit, '900'], [unit, '100'], [washers, '0'], [tin, '0'])).toMatchObject({ body: { code: 'bad-input' } });
    expect(await byHand([unit, '900'], [washers, '100'], [tin, '0'], [newId(), '0'])).toMatchObject({
      body: { code: 'share-not-a-row' },
    });
    expect(await byHand([unit, '900.001'], [washers, '100'], [tin, '0'])).toMatchObject({ status: 422 });
    expect((await costOf(load.id)).sharings).toEqual([]);
    expect(shares((await byHand([unit, '900'], [washers, '100'], [tin, '0'])).body)).toEqual(['900.00', '100.00', '0.00']);
    expect(await thingCost(tin ?? '')).toMatchObject({ amount: '0.00' });
  });

  it('is refused where the person saw other shares than would be written by now', async () => {
    const load = await threeWorths();
    const seen = (await costOf(load.id)).offers[0]?.shares;
    await worth(load.id, load.rows[2]!.id, { worth: '300' });
    expect(await share(load.id, 'relative value', { shares: seen })).toMatchObject({ status: 412 });
    expect((await costOf(load.id)).sharings).toEqual([]);
  });

  it('is refused before the price is known and before anything came, and by worths that are all nought', async () => {
    const { id } = await openLoad(owner);
    expect(await share(id, 'equally')).toMatchObject({ status: 409, body: { code: 'price-not-known' } });
    await pay(id);
    expect(await share(id, 'equally')).toMatchObject({ status: 409, body: { code: 'share-no-rows' } });
    const row = await keyRow(owner, id, unsortedRow());
    await worth(id, row.body.id, { worth: '0' });
    expect(await share(id, 'relative value')).toMatchObject({ status: 409, body: { code: 'share-all-nought' } });
  });

  it('says what of it is not known, on the thing too, until it is', async () => {
    const load = await threeWorths({ haulage: '' });
    await share(load.id, 'equally');
    expect(await thingCost(load.rows[0]!.id)).toMatchObject({ amount: '333.34', notKnown: ['haulage'] });
    await pay(load.id, { haulage: '0' });
    expect(await thingCost(load.rows[0]!.id)).toMatchObject({ amount: '333.34', notKnown: [] });
    // nothing changes but what is known: that is written too
    expect((await share(load.id, 'equally')).body.sharings.map((each) => each.notKnown)).toEqual([[], ['haulage']]);
  });

  it('leaves a customer’s goods out, and what was struck out', async () => {
    const load = await threeWorths();
    const name = `Orrin Tallack ${newId()}`;
    await stock.customer(name);
    const theirs = await keyRow(owner, load.id, unitRow({ position: 4, ownerName: name }));
    const struck = await keyRow(owner, load.id, unsortedRow({ position: 5 }));
    await owner.post(`/api/loads/${load.id}/rows/${struck.body.id}/strike`, { reason: 'keyed twice' }, { ifMatch: 1 });
    const shared = await share(load.id, 'equally');
    expect(shared.body.rows.map((row) => [row.position, row.share, row.bearsNone])).toEqual([
      [1, '333.34', null],
      [2, '333.33', null],
      [3, '333.33', null],
      [4, null, `${name}’s`],
    ]);
    expect(await thingCost(theirs.body.id)).toMatchObject({ amount: null, words: expect.stringContaining('no cost of ours') });
  });
});

describe('a cost that is shared again', () => {
  it('after a row came later: what was written stays, and what was fitted and what was lost carry their shares', async () => {
    const load = await threeWorths();
    const washers = load.rows[1]!;
    await share(load.id, 'relative value');
    const job = await stock.job([{ partId: washerId, quantity: '4' }]);
    const fit = await owner.post<{ fittingId: string }>('/api/fits', { code: washers.code, jobId: job.id, quantity: '4' });
    expect(fit.status).toBe(200);
    const late = await keyRow(owner, load.id, unitRow({ position: 4, words: 'a second axle' }));
    expect(await costOf(load.id)).toMatchObject({ outOfDate: [expect.stringContaining('row 4 came in')] });
    expect((await thingCost(late.body.id)).amount).toBeNull();
    await worth(load.id, late.body.id, { worth: '150' });
    const again = await share(load.id, 'relative value', { why: 'a second axle was under the straw' });
    expect(shares(again.body)).toEqual(['600.00', '200.00', '50.00', '150.00']);
    expect(again.body.outOfDate).toEqual([]);
    expect(again.body.sharings.map((each) => each.changes.map((change) => change.amount))).toEqual([
      ['-105.88', '-35.30', '-8.82', '150.00'],
      ['705.88', '235.30', '58.82'],
    ]);
    const cost = await thingCost(washers.id);
    expect(cost.entries.map((entry) => entry.amount)).toEqual(['-35.30', '235.30']);
    // three on the shelf, four in the unit of the job
    expect(cost.parts.map((part) => [part.quantity, part.amount])).toEqual([
      ['3', '85.71'],
      ['4', '114.29'],
    ]);
  });

  it('after what was taken out of a unit became a lot of its own: that carries its part, now and then', async () => {
    const load = await threeWorths();
    const washers = load.rows[1]!;
    const job = await stock.job([{ partId: washerId, quantity: '4' }]);
    const fit = await owner.post<{ fittingId: string }>('/api/fits', { code: washers.code, jobId: job.id, quantity: '4' });
    const lotId = newId();
    const body = { lotId, quantity: '3', placeId: stock.placeId, why: 'scored' };
    expect((await owner.post(`/api/fittings/${fit.body.fittingId}/removal`, body)).status).toBe(200);
    expect(await thingCost(lotId)).toMatchObject({ amount: null, carriedFrom: { id: washers.id } });
    await share(load.id, 'equally');
    const whole = await thingCost(washers.id);
    expect(whole.parts.map((part) => [part.quantity, part.amount])).toEqual([
      ['3', '142.86'],
      ['1', '47.62'],
      ['3', '142.85'],
    ]);
    expect(await thingCost(lotId)).toMatchObject({ amount: '142.85', carriedFrom: { id: washers.id }, entries: [] });
    await pay(load.id, { price: '2000' });
    await share(load.id, 'equally');
    expect((await thingCost(lotId)).amount).toBe('285.71');
  });

  it('after the price was put right and a row was struck out, which gives its share back', async () => {
    const load = await threeWorths();
    await share(load.id, 'equally');
    await pay(load.id, { price: '900' });
    const tin = load.rows[2]!;
    await owner.post(`/api/loads/${load.id}/rows/${tin.id}/strike`, { reason: 'was the seller’s own' }, { ifMatch: tin.version });
    const before = await costOf(load.id);
    expect(before.outOfDate).toEqual([expect.stringContaining('900.00 GBP by now'), expect.stringContaining('row 3 fell out')]);
    expect(before.rows[2]).toMatchObject({ bearsNone: 'struck out', share: '333.33' });
    const after = await share(load.id, 'equally');
    expect(shares(after.body)).toEqual(['450.00', '450.00']);
    expect((await thingCost(tin.id)).amount).toBe('0.00');
    expect(after.body.sharings[0]?.changes.map((change) => change.amount)).toEqual(['116.66', '116.67', '-333.33']);
  });

  it('says that worths were changed since', async () => {
    const load = await threeWorths();
    await share(load.id, 'relative value');
    await worth(load.id, load.rows[0]!.id, { worth: '700' });
    expect((await costOf(load.id)).outOfDate).toEqual([expect.stringContaining('by the worths as keyed now')]);
    await worth(load.id, load.rows[0]!.id, { worth: '' });
    expect((await costOf(load.id)).outOfDate).toEqual([expect.stringContaining('row 1 is worth is not known')]);
  });

  it('while rows come in at the same moment: the shares still come to the cost', async () => {
    const load = await threeWorths();
    const [answers] = await Promise.all([
      Promise.all(['equally', 'relative value', 'equally'].map((way) => share(load.id, way))),
      Promise.all([4, 5, 6].map((position) => keyRow(owner, load.id, unsortedRow({ position })))),
    ]);
    expect(answers.some((answer) => answer.status === 200)).toBe(true);
    expect((await share(load.id, 'equally')).body.rows.map((row) => row.share)).toEqual([
      '166.67',
      '166.67',
      '166.67',
      '166.67',
      '166.66',
      '166.66',
    ]);
    expect(await verifyBooks(server.database)).toEqual([]);
  });
});

describe('the figures', () => {
  it('are for those who keep the books: others neither see nor change them', async () => {
    const load = await threeWorths();
    await share(load.id, 'equally');
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
    expect(await thingCost(lot.id)).toMatchObject({ amount: null, parts: [], entries: [], notKnown: [] });
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
    const load = await threeWorths();
    const { sharings } = (await share(load.id, 'equally')).body;
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
    const load = await threeWorths();
    const { sharings } = (await share(load.id, 'equally')).body;
    await stock.query('BEGIN');
    await stock.query('ALTER TABLE cost_entries DISABLE TRIGGER cost_entries_even');
    await stock.query(...mutable(entry(load.id, sharings[0]!.id, load.rows[0]!.id, '1')));
    const asOwner = { rows: (text: string, values: unknown[] = []) => stock.query(text, values), row: async () => null };
    expect(await verifyBooks(asOwner as never)).toMatchObject([{ what: 'cost of a load', kept: '100001', rebuilt: '100000' }]);
    await stock.query('ROLLBACK');
  });
});

function mutable(statement: readonly [string, readonly unknown[]]): [string, unknown[]] {
  return [statement[0], [...statement[1]]];
}
