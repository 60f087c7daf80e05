import { jest } from '@jest/globals';
import { newId } from '../../apps/api/src/platform/new-id.js';
import { verifyBooks } from '../../apps/api/src/stores/verify/verify-books.js';
import type { Taken } from '../../libs/contracts/src/reservations.js';
import { addDays } from '../../libs/quantities/src/plain-date.js';
import { addPerson, type BareServer, startBareServer, type Visitor } from '../support/bare-server.js';
import { listenTo } from '../support/news.js';
import { of, ofOrder, type Problem, ReservationDesk, said } from '../support/reservation-desk.js';
import { Stock } from '../support/stock.js';
import { today } from '../support/write-making.js';

jest.setTimeout(60_000);

let server: BareServer;
let owner: Visitor;
let stock: Stock;
let desk: ReservationDesk;

beforeAll(async () => {
  server = await startBareServer('reservations');
  owner = await server.setUp();
  stock = await Stock.open(server.testDatabase.ownerUrl);
  desk = new ReservationDesk(owner, stock);
});
afterAll(async () => {
  expect(await verifyBooks(server.database)).toEqual([]);
  await stock.close();
  await server.stop();
});

describe('reserving', () => {
  it('claims for a line, is listed with who, since and until, and stands on the record', async () => {
    const { job, lot } = await desk.lotAndJob();
    const until = addDays(today(), 30);
    const answer = await desk.reserve(job, [of(job, lot, '3')], until);
    expect(answer).toMatchObject({
      jobId: job.id,
      until,
      lines: [{ lineId: job.lineIds[0], lineNo: 1, thingId: lot.id, quantity: '3' }],
    });
    expect(await desk.listed(job)).toMatchObject([
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
    expect((await desk.listed(job))[0]!.where).toMatch(/^Bin /);
    expect(await desk.recordOf(job)).toEqual([
      expect.stringMatching(new RegExp(`^reserved 3 of ${said(lot)} until .*, line 1$`)),
    ]);
  });

  it('of a whole job is all or nothing, and each line is named with what is wrong', async () => {
    const [one, two] = [await stock.part({ name: 'Cone' }), await stock.part({ name: 'Cup' })];
    const job = await stock.job([{ partId: one, quantity: '2' }, { partId: two }, { partId: two }]);
    const [cones, cups] = [await stock.lot(one, { quantity: '2' }), await stock.lot(two, { quantity: '1' })];
    const both = [of(job, cones, '2', 0), of(job, cups, '1', 1), of(job, cups, '1', 2), of(job, cones, '1', 2)];
    const problem = await desk.refused(job, both, 'none-left');
    expect(problem.values.problems.map(({ lineNo, code }) => [lineNo, code])).toEqual([
      [3, 'none-left'],
      [3, 'not-on-this-job'],
    ]);
    expect(problem.detail).toMatch(/^Line 3, Cup: 0 of L .* are free, and 1 were asked for\. .*Nothing was reserved\.$/);
    expect((await desk.reserve(job, both.slice(0, 2))).words).toBe('Reserved for 2 lines.');
  });

  it('says who has what is claimed meanwhile', async () => {
    const { job, lot, partId } = await desk.lotAndJob('2');
    await desk.titled(job, 'Axle of the shooting brake');
    await desk.reserve(job, [of(job, lot, '2')]);
    const other = await stock.job([{ partId, quantity: '2' }]);
    const { detail, values } = await desk.refused(other, [of(other, lot)], 'claimed-for-another-job');
    expect(detail).toContain('It is promised to “Axle of the shooting brake”.');
    expect(values.problems[0]!.otherJob).toMatchObject({ id: job.id, code: job.code });
  });

  it('takes never more for a line than it needs less what is fitted, re-used and claimed, here and on order', async () => {
    const partId = await stock.part();
    const job = await stock.job([{ partId, quantity: '6', reusable: true }]);
    const lot = await stock.lot(partId, { quantity: '20' });
    const order = await desk.ordered(partId, '5');
    await owner.post(`/api/jobs/${job.id}/lines/${job.lineIds[0]}/findings`, {
      quantityReused: '1',
      quantityReplaced: '5',
      words: '',
    });
    await owner.post('/api/fits', { code: lot.code, jobId: job.id, quantity: '1' });
    await owner.post('/api/picks', { code: lot.code, jobId: job.id, quantity: '1' });
    await desk.reserve(job, [ofOrder(job, order, '1')]);
    expect((await desk.refused(job, [of(job, lot, '3')], 'line-is-full')).detail).toContain(
      'It still takes 2, and 3 were asked for.',
    );
    await desk.reserve(job, [of(job, lot, '1'), ofOrder(job, order, '1')]);
    expect((await desk.refused(job, [of(job, lot)], 'line-is-full')).detail).toContain('It has all that it needs');
  });

  it.each([
    ['condemned', 'UPDATE things SET condemned = true WHERE id = $1', 'condemned'],
    ['held back', "UPDATE things SET held_back_reason = 'crack detection' WHERE id = $1", 'held-back'],
    ['missing', 'UPDATE things SET missing_since = now() WHERE id = $1', 'none-left'],
  ])('what is %s is refused', async (_, change, code) => {
    const { job, lot } = await desk.lotAndJob();
    await stock.query(change, [lot.id]);
    expect((await desk.refused(job, [of(job, lot)], code)).detail).toContain(`Line 1, Oil thrower: ${said(lot)}`);
  });

  it('what no scan would take is refused: of another customer, past its life, not accepted, unnamed, not of the line, counted otherwise', async () => {
    const { job, partId } = await desk.lotAndJob();
    await desk.refused(job, [of(job, await stock.lot(partId, { ownerId: await stock.customer() }))], 'goods-of-another-customer');
    await desk.refused(job, [of(job, await stock.lot(null))], 'unnamed');
    await desk.refused(job, [of(job, await stock.lot(await stock.part()))], 'not-on-this-job');
    const metres = await stock.part({ name: 'Felt strip', unit: 'mm' });
    const { detail } = await desk.refused(job, [of(job, await stock.lot(metres, { quantity: '400' }))], 'counted-otherwise');
    expect(detail).toContain('is counted in mm, and the line in each');
    const rubber = await stock.part({ material: 'rubber', polymer: 'NBR' });
    const strict = await stock.job([{ partId: rubber }, { partId, makes: ['genuine'] }, { partId: metres, quantity: '400' }]);
    const old = { packetRead: '1961', packetEarliest: '1961-01-01', packetLatest: '1961-12-31' };
    await desk.refused(strict, [of(strict, await stock.lot(rubber, old))], 'past-storage-life');
    await desk.refused(strict, [of(strict, await stock.lot(partId, { make: 'pattern' }), '1', 1)], 'not-accepted-by-line');
    expect(
      (await desk.refused(strict, [of(strict, await stock.lot(partId, { quantity: '5' }), '1.5', 1)], 'bad-quantity')).detail,
    ).toContain('Each comes whole');
    await desk.refused(strict, [{ ...of(strict, await stock.lot(rubber)), lineId: job.lineIds[0]! }], 'not-on-this-job');
  });

  it('a waived line, a closed job, a job and a thing that are not there', async () => {
    const { job, lot } = await desk.lotAndJob();
    await owner.post(`/api/jobs/${job.id}/lines/${job.lineIds[0]}/waive`, { reason: 'left off' });
    await desk.refused(job, [of(job, lot)], 'line-is-waived');
    const done = await stock.job([{ partId: await stock.part() }], { state: 'done' });
    await desk.refused(done, [of(done, lot)], 'job-closed');
    expect(await desk.send({ id: newId(), code: '' }, [of(job, lot)])).toMatchObject({ status: 404 });
    await desk.refused(await stock.job([]), [{ lineId: null, thingId: newId(), quantity: '1' }], 'not-found');
  });

  it('a unit is reserved whole, for the job and no line, and once', async () => {
    const core = await stock.unit();
    const { job } = await desk.lotAndJob();
    await desk.refused(job, [of(job, core)], 'cannot-be-fitted');
    await desk.reserve(job, [{ lineId: null, thingId: core.id, quantity: '1' }]);
    expect(await desk.listed(job)).toMatchObject([{ line: null, thing: { id: core.id }, quantity: '1' }]);
    const other = await stock.job([]);
    await desk.refused(other, [{ lineId: null, thingId: core.id, quantity: '1' }], 'claimed-for-another-job');
    await desk.refused(other, [{ lineId: null, thingId: other.unit.id, quantity: '1' }], 'cannot-be-fitted');
  });

  it('a lot is split by two people at the same moment, and never promised twice', async () => {
    const partId = await stock.part();
    const lot = await stock.lot(partId, { quantity: '5' });
    const jobs = await Promise.all([1, 2, 3].map(() => stock.job([{ partId, quantity: '2' }])));
    const answers = await Promise.all(jobs.map((job) => desk.send(job, [of(job, lot, '2')])));
    expect(answers.map(({ status }) => status).sort()).toEqual([200, 200, 409]);
    expect(await desk.countersOf(lot)).toMatchObject({ held: '5', claimed: '4' });
  });

  it('an estimate’s has an end, 14 days ahead where nobody gives one; a day that is past is refused', async () => {
    const { partId, lot } = await desk.lotAndJob();
    const estimate = await stock.job([{ partId, quantity: '4' }], { state: 'estimate' });
    const answer = await desk.reserve(estimate, [of(estimate, lot)]);
    expect(answer.until).toBe(addDays(today(), 14));
    expect(answer.words).toContain('14 days ahead where nobody gives one');
    const later = addDays(today(), 40);
    expect((await desk.reserve(estimate, [of(estimate, lot)], later)).until).toBe(later);
    // two on the same line and lot are one: the longer holds
    expect(await desk.listed(estimate)).toMatchObject([{ quantity: '2', until: later }]);
    expect(await desk.send(estimate, [of(estimate, lot)], addDays(today(), -3))).toMatchObject({
      status: 422,
      body: { code: 'bad-input' },
    });
    await desk.close(estimate, 'parts wanted');
    expect(await desk.listed(estimate)).toMatchObject([{ quantity: '2', until: null }]);
    expect(await desk.recordOf(estimate)).toContainEqual(expect.stringContaining('holds for good'));
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
    await desk.reserve(job, [of(job, lot)]);
    expect((await desk.listed(job))[0]!.doubt).toBe('');
    await owner.post(`/api/relations/${relationId}/withdrawal`, { why: 'the width was read wrong' });
    expect((await desk.listed(job))[0]!).toMatchObject({ quantity: '1', doubt: expect.stringContaining('was withdrawn since') });
    const other = await stock.job([
      { partId: (await stock.query<{ id: string }>('SELECT part_id AS id FROM job_lines WHERE job_id = $1', [job.id]))[0]!.id },
    ]);
    await desk.refused(other, [of(other, lot)], 'not-on-this-job');
  });

  it('that will serve under conditions needs somebody’s word first', async () => {
    const { job, lot } = await related('will serve for');
    await desk.refused(job, [of(job, lot)], 'not-accepted-yet');
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
    await desk.reserve(one, [of(one, wheel)]);
    await desk.refused(other, [of(other, pinion, '1', 1)], 'kept-set-elsewhere');
  });

  it('is taken whole, or not at all while a part of it lies in the tray', async () => {
    const { wheel, pinion, one, other } = await pair();
    await desk.reserve(one, [of(one, wheel), of(one, pinion, '1', 1)]);
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
    expect(await desk.listed(one)).toEqual([]);
    expect((await desk.listed(other)).map(({ line }) => line?.lineNo)).toEqual([1, 2]);
  });
});

describe('releasing', () => {
  it('gives up all or so many, with a reason on the record; then it is free for another', async () => {
    const { job, lot } = await desk.lotAndJob();
    await desk.reserve(job, [of(job, lot, '4')]);
    const claimId = await desk.claimOf(job);
    const release = (more: Record<string, unknown> = {}) =>
      owner.post<Problem>('/api/reservations/release', { claimId, ...more });
    expect(await release({ quantity: '5' })).toMatchObject({ status: 422 });
    expect(await release({ quantity: '1', reason: 'one was found at the customer’s' })).toMatchObject({
      status: 200,
      body: { quantity: '1' },
    });
    expect(await release()).toMatchObject({ status: 200, body: { quantity: '3' } });
    expect(await release()).toMatchObject({ status: 409, body: { code: 'not-reserved' } });
    expect(await desk.countersOf(lot)).toMatchObject({ claimed: '0' });
    expect(await desk.recordOf(job)).toContainEqual(expect.stringContaining('one was found at the customer’s'));
    expect(await owner.post('/api/reservations/release', { claimId: newId() })).toMatchObject({ status: 404 });
  });

  it('leaves what lies in the tray to the bench', async () => {
    const { job, lot } = await desk.lotAndJob();
    await desk.reserve(job, [of(job, lot, '4')]);
    await owner.post('/api/picks', { code: lot.code, jobId: job.id, quantity: '3' });
    expect(await desk.listed(job)).toMatchObject([{ quantity: '4', inTray: '3' }]);
    const claimId = await desk.claimOf(job);
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
    const order = await desk.ordered(partId, '1');
    await desk.reserve(job, [of(job, lot, '3'), ofOrder(job, order)]);
    const path = `/api/jobs/${job.id}/lines/${job.lineIds[0]}`;
    await owner.post(`${path}/findings`, { quantityReused: '2', quantityReplaced: '2', words: '' });
    expect(await desk.listed(job)).toMatchObject([{ quantity: '2', receipt: null }]);
    await owner.post(`${path}/waive`, { reason: 'the customer keeps his own' });
    expect(await desk.listed(job)).toEqual([]);
    expect(await desk.recordOf(job)).toContainEqual(
      expect.stringContaining('The job does without the line: the customer keeps his own'),
    );
  });
});

describe('taking from another job', () => {
  it('needs a reason, is told to both and stands on the record of both', async () => {
    const { job: from, lot, partId } = await desk.lotAndJob();
    const to = await stock.job([{ partId, quantity: '3' }]);
    await desk.titled(from, 'The slow one');
    await desk.titled(to, 'The urgent one');
    await desk.reserve(from, [of(from, lot, '4')]);
    const body = { thingId: lot.id, fromJobId: from.id, toJobId: to.id, lineId: to.lineIds[0], quantity: '2' };
    expect(await owner.post('/api/reservations/take', { ...body, reason: ' ' })).toMatchObject({ status: 422 });
    const news = await listenTo(server.url, owner);
    expect(await owner.post('/api/reservations/take', { ...body, reason: 'promised for Friday' })).toMatchObject({
      status: 200,
      body: { quantity: '2', until: null },
    });
    await news.until((topics) => topics.includes(`job:${from.id}`) && topics.includes(`job:${to.id}`));
    news.stop();
    expect(await desk.recordOf(from)).toContainEqual(
      `2 of ${said(lot)} was taken for “The urgent one”, line 1: promised for Friday`,
    );
    expect(await desk.recordOf(to)).toContainEqual(`took 2 of ${said(lot)} from “The slow one”, line 1: promised for Friday`);
    expect(await desk.listed(to)).toMatchObject([{ quantity: '2' }]);
    expect(await owner.post('/api/reservations/take', { ...body, reason: 'more' })).toMatchObject({
      status: 409,
      body: { code: 'line-is-full' },
    });
    expect(await owner.post('/api/reservations/take', { ...body, toJobId: from.id, reason: 'more' })).toMatchObject({
      status: 422,
    });
  });

  it('takes no more than lies outside its tray', async () => {
    const { job: from, lot, partId } = await desk.lotAndJob();
    const to = await stock.job([{ partId, quantity: '4' }]);
    await desk.reserve(from, [of(from, lot, '4')]);
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
      for (const index of [0, 1]) await desk.reserve(jobs[index]!, [of(jobs[index]!, lots[index]!)]);
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
    const { job, lot } = await desk.lotAndJob();
    const body = { until: null, lines: [of(job, lot)] };
    expect((await viewer.post(`/api/jobs/${job.id}/reservations`, body)).status).toBe(403);
    expect((await bench.post(`/api/jobs/${job.id}/reservations`, body)).status).toBe(200);
    expect((await viewer.get(`/api/jobs/${job.id}/reservations`)).status).toBe(200);
    const taking = { thingId: lot.id, fromJobId: job.id, toJobId: newId(), lineId: newId(), quantity: '1', reason: 'x' };
    expect((await bench.post('/api/reservations/take', taking)).status).toBe(403);
  });
});
