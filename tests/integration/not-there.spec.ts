import { newId } from '../../apps/api/src/platform/new-id.js';
import { verifyBooks } from '../../apps/api/src/stores/verify/verify-books.js';
import type { CoveredLine } from '../../libs/contracts/src/coverage.js';
import type { Thing } from '../../libs/contracts/src/stores.js';
import type { Today } from '../../libs/contracts/src/today.js';
import { addPerson, type Visitor } from '../support/bare-server.js';
import { WarningDesk } from '../support/warning-desk.js';

let desk: WarningDesk;
let bench: Visitor;

beforeAll(async () => {
  desk = await WarningDesk.open('notthere');
  bench = await addPerson(desk.server, desk.owner, 'bench', 'tom', 'Tom Hasleby');
});
afterAll(async () => {
  expect(await verifyBooks(desk.server.database)).toEqual([]);
  await desk.close();
});

const notThere = (thingId: string, body: object = { placeId: null }, options: { key?: string; ifMatch?: number } = {}) =>
  bench.post<Thing & { code: string; detail: string }>(`/api/things/${thingId}/not-there`, body, options);
const found = (thingId: string, placeId: string) =>
  bench.post<Thing & { code: string; detail: string }>(`/api/things/${thingId}/found`, { placeId });
const page = async (thingId: string) => (await bench.get<Thing>(`/api/things/${thingId}`)).body;
const lineOf = async (jobId: string) => (await bench.get<{ lines: CoveredLine[] }>(`/api/jobs/${jobId}/coverage`)).body.lines[0]!;
const flagOnToday = async (thingId: string) =>
  (await desk.owner.get<Today>('/api/today')).body.items.find((item) => item.tag?.id === thingId);
const flagsOf = (thingId: string) =>
  desk.stock.query<{ words: string; settled: boolean; by: string | null }>(
    `SELECT words, settled_at IS NOT NULL AS settled, (SELECT display_name FROM people WHERE people.id = settled_by) AS by
       FROM stores_flags WHERE thing_id = $1 AND kind = 'not there' ORDER BY raised_at`,
    [thingId],
  );

/** A critical line that one lot covers. */
async function coveredJob(name: string, quantity = '1') {
  const partId = await desk.stock.part({ name });
  const lot = await desk.stock.lot(partId, { quantity });
  const job = await desk.stock.job([{ partId, quantity, critical: true }]);
  return { partId, lot, job };
}

/** A component that was taken off a unit and lies in stores. */
async function takenOff(unitId: string, partId: string | null): Promise<{ id: string; code: string }> {
  const component = { id: newId(), position: 1, name: 'Brake drum', partId, placeId: desk.stock.placeId };
  const answer = await bench.post<{ id: string; code: string }>(`/api/units/${unitId}/components`, component);
  expect(answer.status).toBe(200);
  return answer.body;
}

describe('a thing that is not there', () => {
  it('is marked at once with who, when, where and a note; its page and Today say so', async () => {
    const { lot } = await coveredJob('Crown wheel');
    const [{ path }] = (await desk.stock.query<{ path: string }>('SELECT path FROM places WHERE holder_id = $1', [
      desk.stock.placeId,
    ])) as [{ path: string }];
    const key = newId();
    const body = { placeId: desk.stock.placeId, note: 'Not behind the bin either.' };
    const first = await notThere(lot.id, body, { key });
    expect(first.status).toBe(200);
    const words = `Looked for in ${path}, and not there. Not behind the bin either.`;
    expect(first.body.missing).toMatchObject({ by: 'Tom Hasleby', words });
    expect(Math.abs(Date.now() - Date.parse(first.body.missing!.since))).toBeLessThan(30_000);
    expect((await notThere(lot.id, body, { key })).body).toEqual(first.body);
    expect(await flagsOf(lot.id)).toEqual([{ words, settled: false, by: null }]);
    expect(await flagOnToday(lot.id)).toMatchObject({
      section: 'stores',
      title: `Crown wheel: ${words}`,
      reason: expect.stringContaining('Look for it.'),
    });
  });

  it('may be a unit, a component or a box, and Today calls each by its name', async () => {
    const [unit, boxId] = [await desk.stock.unit(), newId()];
    const component = await takenOff(unit.id, null);
    await desk.stock.query("INSERT INTO things (id, kind) VALUES ($1, 'X')", [boxId]);
    await desk.stock.query("INSERT INTO unsorted_boxes (thing_id, words) VALUES ($1, 'cigar box of keys')", [boxId]);
    await desk.stock.codeFor('X', boxId);
    await desk.stock.bring(boxId, '1', desk.stock.placeId);
    for (const id of [unit.id, component.id, boxId]) expect((await notThere(id)).status).toBe(200);
    expect((await flagOnToday(unit.id))!.title).toMatch(/^Overhead-worm axle: Looked for in /);
    expect((await flagOnToday(component.id))!.title).toMatch(/^Brake drum: Looked for in /);
    expect((await flagOnToday(boxId))!.title).toMatch(/^cigar box of keys: Looked for in /);
  });

  it('is not marked twice; the second is told who looked and where', async () => {
    const lot = await desk.stock.lot(null);
    await notThere(lot.id);
    const again = await desk.owner.post<{ code: string; detail: string }>(`/api/things/${lot.id}/not-there`, { placeId: null });
    expect(again).toMatchObject({ status: 409, body: { code: 'missing-already' } });
    expect(again.body.detail).toMatch(/^Tom Hasleby looked for it before\. Looked for in Bin/);
    expect(await flagsOf(lot.id)).toHaveLength(1);
  });

  it('is marked once by several at the same time', async () => {
    const lot = await desk.stock.lot(null);
    const answers = await Promise.all([notThere(lot.id), notThere(lot.id), notThere(lot.id)]);
    expect(answers.map(({ status }) => status).toSorted()).toEqual([200, 409, 409]);
    expect(await flagsOf(lot.id)).toHaveLength(1);
  });

  it('is refused in words in a tray, in a unit, elsewhere, and where it lies in another place too', async () => {
    const { lot, job } = await coveredJob('Pinion', '2');
    await bench.post('/api/picks', { code: lot.code, jobId: job.id });
    expect((await notThere(lot.id)).body).toMatchObject({ code: 'not-in-stores', detail: expect.stringMatching(/was picked/) });
    await bench.post('/api/fits', { code: lot.code, jobId: job.id });
    expect((await notThere(lot.id)).body).toMatchObject({ code: 'not-in-stores', detail: expect.stringMatching(/is fitted/) });
    const other = await desk.stock.lot(null);
    const place = await desk.stock.place();
    expect((await notThere(other.id, { placeId: place.id })).body.code).toBe('not-in-stores');
    await desk.stock.bring(other.id, '3', place.id);
    expect((await notThere(other.id, { placeId: place.id })).body.code).toBe('lies-elsewhere-too');
    expect((await page(other.id)).missing).toBeNull();
    expect((await notThere(other.id)).status).toBe(200);
    expect((await notThere(newId())).status).toBe(404);
    expect((await notThere((await desk.stock.lot(null)).id, { placeId: null }, { ifMatch: 7 })).status).toBe(412);
  });

  it('is free for nobody: not in the search, on the part, in cover, to reserve, nor as equal stock at a scan', async () => {
    const { partId, lot, job } = await coveredJob('Selector fork');
    const taken = await desk.stock.lot(partId);
    const first = await desk.stock.job([{ partId }]);
    await bench.post(`/api/jobs/${first.id}/reservations`, {
      until: null,
      lines: [{ lineId: first.lineIds[0], thingId: taken.id, quantity: '1' }],
    });
    await notThere(lot.id);
    const part = (await bench.get<{ free: string; lots: { id: string; isMissing: boolean }[] }>(`/api/parts/${partId}`)).body;
    expect(part.lots.find(({ id }) => id === lot.id)!.isMissing).toBe(true);
    const hits = (await bench.get<{ hits: { id: string; quantity: string; detail: string }[] }>(`/api/search?q=${lot.code}`)).body
      .hits;
    expect(hits.find(({ id }) => id === lot.id)!.detail).toContain('looked for and not found');
    const named = (await bench.get<{ hits: { id: string; quantity: string }[] }>('/api/search?q=Selector fork')).body.hits;
    expect(named.find(({ id }) => id === partId)!.quantity).toBe('0');
    const line = await lineOf(job.id);
    expect(line.state).toBe('lacking');
    expect(line.looked.join(' ')).toContain('missing: it was not where the books say');
    const reserve = await bench.post(`/api/jobs/${job.id}/reservations`, {
      until: null,
      lines: [{ lineId: job.lineIds[0], thingId: lot.id, quantity: '1' }],
    });
    expect(JSON.stringify(reserve.body)).toContain('was looked for and not found');
    const refused = await bench.post<{ code: string; values: { instead: unknown[] } }>('/api/picks', {
      code: taken.code,
      jobId: job.id,
    });
    expect(refused.body).toMatchObject({ code: 'claimed-for-another-job', values: { instead: [] } });
    const scanned = (await bench.get<{ free: string; warning: string }>(`/api/scan/${lot.code}`)).body;
    expect(scanned).toMatchObject({ free: '0', warning: expect.stringContaining('looked for and not found') });
    const there = await bench.get<{ contents: { id: string; isMissing: boolean }[] }>(`/api/places/${desk.stock.placeId}`);
    expect(there.body.contents.find(({ id }) => id === lot.id)!.isMissing).toBe(true);
  });

  it('stays reserved, does not cover, and what reserved it says why', async () => {
    const { lot, job } = await coveredJob('Half shaft');
    await bench.post(`/api/jobs/${job.id}/reservations`, {
      until: null,
      lines: [{ lineId: job.lineIds[0], thingId: lot.id, quantity: '1' }],
    });
    expect((await lineOf(job.id)).state).toBe('reserved');
    await notThere(lot.id);
    expect((await lineOf(job.id)).state).toBe('lacking');
    expect((await page(lot.id)).claims).toHaveLength(1);
    const { body } = await bench.get(`/api/jobs/${job.id}/reservations`);
    expect(JSON.stringify(body)).toContain('It was looked for since, and not found.');
    await found(lot.id, desk.stock.placeId);
    expect((await lineOf(job.id)).state).toBe('reserved');
  });

  it('warns the jobs that count on it, free or reserved, until it is found', async () => {
    const [free, kept] = [await coveredJob('Thrust block'), await coveredJob('Cage')];
    await bench.post(`/api/jobs/${kept.job.id}/reservations`, {
      until: null,
      lines: [{ lineId: kept.job.lineIds[0], thingId: kept.lot.id, quantity: '1' }],
    });
    for (const { job } of [free, kept]) await desk.firstLook(job.id);
    for (const { lot } of [free, kept]) await notThere(lot.id);
    for (const { job } of [free, kept]) {
      const [warning] = await desk.until(job.id, ['cover lost']);
      expect(warning!.why).toMatch(/L .* was not found where the books have it\.$/);
    }
    await found(free.lot.id, desk.stock.placeId);
    await bench.post('/api/picks', { code: kept.lot.code, jobId: kept.job.id });
    for (const { job } of [free, kept]) await desk.until(job.id, []);
  });
});

describe('a component that is reserved', () => {
  it('warns its job when it is not there', async () => {
    const partId = await desk.stock.part({ name: 'Brake drum' });
    const component = await takenOff((await desk.stock.unit()).id, partId);
    const job = await desk.stock.job([{ partId, critical: true }]);
    const reserved = await bench.post(`/api/jobs/${job.id}/reservations`, {
      until: null,
      lines: [{ lineId: job.lineIds[0], thingId: component.id, quantity: '1' }],
    });
    expect(reserved.status).toBe(200);
    await desk.firstLook(job.id);
    expect((await lineOf(job.id)).state).toBe('reserved');
    await notThere(component.id);
    const [warning] = await desk.until(job.id, ['cover lost']);
    expect(warning!.why).toMatch(/C .* was not found where the books have it\.$/);
  });
});

describe('what was missing', () => {
  it('is found where the books have it: nothing moves, and the flag is settled with words', async () => {
    const lot = await desk.stock.lot(null);
    expect((await found(lot.id, desk.stock.placeId)).body).toMatchObject({ code: 'not-missing' });
    await notThere(lot.id);
    const { status, body } = await found(lot.id, desk.stock.placeId);
    expect(status).toBe(200);
    expect(body.missing).toBeNull();
    expect(body.holdings).toMatchObject([{ holderId: desk.stock.placeId, quantity: '1' }]);
    const [flag] = await flagsOf(lot.id);
    expect(flag).toMatchObject({ settled: true, by: 'Tom Hasleby' });
    expect(flag!.words).toMatch(/Settled: found in Bin/);
    expect(await flagOnToday(lot.id)).toBeUndefined();
  });

  it('is moved where it is found in another place, out of all that the books had; never into a tray', async () => {
    const [lot, place] = [await desk.stock.lot(null, { quantity: '2' }), await desk.stock.place()];
    await desk.stock.bring(lot.id, '3', (await desk.stock.place()).id);
    const job = await desk.stock.job([]);
    await notThere(lot.id);
    expect((await found(lot.id, job.trayId)).body.code).toBe('cannot-be-put-there');
    expect((await found(lot.id, place.id)).body.holdings).toMatchObject([{ holderId: place.id, quantity: '5' }]);
  });

  it('is found by whoever puts it away, there or elsewhere, and the answer says so', async () => {
    const [lot, place] = [await desk.stock.lot(null), await desk.stock.place()];
    const putAway = async () => {
      await notThere(lot.id);
      return (await bench.post<{ words: string }>('/api/put-aways', { code: lot.code, placeId: place.id })).body.words;
    };
    expect(await putAway()).toMatch(/now in Bin .*\. It was missing, and Tom Hasleby looked for it: it is found/);
    expect(await putAway()).toMatch(/where the books have it\. It was missing, and Tom Hasleby looked for it: it is found/);
    expect((await page(lot.id)).missing).toBeNull();
    expect((await flagsOf(lot.id)).map(({ words }) => words.split('Settled: ')[1])).toEqual([
      expect.stringMatching(/^found again, put away in Bin/),
      expect.stringMatching(/^found again, in Bin .*, where the books have it\.$/),
    ]);
  });

  it.each(['pick', 'fit'])('is found by a %s, and the answer says so', async (mode) => {
    const { lot, job } = await coveredJob('Spider');
    await notThere(lot.id);
    const { status, body } = await bench.post<{ notice: string }>(`/api/${mode}s`, { code: lot.code, jobId: job.id });
    expect(status).toBe(200);
    expect(body.notice).toMatch(/^It was missing, and Tom Hasleby looked for it: it is found, and the mark is gone\.$/);
    expect((await page(lot.id)).missing).toBeNull();
    expect((await flagsOf(lot.id))[0]).toMatchObject({ settled: true });
  });

  it('is not found by fitting what lay in a tray all the while', async () => {
    const { lot, job } = await coveredJob('Shim', '2');
    await bench.post('/api/picks', { code: lot.code, jobId: job.id, quantity: '1' });
    await notThere(lot.id);
    const { body } = await bench.post<{ notice: string | null }>('/api/fits', { code: lot.code, jobId: job.id, quantity: '1' });
    expect(body.notice).toBeNull();
    expect((await page(lot.id)).missing).not.toBeNull();
  });
});

describe('what nobody looks for any longer', () => {
  const post = (thingId: string, visitor = desk.owner) =>
    visitor.post<Thing & { code: string }>(`/api/things/${thingId}/posting-away`, { reason: 'the bag was empty' });

  it('is posted away by those who keep the books, once nothing of it is reserved', async () => {
    const { lot, job } = await coveredJob('Roller', '3');
    expect((await post(lot.id)).body.code).toBe('not-missing');
    await bench.post(`/api/jobs/${job.id}/reservations`, {
      until: null,
      lines: [{ lineId: job.lineIds[0], thingId: lot.id, quantity: '2' }],
    });
    await notThere(lot.id);
    expect((await post(lot.id, bench)).status).toBe(403);
    expect((await post(lot.id)).body.code).toBe('in-use');
    const [claim] = await desk.stock.query<{ id: string }>('SELECT id FROM claims WHERE thing_id = $1', [lot.id]);
    await bench.post('/api/reservations/release', { claimId: claim!.id, quantity: '2', reason: 'it is lost' });
    expect((await post(lot.id)).body).toMatchObject({ held: '0', missing: null, holdings: [] });
    expect((await flagsOf(lot.id))[0]!.words).toMatch(/Settled: posted away: the bag was empty$/);
    const unit = await desk.stock.unit();
    await notThere(unit.id);
    expect((await post(unit.id)).body.code).toBe('cannot-be-posted-away');
  });

  it('is booked again by whoever has it in hand at a scan', async () => {
    const { lot, job } = await coveredJob('Needle');
    await notThere(lot.id);
    await post(lot.id);
    const scan = { code: lot.code, jobId: job.id };
    expect((await bench.post<{ code: string }>('/api/picks', scan)).body.code).toBe('none-left');
    expect((await bench.post<{ found: boolean }>('/api/picks', { ...scan, haveItHere: true })).body.found).toBe(true);
  });
});
