import { jest } from '@jest/globals';
import { newId } from '../../apps/api/src/platform/new-id.js';
import { ExpireReservations } from '../../apps/api/src/reservations/expire/expire-reservations.js';
import { verifyBooks } from '../../apps/api/src/stores/verify/verify-books.js';
import { addDays } from '../../libs/quantities/src/plain-date.js';
import { type BareServer, startBareServer, type Visitor } from '../support/bare-server.js';
import { listenTo } from '../support/news.js';
import { of, ofOrder, type Problem, ReservationDesk, said } from '../support/reservation-desk.js';
import { type Made, Stock } from '../support/stock.js';
import { today } from '../support/write-making.js';

jest.setTimeout(60_000);

let server: BareServer;
let owner: Visitor;
let stock: Stock;
let desk: ReservationDesk;

beforeAll(async () => {
  server = await startBareServer('reserved');
  owner = await server.setUp();
  stock = await Stock.open(server.testDatabase.ownerUrl);
  desk = new ReservationDesk(owner, stock);
});
afterAll(async () => {
  expect(await verifyBooks(server.database)).toEqual([]);
  await stock.close();
  await server.stop();
});

describe('what is at an outworker', () => {
  async function sentOut() {
    const { partId, lot, job } = await desk.lotAndJob('3');
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
    await desk.reserve(job, [of(job, lot, '1')]);
    await send(stock.placeId, firm.id, '3');
    expect(await desk.countersOf(lot)).toEqual({ held: '0', awaited: '3', claimed: '1' });
    await desk.reserve(job, [of(job, lot, '2')]);
    expect((await desk.listed(job))[0]!.where).toBe(firm.name);
    expect((await owner.get(`/api/jobs/${job.id}`)).status).toBe(200);
    const other = await stock.job([{ partId }]);
    await desk.refused(other, [of(other, lot)], 'claimed-for-another-job');
    await send(firm.id, stock.placeId, '3');
    expect(await desk.countersOf(lot)).toEqual({ held: '3', awaited: '0', claimed: '3' });
    await expect(send(stock.placeId, '00000000-0000-7000-8000-0000000005c4', '1')).rejects.toMatchObject({
      constraint: 'claims_within_held',
    });
  });
});

describe('what is on order', () => {
  it('is reserved, and goes on to what comes, the oldest first, never more for a line than it lacks', async () => {
    const { partId, job: first } = await desk.lotAndJob('0', '3');
    const second = await stock.job([{ partId, quantity: '3' }]);
    const order = await desk.ordered(partId, '5');
    await desk.reserve(first, [ofOrder(first, order, '3')]);
    expect((await desk.refused(second, [ofOrder(second, order, '3')], 'claimed-for-another-job')).detail).toContain(
      '2 of what is to come of order',
    );
    await desk.reserve(second, [ofOrder(second, order, '2')], addDays(today(), 60));
    expect(await desk.listed(second)).toMatchObject([
      { claimId: null, receipt: { id: order, dueOn: '2031-03-01', confirmed: true }, where: 'on order', quantity: '2' },
    ]);
    // one was found elsewhere meanwhile
    await owner.post('/api/fits', { code: (await stock.lot(partId)).code, jobId: first.id });
    const came = await desk.arrive(order, '4');
    expect(came.status).toBe(200);
    expect(await desk.listed(first)).toMatchObject([
      { thing: { id: came.body.lot.id }, quantity: '2', expectedClaimId: null, until: null },
    ]);
    expect(await desk.listed(second)).toMatchObject([
      { thing: { id: came.body.lot.id }, quantity: '2', until: addDays(today(), 60) },
    ]);
    expect(await desk.countersOf(came.body.lot)).toMatchObject({ held: '4', claimed: '4' });
    expect(await desk.recordOf(first)).toEqual(
      expect.arrayContaining([expect.stringContaining('needs no more of order'), expect.stringContaining('which came in')]),
    );
  });

  it('comes before what was ordered for a job as such', async () => {
    const { partId, job } = await desk.lotAndJob('0', '2');
    const order = await desk.ordered(partId, '4', job.id);
    const other = await stock.job([{ partId }]);
    await desk.refused(other, [ofOrder(other, order)], 'claimed-for-another-job');
    await desk.reserve(job, [ofOrder(job, order, '1')]);
    const came = await desk.arrive(order, '4');
    expect(await desk.listed(job)).toMatchObject([{ thing: { id: came.body.lot.id }, quantity: '2' }]);
  });

  it('what comes and may not serve leaves the reservation to the rest, as far as that goes', async () => {
    const partId = await stock.part();
    const job = await stock.job([{ partId, quantity: '4', makes: ['genuine'] }]);
    const order = await desk.ordered(partId, '4');
    await desk.reserve(job, [ofOrder(job, order, '4')]);
    const came = await desk.arrive(order, '1', { make: 'pattern' });
    expect(await desk.countersOf(came.body.lot)).toMatchObject({ claimed: '0' });
    expect(await desk.listed(job)).toMatchObject([{ quantity: '3', receipt: { id: order } }]);
    expect(await desk.recordOf(job)).toContainEqual(expect.stringContaining('not all that came serves the line'));
  });

  it('that is called off or lowered ends what no longer fits, the latest first, and tells the jobs', async () => {
    const { partId, job: first } = await desk.lotAndJob('0', '3');
    const second = await stock.job([{ partId, quantity: '3' }]);
    const order = await desk.ordered(partId, '6');
    await desk.reserve(first, [ofOrder(first, order, '3')]);
    await desk.reserve(second, [ofOrder(second, order, '3')]);
    expect((await desk.editOrder(order, { quantity: '4' })).status).toBe(200);
    expect([await desk.listed(first), await desk.listed(second)]).toMatchObject([[{ quantity: '3' }], [{ quantity: '1' }]]);
    expect(await desk.recordOf(second)).toContainEqual(expect.stringContaining('are still expected on order'));
    const news = await listenTo(server.url, owner);
    expect((await desk.editOrder(order, { quantity: '4', calledOff: true })).status).toBe(200);
    await news.until((topics) => topics.includes(`job:${first.id}`) && topics.includes(`job:${second.id}`));
    news.stop();
    expect([await desk.listed(first), await desk.listed(second)]).toEqual([[], []]);
    expect(await desk.recordOf(first)).toContainEqual(expect.stringContaining('was called off'));
    expect(await desk.send(first, [ofOrder(first, order)])).toMatchObject({ status: 409, body: { code: 'called-off' } });
    await desk.arrive(await desk.ordered(partId, '2'), '2');
    expect((await desk.editOrder(order, { quantity: '0' })).status).toBe(422);
  });

  it('is taken and released as a thing is', async () => {
    const { partId, job: from } = await desk.lotAndJob('0', '3');
    const to = await stock.job([{ partId, quantity: '2' }], { state: 'estimate' });
    const order = await desk.ordered(partId, '3');
    await desk.reserve(from, [ofOrder(from, order, '3')]);
    const body = { receiptId: order, fromJobId: from.id, toJobId: to.id, lineId: to.lineIds[0], quantity: '2', reason: 'sooner' };
    expect(await owner.post('/api/reservations/take', body)).toMatchObject({
      status: 200,
      body: { until: addDays(today(), 14) },
    });
    const [left] = await desk.listed(from);
    expect(left!.quantity).toBe('1');
    expect((await owner.post('/api/reservations/release', { expectedClaimId: left!.expectedClaimId })).status).toBe(200);
    expect(await desk.listed(from)).toEqual([]);
    expect(await desk.listed(to)).toMatchObject([{ quantity: '2' }]);
  });

  it('the database itself refuses more than is to come', async () => {
    const { partId, job } = await desk.lotAndJob();
    const order = await desk.ordered(partId, '2');
    const claim = 'INSERT INTO expected_claims (id, receipt_id, claimant_id, purpose_id, quantity) VALUES ($1, $2, $3, $4, 3)';
    await expect(stock.query(claim, [newId(), order, job.id, job.lineIds[0]])).rejects.toMatchObject({
      constraint: 'claims_within_expected',
    });
  });
});

describe('the end of a reservation', () => {
  const endBefore = (day: string) => server.app.get(ExpireReservations).endBefore(day);

  it('comes when its day has passed, but not for what lies in the tray', async () => {
    const { job, lot, partId } = await desk.lotAndJob();
    const order = await desk.ordered(partId, '9');
    await desk.reserve(job, [of(job, lot, '2')], today());
    await owner.post('/api/picks', { code: lot.code, jobId: job.id, quantity: '1' });
    const quote = await stock.job([{ partId, quantity: '5' }], { state: 'estimate' });
    await desk.reserve(quote, [of(quote, lot, '1'), ofOrder(quote, order, '2')], today());
    const firm = await stock.job([{ partId }]);
    await desk.reserve(firm, [of(firm, lot)]);
    expect(await endBefore(today())).toBe(0);
    const news = await listenTo(server.url, owner);
    expect(await endBefore(addDays(today(), 1))).toBe(3);
    await news.until((topics) => topics.includes(`job:${job.id}`) && topics.includes(`job:${quote.id}`));
    news.stop();
    expect(await desk.listed(job)).toMatchObject([{ quantity: '1', inTray: '1' }]);
    expect(await desk.listed(quote)).toEqual([]);
    expect(await desk.listed(firm)).toMatchObject([{ quantity: '1' }]);
    expect(await desk.recordOf(quote)).toContainEqual(expect.stringContaining('came to its end'));
    expect(await endBefore(addDays(today(), 1))).toBe(0);
  });

  it.each(['done', 'called off'])(
    'comes when the job is %s: what it has not touched goes back, what lies in its tray stays',
    async (state) => {
      const { job, lot, partId } = await desk.lotAndJob();
      const order = await desk.ordered(partId, '2');
      await desk.reserve(job, [of(job, lot, '2'), ofOrder(job, order, '2')]);
      await owner.post('/api/picks', { code: lot.code, jobId: job.id, quantity: '1' });
      expect((await desk.close(job, state)).status).toBe(200);
      expect(await desk.listed(job)).toMatchObject([{ quantity: '1', inTray: '1', thing: { id: lot.id } }]);
      expect(await desk.recordOf(job)).toContainEqual(expect.stringContaining(`The job is ${state}.`));
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
    const { job, lot, partId } = await desk.lotAndJob('6', '4');
    const other = await stock.job([{ partId, quantity: '9' }]);
    await desk.reserve(job, [of(job, lot, '4')]);
    expect(await pick(job, lot, { quantity: '3' })).toMatchObject({
      status: 200,
      body: { quantity: '3', line: { picked: '3' } },
    });
    expect(await desk.countersOf(lot)).toMatchObject({ claimed: '4' });
    const [act] = (await owner.get<{ acts: { id: string }[] }>(`/api/jobs/${job.id}/acts`)).body.acts;
    await owner.post(`/api/acts/${act!.id}/take-back`, {});
    expect(await desk.listed(job)).toMatchObject([{ quantity: '4', inTray: '0' }]);
    expect((await desk.refused(other, [of(other, lot, '3')], 'claimed-for-another-job')).detail).toContain('2 of L');
    const fit = await owner.post<{ actId: string }>('/api/fits', { code: lot.code, jobId: job.id, quantity: '1' });
    expect(await desk.countersOf(lot)).toEqual({ held: '5', awaited: '0', claimed: '3' });
    await owner.post(`/api/acts/${fit.body.actId}/take-back`, {});
    expect(await desk.countersOf(lot)).toEqual({ held: '6', awaited: '0', claimed: '4' });
  });

  it('a line with a reservation of the bag in hand comes before others', async () => {
    const partId = await stock.part();
    const job = await stock.job([
      { partId, quantity: '2', critical: true },
      { partId, quantity: '2' },
    ]);
    const lot = await stock.lot(partId, { quantity: '9' });
    await desk.reserve(job, [of(job, lot, '2', 1)]);
    expect(await pick(job, lot)).toMatchObject({ status: 200, body: { quantity: '2', line: { lineNo: 2 } } });
    expect(await pick(job, lot)).toMatchObject({ status: 200, body: { quantity: '2', line: { lineNo: 1 } } });
    expect(await desk.countersOf(lot)).toMatchObject({ claimed: '4' });
    expect(await pick(job, lot)).toMatchObject({ status: 409, body: { code: 'line-is-full' } });
  });

  it.each(['lower', 'higher'])(
    'the bag in hand is promised and an equal one of a %s id is free: the claim moves, and both are told',
    async (side) => {
      const partId = await stock.part();
      const [first, second] = [await stock.lot(partId), await stock.lot(partId)];
      const [inHand, equal] = side === 'higher' ? [first, second] : [second, first];
      const [one, other] = [await stock.job([{ partId }]), await stock.job([{ partId }])];
      await desk.titled(one, 'The first');
      await desk.titled(other, 'The second');
      await desk.reserve(one, [of(one, inHand)], addDays(today(), 9));
      const answer = await pick(other, inHand);
      expect(answer).toMatchObject({ status: 200, body: { quantity: '1' } });
      expect(answer.body.notice).toBe(
        `${said(inHand)} was promised to “The first”: its claim has moved to ${said(equal)}, which is the same.`,
      );
      expect(await desk.listed(one)).toMatchObject([
        { thing: { id: equal.id }, quantity: '1', until: addDays(today(), 9), by: 'Edie Marrack' },
      ]);
      expect(await desk.recordOf(one)).toContainEqual(
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
    await desk.reserve(one, [of(one, inHand)]);
    expect(await pick(other, inHand)).toMatchObject({ status: 409, body: { code: 'claimed-for-another-job' } });
    expect(await desk.listed(one)).toMatchObject([{ thing: { id: inHand.id } }]);
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
    await desk.reserve(one, [of(one, inHand)]);
    expect(await pick(other, inHand)).toMatchObject({ status: 409, body: { code: 'claimed-for-another-job' } });
    const held = await stock.lot(rubber, year(now - 1));
    await owner.post(`/api/things/${held.id}/hold`, { reason: 'to be looked at' });
    expect(await pick(other, inHand)).toMatchObject({ status: 409 });
    await owner.post(`/api/things/${held.id}/hold-lift`, { reason: 'good' });
    expect(await pick(other, inHand)).toMatchObject({ status: 200 });
    expect(await desk.countersOf(older)).toMatchObject({ claimed: '0' });
    const { partId, job, lot } = await desk.lotAndJob('1', '1');
    await stock.lot(partId);
    await pick(job, lot);
    const third = await stock.job([{ partId }]);
    expect((await pick(third, lot)).status).toBe(409);
    expect(await desk.listed(job)).toMatchObject([{ thing: { id: lot.id }, inTray: '1' }]);
  });

  it('another bag than was reserved may be picked or fitted: what the line then has too many is free again', async () => {
    const partId = await stock.part();
    const [reserved, inHand] = [await stock.lot(partId, { quantity: '2' }), await stock.lot(partId, { quantity: '9' })];
    const job = await stock.job([{ partId, quantity: '2' }]);
    await desk.reserve(job, [of(job, reserved, '2')]);
    const answer = await pick(job, inHand, { quantity: '1' });
    expect(answer).toMatchObject({ status: 200, body: { quantity: '1' } });
    expect(answer.body.notice).toBe(`1 of ${said(reserved)}, reserved for line 1, is free again.`);
    expect(await desk.countersOf(reserved)).toMatchObject({ claimed: '1' });
    await owner.post('/api/fits', { code: inHand.code, jobId: job.id, quantity: '2' });
    expect(await desk.countersOf(reserved)).toMatchObject({ claimed: '0' });
    expect(await desk.recordOf(job)).toContainEqual(
      expect.stringContaining(`${said(inHand)} was scanned for the line in its stead.`),
    );
  });

  it('what was keyed goes whole or not at all', async () => {
    const partId = await stock.part();
    const [inHand, equal] = [await stock.lot(partId, { quantity: '4' }), await stock.lot(partId, { quantity: '2' })];
    const [one, other] = [await stock.job([{ partId, quantity: '3' }]), await stock.job([{ partId, quantity: '9' }])];
    await desk.reserve(one, [of(one, inHand, '3')]);
    expect(await pick(other, inHand, { quantity: '4' })).toMatchObject({
      status: 409,
      body: { code: 'claimed-for-another-job' },
    });
    expect(await desk.countersOf(equal)).toMatchObject({ claimed: '0' });
    const answer = await pick(other, inHand, { quantity: '3' });
    expect(answer).toMatchObject({ status: 200, body: { quantity: '3' } });
    expect(answer.body.notice).toMatch(/^2 of L .* were promised to/);
    expect(await desk.countersOf(equal)).toMatchObject({ claimed: '2' });
  });

  it('many who scan one another’s bags at once are all answered', async () => {
    const partId = await stock.part();
    const lots: Made[] = [];
    for (let index = 0; index < 6; index += 1) lots.push(await stock.lot(partId, { quantity: '2' }));
    const jobs = await Promise.all(lots.map(() => stock.job([{ partId, quantity: '2' }])));
    await Promise.all(jobs.map((job, index) => desk.reserve(job, [of(job, lots[index]!)])));
    const answers = await Promise.all(
      jobs.flatMap((job, index) => [1, 2, 3].map((step) => pick(job, lots[(index + step) % lots.length]!, { quantity: '2' }))),
    );
    expect(answers.filter(({ status }) => status !== 200 && status !== 409)).toEqual([]);
    expect(await verifyBooks(server.database)).toEqual([]);
  });
});
