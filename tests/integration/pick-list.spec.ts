import { jest } from '@jest/globals';
import { newId } from '../../apps/api/src/platform/new-id.js';
import type { JobKit, PickList, TrayKit } from '../../libs/contracts/src/pick-list.js';
import { addPerson, type BareServer, startBareServer, type Visitor } from '../support/bare-server.js';
import { type Made, Stock } from '../support/stock.js';

jest.setTimeout(120_000);

let server: BareServer;
let owner: Visitor;
let stock: Stock;

beforeAll(async () => {
  server = await startBareServer('pick_list');
  owner = await server.setUp();
  stock = await Stock.open(server.testDatabase.ownerUrl);
});
afterAll(async () => {
  await stock.close();
  await server.stop();
});

const ask = (...jobs: { id: string }[]) => owner.get<PickList>(`/api/pick-list?jobs=${jobs.map(({ id }) => id).join(',')}`);
const list = async (...jobs: { id: string }[]) => (await ask(...jobs)).body;
const kitOf = async (job: { id: string }) => (await list(job)).jobs[0] as JobKit;
const sums = (kit: JobKit) => kit.sums.flatMap(({ shares }) => shares.map(({ state, quantity }) => `${quantity} ${state}`));
const rows = ({ stops }: PickList) =>
  stops.flatMap(({ place, rows: atPlace }) => atPlace.map(({ thing, jobId, quantity }) => [place.id, thing.id, jobId, quantity]));
const pick = (thing: Made, job: Made, more: object = {}) =>
  owner.post('/api/picks', { code: thing.code, jobId: job.id, ...more });

async function bin(name: string, parentId: string | null = null): Promise<string> {
  const { id } = await stock.place();
  await stock.query('UPDATE places SET name = $2, parent_id = $3 WHERE holder_id = $1', [id, name, parentId]);
  return id;
}

describe('what to fetch for one job', () => {
  it('is every lot that the cover counts on, place after place as one walks', async () => {
    const rack = await bin('Rack 4');
    const [ten, two] = [await bin('Bin 10', rack), await bin('Bin 2', rack)];
    const [seal, stud] = [await stock.part({ name: 'Oil seal', number: '48-2230' }), await stock.part()];
    const [sealed, studs] = [
      await stock.lot(seal, { quantity: '5', placeId: ten }),
      await stock.lot(stud, { quantity: '8', placeId: two }),
    ];
    const job = await stock.job([
      { partId: seal, quantity: '2' },
      { partId: stud, quantity: '8' },
    ]);
    const answer = await list(job);
    expect(rows(answer)).toEqual([
      [two, studs.id, job.id, '8'],
      [ten, sealed.id, job.id, '2'],
    ]);
    expect(answer.stops[1]).toMatchObject({
      place: { id: ten, code: expect.stringMatching(/^P/), path: 'Rack 4, Bin 10' },
      rows: [
        { thing: { code: sealed.code }, part: { number: '48-2230' }, isReserved: false, inPlaceOf: null, lines: [{ lineNo: 1 }] },
      ],
    });
    expect(answer.jobs).toMatchObject([{ id: job.id, code: job.code, kit: 'nothing in the tray', tray: { id: job.trayId } }]);

    // what is picked leaves the list and is in the tray, and what is fitted in the unit
    expect((await pick(studs, job, { quantity: '3' })).status).toBe(200);
    expect(rows(await list(job))).toContainEqual([two, studs.id, job.id, '5']);
    const kit = await kitOf(job);
    expect(kit).toMatchObject({ kit: 'partly kitted', sums: [{ needed: '10' }], taken: [{ lineNo: 2, quantity: '3' }] });
    expect(sums(kit)).toEqual(['3 in the tray', '7 to fetch']);
    for (const thing of [studs, sealed]) expect((await pick(thing, job)).status).toBe(200);
    expect(await list(job)).toMatchObject({ jobs: [{ kit: 'kitted', waits: [] }], stops: [] });
    expect((await owner.post('/api/fits', { code: studs.code, jobId: job.id })).status).toBe(200);
    expect(sums(await kitOf(job))).toEqual(['8 in the unit', '2 in the tray']);
  });

  it('has a lot in two places twice, with quantities that add up', async () => {
    const [near, far] = [await bin('Shelf 1'), await bin('Shelf 9')];
    const partId = await stock.part({ unit: 'm' });
    const lot = await stock.lot(partId, { quantity: '0.2', placeId: near });
    await stock.bring(lot.id, '0.3', far);
    const job = await stock.job([{ partId, quantity: '0.4' }]);
    const answer = await list(job);
    expect(rows(answer)).toEqual([
      [near, lot.id, job.id, '0.1'],
      [far, lot.id, job.id, '0.3'],
    ]);
    expect(answer.stops.flatMap(({ rows: atPlace }) => atPlace.map(({ inAll }) => inAll))).toEqual(['0.4', '0.4']);
    // a scan takes it from the same places
    expect((await pick(lot, job, { quantity: '0.3' })).status).toBe(200);
    expect(rows(await list(job))).toEqual([[near, lot.id, job.id, '0.1']]);
  });

  it('has what the job reserved, and nothing that another job did', async () => {
    const partId = await stock.part();
    const [mine, theirs] = [await stock.lot(partId), await stock.lot(partId)];
    const [job, other] = [await stock.job([{ partId }]), await stock.job([{ partId }])];
    const reserve = (to: typeof job, thing: Made) =>
      owner.post(`/api/jobs/${to.id}/reservations`, {
        until: null,
        lines: [{ lineId: to.lineIds[0], thingId: thing.id, quantity: '1' }],
      });
    for (const [to, thing] of [
      [other, theirs],
      [job, mine],
    ] as const)
      expect((await reserve(to, thing)).status).toBe(200);
    const { stops } = await list(job);
    expect(stops.flatMap(({ rows: atPlace }) => atPlace)).toMatchObject([{ thing: { id: mine.id }, isReserved: true }]);
  });

  it('says of what it cannot fetch what it waits for, and what is lacking', async () => {
    const [part, waived] = [await stock.part({ name: 'Worm wheel' }), await stock.part()];
    await stock.lot(part, { quantity: '3' });
    const order = { id: newId(), orderReference: '71', supplierName: 'Veldrow Bearings', forJobId: null, confirmed: true };
    expect((await owner.post('/api/receipts', { ...order, partId: part, quantity: '2', dueOn: '2031-01-08' })).status).toBe(200);
    const job = await stock.job([{ partId: part, quantity: '6' }, { partId: waived }]);
    await stock.query("UPDATE job_lines SET waived_reason = 'not on this one' WHERE id = $1", [job.lineIds[1]]);
    const kit = await kitOf(job);
    expect(sums(kit)).toEqual(['3 to fetch', '2 on order', '1 lacking']);
    expect(kit.waits).toMatchObject([
      { state: 'on order', quantity: '2', part: { name: 'Worm wheel' }, words: expect.stringContaining('order 71') },
      { state: 'lacking', quantity: '1' },
    ]);
  });

  it('offers another part in its place apart, and lists it only when somebody has accepted it', async () => {
    const [wanted, other] = [await stock.part(), await stock.part({ number: '51-0090' })];
    const lot = await stock.lot(other);
    const relation = { kind: 'will serve for', toPartIds: [wanted], evidence: { kind: 'measured', words: 'bore and width' } };
    expect((await owner.post(`/api/parts/${other}/relations`, relation)).status).toBe(200);
    const job = await stock.job([{ partId: wanted }]);
    expect(await list(job)).toMatchObject({
      stops: [],
      jobs: [{ offers: [{ thing: { id: lot.id }, instead: { number: '51-0090' }, where: expect.stringContaining('Bin') }] }],
      offersAt: [{ place: { id: stock.placeId }, offers: [{ jobId: job.id, lineNo: 1, thing: { id: lot.id } }] }],
    });
    expect(sums(await kitOf(job))).toEqual(['1 offered']);
    const accepted = {
      id: newId(),
      partId: other,
      bore: '25',
      outside: '62',
      width: '17',
      evidence: { kind: 'measured', words: 'tried on the shaft' },
      position: 'input side',
      forEveryJob: false,
    };
    expect((await owner.post(`/api/jobs/${job.id}/lines/${job.lineIds[0]}/substitutes`, accepted)).status).toBe(200);
    expect(await list(job)).toMatchObject({
      stops: [{ rows: [{ thing: { id: lot.id }, part: { number: '51-0090' }, inPlaceOf: { id: wanted } }] }],
      jobs: [{ offers: [] }],
      offersAt: [],
    });
  });

  it('counts metres by themselves and never adds them to pieces', async () => {
    const [cord, nut] = [await stock.part({ unit: 'm' }), await stock.part()];
    const job = await stock.job([
      { partId: cord, quantity: '0.75' },
      { partId: nut, quantity: '4' },
    ]);
    expect((await kitOf(job)).sums).toEqual([
      { unitOfMeasure: 'm', needed: '0.75', shares: [{ state: 'lacking', quantity: '0.75' }] },
      { unitOfMeasure: 'each', needed: '4', shares: [{ state: 'lacking', quantity: '4' }] },
    ]);
  });
});

describe('what to fetch for several jobs', () => {
  it('shares one bag that both want, in the order in which they are served, and says who goes without', async () => {
    const partId = await stock.part();
    const lot = await stock.lot(partId, { quantity: '5' });
    const [late, first] = [await stock.job([{ partId, quantity: '4' }]), await stock.job([{ partId, quantity: '3' }])];
    await stock.query('UPDATE jobs SET priority = 1 WHERE id = $1', [first.id]);
    const answer = await list(late, first);
    expect(answer.jobs.map(({ id }) => id)).toEqual([first.id, late.id]);
    expect(rows(answer)).toEqual([
      [stock.placeId, lot.id, first.id, '3'],
      [stock.placeId, lot.id, late.id, '2'],
    ]);
    expect(answer.stops).toHaveLength(1);
    expect(sums(answer.jobs[1] as JobKit)).toEqual(['2 to fetch', '2 lacking']);
    // alone it is given no more: the other job is still before it
    expect(rows(await list(late))).toEqual([[stock.placeId, lot.id, late.id, '2']]);
  });
});

describe('what is refused', () => {
  it('is a closed job, in words, however many are beside it', async () => {
    const partId = await stock.part();
    const [open, closed] = [await stock.job([{ partId }]), await stock.job([{ partId }], { state: 'released' })];
    const answer = await owner.get<{ code: string; detail: string }>(`/api/pick-list?jobs=${open.id},${closed.id}`);
    expect(answer).toMatchObject({ status: 409, body: { code: 'job-closed', detail: expect.stringContaining('is released') } });
  });

  it('is a job that is not in the books, and a list for none', async () => {
    expect((await ask({ id: newId() })).status).toBe(404);
    expect((await ask({ id: 'none' })).status).toBe(422);
    expect((await ask()).status).toBe(422);
  });
});

describe('the tray', () => {
  it('says what is still missing from it while its job is open; no other place does', async () => {
    const partId = await stock.part();
    await stock.lot(partId);
    const job = await stock.job([{ partId, quantity: '2' }]);
    const ofTray = async (id: string) => (await owner.get<TrayKit>(`/api/trays/${id}/kit`)).body.job;
    expect(await ofTray(job.trayId)).toMatchObject({ id: job.id, kit: 'nothing in the tray' });
    expect(sums((await ofTray(job.trayId)) as JobKit)).toEqual(['1 to fetch', '1 lacking']);
    expect(await ofTray(stock.placeId)).toBeNull();
    await stock.query("UPDATE jobs SET state = 'released' WHERE id = $1", [job.id]);
    expect(await ofTray(job.trayId)).toBeNull();
  });
});

it('names those who may accept another part: whoever keeps the books and is still here', async () => {
  await addPerson(server, owner, 'stores', 'ada', 'Ada Pellow');
  await addPerson(server, owner, 'bench', 'jem', 'Jem Tolliver');
  await addPerson(server, owner, 'stores', 'gone', 'Gone Long Since');
  await stock.query("UPDATE people SET active = false WHERE sign_in_name = 'gone'");
  const job = await stock.job([{ partId: await stock.part() }]);
  expect((await list(job)).mayAccept).toEqual(['Ada Pellow', 'Edie Marrack']);
});
