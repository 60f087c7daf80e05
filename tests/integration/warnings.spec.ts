import { newId } from '../../apps/api/src/platform/new-id.js';
import { countDifferenceId, scrapId } from '../../apps/api/src/stores/ledger.js';
import { addDays, addYears } from '../../libs/quantities/src/plain-date.js';
import { WarningDesk } from '../support/warning-desk.js';

let desk: WarningDesk;

beforeAll(async () => {
  desk = await WarningDesk.open('warnings');
});
afterAll(async () => {
  await desk.close();
});

/** A critical line that one lot covers. */
async function coveredJob(facts: { name?: string; quantity?: string; customerId?: string } = {}) {
  const partId = await desk.stock.part({ name: facts.name ?? 'Thrust bearing' });
  const lot = await desk.stock.lot(partId, { quantity: facts.quantity ?? '1' });
  const job = await desk.stock.job([{ partId, quantity: facts.quantity ?? '1', critical: true }], {
    customerId: facts.customerId ?? null,
  });
  await desk.firstLook(job.id);
  return { partId, lot, job };
}

/** Takes all of a lot out of stores by a statement, and tells the server as a command would. */
async function away(lot: { id: string }, toHolderId: string, quantity = '1'): Promise<void> {
  await desk.stock.query(
    `INSERT INTO movements (id, command_key, thing_id, quantity, from_holder_id, to_holder_id, reason, occurred_at)
     SELECT $1, command_key, thing_id, $3, to_holder_id, $4, 'test', now() FROM movements WHERE thing_id = $2 ORDER BY sequence LIMIT 1`,
    [newId(), lot.id, quantity, toHolderId],
  );
  await desk.server.database.rows('SELECT 1');
  await touch(lot.id);
}

/** A picture of nothing changed: the server hears of a thing. */
async function touch(thingId: string): Promise<void> {
  const { NewsRelay } = await import('../../apps/api/src/platform/news/news-relay.js');
  await desk.server.app.get(NewsRelay).tell(`thing:${thingId}`, 'stores');
}

describe('a critical line that loses its cover', () => {
  it('is told once, with which part, which job, how many and why; it stays, and settles itself when it is covered again', async () => {
    const { lot, job } = await coveredJob();
    expect(await desk.openOn(job.id)).toEqual([]);
    expect((await desk.hold(lot.id, 'a crack at the root')).status).toBe(200);
    const [warning] = await desk.until(job.id, ['cover lost']);
    expect(warning).toMatchObject({
      job: { id: job.id, code: job.code },
      line: { id: job.lineIds[0], lineNo: 1 },
      settled: null,
    });
    expect(warning!.words).toMatch(/^Thrust bearing, T-\w+: 1 lacking, and it was covered$/);
    expect(warning!.why).toMatch(/^Line 1 of job J .* is critical\. L .* is held back: a crack at the root\.$/);
    for (let again = 0; again < 3; again += 1) await touch(lot.id);
    expect((await desk.afterQuiet(job.id)).map(({ id }) => id)).toEqual([warning!.id]);
    expect((await desk.lift(lot.id)).status).toBe(200);
    await desk.until(job.id, []);
    const [settled] = await desk.settledOn(job.id);
    expect(settled).toMatchObject({ id: warning!.id, settled: { by: null } });
    expect(settled!.settled!.note).toMatch(/^Covered again since: 1 free in stores, L /);
  });

  it('is told anew when it loses it again', async () => {
    const { lot, job } = await coveredJob();
    await desk.hold(lot.id, 'a crack');
    const [first] = await desk.until(job.id, ['cover lost']);
    await desk.lift(lot.id);
    await desk.until(job.id, []);
    await desk.hold(lot.id, 'a crack after all');
    const [second] = await desk.until(job.id, ['cover lost']);
    expect(second!.id).not.toBe(first!.id);
    expect(second!.why).toContain('a crack after all');
  });

  it('says what became of what it rested on', async () => {
    const [scrapped, missing, calledOff, taken] = [
      await coveredJob(),
      await coveredJob(),
      await orderedJob(),
      await coveredJob(),
    ];
    await away(scrapped.lot, scrapId);
    await away(missing.lot, countDifferenceId);
    await desk.changeOrder(calledOff.receipt, { calledOff: true });
    const other = await desk.stock.job([{ partId: taken.partId, critical: true }]);
    expect((await desk.owner.post('/api/picks', { code: taken.lot.code, jobId: other.id })).status).toBe(200);
    const why = async (jobId: string) => (await desk.until(jobId, ['cover lost']))[0]!.why;
    expect(await why(scrapped.job.id)).toMatch(/L .* was scrapped\.$/);
    expect(await why(missing.job.id)).toMatch(/L .* was not there when it was counted\.$/);
    expect(await why(calledOff.job.id)).toMatch(/Order order \w+ was called off\.$/);
    expect(await why(taken.job.id)).toMatch(/L .* is in the tray of job J .*\.$/);
  });

  it('of this unit’s own part that was looked at and is not fit', async () => {
    const partId = await desk.stock.part({ name: 'Layshaft' });
    const job = await desk.stock.job([{ partId, critical: true, reusable: true }]);
    await desk.firstLook(job.id);
    await desk.owner.post(`/api/jobs/${job.id}/lines/${job.lineIds[0]}/findings`, {
      quantityReused: '0',
      quantityReplaced: '1',
      words: 'pitted on the flanks',
    });
    const [warning] = await desk.until(job.id, ['cover lost']);
    expect(warning!.why).toMatch(/This unit’s own was looked at: pitted on the flanks\.$/);
  });

  it('is not told where it never was covered, where more is asked for, or where it is not critical', async () => {
    const never = await desk.stock.job([{ partId: await desk.stock.part(), critical: true }]);
    const partId = await desk.stock.part();
    const lot = await desk.stock.lot(partId);
    const idle = await desk.stock.job([{ partId }]);
    await desk.firstLook(never.id);
    await desk.firstLook(idle.id);
    await desk.hold(lot.id, 'rust');
    expect(await desk.afterQuiet(never.id)).toEqual([]);
    expect(await desk.openOn(idle.id)).toEqual([]);
  });

  it('counts how many more it lost in the warning that stands', async () => {
    const partId = await desk.stock.part({ name: 'Wheel stud' });
    const lots = [await desk.stock.lot(partId), await desk.stock.lot(partId)];
    const job = await desk.stock.job([{ partId, quantity: '2', critical: true }]);
    await desk.firstLook(job.id);
    await desk.hold(lots[0]!.id, 'stripped thread');
    const [one] = await desk.until(job.id, ['cover lost']);
    await desk.hold(lots[1]!.id, 'bent');
    await desk.afterQuiet(job.id);
    const [two] = await desk.until(job.id, ['cover lost']);
    expect(two!.id).toBe(one!.id);
    expect([one!.words, two!.words].map((words) => words.split(': ')[1])).toEqual([
      '1 lacking, and it was covered',
      '2 lacking, and it was covered',
    ]);
    expect(two!.why).toMatch(/stripped thread.*bent/);
  });

  it('is dropped when the job is closed', async () => {
    const { lot, job } = await coveredJob();
    await desk.hold(lot.id, 'rust');
    await desk.until(job.id, ['cover lost']);
    const { body } = await desk.owner.get<{ version: number; title: string }>(`/api/jobs/${job.id}`);
    const closing = { title: body.title, wanted: '', buildStandard: 'serviceable', priority: 3, state: 'called off' };
    expect((await desk.owner.patch(`/api/jobs/${job.id}`, closing, { ifMatch: body.version })).status).toBe(200);
    await desk.until(job.id, []);
    expect((await desk.settledOn(job.id))[0]!.settled).toMatchObject({ by: null, note: 'The job is closed.' });
    expect(await desk.stock.query('SELECT 1 FROM line_cover WHERE job_id = $1', [job.id])).toEqual([]);
  });
});

describe('a person settles a warning', () => {
  it('by saying what was done, once; it stays away while the cause is the same, and comes when it arises anew', async () => {
    const { lot, job } = await coveredJob();
    await desk.hold(lot.id, 'a crack');
    const [warning] = await desk.until(job.id, ['cover lost']);
    expect((await desk.settle(warning!.id, '')).status).toBe(422);
    const key = newId();
    const answers = [
      await desk.settle(warning!.id, 'one is borrowed from the other axle', key),
      await desk.settle(warning!.id, 'one is borrowed from the other axle', key),
    ];
    expect(answers.map(({ status }) => status)).toEqual([200, 200]);
    expect(answers[0]!.body).toMatchObject({ settled: { by: 'Edie Marrack', note: 'one is borrowed from the other axle' } });
    expect(answers[1]!.body).toEqual(answers[0]!.body);
    await touch(lot.id);
    await desk.firstLook(job.id);
    expect(await desk.afterQuiet(job.id)).toEqual([]);
    await desk.lift(lot.id);
    await desk.afterQuiet(job.id);
    await desk.hold(lot.id, 'a second crack');
    const [anew] = await desk.until(job.id, ['cover lost']);
    expect(anew!.id).not.toBe(warning!.id);
  });

  it('that nobody knows is refused', async () => {
    expect((await desk.settle(newId(), 'seen to')).status).toBe(404);
  });
});

async function orderedJob(facts: { critical?: boolean; dueOn?: string } = {}) {
  const partId = await desk.stock.part({ name: 'Crown wheel' });
  const receipt = await desk.order(partId, { dueOn: facts.dueOn ?? addDays(desk.today, 10) });
  const job = await desk.stock.job([{ partId, critical: facts.critical ?? true }]);
  await desk.firstLook(job.id);
  return { partId, receipt, job };
}

describe('an order on which a line rests', () => {
  it('that is put back is told, and settles itself when the day is kept again', async () => {
    const { receipt, job } = await orderedJob();
    const later = await desk.changeOrder(receipt, { dueOn: addDays(desk.today, 40) });
    const [warning] = await desk.until(job.id, ['order put back']);
    expect(warning!.words).toMatch(/^Order order \w+ was put back: it comes on .*, not on .*$/);
    expect(warning!.why).toMatch(/^Veldrow Bearings brings 1 of Crown wheel, .* with it, and line 1 of job J .* rests on it\.$/);
    await desk.changeOrder(later, { dueOn: addDays(desk.today, 10) });
    await desk.until(job.id, []);
    expect((await desk.settledOn(job.id))[0]!.settled!.note).toMatch(/^It is due on .* again\.$/);
  });

  it('that somebody has seen to is told again when it is put back further', async () => {
    const { receipt, job } = await orderedJob({ critical: false });
    const once = await desk.changeOrder(receipt, { dueOn: addDays(desk.today, 20) });
    const [warning] = await desk.until(job.id, ['order put back']);
    await desk.settle(warning!.id, 'the customer knows');
    await desk.firstLook(job.id);
    expect(await desk.afterQuiet(job.id)).toEqual([]);
    await desk.changeOrder(once, { dueOn: addDays(desk.today, 30) });
    await desk.until(job.id, ['order put back']);
  });
});

describe('the last one of a part', () => {
  it('that two critical lines want is told once, on both jobs, and settles itself when there is another', async () => {
    const partId = await desk.stock.part({ name: 'Worm wheel' });
    await desk.stock.lot(partId);
    const first = await desk.stock.job([{ partId, critical: true }]);
    await desk.firstLook(first.id);
    const second = await desk.stock.job([{ partId, critical: true }]);
    await desk.firstLook(second.id);
    const [warning] = await desk.until(second.id, ['two want the last']);
    expect(await desk.openOn(first.id)).toEqual([warning]);
    expect(warning!.words).toMatch(/^Two jobs want the last: Worm wheel, /);
    expect(warning!.why).toMatch(/^L .* goes to line 1 of job J .* first, so line 1 of job J .* lacks 1\. Both are critical\.$/);
    await desk.firstLook(first.id);
    expect(await desk.afterQuiet(second.id)).toEqual([warning]);
    const another = await desk.stock.lot(partId);
    await touch(another.id);
    await desk.until(first.id, []);
    expect((await desk.settledOn(second.id))[0]!.settled!.note).toBe('There is enough for both now.');
  });
});

describe('a date that was given', () => {
  it('and cannot be held any more is told, and settles itself when it holds again', async () => {
    const { lot, job } = await coveredJob({ customerId: await desk.stock.customer('R. Sandiman') });
    const given = addDays(desk.today, 30);
    expect((await desk.owner.post(`/api/jobs/${job.id}/dates`, { given })).status).toBe(200);
    await desk.afterQuiet(job.id);
    await desk.hold(lot.id, 'rust in the track');
    const open = await desk.until(job.id, ['cover lost', 'date in danger']);
    const warning = open.find(({ kind }) => kind === 'date in danger')!;
    expect(warning.words).toMatch(/can no longer be held: something critical is lacking$/);
    expect(warning.why).toMatch(/^Told to R\. Sandiman\. No date can be promised: /);
    await desk.lift(lot.id);
    await desk.until(job.id, []);
  });

  it('against advice is none that was endangered since', async () => {
    const job = await desk.stock.job([{ partId: await desk.stock.part(), critical: true }]);
    await desk.firstLook(job.id);
    const dated = await desk.owner.post(`/api/jobs/${job.id}/dates`, {
      given: addDays(desk.today, 30),
      reason: 'he has one at home',
    });
    expect(dated.status).toBe(200);
    expect(await desk.afterQuiet(job.id)).toEqual([]);
  });

  it('is endangered by an order that is put back beyond it', async () => {
    const { receipt, job } = await orderedJob();
    await desk.owner.post(`/api/jobs/${job.id}/dates`, { given: addDays(desk.today, 30) });
    await desk.changeOrder(receipt, { dueOn: addDays(desk.today, 60) });
    const open = await desk.until(job.id, ['order put back', 'date in danger']);
    const endangered = open.find(({ kind }) => kind === 'date in danger')!;
    expect(endangered.words).toMatch(/can no longer be held: .* at the earliest$/);
    expect(endangered.why).toMatch(
      /^Told to the shop\. Waits for line 1, crown wheel \(order order \w+, Veldrow Bearings, due .*\)\.$/,
    );
  });

  it('is endangered by another job that takes what it rests on', async () => {
    const { partId, lot, job } = await coveredJob();
    await desk.owner.post(`/api/jobs/${job.id}/dates`, { given: addDays(desk.today, 30) });
    await desk.afterQuiet(job.id);
    const other = await desk.stock.job([{ partId, critical: true }]);
    await desk.owner.post('/api/fits', { code: lot.code, jobId: other.id });
    const open = await desk.until(job.id, ['cover lost', 'date in danger']);
    expect(open.find(({ kind }) => kind === 'cover lost')!.why).toMatch(/was fitted for job J /);
  });
});

describe('what a job has reserved', () => {
  it('and another took is told to the first with the reason, and stays until somebody has seen to it', async () => {
    const { partId, lot, job } = await coveredJob();
    const reserve = (jobId: string, lineId: string | undefined) =>
      desk.owner.post(`/api/jobs/${jobId}/reservations`, { until: null, lines: [{ lineId, quantity: '1', thingId: lot.id }] });
    expect((await reserve(job.id, job.lineIds[0])).status).toBe(200);
    const other = await desk.stock.job([{ partId, critical: true }]);
    await desk.firstLook(other.id);
    expect(await desk.afterQuiet(job.id)).toEqual([]);
    const taken = await desk.owner.post('/api/reservations/take', {
      thingId: lot.id,
      lineId: other.lineIds[0],
      fromJobId: job.id,
      toJobId: other.id,
      quantity: '1',
      reason: 'its owner comes on Friday',
    });
    expect(taken.status).toBe(200);
    const open = await desk.until(job.id, ['cover lost', 'taken by another job']);
    const [warning] = open.filter(({ kind }) => kind === 'taken by another job');
    expect(warning).toMatchObject({
      job: { id: job.id },
      otherJob: { id: other.id },
      why: expect.stringMatching(/ took it: its owner comes on Friday$/),
    });
    expect(warning!.words).toMatch(/^Thrust bearing: 1 reserved for line 1 went to job J /);
    expect(open.find(({ kind }) => kind === 'cover lost')!.why).toMatch(/L .* is reserved for job J .*\.$/);
    expect((await desk.settle(warning!.id, 'found him another')).status).toBe(200);
    await touch(lot.id);
    expect((await desk.afterQuiet(job.id)).map(({ kind }) => kind)).toEqual(['cover lost']);
  });

  it('for a few days more is told once for all that ends on one day', async () => {
    const parts = [await desk.stock.part({ name: 'Worm' }), await desk.stock.part({ name: 'Wheel' })];
    const lots = [await desk.stock.lot(parts[0]!), await desk.stock.lot(parts[1]!)];
    const job = await desk.stock.job(
      parts.map((partId) => ({ partId })),
      { state: 'estimate' },
    );
    const reserve = (until: string) =>
      desk.owner.post(`/api/jobs/${job.id}/reservations`, {
        until,
        lines: lots.map(({ id }, index) => ({ lineId: job.lineIds[index], quantity: '1', thingId: id })),
      });
    expect((await reserve(addDays(desk.today, 2))).status).toBe(200);
    const [warning] = await desk.until(job.id, ['reservation ends']);
    expect(warning!.words).toMatch(/^2 reservations end on /);
    expect(warning!.why).toMatch(/^Wheel; Worm\. Then they are free for other jobs/);
  });
});

describe('the day', () => {
  it('makes orders late and stock old, which is told once, when the workshop’s day changes', async () => {
    const { job, receipt } = await orderedJob({ dueOn: addDays(desk.today, 3) });
    const seal = await desk.stock.part({ name: 'Oil seal', material: 'rubber', polymer: 'NBR' });
    const packed = addDays(addYears(desk.today, -7), 4);
    const lot = await desk.stock.lot(seal, { packetRead: packed, packetEarliest: packed, packetLatest: packed });
    const sealed = await desk.stock.job([{ partId: seal }]);
    expect((await desk.owner.post('/api/picks', { code: lot.code, jobId: sealed.id })).status).toBe(200);
    expect(await desk.afterQuiet(sealed.id)).toEqual([]);
    await desk.itIs(addDays(desk.today, 4));
    const [late] = await desk.until(job.id, ['order late']);
    expect(late!.words).toMatch(/^Order order \w+ is late: 1 of Crown wheel, /);
    const [old] = await desk.until(sealed.id, ['past its storage life']);
    expect(old!.words).toMatch(/^Oil seal, L .*, is past its storage life and set aside for this job$/);
    await desk.itIs(addDays(desk.today, 5));
    await desk.afterQuiet(job.id);
    expect((await desk.openOn(job.id)).map(({ id }) => id)).toEqual([late!.id]);
    expect((await desk.openOn(sealed.id)).map(({ id }) => id)).toEqual([old!.id]);
    await desk.changeOrder(receipt, { dueOn: addDays(desk.today, 12) });
    await desk.until(job.id, ['order put back']);
    const note = (await desk.settledOn(job.id)).find(({ kind }) => kind === 'order late')!.settled!.note;
    expect(note).toMatch(/^It is due on .* now\.$/);
  });
});
