import type * as z from 'zod';
import { newId } from '../../apps/api/src/platform/new-id.js';
import { verifyBooks } from '../../apps/api/src/stores/verify/verify-books.js';
import type { JobScanDone, ScanRefusal } from '../../libs/contracts/src/bench.js';
import { type BareServer, startBareServer, type Visitor } from '../support/bare-server.js';
import { Stock } from '../support/stock.js';

type Done = z.infer<typeof JobScanDone>;
interface Problem {
  code: string;
  detail: string;
  values: ScanRefusal;
}

let server: BareServer;
let owner: Visitor;
let stock: Stock;

beforeAll(async () => {
  server = await startBareServer('jobscan');
  owner = await server.setUp();
  stock = await Stock.open(server.testDatabase.ownerUrl);
});
afterAll(async () => {
  expect(await verifyBooks(server.database)).toEqual([]);
  await stock.close();
  await server.stop();
});

const fit = (body: Record<string, unknown>, key?: string) => owner.post<Done & Problem>('/api/fits', body, key ? { key } : {});
const pick = (body: Record<string, unknown>) => owner.post<Done & Problem>('/api/picks', body);
const held = async (id: string): Promise<string> =>
  (await stock.query<{ held: string }>('SELECT trim_scale(held)::text AS held FROM things WHERE id = $1', [id]))[0]!.held;

describe('fitting a part by a scan', () => {
  it('takes what the line still needs, and says how the line stands', async () => {
    const partId = await stock.part({ name: 'Side gear' });
    const lot = await stock.lot(partId, { quantity: '5' });
    const job = await stock.job([{ partId, quantity: '2' }]);
    const answer = await fit({ code: lot.code, jobId: job.id });
    expect(answer).toMatchObject({
      status: 200,
      body: { act: 'fitted', quantity: '2', found: false, line: { lineNo: 1, needed: '2', fitted: '2', stillToCome: '0' } },
    });
    expect(await held(lot.id)).toBe('3');
  });

  it('counts once when it is sent twice with the same key, and refuses the key for another scan', async () => {
    const partId = await stock.part();
    const lot = await stock.lot(partId, { quantity: '5' });
    const job = await stock.job([{ partId, quantity: '4' }]);
    const key = newId();
    const body = { code: lot.code, jobId: job.id, quantity: '1' };
    const first = await fit(body, key);
    const second = await fit(body, key);
    expect(second.body).toEqual(first.body);
    expect(await held(lot.id)).toBe('4');
    expect(await fit({ ...body, quantity: '2' }, key)).toMatchObject({ status: 422, body: { code: 'key-used-otherwise' } });
    expect(await held(lot.id)).toBe('4');
  });

  it('gives the first refusal again for the same key', async () => {
    const partId = await stock.part();
    const lot = await stock.lot(partId);
    const job = await stock.job([{ partId: await stock.part() }]);
    const key = newId();
    const first = await fit({ code: lot.code, jobId: job.id }, key);
    const second = await fit({ code: lot.code, jobId: job.id }, key);
    expect(first).toMatchObject({ status: 409, body: { code: 'not-on-this-job' } });
    expect(second).toMatchObject({ status: 409, body: { code: 'not-on-this-job', detail: first.body.detail } });
  });
});

describe('a scan that is stopped with its reason, nothing changed', () => {
  it('not on this job: offers in place of a line, with evidence, or a further line', async () => {
    const wanted = await stock.part({ name: 'Hub bearing, outer' });
    const other = await stock.part({ name: 'Hub bearing of another maker' });
    const lot = await stock.lot(other, { quantity: '3' });
    const job = await stock.job([{ partId: wanted, quantity: '2' }]);
    const stopped = await fit({ code: lot.code, jobId: job.id });
    expect(stopped.body.code).toBe('not-on-this-job');
    expect(stopped.body.values.choices.map((choice) => choice.kind)).toEqual(['in-place-of', 'further-line']);
    expect(stopped.body.values.lines).toMatchObject([{ lineNo: 1, stillToCome: '2' }]);
    const placed = await fit({
      code: lot.code,
      jobId: job.id,
      quantity: '2',
      inPlaceOf: { lineId: job.lineIds[0], why: 'none to be had', evidence: 'measured 35, 72, 17' },
    });
    expect(placed).toMatchObject({ status: 200, body: { act: 'fitted', line: { lineNo: 1, stillToCome: '0' } } });
    const card = await owner.get<{ coverage: { lines: { fittedFrom: object[] }[] } }>(`/api/jobs/${job.id}`);
    expect(card.body.coverage.lines[0]!.fittedFrom).toMatchObject([
      { inPlaceOf: true, why: 'none to be had', evidence: 'measured 35, 72, 17', by: 'Edie Marrack' },
    ]);
    const further = await fit({
      code: lot.code,
      jobId: job.id,
      furtherLine: { operationId: job.operationId, critical: false, why: 'a spare hub' },
    });
    expect(further).toMatchObject({ status: 200, body: { line: { lineNo: 2, needed: '1' } } });
  });

  it('claimed for another job: says which, and offers an equal one that is free', async () => {
    const partId = await stock.part({ name: 'Worm wheel' });
    const lot = await stock.lot(partId);
    const equal = await stock.lot(partId);
    const mine = await stock.job([{ partId }]);
    const theirs = await stock.job([{ partId }]);
    expect((await pick({ code: lot.code, jobId: theirs.id })).status).toBe(200);
    const stopped = await fit({ code: lot.code, jobId: mine.id });
    expect(stopped).toMatchObject({
      status: 409,
      body: { code: 'claimed-for-another-job', values: { otherJob: { code: theirs.code }, instead: [{ code: equal.code }] } },
    });
    expect((await fit({ code: lot.code, jobId: mine.id, haveItHere: true })).body.code).toBe('claimed-for-another-job');
    expect((await fit({ code: lot.code, jobId: theirs.id })).status).toBe(200);
  });

  it('past its storage life, or rubber without a date: fitted only with a name and a reason', async () => {
    const partId = await stock.part({ name: 'Oil seal, worm input', material: 'rubber', polymer: 'NBR' });
    const old = await stock.lot(partId, {
      source: 'old stock',
      packetRead: '1994',
      packetEarliest: '1994-01-01',
      packetLatest: '1994-12-31',
    });
    const undated = await stock.lot(partId);
    const job = await stock.job([{ partId, quantity: '2' }]);
    expect((await fit({ code: old.code, jobId: job.id })).body).toMatchObject({ code: 'past-storage-life' });
    expect((await fit({ code: undated.code, jobId: job.id })).body).toMatchObject({ code: 'undated-rubber' });
    expect((await pick({ code: old.code, jobId: job.id, override: { reason: 'display' } })).body).toMatchObject({
      code: 'past-storage-life',
    });
    expect(await held(old.id)).toBe('1');
    const overridden = await fit({ code: old.code, jobId: job.id, override: { reason: 'a static display unit, never driven' } });
    expect(overridden.status).toBe(200);
    const card = await owner.get<{ record: { kind: string; words: string }[] }>(`/api/jobs/${job.id}`);
    expect(card.body.record).toContainEqual(
      expect.objectContaining({ kind: 'override', words: expect.stringContaining('a static display unit') }),
    );
  });

  it('held back, condemned, or not what the line accepts', async () => {
    const partId = await stock.part({ name: 'Half shaft' });
    const job = await stock.job([{ partId, quantity: '3', sources: ['new', 'old stock'], makes: ['genuine'] }]);
    const heldLot = await stock.lot(partId);
    await stock.query('UPDATE things SET held_back_reason = $2 WHERE id = $1', [heldLot.id, 'crack detection']);
    const condemned = await stock.lot(partId);
    await stock.query('UPDATE things SET condemned = true WHERE id = $1', [condemned.id]);
    const pattern = await stock.lot(partId, { make: 'pattern' });
    expect((await fit({ code: heldLot.code, jobId: job.id })).body).toMatchObject({
      code: 'held-back',
      detail: expect.stringContaining('crack detection'),
    });
    expect((await fit({ code: condemned.code, jobId: job.id, override: { reason: 'please' } })).body).toMatchObject({
      code: 'condemned',
    });
    expect((await fit({ code: pattern.code, jobId: job.id })).body).toMatchObject({ code: 'not-accepted-by-line' });
  });

  it('another customer’s goods, whatever reason is given; their own job takes them', async () => {
    const partId = await stock.part();
    const [sandiman, lathe] = [await stock.customer(), await stock.customer()];
    const lot = await stock.lot(partId, { ownerId: sandiman });
    const theirs = await stock.job([{ partId }], { customerId: sandiman });
    const another = await stock.job([{ partId }], { customerId: lathe });
    expect((await fit({ code: lot.code, jobId: another.id, override: { reason: 'he will not mind' } })).body).toMatchObject({
      code: 'goods-of-another-customer',
    });
    expect((await fit({ code: lot.code, jobId: theirs.id })).status).toBe(200);
  });

  it('a wrong code: form, check digits, unknown, of another kind', async () => {
    const job = await stock.job([{ partId: await stock.part() }]);
    const refusals = await Promise.all(['hello', 'L00000112', 'L99999901', job.code].map((code) => fit({ code, jobId: job.id })));
    expect(refusals.map((answer) => answer.body.code).slice(0, 2)).toEqual(['code-wrong-form', 'code-wrong-check']);
    expect(refusals[3]!.body.code).toBe('code-of-another-kind');
  });

  it('a quantity of zero, below zero, too fine, or above what the line takes', async () => {
    const partId = await stock.part();
    const lot = await stock.lot(partId, { quantity: '9' });
    const job = await stock.job([{ partId, quantity: '3' }]);
    for (const quantity of ['0', '-1', '1.5', '4']) {
      const answer = await fit({ code: lot.code, jobId: job.id, quantity });
      expect(answer.status).toBeGreaterThanOrEqual(409);
    }
    expect(await held(lot.id)).toBe('9');
  });
});

describe('what the books deny and a hand holds', () => {
  it('is found and fitted, and stores are asked to look', async () => {
    const partId = await stock.part({ name: 'Tab washer' });
    const lot = await stock.lot(partId, { quantity: '0' });
    const job = await stock.job([{ partId, quantity: '2' }]);
    const stopped = await fit({ code: lot.code, jobId: job.id });
    expect(stopped.body.code).toBe('none-left');
    expect(stopped.body.values.choices.map((choice) => choice.kind)).toContain('have-it-here');
    expect(await fit({ code: lot.code, jobId: job.id, haveItHere: true })).toMatchObject({
      status: 200,
      body: { found: true, quantity: '2' },
    });
    const today = await owner.get<{ items: { tag: { code: string } | null; title: string }[] }>('/api/today');
    expect(today.body.items).toContainEqual(expect.objectContaining({ tag: expect.objectContaining({ code: lot.code }) }));
  });
});

describe('undoing', () => {
  it('a mis-scan is reversed: the second movement names the first, and the part is promised as before', async () => {
    const partId = await stock.part();
    const lot = await stock.lot(partId, { quantity: '2' });
    const job = await stock.job([{ partId, quantity: '2' }]);
    await pick({ code: lot.code, jobId: job.id });
    const fitted = await fit({ code: lot.code, jobId: job.id });
    const back = await owner.post(`/api/acts/${fitted.body.actId}/take-back`, {});
    expect(back).toMatchObject({ status: 200, body: { act: 'taken back', quantity: '2' } });
    expect(await owner.post(`/api/acts/${fitted.body.actId}/take-back`, {})).toMatchObject({
      status: 409,
      body: { code: 'cannot-be-taken-back' },
    });
    const [thing] = await stock.query<{ held: string; claimed: string }>(
      'SELECT trim_scale(held)::text AS held, trim_scale(claimed)::text AS claimed FROM things WHERE id = $1',
      [lot.id],
    );
    expect(thing).toEqual({ held: '2', claimed: '2' });
    expect((await fit({ code: lot.code, jobId: job.id })).status).toBe(200);
  });

  it('a part taken out again becomes a lot of its own, fitted once, and no old stock any more', async () => {
    const partId = await stock.part({ name: 'Thrust bearing' });
    const lot = await stock.lot(partId, { quantity: '1', source: 'old stock' });
    const job = await stock.job([{ partId }]);
    const fitted = await fit({ code: lot.code, jobId: job.id });
    const out = await owner.post<{ thing: { id: string; code: string } }>(`/api/fittings/${fitted.body.fittingId}/removal`, {
      lotId: newId(),
      quantity: '1',
      placeId: stock.placeId,
      why: 'the cage rubbed',
    });
    expect(out.status).toBe(200);
    const page = await owner.get(`/api/things/${out.body.thing.id}`);
    expect(page.body).toMatchObject({ kind: 'lot', fittedOnce: true, source: 'harvested', held: '1' });
    expect(await held(lot.id)).toBe('0');
    expect((await fit({ code: out.body.thing.code, jobId: job.id })).status).toBe(200);
  });
});
