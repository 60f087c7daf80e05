import { newId } from '../../apps/api/src/platform/new-id.js';
import type { ToBuy, ToBuyRow } from '../../libs/contracts/src/consumables.js';
import { addPerson, type BareServer, startBareServer, type Visitor } from '../support/bare-server.js';
import { Stock } from '../support/stock.js';

let server: BareServer;
let owner: Visitor;
let stock: Stock;
let today: string;

beforeAll(async () => {
  server = await startBareServer('minimums');
  owner = await server.setUp();
  stock = await Stock.open(server.testDatabase.ownerUrl);
  today = (await owner.get<{ today: string }>('/api/workshop')).body.today;
});
afterAll(async () => {
  await stock.close();
  await server.stop();
});

const minimum = (partId: string, body: object, ifMatch?: number) =>
  owner.put<{ code: string; minimum: { version: number } }>(
    `/api/parts/${partId}/minimum`,
    body,
    ifMatch === undefined ? {} : { ifMatch },
  );
const list = async () => (await owner.get<ToBuy>('/api/to-buy')).body;
const rowOf = async (partId: string): Promise<(ToBuyRow & { supplier: string | null }) | undefined> =>
  (await list()).suppliers
    .flatMap(({ supplier, rows }) => rows.map((row) => ({ ...row, supplier: supplier?.name ?? null })))
    .find(({ part }) => part.id === partId);

async function order(partId: string, quantity: string, supplierName = 'Veldrow Bearings'): Promise<string> {
  const id = newId();
  const body = {
    id,
    orderReference: `Order ${id}`,
    supplierName,
    partId,
    quantity,
    dueOn: null,
    confirmed: false,
    forJobId: null,
  };
  expect((await owner.post('/api/receipts', body)).status).toBe(200);
  return id;
}

describe('the list to buy', () => {
  it('has a part below its minimum, with the firm of its choice, until enough is on order', async () => {
    const partId = await stock.part({ name: 'Lock tab' });
    await stock.lot(partId, { quantity: '2' });
    expect(await rowOf(partId)).toBeUndefined();
    expect(
      (await minimum(partId, { minimum: '4', upTo: '10', supplierName: 'Hessock Fasteners', note: 'bag of ten' })).status,
    ).toBe(200);
    expect(await rowOf(partId)).toMatchObject({
      have: '2',
      onOrder: '0',
      buy: '8',
      supplier: 'Hessock Fasteners',
      note: 'bag of ten',
      container: null,
    });
    const receiptId = await order(partId, '1');
    expect(await rowOf(partId)).toMatchObject({ onOrder: '1', buy: '7' });
    await order(partId, '5');
    expect(await rowOf(partId)).toBeUndefined();
    expect((await list()).watched).toBeGreaterThan(0);
    const edit = { dueOn: null, confirmed: false, forJobId: null, calledOff: true, note: '' };
    await owner.patch(`/api/receipts/${receiptId}`, edit, { ifMatch: 1 });
    expect(await rowOf(partId)).toBeUndefined();
  });

  it('counts only what is free, and no order that is for a job', async () => {
    const partId = await stock.part({ name: 'Shim' });
    const lot = await stock.lot(partId, { quantity: '5' });
    await minimum(partId, { minimum: '5', upTo: '5' });
    expect(await rowOf(partId)).toBeUndefined();
    const job = await stock.job([{ partId, quantity: '3' }]);
    const lines = [{ lineId: job.lineIds[0], thingId: lot.id, quantity: '3' }];
    expect((await owner.post(`/api/jobs/${job.id}/reservations`, { until: null, lines })).status).toBe(200);
    const receipt = {
      id: newId(),
      orderReference: 'For it',
      supplierName: 'Veldrow Bearings',
      partId,
      quantity: '9',
      dueOn: null,
      confirmed: false,
      forJobId: job.id,
    };
    await owner.post('/api/receipts', receipt);
    expect(await rowOf(partId)).toMatchObject({ have: '2', onOrder: '0', buy: '3', supplier: 'Veldrow Bearings' });
  });

  it('counts full containers of a consumable that may be used, and tells what is open and past use-by', async () => {
    const partId = await stock.part({ name: 'Marking compound', material: 'other' });
    const settings = {
      container: 'tube',
      keepsDays: 5,
      oneAtATime: false,
      charged: 'not at all',
      useAmount: '',
      usesPerContainer: null,
    };
    await owner.put(`/api/parts/${partId}/consumable`, settings);
    const [lot, old] = [await stock.lot(partId, { quantity: '3' }), await stock.lot(partId, { quantity: '4' })];
    await owner.post(`/api/things/${old.id}/use-by`, { useBy: '2020-01-31' });
    await minimum(partId, { minimum: '3', upTo: '6' });
    expect(await rowOf(partId)).toBeUndefined();
    await owner.post(`/api/things/${lot.id}/opening`, { openedOn: today });
    expect(await rowOf(partId)).toMatchObject({ container: 'tube', have: '2', open: 1, pastUseBy: 1, buy: '4', supplier: null });
    expect((await list()).pastUseBy).toMatchObject([
      { thing: { id: old.id }, open: false, words: expect.stringContaining('Past use-by since 31 Jan 2020') },
    ]);
    const { items } = (await owner.get<{ items: { id: string; title: string }[] }>('/api/today')).body;
    expect(items.map(({ id }) => id)).toEqual(expect.arrayContaining(['to-buy', 'past-use-by']));
  });

  it('is kept by those who keep the books, over the version that they saw, and taken away', async () => {
    const partId = await stock.part();
    const bench = await addPerson(server, owner, 'bench', 'tom', 'Tom Hasleby');
    expect((await bench.put(`/api/parts/${partId}/minimum`, { minimum: '1', upTo: '2' })).status).toBe(403);
    expect((await minimum(partId, { minimum: '0', upTo: '2' })).status).toBe(422);
    expect((await minimum(partId, { minimum: '3', upTo: '2' })).status).toBe(422);
    expect((await minimum(partId, { minimum: '1.5', upTo: '2' })).status).toBe(422);
    expect((await minimum(partId, { minimum: '1', upTo: '2' })).body.minimum.version).toBe(1);
    expect((await minimum(partId, { minimum: '2', upTo: '2' })).status).toBe(428);
    expect((await minimum(partId, { minimum: '2', upTo: '2' }, 1)).body.minimum.version).toBe(2);
    expect((await owner.post(`/api/parts/${partId}/minimum/removal`, {}, { ifMatch: 1 })).status).toBe(412);
    expect((await owner.post(`/api/parts/${partId}/minimum/removal`, {}, { ifMatch: 2 })).body).toEqual({ minimum: null });
    expect(await rowOf(partId)).toBeUndefined();
  });
});
