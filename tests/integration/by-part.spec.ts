import { jest } from '@jest/globals';
import { newId } from '../../apps/api/src/platform/new-id.js';
import type { ByPart, PartOnBoard } from '../../libs/contracts/src/by-part.js';
import { addDays } from '../../libs/quantities/src/plain-date.js';
import { type BareServer, startBareServer, tokenIn, type Visitor } from '../support/bare-server.js';
import { ownersPath, startExampleServer } from '../support/example-server.js';
import { Stock } from '../support/stock.js';
import { unitTypeOf } from '../support/strip-bench.js';

jest.setTimeout(120_000);

let server: BareServer;
let owner: Visitor;
let stock: Stock;
let today: string;

beforeAll(async () => {
  server = await startBareServer('by_part');
  owner = await server.setUp();
  stock = await Stock.open(server.testDatabase.ownerUrl);
  today = (await owner.get<{ today: string }>('/api/workshop')).body.today;
});
afterAll(async () => {
  await stock.close();
  await server.stop();
});

const board = async () => (await owner.get<ByPart>('/api/coverage/by-part')).body;
const rowOf = async (partId: string): Promise<PartOnBoard | undefined> =>
  (await board()).parts.find(({ part }) => part.id === partId);
const states = (row: PartOnBoard | undefined) =>
  row?.cells.map(({ jobId, shares }) => [jobId, shares.map(({ state, quantity }) => `${quantity} ${state}`).join(', ')]);

function order(partId: string, facts: { quantity: string; dueOn: string }) {
  const more = { id: newId(), orderReference: newId(), supplierName: 'Veldrow Bearings', forJobId: null, confirmed: true };
  return owner.post('/api/receipts', { ...more, partId, ...facts });
}

describe('the board of parts over all open jobs', () => {
  it('is empty in a workshop without jobs, and while every job has what it needs', async () => {
    expect(await board()).toEqual({ openJobs: 0, jobs: [], parts: [] });
    const partId = await stock.part();
    await stock.lot(partId, { quantity: '5' });
    await stock.job([{ partId }]);
    await stock.job([{ partId, quantity: '4' }]);
    expect(await board()).toEqual({ openJobs: 2, jobs: [], parts: [] });
  });

  it('shows a part of which there is one for two jobs: who gets it, who goes without, and why', async () => {
    const partId = await stock.part({ name: 'Thrust bearing', number: '48-2217' });
    const lot = await stock.lot(partId);
    const [first, second] = [await stock.job([{ partId, critical: true }]), await stock.job([{ partId, critical: true }])];
    await stock.query('UPDATE jobs SET priority = 1 WHERE id = $1', [first.id]);
    const { jobs, parts } = await board();
    expect(jobs.map(({ id }) => id)).toEqual([first.id, second.id]);
    expect(parts).toHaveLength(1);
    expect(parts[0]).toMatchObject({
      part: { id: partId, number: '48-2217' },
      troubles: ['lacking', 'wanted by several'],
      there: { free: '1', promised: '0', coming: '0', inCores: '0', beside: '0' },
      cells: [
        { jobId: first.id, state: 'free in stores', stops: false, elsewhere: [] },
        {
          jobId: second.id,
          state: 'lacking',
          critical: true,
          stops: true,
          elsewhere: [
            { job: { id: first.id }, how: 'goes to it first', words: expect.stringMatching(/priority 1 comes before 3$/) },
          ],
        },
      ],
    });
    expect((await owner.post('/api/picks', { code: lot.code, jobId: first.id })).status).toBe(200);
    const picked = await rowOf(partId);
    expect(picked).toMatchObject({ there: { free: '0', promised: '1' } });
    expect(picked!.cells[1]!.elsewhere).toMatchObject([{ how: 'in its tray' }]);
    // what is in the unit is wanted no more
    expect((await owner.post('/api/fits', { code: lot.code, jobId: first.id })).status).toBe(200);
    expect(states(await rowOf(partId))).toEqual([[second.id, '1 lacking']]);
  });

  it('shows what rests on an order that is overdue, or that comes after the day that its customer was told; not one that is in time', async () => {
    const [overdue, late, inTime] = [await stock.part(), await stock.part(), await stock.part()];
    await order(overdue, { quantity: '1', dueOn: addDays(today, -3) });
    for (const partId of [late, inTime]) await order(partId, { quantity: '1', dueOn: addDays(today, 30) });
    await stock.job([{ partId: overdue }]);
    const told = await stock.job([{ partId: late }]);
    await stock.job([{ partId: inTime }]);
    const given = { given: addDays(today, 10), reason: 'he would not wait' };
    expect((await owner.post(`/api/jobs/${told.id}/dates`, given)).status).toBe(200);
    expect(await rowOf(overdue)).toMatchObject({
      troubles: ['order late'],
      cells: [{ late: expect.stringContaining('was due') }],
    });
    expect(await rowOf(late)).toMatchObject({ troubles: ['order late'], cells: [{ late: expect.stringContaining('was told') }] });
    expect(await rowOf(inTime)).toBeUndefined();
  });

  it('shows what rests on a core that nobody has opened', async () => {
    const partId = await stock.part({ name: 'Worm wheel' });
    const unitTypeId = await unitTypeOf(stock, [{ name: 'Worm wheel', partId }]);
    await stock.query(
      "INSERT INTO component_yields (unit_type_id, position, grade, looked, serviceable) VALUES ($1, 1, '', 10, 8)",
      [unitTypeId],
    );
    await stock.unit({ unitTypeId });
    await stock.job([{ partId }]);
    expect(await rowOf(partId)).toMatchObject({
      troubles: ['rests on a core'],
      there: { free: '0', inCores: '1' },
      cells: [{ state: 'from a core' }],
    });
  });

  it('counts what may serve in its place beside it, and lines of one job that ask for the same part under one job', async () => {
    const [wanted, like] = [await stock.part(), await stock.part()];
    await stock.lot(like, { quantity: '2' });
    const relation = { kind: 'same as', toPartIds: [wanted], evidence: { kind: 'measured', words: 'all three' } };
    expect((await owner.post(`/api/parts/${like}/relations`, relation)).status).toBe(200);
    const job = await stock.job([
      { partId: wanted, critical: true },
      { partId: wanted, quantity: '500' },
    ]);
    const row = await rowOf(wanted);
    expect(row).toMatchObject({ troubles: ['lacking'], there: { free: '0', beside: '2' } });
    expect(states(row)).toEqual([
      [job.id, '1 free in stores'],
      [job.id, '1 free in stores, 499 lacking'],
    ]);
  });

  it('goes on where jobs want each other’s parts in a circle', async () => {
    const [one, other] = [await stock.part(), await stock.part()];
    for (const partId of [one, other]) await stock.lot(partId);
    await stock.job([{ partId: one }, { partId: other }]);
    await stock.job([{ partId: other }, { partId: one }]);
    for (const partId of [one, other]) expect((await rowOf(partId))?.troubles).toEqual(['lacking', 'wanted by several']);
  });

  it('names what stops a job before all else', async () => {
    const { parts } = await board();
    const stops = parts.map(({ cells }) => cells.some((cell) => cell.stops));
    expect(stops.lastIndexOf(true)).toBeLessThan(stops.includes(false) ? stops.indexOf(false) : stops.length);
  });
});

describe('the example workshop', () => {
  it('has a critical part of which there is one, and two jobs that want it', async () => {
    const example = await startExampleServer('part_example');
    const visitor = example.visitor();
    await visitor.post('/api/sign-in-link', { token: tokenIn(await ownersPath(example)) }, { key: null });
    const { parts } = (await visitor.get<ByPart>('/api/coverage/by-part')).body;
    const contested = parts.find(
      ({ there, cells }) =>
        there.free === '1' &&
        cells.some(({ stops, elsewhere }) => stops && elsewhere.some(({ how }) => how === 'goes to it first')),
    );
    expect(contested?.part.number).toBe('310');
    await example.stop();
  });
});
