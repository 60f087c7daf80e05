import type * as z from 'zod';
import { newId } from '../../apps/api/src/platform/new-id.js';
import type { Coverage } from '../../libs/contracts/src/coverage.js';
import type { JobCard } from '../../libs/contracts/src/jobs.js';
import { addDays } from '../../libs/quantities/src/plain-date.js';
import { type BareServer, startBareServer, type Visitor } from '../support/bare-server.js';
import { Stock } from '../support/stock.js';

type Card = z.infer<typeof JobCard>;

let server: BareServer;
let owner: Visitor;
let stock: Stock;
let today: string;

beforeAll(async () => {
  server = await startBareServer('coverage');
  owner = await server.setUp();
  stock = await Stock.open(server.testDatabase.ownerUrl);
  today = (await owner.get<{ today: string }>('/api/workshop')).body.today;
});
afterAll(async () => {
  await stock.close();
  await server.stop();
});

const coverageOf = async (jobId: string): Promise<Coverage> => (await owner.get<Coverage>(`/api/jobs/${jobId}/coverage`)).body;
const statesOf = (coverage: Coverage, line: number): [string, string][] =>
  coverage.lines[line]!.shares.map((share): [string, string] => [share.state, share.quantity]);

async function order(partId: string, facts: { quantity: string; dueOn: string | null; confirmed: boolean }): Promise<string> {
  const id = newId();
  const answer = await owner.post('/api/receipts', {
    id,
    orderReference: `order ${id}`,
    supplierName: 'Veldrow Bearings',
    partId,
    forJobId: null,
    ...facts,
  });
  expect(answer.status).toBe(200);
  return id;
}

beforeAll(async () => {
  await stock.query("INSERT INTO parties (id, name, is_supplier) VALUES ($1, 'Veldrow Bearings', true)", [newId()]);
});

describe('what a line has, in the order of comfort', () => {
  it('splits a line over what is fitted, picked, free, on order and lacking', async () => {
    const partId = await stock.part({ name: 'Wheel stud' });
    const [a, b] = [await stock.lot(partId, { quantity: '3' }), await stock.lot(partId, { quantity: '2' })];
    const job = await stock.job([{ partId, quantity: '10' }]);
    expect((await owner.post('/api/fits', { code: a.code, jobId: job.id, quantity: '1' })).status).toBe(200);
    expect((await owner.post('/api/picks', { code: a.code, jobId: job.id, quantity: '2' })).status).toBe(200);
    await order(partId, { quantity: '3', dueOn: addDays(today, 20), confirmed: true });
    const coverage = await coverageOf(job.id);
    expect(statesOf(coverage, 0)).toEqual([
      ['fitted', '1'],
      ['picked', '2'],
      ['free in stores', '2'],
      ['on order', '3'],
      ['lacking', '2'],
    ]);
    expect(coverage.lines[0]!.shares[2]!.on).toMatchObject({ code: b.code });
    expect(coverage.lines[0]!.state).toBe('lacking');
  });

  it('says of the unit’s own part that nobody has looked, then what was found', async () => {
    const partId = await stock.part({ name: 'Hub nut' });
    const job = await stock.job([{ partId, quantity: '2', reusable: true }]);
    expect(statesOf(await coverageOf(job.id), 0)).toEqual([['not yet looked at', '2']]);
    const finding = (body: object) => owner.post(`/api/jobs/${job.id}/lines/${job.lineIds[0]}/findings`, body);
    expect((await finding({ quantityReused: '1', quantityReplaced: '1', words: 'one cross-threaded' })).status).toBe(200);
    expect(statesOf(await coverageOf(job.id), 0)).toEqual([
      ['re-used', '1'],
      ['lacking', '1'],
    ]);
    expect((await finding({ quantityReused: '2', quantityReplaced: '1', words: '' })).status).toBe(422);
  });

  it('does not count what may not serve, and says which and why', async () => {
    const partId = await stock.part({ name: 'Oil seal', material: 'rubber', polymer: 'NBR' });
    await stock.lot(partId, { quantity: '4', packetRead: '1994', packetEarliest: '1994-01-01', packetLatest: '1994-12-31' });
    const other = await stock.customer();
    await stock.lot(partId, {
      quantity: '4',
      ownerId: other,
      packetRead: '2025',
      packetEarliest: '2025-06-01',
      packetLatest: '2025-06-30',
    });
    const job = await stock.job([{ partId, quantity: '1', critical: true }]);
    const line = (await coverageOf(job.id)).lines[0]!;
    expect(line).toMatchObject({ state: 'lacking', stops: true });
    expect(line.looked.join(' ')).toMatch(/1994.*Past since/);
    expect(line.looked).toHaveLength(2);
  });
});

describe('when a job can be promised', () => {
  it('firmly, when all is in hand or confirmed; never before the order is due', async () => {
    const partId = await stock.part();
    const free = await stock.job([{ partId: await partWithStock() }]);
    expect((await coverageOf(free.id)).advice).toMatchObject({ kind: 'firm', conditions: [] });
    const job = await stock.job([{ partId, critical: true }]);
    const dueOn = addDays(today, 30);
    await order(partId, { quantity: '1', dueOn, confirmed: true });
    const { advice } = await coverageOf(job.id);
    expect(advice.kind).toBe('firm');
    expect(advice.date! >= dueOn).toBe(true);
    expect(advice.chain[0]).toMatchObject({ kind: 'receipt', date: expect.any(String), assumed: false });
  });

  it('as an “if” where an order is not confirmed or a part not looked at', async () => {
    const partId = await stock.part({ name: 'Spigot bearing' });
    const unseen = await stock.part({ name: 'Layshaft' });
    const job = await stock.job([
      { partId, critical: true },
      { partId: unseen, reusable: true, critical: true },
    ]);
    await order(partId, { quantity: '1', dueOn: addDays(today, 9), confirmed: false });
    const { advice } = await coverageOf(job.id);
    expect(advice.kind).toBe('if');
    expect(advice.conditions).toHaveLength(2);
    expect(advice.conditions.join(' ')).toMatch(/not confirmed/);
  });

  it('not at all while something critical is lacking without a source: then what to find', async () => {
    const job = await stock.job([
      { partId: await stock.part({ name: 'Thrust bearing' }), critical: true },
      { partId: await stock.part() },
    ]);
    const { advice } = await coverageOf(job.id);
    expect(advice).toMatchObject({ kind: 'none', date: null, toFind: [{ lineNo: 1, name: 'Thrust bearing', quantity: '1' }] });
    expect(advice.ifFound!.date >= today).toBe(true);
  });

  it('and a date against that needs a reason, which stays on the record with the advice of the day', async () => {
    const job = await stock.job([{ partId: await stock.part({ name: 'Worm' }), critical: true }]);
    const given = addDays(today, 60);
    const refused = await owner.post(`/api/jobs/${job.id}/dates`, { given });
    expect(refused).toMatchObject({ status: 409, body: { code: 'against-advice', values: { advice: { kind: 'none' } } } });
    expect((await owner.post(`/api/jobs/${job.id}/dates`, { given, reason: 'he has a spare worm at home' })).status).toBe(200);
    const card = (await owner.get<Card>(`/api/jobs/${job.id}`)).body;
    expect(card.dates).toMatchObject([
      { given, againstAdvice: true, reason: 'he has a spare worm at home', by: 'Edie Marrack', advised: { kind: 'none' } },
    ]);
    expect(card.record[0]!.words).toContain('he has a spare worm at home');
    expect(await owner.post(`/api/jobs/${job.id}/dates`, { given: addDays(today, -1), reason: 'late' })).toMatchObject({
      status: 422,
    });
  });

  it('freely, on or after a firm date, without a reason', async () => {
    const job = await stock.job([{ partId: await partWithStock() }]);
    const { advice } = await coverageOf(job.id);
    expect(await owner.post(`/api/jobs/${job.id}/dates`, { given: advice.date })).toMatchObject({
      status: 200,
      body: { againstAdvice: false },
    });
  });
});

async function partWithStock(): Promise<string> {
  const partId = await stock.part();
  await stock.lot(partId, { quantity: '9' });
  return partId;
}
