import { jest } from '@jest/globals';
import { newId } from '../../apps/api/src/platform/new-id.js';
import { ExpireReservations } from '../../apps/api/src/reservations/expire/expire-reservations.js';
import { verifyBooks } from '../../apps/api/src/stores/verify/verify-books.js';
import { formatCode, type LabelCode } from '../../libs/codes/src/label-code.js';
import type { JobCard } from '../../libs/contracts/src/jobs.js';
import type { Reservation, ReservationProblem, Reserved, Taken } from '../../libs/contracts/src/reservations.js';
import { addDays } from '../../libs/quantities/src/plain-date.js';
import { addPerson, type BareServer, startBareServer, type Visitor } from '../support/bare-server.js';
import { listenTo } from '../support/news.js';
import { type Made, Stock } from '../support/stock.js';

jest.setTimeout(60_000);

let server: BareServer;
let owner: Visitor;
let stock: Stock;

beforeAll(async () => {
  server = await startBareServer('reservations');
  owner = await server.setUp();
  stock = await Stock.open(server.testDatabase.ownerUrl);
});
afterAll(async () => {
  expect(await verifyBooks(server.database)).toEqual([]);
  await stock.close();
  await server.stop();
});

interface Problem {
  code: string;
  title: string;
  detail: string;
  values: { problems: ReservationProblem[]; fields?: { path: string }[] };
}
type Job = Awaited<ReturnType<Stock['job']>>;
type Line = { lineId: string | null; quantity: string; thingId?: string; receiptId?: string };

const today = (): string => new Date().toISOString().slice(0, 10);
const said = ({ code }: Made): string => formatCode(code as LabelCode);
const titled = (job: Made, title: string) => stock.query('UPDATE jobs SET title = $2 WHERE id = $1', [job.id, title]);
const send = (job: Made, lines: Line[], until: string | null = null) =>
  owner.post<Reserved & Problem>(`/api/jobs/${job.id}/reservations`, { until, lines });
const of = (job: Job, thing: Made, quantity = '1', line = 0): Line => ({
  lineId: job.lineIds[line]!,
  thingId: thing.id,
  quantity,
});
const ofOrder = (job: Job, receiptId: string, quantity = '1'): Line => ({ lineId: job.lineIds[0]!, receiptId, quantity });

async function reserve(job: Made, lines: Line[], until: string | null = null): Promise<Reserved> {
  const answer = await send(job, lines, until);
  expect(answer).toMatchObject({ status: 200 });
  return answer.body;
}

async function refused(job: Made, lines: Line[], code: string): Promise<Problem> {
  const before = await stock.query('SELECT id, quantity FROM claims ORDER BY id');
  const answer = await send(job, lines);
  expect(answer).toMatchObject({ status: 409, body: { code } });
  expect(await stock.query('SELECT id, quantity FROM claims ORDER BY id')).toEqual(before);
  return answer.body;
}

const listed = async (job: Made): Promise<Reservation[]> =>
  (await owner.get<{ reservations: Reservation[] }>(`/api/jobs/${job.id}/reservations`)).body.reservations;
const recordOf = async (job: Made): Promise<string[]> =>
  (await owner.get<JobCard>(`/api/jobs/${job.id}`)).body.record
    .filter(({ kind }) => kind === 'reservation')
    .map(({ words }) => words);
const countersOf = async (thing: Made) => {
  const [row] = await stock.query(
    'SELECT trim_scale(held)::text AS held, trim_scale(awaited)::text AS awaited, trim_scale(claimed)::text AS claimed FROM things WHERE id = $1',
    [thing.id],
  );
  return row;
};
const claimOf = async (job: Made): Promise<string> => (await listed(job))[0]!.claimId!;
const close = async (job: Made, state: string) => {
  const [row] = await stock.query<{ version: number; title: string }>('SELECT version, title FROM jobs WHERE id = $1', [job.id]);
  const paper = { title: row!.title, wanted: '', buildStandard: 'serviceable', priority: 3, state };
  return owner.patch(`/api/jobs/${job.id}`, paper, { ifMatch: row!.version });
};

async function lotAndJob(quantity = '4', needed = '4'): Promise<{ partId: string; lot: Made; job: Job }> {
  const partId = await stock.part({ name: 'Oil thrower' });
  return { partId, lot: await stock.lot(partId, { quantity }), job: await stock.job([{ partId, quantity: needed }]) };
}

let orders = 0;
async function ordered(partId: string, quantity: string, forJobId: string | null = null): Promise<string> {
  orders += 1;
  const order = {
    id: newId(),
    orderReference: `R-${orders}`,
    supplierName: 'Veldrow Bearings',
    partId,
    quantity,
    dueOn: '2031-03-01',
    confirmed: true,
    forJobId,
  };
  expect((await owner.post('/api/receipts', order)).status).toBe(200);
  return order.id;
}
const arrive = (receiptId: string, quantity: string, facts: Record<string, unknown> = {}) =>
  owner.post<{ lot: Made; outstanding: string }>(`/api/receipts/${receiptId}/arrivals`, {
    lotId: newId(),
    quantity,
    placeId: stock.placeId,
    source: 'new',
    make: 'genuine',
    ...facts,
  });
const editOrder = async (id: string, facts: Record<string, unknown>) => {
  const [row] = await stock.query<{ version: number }>('SELECT version FROM expected_receipts WHERE id = $1', [id]);
  const paper = { dueOn: '2031-03-01', confirmed: true, forJobId: null, calledOff: false, note: '', ...facts };
  return owner.patch<Problem>(`/api/receipts/${id}`, paper, { ifMatch: row!.version });
};

describe('reserving', () => {
  it('claims for a line, is listed with who, since and until, and stands on the record', async () => {
    const { job, lot } = await lotAndJob();
    const until = addDays(today(), 30);
    const answer = await reserve(job, [of(job, lot, '3')], until);
    expect(answer).toMatchObject({
      jobId: job.id,
      until,
      lines: [{ lineId: job.lineIds[0], lineNo: 1, thingId: lot.id, quantity: '3' }],
    });
    expect(await listed(job)).toMatchObject([
      {
        expectedClaimId: null,
        line: { id: job.lineIds[0], lineNo: 1, name: 'Oil thrower' },
        thing: { id: lot.id, code: lot.code },
        receipt: null,
        quantity: '3',
        inTray: '0',
        by: 'Edie Marrack',
        until,
        doubt: '',
      },
    ]);
    expect((await listed(job))[0]!.where).toMatch(/^Bin /);
    expect(await recordOf(job)).toEqual([expect.stringMatching(new RegExp(`^reserved 3 of ${said(lot)} until .*, line 1$`))]);
  });

  it('of a whole job is all or nothing, and each line is named with what is wrong', async () => {
    const [one, two] = [await stock.part({ name: 'Cone' }), await stock.part({ name: 'Cup' })];
    const job = await stock.job([{ partId: one, quantity: '2' }, { partId: two }, { partId: two }]);
    const [cones, cups] = [await stock.lot(one, { quantity: '2' }), await stock.lot(two, { quantity: '1' })];
    const both = [of(job, cones, '2', 0), of(job, cups, '1', 1), of(job, cups, '1', 2), of(job, cones, '1', 2)];
    const problem = await refused(job, both, 'none-left');
    expect(problem.values.problems.map(({ lineNo, code }) => [lineNo, code])).toEqual([
      [3, 'none-left'],
      [3, 'not-on-this-job'],
    ]);
    expect(problem.detail).toMatch(/^Line 3, Cup: 0 of L .* are free, and 1 were asked for\. .*Nothing was reserved\.$/);
    expect((await reserve(job, both.slice(0, 2))).words).toBe('Reserved for 2 lines.');
  });

  it('says who has what is claimed meanwhile', async () => {
    const { job, lot, partId } = await lotAndJob('2');
    await titled(job, 'Axle of the shooting brake');
    await reserve(job, [of(job, lot, '2')]);
    const other = await stock.job([{ partId, quantity: '2' }]);
    const { detail, values } = await refused(other, [of(other, lot)], 'claimed-for-another-job');
    expect(detail).toContain('It is promised to “Axle of the shooting brake”.');
    expect(values.problems[0]!.otherJob).toMatchObject({ id: job.id, code: job.code });
  });

  it('takes never more for a line than it needs less what is fitted, re-used and claimed, here and on order', async () => {
    const partId = await stock.part();
    const job = await stock.job([{ partId, quantity: '6', reusable: true }]);
    const lot = await stock.lot(partId, { quantity: '20' });
    const order = await ordered(partId, '5');
    await owner.post(`/api/jobs/${job.id}/lines/${job.lineIds[0]}/findings`, {
      quantityReused: '1',
      quantityReplaced: '5',
      words: '',
    });
    await owner.post('/api/fits', { code: lot.code, jobId: job.id, quantity: '1' });
    await owner.post('/api/picks', { code: lot.code, jobId: job.id, quantity: '1' });
    await reserve(job, [ofOrder(job, order, '1')]);
    expect((await refused(job, [of(job, lot, '3')], 'line-is-full')).detail).toContain('It still takes 2, and 3 were asked for.');
    await reserve(job, [of(job, lot, '1'), ofOrder(job, order, '1')]);
    expect((await refused(job, [of(job, lot)], 'line-is-full')).detail).toContain('It has all that it needs');
  });

  it.each([
    ['condemned', 'UPDATE things SET condemned = true WHERE id = $1', 'condemned'],
    ['held back', "UPDATE things SET held_back_reason = 'crack detection' WHERE id = $1", 'held-back'],
    ['missing', 'UPDATE things SET missing_since = now() WHERE id = $1', 'none-left'],
  ])('what is %s is refused', async (_, change, code) => {
    const { job, lot } = await lotAndJob();
    await stock.query(change, [lot.id]);
    expect((await refused(job, [of(job, lot)], code)).detail).toContain(`Line 1, Oil thrower: ${said(lot)}`);
  });

  it('what no scan would take is refused: of another customer, past its life, not accepted, unnamed, not of the line, counted otherwise', async () => {
    const { job, partId } = await lotAndJob();
    await refused(job, [of(job, await stock.lot(partId, { ownerId: await stock.customer() }))], 'goods-of-another-customer');
    await refused(job, [of(job, await stock.lot(null))], 'unnamed');
    await refused(job, [of(job, await stock.lot(await stock.part()))], 'not-on-this-job');
    const metres = await stock.part({ name: 'Felt strip', unit: 'mm' });
    const { detail } = await refused(job, [of(job, await stock.lot(metres, { quantity: '400' }))], 'counted-otherwise');
    expect(detail).toContain('is counted in mm, and the line in each');
    const rubber = await stock.part({ material: 'rubber', polymer: 'NBR' });
    const strict = await stock.job([{ partId: rubber }, { partId, makes: ['genuine'] }, { partId: metres, quantity: '400' }]);
    const old = { packetRead: '1961', packetEarliest: '1961-01-01', packetLatest: '1961-12-31' };
    await refused(strict, [of(strict, await stock.lot(rubber, old))], 'past-storage-life');
    await refused(strict, [of(strict, await stock.lot(partId, { make: 'pattern' }), '1', 1)], 'not-accepted-by-line');
    expect(
      (await refused(strict, [of(strict, await stock.lot(partId, { quantity: '5' }), '1.5', 1)], 'bad-quantity')).detail,
    ).toContain('Each comes whole');
    await refused(strict, [{ ...of(strict, await stock.lot(rubber)), lineId: job.lineIds[0]! }], 'not-on-this-job');
  });

  it('a waived line, a closed job, a job and a thing that are not there', async () => {
    const { job, lot } = await lotAndJob();
    await owner.post(`/api/jobs/${job.id}/lines/${job.lineIds[0]}/waive`, { reason: 'left off' });
    await refused(job, [of(job, lot)], 'line-is-waived');
    const done = await stock.job([{ partId: await stock.part() }], { state: 'done' });
    await refused(done, [of(done, lot)], 'job-closed');
    expect(await send({ id: newId(), code: '' }, [of(job, lot)])).toMatchObject({ status: 404 });
    await refused(await stock.job([]), [{ lineId: null, thingId: newId(), quantity: '1' }], 'not-found');
  });

  it('a unit is reserved whole, for the job and no line, and once', async () => {
    const core = await stock.unit();
    const { job } = await lotAndJob();
    await refused(job, [of(job, core)], 'cannot-be-fitted');
    await reserve(job, [{ lineId: null, thingId: core.id, quantity: '1' }]);
    expect(await listed(job)).toMatchObject([{ line: null, thing: { id: core.id }, quantity: '1' }]);
    const other = await stock.job([]);
    await refused(other, [{ lineId: null, thingId: core.id, quantity: '1' }], 'claimed-for-another-job');
    await refused(other, [{ lineId: null, thingId: other.unit.id, quantity: '1' }], 'cannot-be-fitted');
  });

  it('a lot is split by two people at the same moment, and never promised twice', async () => {
    const partId = await stock.part();
    const lot = await stock.lot(partId, { quantity: '5' });
    const jobs = await Promise.all([1, 2, 3].map(() => stock.job([{ partId, quantity: '2' }])));
    const answers = await Promise.all(jobs.map((job) => send(job, [of(job, lot, '2')])));
    expect(answers.map(({ status }) => status).sort()).toEqual([200, 200, 409]);
    expect(await countersOf(lot)).toMatchObject({ held: '5', claimed: '4' });
  });

  it('an estimate’s has an end, 14 days ahead where nobody gives one; a day that is past is refused', async () => {
    const { partId, lot } = await lotAndJob();
    const estimate = await stock.job([{ partId, quantity: '4' }], { state: 'estimate' });
    const answer = await reserve(estimate, [of(estimate, lot)]);
    expect(answer.until).toBe(addDays(today(), 14));
    expect(answer.words).toContain('14 days ahead where nobody gives one');
    const later = addDays(today(), 40);
    expect((await reserve(estimate, [of(estimate, lot)], later)).until).toBe(later);
    // two on the same line and lot are one: the longer holds
    expect(await listed(estimate)).toMatchObject([{ quantity: '2', until: later }]);
    expect(await send(estimate, [of(estimate, lot)], addDays(today(), -3))).toMatchObject({
      status: 422,
      body: { code: 'bad-input' },
    });
    await close(estimate, 'parts wanted');
    expect(await listed(estimate)).toMatchObject([{ quantity: '2', until: null }]);
    expect(await recordOf(estimate)).toContainEqual(expect.stringContaining('holds for good'));
  });
});

describe('a part in place of another', () => {
  async function related(kind: string) {
    const [wanted, other] = [await stock.part({ name: 'Cone' }), await stock.part({ name: 'Cone of another maker' })];
    const body = { kind, toPartIds: [wanted], evidence: { kind: 'measured', words: 'with the micrometer' } };
    const made = await owner.post<{ relations: { id: string }[] }>(`/api/parts/${other}/relations`, body);
    const job = await stock.job([{ partId: wanted }]);
    return { job, lot: await stock.lot(other), relationId: made.body.relations[0]!.id };
  }

  it('that is the same is reserved; when the relation is withdrawn the reservation stays, and says so', async () => {
    const { job, lot, relationId } = await related('same as');
    await reserve(job, [of(job, lot)]);
    expect((await listed(job))[0]!.doubt).toBe('');
    await owner.post(`/api/relations/${relationId}/withdrawal`, { why: 'the width was read wrong' });
    expect((await listed(job))[0]!).toMatchObject({ quantity: '1', doubt: expect.stringContaining('was withdrawn since') });
    const other = await stock.job([
      { partId: (await stock.query<{ id: string }>('SELECT part_id AS id FROM job_lines WHERE job_id = $1', [job.id]))[0]!.id },
    ]);
    await refused(other, [of(other, lot)], 'not-on-this-job');
  });

  it('that will serve under conditions needs somebody’s word first', async () => {
    const { job, lot } = await related('will serve for');
    await refused(job, [of(job, lot)], 'not-accepted-yet');
  });
});

describe('a kept set', () => {
  async function pair() {
    const parts = [await stock.part({ name: 'Crown wheel' }), await stock.part({ name: 'Pinion' })] as const;
    const [wheel, pinion] = [await stock.lot(parts[0]), await stock.lot(parts[1])] as const;
    const members = [wheel, pinion].map(({ code }) => ({ code, stamped: '1342' }));
    expect((await owner.post('/api/kept-sets', { id: newId(), words: 'wheel and pinion', members })).status).toBe(200);
    const job = () => stock.job([{ partId: parts[0] }, { partId: parts[1] }]);
    return { wheel, pinion, one: await job(), other: await job() };
  }

  it('is reserved for one job only', async () => {
    const { wheel, pinion, one, other } = await pair();
    await reserve(one, [of(one, wheel)]);
    await refused(other, [of(other, pinion, '1', 1)], 'kept-set-elsewhere');
  });

  it('is taken whole, or not at all while a part of it lies in the tray', async () => {
    const { wheel, pinion, one, other } = await pair();
    await reserve(one, [of(one, wheel), of(one, pinion, '1', 1)]);
    const body = {
      thingId: wheel.id,
      fromJobId: one.id,
      toJobId: other.id,
      lineId: other.lineIds[0],
      quantity: '1',
      reason: 'sooner',
    };
    await owner.post('/api/picks', { code: pinion.code, jobId: one.id });
    expect(await owner.post('/api/reservations/take', body)).toMatchObject({ status: 409, body: { code: 'kept-set-elsewhere' } });
    const [act] = (await owner.get<{ acts: { id: string }[] }>(`/api/jobs/${one.id}/acts`)).body.acts;
    await owner.post(`/api/acts/${act!.id}/take-back`, {});
    const taken = await owner.post<Taken>('/api/reservations/take', body);
    expect(taken).toMatchObject({ status: 200, body: { quantity: '1' } });
    expect(taken.body.words).toContain('and what belongs to the same set');
    expect(await listed(one)).toEqual([]);
    expect((await listed(other)).map(({ line }) => line?.lineNo)).toEqual([1, 2]);
  });
});

describe('releasing', () => {
  it('gives up all or so many, with a reason on the record; then it is free for another', async () => {
    const { job, lot } = await lotAndJob();
    await reserve(job, [of(job, lot, '4')]);
    const claimId = await claimOf(job);
    const release = (more: Record<string, unknown> = {}) =>
      owner.post<Problem>('/api/reservations/release', { claimId, ...more });
    expect(await release({ quantity: '5' })).toMatchObject({ status: 422 });
    expect(await release({ quantity: '1', reason: 'one was found at the customer’s' })).toMatchObject({
      status: 200,
      body: { quantity: '1' },
    });
    expect(await release()).toMatchObject({ status: 200, body: { quantity: '3' } });
    expect(await release()).toMatchObject({ status: 409, body: { code: 'not-reserved' } });
    expect(await countersOf(lot)).toMatchObject({ claimed: '0' });
    expect(await recordOf(job)).toContainEqual(expect.stringContaining('one was found at the customer’s'));
    expect(await owner.post('/api/reservations/release', { claimId: newId() })).toMatchObject({ status: 404 });
  });

  it('leaves what lies in the tray to the bench', async () => {
    const { job, lot } = await lotAndJob();
    await reserve(job, [of(job, lot, '4')]);
    await owner.post('/api/picks', { code: lot.code, jobId: job.id, quantity: '3' });
    expect(await listed(job)).toMatchObject([{ quantity: '4', inTray: '3' }]);
    const claimId = await claimOf(job);
    expect(await owner.post('/api/reservations/release', { claimId })).toMatchObject({ status: 200, body: { quantity: '1' } });
    const { status, body } = await owner.post<Problem>('/api/reservations/release', { claimId });
    expect({ status, code: body.code }).toEqual({ status: 409, code: 'in-the-tray' });
    expect(body.detail).toContain('Put it back at the bench');
  });
});

describe('a line that needs fewer', () => {
  it('gives back what it has reserved too many, what is on order first', async () => {
    const partId = await stock.part();
    const job = await stock.job([{ partId, quantity: '4', reusable: true }]);
    const lot = await stock.lot(partId, { quantity: '3' });
    const order = await ordered(partId, '1');
    await reserve(job, [of(job, lot, '3'), ofOrder(job, order)]);
    const path = `/api/jobs/${job.id}/lines/${job.lineIds[0]}`;
    await owner.post(`${path}/findings`, { quantityReused: '2', quantityReplaced: '2', words: '' });
    expect(await listed(job)).toMatchObject([{ quantity: '2', receipt: null }]);
    await owner.post(`${path}/waive`, { reason: 'the customer keeps his own' });
    expect(await listed(job)).toEqual([]);
    expect(await recordOf(job)).toContainEqual(
      expect.stringContaining('The job does without the line: the customer keeps his own'),
    );
  });
});

describe('taking from another job', () => {
  it('needs a reason, is told to both and stands on the record of both', async () => {
    const { job: from, lot, partId } = await lotAndJob();
    const to = await stock.job([{ partId, quantity: '3' }]);
    await titled(from, 'The slow one');
    await titled(to, 'The urgent one');
    await reserve(from, [of(from, lot, '4')]);
    const body = { thingId: lot.id, fromJobId: from.id, toJobId: to.id, lineId: to.lineIds[0], quantity: '2' };
    expect(await owner.post('/api/reservations/take', { ...body, reason: ' ' })).toMatchObject({ status: 422 });
    const news = await listenTo(server.url, owner);
    expect(await owner.post('/api/reservations/take', { ...body, reason: 'promised for Friday' })).toMatchObject({
      status: 200,
      body: { quantity: '2', until: null },
    });
    await news.until((topics) => topics.includes(`job:${from.id}`) && topics.includes(`job:${to.id}`));
    news.stop();
    expect(await recordOf(from)).toContainEqual(`2 of ${said(lot)} was taken for “The urgent one”, line 1: promised for Friday`);
    expect(await recordOf(to)).toContainEqual(`took 2 of ${said(lot)} from “The slow one”, line 1: promised for Friday`);
    expect(await listed(to)).toMatchObject([{ quantity: '2' }]);
    expect(await owner.post('/api/reservations/take', { ...body, reason: 'more' })).toMatchObject({
      status: 409,
      body: { code: 'line-is-full' },
    });
    expect(await owner.post('/api/reservations/take', { ...body, toJobId: from.id, reason: 'more' })).toMatchObject({
      status: 422,
    });
  });

  it('takes no more than lies outside its tray', async () => {
    const { job: from, lot, partId } = await lotAndJob();
    const to = await stock.job([{ partId, quantity: '4' }]);
    await reserve(from, [of(from, lot, '4')]);
    await owner.post('/api/picks', { code: lot.code, jobId: from.id, quantity: '3' });
    const body = { thingId: lot.id, fromJobId: from.id, toJobId: to.id, lineId: to.lineIds[0], reason: 'sooner' };
    const { status, body: problem } = await owner.post<Problem>('/api/reservations/take', { ...body, quantity: '2' });
    expect({ status, code: problem.code }).toEqual({ status: 409, code: 'not-enough' });
    expect(problem.detail).toContain('has reserved 1 of it that may be taken, and 2 were asked for');
    expect((await owner.post('/api/reservations/take', { ...body, quantity: '1' })).status).toBe(200);
  });

  it('two jobs that want what the other has are both answered', async () => {
    const partId = await stock.part();
    const lots = [await stock.lot(partId), await stock.lot(partId)];
    const jobs = [await stock.job([{ partId, quantity: '2' }]), await stock.job([{ partId, quantity: '2' }])];
    for (let round = 0; round < 8; round += 1) {
      const other = (index: number) => (index + 1) % 2;
      for (const index of [0, 1]) await stock.query('UPDATE claims SET quantity = 0 WHERE thing_id = $1', [lots[index]!.id]);
      for (const index of [0, 1]) await reserve(jobs[index]!, [of(jobs[index]!, lots[index]!)]);
      const answers = await Promise.all(
        [0, 1].map((index) =>
          owner.post('/api/reservations/take', {
            thingId: lots[other(index)]!.id,
            fromJobId: jobs[other(index)]!.id,
            toJobId: jobs[index]!.id,
            lineId: jobs[index]!.lineIds[0],
            quantity: '1',
            reason: 'it fits better',
          }),
        ),
      );
      expect(answers.map(({ status }) => status)).toEqual([200, 200]);
    }
  });

  it('is for those who keep the books; reserving is for all hands', async () => {
    const bench = await addPerson(server, owner, 'bench', 'tom', 'Tom Hasleby');
    const viewer = await addPerson(server, owner, 'viewer', 'ida', 'Ida Quint');
    const { job, lot } = await lotAndJob();
    const body = { until: null, lines: [of(job, lot)] };
    expect((await viewer.post(`/api/jobs/${job.id}/reservations`, body)).status).toBe(403);
    expect((await bench.post(`/api/jobs/${job.id}/reservations`, body)).status).toBe(200);
    expect((await viewer.get(`/api/jobs/${job.id}/reservations`)).status).toBe(200);
    const taking = { thingId: lot.id, fromJobId: job.id, toJobId: newId(), lineId: newId(), quantity: '1', reason: 'x' };
    expect((await bench.post('/api/reservations/take', taking)).status).toBe(403);
  });
});

describe('what is at an outworker', () => {
  async function sentOut() {
    const { partId, lot, job } = await lotAndJob('3');
    const firm = { id: newId(), name: `Strake Grinding ${newId()}`, isCustomer: false, isSupplier: false, isOutworker: true };
    await owner.post('/api/firms', firm);
    await stock.query("INSERT INTO holders (id, kind) VALUES ($1, 'outworker')", [firm.id]);
    const send = (from: string, to: string, quantity: string) =>
      stock.query(
        `INSERT INTO movements (id, command_key, thing_id, quantity, from_holder_id, to_holder_id, reason, occurred_at)
         VALUES ($1, (SELECT key FROM commands LIMIT 1), $2, $3, $4, $5, 'sent out', now())`,
        [newId(), lot.id, quantity, from, to],
      );
    return { partId, lot, job, firm, send };
  }

  it('can be reserved, and a claim stays when a thing goes there', async () => {
    const { lot, job, firm, send, partId } = await sentOut();
    await reserve(job, [of(job, lot, '1')]);
    await send(stock.placeId, firm.id, '3');
    expect(await countersOf(lot)).toEqual({ held: '0', awaited: '3', claimed: '1' });
    await reserve(job, [of(job, lot, '2')]);
    expect((await listed(job))[0]!.where).toBe(firm.name);
    expect((await owner.get(`/api/jobs/${job.id}`)).status).toBe(200);
    const other = await stock.job([{ partId }]);
    await refused(other, [of(other, lot)], 'claimed-for-another-job');
    await send(firm.id, stock.placeId, '3');
    expect(await countersOf(lot)).toEqual({ held: '3', awaited: '0', claimed: '3' });
    await expect(send(stock.placeId, '00000000-0000-7000-8000-0000000005c4', '1')).rejects.toMatchObject({
      constraint: 'claims_within_held',
    });
  });
});

describe('what is on order', () => {
  it('is reserved, and goes on to what comes, the oldest first, never more for a line than it lacks', async () => {
    const { partId, job: first } = await lotAndJob('0', '3');
    const second = await stock.job([{ partId, quantity: '3' }]);
    const order = await ordered(partId, '5');
    await reserve(first, [ofOrder(first, order, '3')]);
    expect((await refused(second, [ofOrder(second, order, '3')], 'claimed-for-another-job')).detail).toContain(
      '2 of what is to come of order',
    );
    await reserve(second, [ofOrder(second, order, '2')], addDays(today(), 60));
    expect(await listed(second)).toMatchObject([
      { claimId: null, receipt: { id: order, dueOn: '2031-03-01', confirmed: true }, where: 'on order', quantity: '2' },
    ]);
    // one was found elsewhere meanwhile
    await owner.post('/api/fits', { code: (await stock.lot(partId)).code, jobId: first.id });
    const came = await arrive(order, '4');
    expect(came.status).toBe(200);
    expect(await listed(first)).toMatchObject([
      { thing: { id: came.body.lot.id }, quantity: '2', expectedClaimId: null, until: null },
    ]);
    expect(await listed(second)).toMatchObject([{ thing: { id: came.body.lot.id }, quantity: '2', until: addDays(today(), 60) }]);
    expect(await countersOf(came.body.lot)).toMatchObject({ held: '4', claimed: '4' });
    expect(await recordOf(first)).toEqual(
      expect.arrayContaining([expect.stringContaining('needs no more of order'), expect.stringContaining('which came in')]),
    );
  });

  it('comes before what was ordered for a job as such', async () => {
    const { partId, job } = await lotAndJob('0', '2');
    const order = await ordered(partId, '4', job.id);
    const other = await stock.job([{ partId }]);
    await refused(other, [ofOrder(other, order)], 'claimed-for-another-job');
    await reserve(job, [ofOrder(job, order, '1')]);
    const came = await arrive(order, '4');
    expect(await listed(job)).toMatchObject([{ thing: { id: came.body.lot.id }, quantity: '2' }]);
  });

  it('what comes and may not serve leaves the reservation to the rest, as far as that goes', async () => {
    const partId = await stock.part();
    const job = await stock.job([{ partId, quantity: '4', makes: ['genuine'] }]);
    const order = await ordered(partId, '4');
    await reserve(job, [ofOrder(job, order, '4')]);
    const came = await arrive(order, '1', { make: 'pattern' });
    expect(await countersOf(came.body.lot)).toMatchObject({ claimed: '0' });
    expect(await listed(job)).toMatchObject([{ quantity: '3', receipt: { id: order } }]);
    expect(await recordOf(job)).toContainEqual(expect.stringContaining('not all that came serves the line'));
  });

  it('that is called off or lowered ends what no longer fits, the latest first, and tells the jobs', async () => {
    const { partId, job: first } = await lotAndJob('0', '3');
    const second = await stock.job([{ partId, quantity: '3' }]);
    const order = await ordered(partId, '6');
    await reserve(first, [ofOrder(first, order, '3')]);
    await reserve(second, [ofOrder(second, order, '3')]);
    expect((await editOrder(order, { quantity: '4' })).status).toBe(200);
    expect([await listed(first), await listed(second)]).toMatchObject([[{ quantity: '3' }], [{ quantity: '1' }]]);
    expect(await recordOf(second)).toContainEqual(expect.stringContaining('are still expected on order'));
    const news = await listenTo(server.url, owner);
    expect((await editOrder(order, { quantity: '4', calledOff: true })).status).toBe(200);
    await news.until((topics) => topics.includes(`job:${first.id}`) && topics.includes(`job:${second.id}`));
    news.stop();
    expect([await listed(first), await listed(second)]).toEqual([[], []]);
    expect(await recordOf(first)).toContainEqual(expect.stringContaining('was called off'));
    expect(await send(first, [ofOrder(first, order)])).toMatchObject({ status: 409, body: { code: 'called-off' } });
    await arrive(await ordered(partId, '2'), '2');
    expect((await editOrder(order, { quantity: '0' })).status).toBe(422);
  });

  it('is taken and released as a thing is', async () => {
    const { partId, job: from } = await lotAndJob('0', '3');
    const to = await stock.job([{ partId, quantity: '2' }], { state: 'estimate' });
    const order = await ordered(partId, '3');
    await reserve(from, [ofOrder(from, order, '3')]);
    const body = { receiptId: order, fromJobId: from.id, toJobId: to.id, lineId: to.lineIds[0], quantity: '2', reason: 'sooner' };
    expect(await owner.post('/api/reservations/take', body)).toMatchObject({
      status: 200,
      body: { until: addDays(today(), 14) },
    });
    const [left] = await listed(from);
    expect(left!.quantity).toBe('1');
    expect((await owner.post('/api/reservations/release', { expectedClaimId: left!.expectedClaimId })).status).toBe(200);
    expect(await listed(from)).toEqual([]);
    expect(await listed(to)).toMatchObject([{ quantity: '2' }]);
  });

  it('the database itself refuses more than is to come', async () => {
    const { partId, job } = await lotAndJob();
    const order = await ordered(partId, '2');
    const claim = 'INSERT INTO expected_claims (id, receipt_id, claimant_id, purpose_id, quantity) VALUES ($1, $2, $3, $4, 3)';
    await expect(stock.query(claim, [newId(), order, job.id, job.lineIds[0]])).rejects.toMatchObject({
      constraint: 'claims_within_expected',
    });
  });
});

describe('the end of a reservation', () => {
  const endBefore = (day: string) => server.app.get(ExpireReservations).endBefore(day);

  it('comes when its day has passed, but not for what lies in the tray', async () => {
    const { job, lot, partId } = await lotAndJob();
    const order = await ordered(partId, '9');
    await reserve(job, [of(job, lot, '2')], today());
    await owner.post('/api/picks', { code: lot.code, jobId: job.id, quantity: '1' });
    const quote = await stock.job([{ partId, quantity: '5' }], { state: 'estimate' });
    await reserve(quote, [of(quote, lot, '1'), ofOrder(quote, order, '2')], today());
    const firm = await stock.job([{ partId }]);
    await reserve(firm, [of(firm, lot)]);
    expect(await endBefore(today())).toBe(0);
    const news = await listenTo(server.url, owner);
    expect(await endBefore(addDays(today(), 1))).toBe(3);
    await news.until((topics) => topics.includes(`job:${job.id}`) && topics.includes(`job:${quote.id}`));
    news.stop();
    expect(await listed(job)).toMatchObject([{ quantity: '1', inTray: '1' }]);
    expect(await listed(quote)).toEqual([]);
    expect(await listed(firm)).toMatchObject([{ quantity: '1' }]);
    expect(await recordOf(quote)).toContainEqual(expect.stringContaining('came to its end'));
    expect(await endBefore(addDays(today(), 1))).toBe(0);
  });

  it.each(['done', 'called off'])(
    'comes when the job is %s: what it has not touched goes back, what lies in its tray stays',
    async (state) => {
      const { job, lot, partId } = await lotAndJob();
      const order = await ordered(partId, '2');
      await reserve(job, [of(job, lot, '2'), ofOrder(job, order, '2')]);
      await owner.post('/api/picks', { code: lot.code, jobId: job.id, quantity: '1' });
      expect((await close(job, state)).status).toBe(200);
      expect(await listed(job)).toMatchObject([{ quantity: '1', inTray: '1', thing: { id: lot.id } }]);
      expect(await recordOf(job)).toContainEqual(expect.stringContaining(`The job is ${state}.`));
    },
  );
});

describe('at the bench', () => {
  const pick = (job: Made, thing: Made, more: Record<string, unknown> = {}) =>
    owner.post<Problem & { notice: string | null; quantity: string; line: { lineNo: number; picked: string } }>('/api/picks', {
      code: thing.code,
      jobId: job.id,
      ...more,
    });

  it('what is reserved is picked and fitted out of its reservation, and reserved again when that is taken back', async () => {
    const { job, lot, partId } = await lotAndJob('6', '4');
    const other = await stock.job([{ partId, quantity: '9' }]);
    await reserve(job, [of(job, lot, '4')]);
    expect(await pick(job, lot, { quantity: '3' })).toMatchObject({
      status: 200,
      body: { quantity: '3', line: { picked: '3' } },
    });
    expect(await countersOf(lot)).toMatchObject({ claimed: '4' });
    const [act] = (await owner.get<{ acts: { id: string }[] }>(`/api/jobs/${job.id}/acts`)).body.acts;
    await owner.post(`/api/acts/${act!.id}/take-back`, {});
    expect(await listed(job)).toMatchObject([{ quantity: '4', inTray: '0' }]);
    expect((await refused(other, [of(other, lot, '3')], 'claimed-for-another-job')).detail).toContain('2 of L');
    const fit = await owner.post<{ actId: string }>('/api/fits', { code: lot.code, jobId: job.id, quantity: '1' });
    expect(await countersOf(lot)).toEqual({ held: '5', awaited: '0', claimed: '3' });
    await owner.post(`/api/acts/${fit.body.actId}/take-back`, {});
    expect(await countersOf(lot)).toEqual({ held: '6', awaited: '0', claimed: '4' });
  });

  it('a line with a reservation of the bag in hand comes before others', async () => {
    const partId = await stock.part();
    const job = await stock.job([
      { partId, quantity: '2', critical: true },
      { partId, quantity: '2' },
    ]);
    const lot = await stock.lot(partId, { quantity: '9' });
    await reserve(job, [of(job, lot, '2', 1)]);
    expect(await pick(job, lot)).toMatchObject({ status: 200, body: { quantity: '2', line: { lineNo: 2 } } });
    expect(await pick(job, lot)).toMatchObject({ status: 200, body: { quantity: '2', line: { lineNo: 1 } } });
    expect(await countersOf(lot)).toMatchObject({ claimed: '4' });
    expect(await pick(job, lot)).toMatchObject({ status: 409, body: { code: 'line-is-full' } });
  });

  it.each(['lower', 'higher'])(
    'the bag in hand is promised and an equal one of a %s id is free: the claim moves, and both are told',
    async (side) => {
      const partId = await stock.part();
      const [first, second] = [await stock.lot(partId), await stock.lot(partId)];
      const [inHand, equal] = side === 'higher' ? [first, second] : [second, first];
      const [one, other] = [await stock.job([{ partId }]), await stock.job([{ partId }])];
      await titled(one, 'The first');
      await titled(other, 'The second');
      await reserve(one, [of(one, inHand)], addDays(today(), 9));
      const answer = await pick(other, inHand);
      expect(answer).toMatchObject({ status: 200, body: { quantity: '1' } });
      expect(answer.body.notice).toBe(
        `${said(inHand)} was promised to “The first”: its claim has moved to ${said(equal)}, which is the same.`,
      );
      expect(await listed(one)).toMatchObject([
        { thing: { id: equal.id }, quantity: '1', until: addDays(today(), 9), by: 'Edie Marrack' },
      ]);
      expect(await recordOf(one)).toContainEqual(
        `the reservation of ${said(inHand)} has moved to 1 of ${said(equal)}, which is the same: the first was scanned for “The second”, line 1`,
      );
    },
  );

  it.each([
    ['of another make', { make: 'pattern' }],
    ['of another source', { source: 'old stock' }],
    ['in another condition', { condition: 'shelf-worn' }],
    ['used up', { quantity: '0' }],
  ])('an equal bag that is %s is none: the scan is stopped as before', async (_, facts) => {
    const partId = await stock.part();
    const inHand = await stock.lot(partId);
    await stock.lot(partId, facts);
    const [one, other] = [await stock.job([{ partId }]), await stock.job([{ partId }])];
    await reserve(one, [of(one, inHand)]);
    expect(await pick(other, inHand)).toMatchObject({ status: 409, body: { code: 'claimed-for-another-job' } });
    expect(await listed(one)).toMatchObject([{ thing: { id: inHand.id } }]);
  });

  it('nor is one held back, of an older packet where age counts, or in a set; and what lies in a tray does not move', async () => {
    const rubber = await stock.part({ material: 'rubber', polymer: 'FKM' });
    const year = (of: number) => ({
      packetRead: `${of}`,
      packetEarliest: `${of}-01-01`,
      packetLatest: `${of}-12-31`,
      packetCondition: 'sealed',
    });
    const now = new Date().getUTCFullYear();
    const inHand = await stock.lot(rubber, year(now - 1));
    const older = await stock.lot(rubber, year(now - 3));
    const [one, other] = [await stock.job([{ partId: rubber }]), await stock.job([{ partId: rubber }])];
    await reserve(one, [of(one, inHand)]);
    expect(await pick(other, inHand)).toMatchObject({ status: 409, body: { code: 'claimed-for-another-job' } });
    const held = await stock.lot(rubber, year(now - 1));
    await owner.post(`/api/things/${held.id}/hold`, { reason: 'to be looked at' });
    expect(await pick(other, inHand)).toMatchObject({ status: 409 });
    await owner.post(`/api/things/${held.id}/hold-lift`, { reason: 'good' });
    expect(await pick(other, inHand)).toMatchObject({ status: 200 });
    expect(await countersOf(older)).toMatchObject({ claimed: '0' });
    const { partId, job, lot } = await lotAndJob('1', '1');
    await stock.lot(partId);
    await pick(job, lot);
    const third = await stock.job([{ partId }]);
    expect((await pick(third, lot)).status).toBe(409);
    expect(await listed(job)).toMatchObject([{ thing: { id: lot.id }, inTray: '1' }]);
  });

  it('another bag than was reserved may be picked or fitted: what the line then has too many is free again', async () => {
    const partId = await stock.part();
    const [reserved, inHand] = [await stock.lot(partId, { quantity: '2' }), await stock.lot(partId, { quantity: '9' })];
    const job = await stock.job([{ partId, quantity: '2' }]);
    await reserve(job, [of(job, reserved, '2')]);
    const answer = await pick(job, inHand, { quantity: '1' });
    expect(answer).toMatchObject({ status: 200, body: { quantity: '1' } });
    expect(answer.body.notice).toBe(`1 of ${said(reserved)}, reserved for line 1, is free again.`);
    expect(await countersOf(reserved)).toMatchObject({ claimed: '1' });
    await owner.post('/api/fits', { code: inHand.code, jobId: job.id, quantity: '2' });
    expect(await countersOf(reserved)).toMatchObject({ claimed: '0' });
    expect(await recordOf(job)).toContainEqual(expect.stringContaining(`${said(inHand)} was scanned for the line in its stead.`));
  });

  it('what was keyed goes whole or not at all', async () => {
    const partId = await stock.part();
    const [inHand, equal] = [await stock.lot(partId, { quantity: '4' }), await stock.lot(partId, { quantity: '2' })];
    const [one, other] = [await stock.job([{ partId, quantity: '3' }]), await stock.job([{ partId, quantity: '9' }])];
    await reserve(one, [of(one, inHand, '3')]);
    expect(await pick(other, inHand, { quantity: '4' })).toMatchObject({
      status: 409,
      body: { code: 'claimed-for-another-job' },
    });
    expect(await countersOf(equal)).toMatchObject({ claimed: '0' });
    const answer = await pick(other, inHand, { quantity: '3' });
    expect(answer).toMatchObject({ status: 200, body: { quantity: '3' } });
    expect(answer.body.notice).toMatch(/^2 of L .* were promised to/);
    expect(await countersOf(equal)).toMatchObject({ claimed: '2' });
  });

  it('many who scan one another’s bags at once are all answered', async () => {
    const partId = await stock.part();
    const lots: Made[] = [];
    for (let index = 0; index < 6; index += 1) lots.push(await stock.lot(partId, { quantity: '2' }));
    const jobs = await Promise.all(lots.map(() => stock.job([{ partId, quantity: '2' }])));
    await Promise.all(jobs.map((job, index) => reserve(job, [of(job, lots[index]!)])));
    const answers = await Promise.all(
      jobs.flatMap((job, index) => [1, 2, 3].map((step) => pick(job, lots[(index + step) % lots.length]!, { quantity: '2' }))),
    );
    expect(answers.filter(({ status }) => status !== 200 && status !== 409)).toEqual([]);
    expect(await verifyBooks(server.database)).toEqual([]);
  });
});
