import { jest } from '@jest/globals';
import { newId } from '../../apps/api/src/platform/new-id.js';
import { verifyBooks } from '../../apps/api/src/stores/verify/verify-books.js';
import { type BareServer, startBareServer, type Visitor } from '../support/bare-server.js';
import { CostDesk, shares } from '../support/cost-desk.js';
import { keyRow, openLoad, unitRow, unitType, unsortedRow } from '../support/load-stock.js';
import { Stock } from '../support/stock.js';

jest.setTimeout(60_000);

let server: BareServer;
let owner: Visitor;
let stock: Stock;
let washerId: string;
let typeId: string;
let desk: CostDesk;

beforeAll(async () => {
  server = await startBareServer('cost_shares');
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

describe('a cost that is shared', () => {
  it('by worth: to the last penny, each thing with its cost and where it comes from', async () => {
    const load = await desk.threeWorths({ price: '1000', haulage: '85.50', fees: '14.51' });
    const offer = (await desk.costOf(load.id)).offers.find((each) => each.way === 'relative value');
    expect(offer?.shares?.map((each) => each.amount)).toEqual(['776.48', '258.82', '64.71']);
    expect(await desk.thingCost(load.rows[0]!.id)).toMatchObject({ amount: null, words: expect.stringContaining('not shared') });
    const answer = await desk.share(load.id, 'relative value', { shares: offer?.shares, why: 'by the sale room’s guide' });
    expect(answer.status).toBe(200);
    expect(shares(answer.body)).toEqual(['776.48', '258.82', '64.71']);
    expect(answer.body.outOfDate).toEqual([]);
    expect(answer.body.sharings).toMatchObject([
      { way: 'relative value', cost: '1100.01', by: 'Edie Marrack', why: 'by the sale room’s guide', notKnown: [] },
    ]);
    const cost = await desk.thingCost(load.rows[1]!.id);
    expect(cost).toMatchObject({
      currency: 'GBP',
      amount: '258.82',
      notKnown: [],
      parts: [{ quantity: '7', amount: '258.82' }],
      entries: [{ kind: 'load share', amount: '258.82', load: { id: load.id } }],
    });
  });

  it('counts once however often it is sent at once, and is refused when nothing would change', async () => {
    const load = await desk.threeWorths();
    const answers = await Promise.all(Array.from({ length: 4 }, () => desk.share(load.id, 'equally')));
    expect(answers.map((answer) => answer.status).sort()).toEqual([200, 409, 409, 409]);
    expect(answers.find((answer) => answer.status === 409)?.body.code).toBe('shared-so-already');
    expect((await desk.costOf(load.id)).sharings).toHaveLength(1);
    expect(shares(await desk.costOf(load.id))).toEqual(['333.34', '333.33', '333.33']);
  });

  it('by weight: not while a weight is unknown, and the rows are named', async () => {
    const load = await desk.threeRows();
    const stopped = await desk.share(load.id, 'weight');
    expect(stopped).toMatchObject({ status: 409, body: { code: 'share-not-known' } });
    expect(stopped.body.detail).toContain('rows 2 and 3');
    expect((await desk.costOf(load.id)).offers.find((offer) => offer.way === 'weight')).toMatchObject({
      shares: null,
      rowIds: [load.rows[1]!.id, load.rows[2]!.id],
    });
    await desk.worth(load.id, load.rows[1]!.id, { weightKg: '0.35' });
    await desk.worth(load.id, load.rows[2]!.id, { weightKg: '2' });
    expect(shares((await desk.share(load.id, 'weight')).body)).toEqual(['983.49', '2.46', '14.05']);
  });

  it('by hand: adds up or is refused with what is left', async () => {
    const load = await desk.threeRows();
    const [unit, washers, tin] = load.rows.map((row) => row.id);
    const byHand = (...amounts: [string | undefined, string][]) =>
      desk.share(load.id, 'by hand', { shares: amounts.map(([rowId, amount]) => ({ rowId, amount })) });
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
    expect((await desk.costOf(load.id)).sharings).toEqual([]);
    expect(shares((await byHand([unit, '900'], [washers, '100'], [tin, '0'])).body)).toEqual(['900.00', '100.00', '0.00']);
    expect(await desk.thingCost(tin ?? '')).toMatchObject({ amount: '0.00' });
  });

  it('is refused where the person saw other shares than would be written by now', async () => {
    const load = await desk.threeWorths();
    const seen = (await desk.costOf(load.id)).offers[0]?.shares;
    await desk.worth(load.id, load.rows[2]!.id, { worth: '300' });
    expect(await desk.share(load.id, 'relative value', { shares: seen })).toMatchObject({ status: 412 });
    expect((await desk.costOf(load.id)).sharings).toEqual([]);
  });

  it('is refused before the price is known and before anything came, and by worths that are all nought', async () => {
    const { id } = await openLoad(owner);
    expect(await desk.share(id, 'equally')).toMatchObject({ status: 409, body: { code: 'price-not-known' } });
    await desk.pay(id);
    expect(await desk.share(id, 'equally')).toMatchObject({ status: 409, body: { code: 'share-no-rows' } });
    const row = await keyRow(owner, id, unsortedRow());
    await desk.worth(id, row.body.id, { worth: '0' });
    expect(await desk.share(id, 'relative value')).toMatchObject({ status: 409, body: { code: 'share-all-nought' } });
  });

  it('says what of it is not known, on the thing too, until it is', async () => {
    const load = await desk.threeWorths({ haulage: '' });
    await desk.share(load.id, 'equally');
    expect(await desk.thingCost(load.rows[0]!.id)).toMatchObject({ amount: '333.34', notKnown: ['haulage'] });
    await desk.pay(load.id, { haulage: '0' });
    expect(await desk.thingCost(load.rows[0]!.id)).toMatchObject({ amount: '333.34', notKnown: [] });
    // nothing changes but what is known: that is written too
    expect((await desk.share(load.id, 'equally')).body.sharings.map((each) => each.notKnown)).toEqual([[], ['haulage']]);
  });

  it('leaves a customer’s goods out, and what was struck out', async () => {
    const load = await desk.threeWorths();
    const name = `Orrin Tallack ${newId()}`;
    await stock.customer(name);
    const theirs = await keyRow(owner, load.id, unitRow({ position: 4, ownerName: name }));
    const struck = await keyRow(owner, load.id, unsortedRow({ position: 5 }));
    await owner.post(`/api/loads/${load.id}/rows/${struck.body.id}/strike`, { reason: 'keyed twice' }, { ifMatch: 1 });
    const shared = await desk.share(load.id, 'equally');
    expect(shared.body.rows.map((row) => [row.position, row.share, row.bearsNone])).toEqual([
      [1, '333.34', null],
      [2, '333.33', null],
      [3, '333.33', null],
      [4, null, `${name}’s`],
    ]);
    expect(await desk.thingCost(theirs.body.id)).toMatchObject({
      amount: null,
      words: expect.stringContaining('no cost of ours'),
    });
  });
});

describe('a cost that is shared again', () => {
  it('after a row came later: what was written stays, and what was fitted and what was lost carry their shares', async () => {
    const load = await desk.threeWorths();
    const washers = load.rows[1]!;
    await desk.share(load.id, 'relative value');
    const job = await stock.job([{ partId: washerId, quantity: '4' }]);
    const fit = await owner.post<{ fittingId: string }>('/api/fits', { code: washers.code, jobId: job.id, quantity: '4' });
    expect(fit.status).toBe(200);
    const late = await keyRow(owner, load.id, unitRow({ position: 4, words: 'a second axle' }));
    expect(await desk.costOf(load.id)).toMatchObject({ outOfDate: [expect.stringContaining('row 4, which came since')] });
    expect((await desk.thingCost(late.body.id)).amount).toBeNull();
    await desk.worth(load.id, late.body.id, { worth: '150' });
    const again = await desk.share(load.id, 'relative value', { why: 'a second axle was under the straw' });
    expect(shares(again.body)).toEqual(['600.00', '200.00', '50.00', '150.00']);
    expect(again.body.outOfDate).toEqual([]);
    expect(again.body.sharings.map((each) => each.changes.map((change) => change.amount))).toEqual([
      ['-105.88', '-35.30', '-8.82', '150.00'],
      ['705.88', '235.30', '58.82'],
    ]);
    const cost = await desk.thingCost(washers.id);
    expect(cost.entries.map((entry) => entry.amount)).toEqual(['-35.30', '235.30']);
    // three on the shelf, four in the unit of the job
    expect(cost.parts.map((part) => [part.quantity, part.amount])).toEqual([
      ['3', '85.71'],
      ['4', '114.29'],
    ]);
  });

  it('after what was taken out of a unit became a lot of its own: that carries its part, now and then', async () => {
    const load = await desk.threeWorths();
    const washers = load.rows[1]!;
    const job = await stock.job([{ partId: washerId, quantity: '4' }]);
    const fit = await owner.post<{ fittingId: string }>('/api/fits', { code: washers.code, jobId: job.id, quantity: '4' });
    const lotId = newId();
    const body = { lotId, quantity: '3', placeId: stock.placeId, why: 'scored' };
    expect((await owner.post(`/api/fittings/${fit.body.fittingId}/removal`, body)).status).toBe(200);
    expect(await desk.thingCost(lotId)).toMatchObject({ amount: null, carriedFrom: { id: washers.id } });
    await desk.share(load.id, 'equally');
    const whole = await desk.thingCost(washers.id);
    expect(whole.parts.map((part) => [part.quantity, part.amount])).toEqual([
      ['3', '142.86'],
      ['1', '47.62'],
      ['3', '142.85'],
    ]);
    expect(await desk.thingCost(lotId)).toMatchObject({ amount: '142.85', carriedFrom: { id: washers.id }, entries: [] });
    await desk.pay(load.id, { price: '2000' });
    await desk.share(load.id, 'equally');
    expect((await desk.thingCost(lotId)).amount).toBe('285.71');
  });

  it('after the price was put right and a row was struck out, which gives its share back', async () => {
    const load = await desk.threeWorths();
    await desk.share(load.id, 'equally');
    await desk.pay(load.id, { price: '900' });
    const tin = load.rows[2]!;
    await owner.post(`/api/loads/${load.id}/rows/${tin.id}/strike`, { reason: 'was the seller’s own' }, { ifMatch: tin.version });
    const before = await desk.costOf(load.id);
    expect(before.outOfDate).toEqual([
      expect.stringContaining('900.00 GBP by now'),
      expect.stringContaining('row 3, which fell out since'),
    ]);
    expect(before.rows[2]).toMatchObject({ bearsNone: 'struck out', share: '333.33' });
    const after = await desk.share(load.id, 'equally');
    expect(shares(after.body)).toEqual(['450.00', '450.00']);
    expect((await desk.thingCost(tin.id)).amount).toBe('0.00');
    expect(after.body.sharings[0]?.changes.map((change) => change.amount)).toEqual(['116.66', '116.67', '-333.33']);
  });

  it('says that worths were changed since', async () => {
    const load = await desk.threeWorths();
    await desk.share(load.id, 'relative value');
    await desk.worth(load.id, load.rows[0]!.id, { worth: '700' });
    expect((await desk.costOf(load.id)).outOfDate).toEqual([expect.stringContaining('By the worths as keyed now')]);
    await desk.worth(load.id, load.rows[0]!.id, { worth: '' });
    expect((await desk.costOf(load.id)).outOfDate).toEqual([expect.stringContaining('what row 1 is worth')]);
  });

  it('while rows come in at the same moment: the shares still come to the cost', async () => {
    const load = await desk.threeWorths();
    const [answers] = await Promise.all([
      Promise.all(['equally', 'relative value', 'equally'].map((way) => desk.share(load.id, way))),
      Promise.all([4, 5, 6].map((position) => keyRow(owner, load.id, unsortedRow({ position })))),
    ]);
    expect(answers.some((answer) => answer.status === 200)).toBe(true);
    expect((await desk.share(load.id, 'equally')).body.rows.map((row) => row.share)).toEqual([
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
