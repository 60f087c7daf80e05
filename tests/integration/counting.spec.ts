import { jest } from '@jest/globals';
import { newId } from '../../apps/api/src/platform/new-id.js';
import { verifyBooks } from '../../apps/api/src/stores/verify/verify-books.js';
import type { LastCounted } from '../../libs/contracts/src/counting.js';
import type { HistoryPage } from '../../libs/contracts/src/history.js';
import type { BareServer, Visitor } from '../support/bare-server.js';
import { CostDesk } from '../support/cost-desk.js';
import { type CountingDesk, decisionOn } from '../support/counting-desk.js';
import { CountingScene } from '../support/counting-scene.js';
import { unitType } from '../support/load-stock.js';
import type { Made, Stock } from '../support/stock.js';

jest.setTimeout(120_000);

let scene: CountingScene;
let server: BareServer;
let owner: Visitor;
let bench: Visitor;
let stock: Stock;
let desk: CountingDesk;
let partId: string;
let lotIn: CountingScene['lotIn'];
let thingOf: CountingScene['thingOf'];
let heldAt: CountingScene['heldAt'];

beforeAll(async () => {
  scene = await CountingScene.open('counting');
  ({ server, owner, bench, stock, desk, partId, lotIn, thingOf, heldAt } = scene);
});
afterAll(async () => {
  expect(await verifyBooks(scene.server.database)).toEqual([]);
  await scene.close();
});

describe('a count of a place', () => {
  it('begins with a scan of the place, is blind, and shows what differs once all is scanned', async () => {
    const bin = await stock.place();
    const [right, short, gone] = [await lotIn(bin, '4'), await lotIn(bin, '5'), await lotIn(bin, '2')];
    const taken = await desk.take(bin, {}, bench);
    expect(taken.body).toMatchObject({ act: 'place taken', place: { code: bin.code } });
    const countId = taken.body.count.id;
    const entered = await desk.enter(bin, short, '3', {}, bench);
    expect(entered.body).toMatchObject({ act: 'counted', quantity: '3', asks: 'nothing' });
    await desk.enter(bin, right, '4', {}, bench);
    const seen = JSON.stringify([taken.body, entered.body, await desk.page(countId, bench)]);
    expect(seen).not.toMatch(/agree|differ|books|"5"/);
    expect((await bench.get(`/api/counts/${countId}/differences`)).status).toBe(403);
    // whoever keeps the books sees nothing of the place either until it is closed
    expect(await desk.differences(countId)).toMatchObject({ lines: [], notClosed: [expect.stringContaining('Bin')] });

    await desk.close(bin, {}, bench);
    const { lines, agreed, open } = await desk.differences(countId);
    expect({ agreed, open }).toEqual({ agreed: 1, open: 2 });
    expect(lines.map(({ thing, state, counted, books, difference }) => [thing.id, state, counted, books, difference])).toEqual([
      [gone.id, 'missing', '0', '2', '-2'],
      [short.id, 'short', '3', '5', '-2'],
    ]);
    expect(lines[0]!.entries).toEqual([]);
    expect(lines[0]).toMatchObject({ worth: null, worthWords: 'Nobody knows what it cost, which is not nothing.' });
  });

  it('posts what differs, line by line, with the count as the reason; then it is closed, once', async () => {
    const bin = await stock.place();
    const [short, more] = [await lotIn(bin, '5'), await lotIn(bin, '1')];
    const countId = await desk.counted(bin, [
      [short, '3'],
      [more, '2'],
    ]);
    const { number } = await desk.page(countId);
    expect((await desk.end(countId)).body).toMatchObject({ status: 409, code: 'differences-open' });

    const key = newId();
    const line = await desk.line(countId, short, bin);
    const [first, again] = [
      await desk.decide(countId, line, 'post', {}, { key }),
      await desk.decide(countId, line, 'post', {}, { key }),
    ];
    expect([first.status, again.status]).toEqual([200, 200]);
    expect((await desk.decide(countId, line, 'post')).body).toMatchObject({ status: 409, code: 'line-decided' });
    expect(await heldAt(short, bin)).toBe('3');
    await desk.decide(countId, await desk.line(countId, more, bin), 'post');
    expect(await heldAt(more, bin)).toBe('2');
    const { body } = await owner.get<{ movements: { reason: string; quantity: string }[] }>(`/api/things/${short.id}/movements`);
    expect(body.movements[0]).toMatchObject({ reason: `count ${number}: fewer than the books had`, quantity: '2' });

    const ended = await desk.end(countId);
    expect(ended.body).toMatchObject({ ending: 'posted' });
    expect((await desk.end(countId)).body).toMatchObject({ status: 409, code: 'count-ended' });
    expect((await desk.enter(bin, short, '3', { countId })).body).toMatchObject({ status: 409, code: 'count-ended' });
    const counted = (await owner.get<LastCounted>(`/api/things/${short.id}/counted`)).body.counted;
    expect(counted).toMatchObject([
      { number, agreed: false, words: expect.stringMatching(/3 counted, 2 fewer than the books had$/) },
    ]);
    const ofPlace = (await owner.get<LastCounted>(`/api/places/${bin.id}/counted`)).body.counted;
    expect(ofPlace).toMatchObject([{ agreed: false, words: '2 of 2 lines differed' }]);
    const { body: hits } = await owner.get<{ counts: { id: string; right: number; counted: number }[] }>('/api/count-hits');
    expect(hits.counts.find(({ id }) => id === countId)).toMatchObject({ right: 0, counted: 2 });
  });

  it('posts what is found after all less what it has put right already, and the books rebuilt agree', async () => {
    const bin = await stock.place();
    const lot = await lotIn(bin, '3');
    const countId = await desk.counted(bin, []);
    expect((await desk.decide(countId, await desk.line(countId, lot, bin), 'post')).status).toBe(200);
    expect(await heldAt(lot, bin)).toBe('0');
    // they lay behind the box: fewer than the books had, and more than is there now
    await desk.enter(bin, lot, '2', {}, bench);
    const line = await desk.line(countId, lot, bin);
    expect(line).toMatchObject({ state: 'found', counted: '2', books: '3', difference: '2' });
    expect((await desk.decide(countId, line, 'post')).status).toBe(200);
    expect(await heldAt(lot, bin)).toBe('2');
    expect(await verifyBooks(server.database)).toEqual([]);
    // a movement of another size than what was decided is told
    const [posted] = await stock.query<{ id: string }>(
      'SELECT movement_id AS id FROM count_decisions WHERE thing_id = $1 ORDER BY sequence DESC LIMIT 1',
      [lot.id],
    );
    const change = async (quantity: number) => {
      await stock.query('ALTER TABLE movements DISABLE TRIGGER USER');
      await stock.query('UPDATE movements SET quantity = $1 WHERE id = $2', [quantity, posted!.id]);
      await stock.query('ALTER TABLE movements ENABLE TRIGGER USER');
    };
    await change(1);
    expect(
      (await verifyBooks(server.database)).map(({ what, kept, rebuilt }) => [what, Number(kept), Number(rebuilt)]),
    ).toContainEqual(['difference of a count', 2, 1]);
    await change(2);

    expect((await desk.end(countId)).status).toBe(200);
    const { entries } = (await owner.get<HistoryPage>(`/api/things/${lot.id}/history?kinds=counts`)).body;
    expect(entries.filter(({ title }) => title === 'Difference of the count posted').map(({ detail }) => detail)).toEqual([
      expect.stringMatching(/^2 counted, the books had 3, less what the count had put right before, /),
      expect.stringMatching(/^0 counted, the books had 3, Bin/),
    ]);
  });

  it('takes a decision back by a second movement, and the line is open again', async () => {
    const bin = await stock.place();
    const lot = await lotIn(bin, '5');
    const countId = await desk.counted(bin, [[lot, '4']]);
    await desk.decide(countId, await desk.line(countId, lot, bin), 'post');
    const { decided } = await desk.line(countId, lot, bin);
    expect(decided).toMatchObject({ words: 'posted', canBeTakenBack: true });
    expect((await desk.takeBack(decided!.id)).status).toBe(200);
    expect(await heldAt(lot, bin)).toBe('5');
    expect((await desk.takeBack(decided!.id)).body).toMatchObject({ status: 409, code: 'not-the-last-decision' });
    expect(await desk.line(countId, lot, bin)).toMatchObject({ state: 'short', decided: null, difference: '-1' });
  });

  it('is of everything inside it, and one that lies in another count is told', async () => {
    const rack = await stock.place();
    const bin = await stock.place();
    await stock.query('UPDATE places SET parent_id = $1 WHERE holder_id = $2', [rack.id, bin.id]);
    const begun = await desk.begin({ placeId: rack.id });
    const taken = await desk.take(bin, {}, bench);
    expect(taken.body.count.id).toBe(begun.body.id);
    expect((await desk.begin({ placeId: bin.id })).body).toMatchObject({ status: 409, code: 'count-under-way' });
    const other = await stock.place();
    expect((await desk.take(other, { countId: begun.body.id })).body).toMatchObject({ code: 'place-not-in-count' });
    expect((await desk.end(begun.body.id, 'given up')).status).toBe(422);
    expect((await desk.end(begun.body.id, 'given up', 'the rack was cleared')).body).toMatchObject({ ending: 'given up' });
  });
});

describe('a count of a part', () => {
  it('takes that part wherever it lies, and no other', async () => {
    const rare = await stock.part({ name: 'Crown wheel' });
    const [bin, other] = [await stock.place(), await stock.place()];
    const [one, two] = [await lotIn(bin, '1', { partId: rare }), await lotIn(other, '1', { partId: rare })];
    const stranger = await lotIn(bin, '9');
    const { body: count } = await desk.begin({ partId: rare }, bench);
    expect(count.places.map(({ id }) => id).sort()).toEqual([bin.id, other.id].sort());
    const more = { countId: count.id };
    await desk.take(bin, more, bench);
    expect((await desk.enter(bin, stranger, '9', more, bench)).body).toMatchObject({ status: 409, code: 'another-part' });
    await desk.enter(bin, one, '1', more, bench);
    await desk.close(bin, more, bench);
    await desk.take(other, more, bench);
    await desk.close(other, more, bench);
    const { lines, agreed } = await desk.differences(count.id);
    expect(agreed).toBe(1);
    expect(lines).toMatchObject([{ thing: { id: two.id }, state: 'missing' }]);
  });
});

describe('what lies where the books do not have it', () => {
  it('is offered as a move, and both lines are settled by it', async () => {
    const [bin, other] = [await stock.place(), await stock.place()];
    const unit = await stock.unit();
    const lot = await lotIn(other, '3');
    const countId = await desk.counted(bin, [[lot, '3'], [unit]]);
    const line = await desk.line(countId, lot, bin);
    expect(line).toMatchObject({ state: 'lies elsewhere by the books', elsewhere: [{ placeId: other.id, quantity: '3' }] });
    expect(line.offered[0]).toBe('move');
    expect((await desk.decide(countId, line, 'move', { fromPlaceId: other.id })).status).toBe(200);
    expect([await heldAt(lot, bin), await heldAt(lot, other)]).toEqual(['3', '0']);
    const single = await desk.line(countId, unit, bin);
    expect(single).toMatchObject({ state: 'lies elsewhere by the books', counted: '1' });
    await desk.decide(countId, single, 'move');
    expect(await heldAt(unit, bin)).toBe('1');
    expect((await desk.end(countId)).status).toBe(200);
  });

  it('is found where the books have none at all, and what was written off comes back', async () => {
    const bin = await stock.place();
    const lot = await lotIn(bin, '2');
    const first = await desk.counted(bin, []);
    await desk.decide(first, await desk.line(first, lot, bin), 'post');
    await desk.end(first);
    expect((await thingOf(lot)).held).toBe('0');
    const second = await desk.counted(bin, [[lot, '2']]);
    const line = await desk.line(second, lot, bin);
    expect(line).toMatchObject({ state: 'found', books: '0', difference: '2' });
    await desk.decide(second, line, 'post');
    expect((await thingOf(lot)).held).toBe('2');
  });
});

describe('what a difference is worth', () => {
  it('is its part of what its own lot cost, to the last minor unit; what comes back of it brings that back, and what is more is not known', async () => {
    const typeId = await unitType(stock, { maker: 'Dunmarrow', model: 'S11', weightKg: '140' });
    const costs = new CostDesk(owner, typeId, partId);
    const load = await costs.threeWorths();
    await costs.share(load.id, 'relative value');
    const washers: Made = load.rows[1]!;
    const cost = Number((await costs.thingCost(washers.id)).amount);
    const bin = await stock.place();
    expect((await owner.post('/api/put-aways', { code: washers.code, placeId: bin.id })).status).toBe(200);
    const first = await desk.counted(bin, [[washers, '5']]);
    const short = await desk.line(first, washers, bin);
    // two of seven
    const part = Number(short.worth);
    expect(Math.abs(part + (cost * 2) / 7)).toBeLessThan(0.01);
    expect(await desk.differences(first)).toMatchObject({ worth: short.worth, unknownWorth: 0 });
    await desk.decide(first, short, 'post');
    expect(Number((await costs.thingCost(washers.id)).amount)).toBe(cost);
    await desk.end(first);
    const second = await desk.counted(bin, [[washers, '7']]);
    const back = await desk.line(second, washers, bin);
    expect(back).toMatchObject({ state: 'found', worth: short.worth!.slice(1) });
    await desk.enter(bin, washers, '9');
    expect(await desk.line(second, washers, bin)).toMatchObject({ difference: '4', worth: null });
    await desk.end(second, 'given up', 'counted anew');
  });
});

describe('what nobody finds', () => {
  it('is marked as not found, and a scan in a count finds it again', async () => {
    const bin = await stock.place();
    const lot = await lotIn(bin, '2');
    const countId = await desk.counted(bin, []);
    await desk.decide(countId, await desk.line(countId, lot, bin), 'missing', { why: 'not in the next bin either' });
    expect((await thingOf(lot)).missing).toMatchObject({
      words: expect.stringMatching(/^Looked for in Bin .* Count \d+\. not in the next bin either$/),
    });
    expect((await desk.end(countId)).status).toBe(200);
    const later = await desk.take(bin, {}, bench);
    const entered = await desk.enter(bin, lot, '2', {}, bench);
    expect(entered.body.words).toMatch(/It was missing, and Edie Marrack looked for it: it is found/);
    expect((await thingOf(lot)).missing).toBeNull();
    expect(later.status).toBe(200);
  });

  it('is not posted from under a job, and the refusal says whose claims are in the way', async () => {
    const bin = await stock.place();
    const lot = await lotIn(bin, '2');
    const job = await stock.job([{ partId, quantity: '2' }]);
    await owner.post('/api/reservations', { jobId: job.id, lineId: job.lineIds[0], thingId: lot.id, quantity: '2' });
    const [reserved] = await stock.query<{ claimed: string }>(
      'SELECT trim_scale(claimed)::text AS claimed FROM things WHERE id = $1',
      [lot.id],
    );
    if (reserved?.claimed !== '2')
      await stock.query('INSERT INTO claims (id, thing_id, claimant_id, purpose_id, quantity) VALUES ($1, $2, $3, $4, 2)', [
        newId(),
        lot.id,
        job.id,
        job.lineIds[0],
      ]);
    const countId = await desk.counted(bin, []);
    const line = await desk.line(countId, lot, bin);
    expect(line.claims[0]).toMatch(/^2 for J\d+ Overhead-worm axle/);
    const refused = await desk.decide(countId, line, 'post');
    expect(refused.body).toMatchObject({
      status: 409,
      code: 'in-use',
      detail: expect.stringMatching(/reserved for J \d+ \d\d, .*mark it as not found/),
    });
    expect((await desk.decide(countId, line, 'missing')).status).toBe(200);
    expect(await heldAt(lot, bin)).toBe('2');
  });

  it('of a customer’s is never written off', async () => {
    const bin = await stock.place();
    const lot = await lotIn(bin, '2', { ownerId: await stock.customer('R. Sandiman') });
    const countId = await desk.counted(bin, [[lot, '1']]);
    const line = await desk.line(countId, lot, bin);
    expect(line.offered).toEqual(['again', 'leave']);
    expect(line.why).toMatch(/R\. Sandiman’s: it is never written off without the owner’s word/);
    expect((await desk.decide(countId, line, 'post')).body).toMatchObject({ status: 409, code: 'cannot-be-decided-so' });
    expect((await desk.decide(countId, line, 'leave', { why: 'he is asked' })).status).toBe(200);
    expect((await desk.end(countId)).status).toBe(200);
  });
});

describe('what is due', () => {
  it('is what nobody has counted for as long as the workshop says, the longest overdue first', async () => {
    const [bin, other] = [await stock.place(), await stock.place()];
    const rare = await stock.part({ name: 'Pinion, straddle mounted' });
    const lot = await lotIn(bin, '1', { partId: rare });
    await lotIn(other, '30');
    // fifty days of the workshop's calendar: the clocks may have gone back meanwhile
    const calendar = "(now() AT TIME ZONE workshop.time_zone - interval '50 days') AT TIME ZONE workshop.time_zone";
    await stock.query(`UPDATE things SET created_at = ${calendar} FROM workshop WHERE things.id = $1`, [lot.id]);
    const settings = (await owner.get<{ version: number }>('/api/count-settings')).body;
    const body = { scarceAtMost: '2', scarceDays: 30, usualDays: 365, terms: [{ placeId: bin.id, placeKind: null, days: 10 }] };
    expect((await owner.send('PUT', '/api/count-settings', body, { ifMatch: settings.version })).status).toBe(200);
    expect((await owner.send('PUT', '/api/count-settings', body, { ifMatch: settings.version })).status).toBe(412);
    const { due } = await desk.due();
    const [place, part, later] = [bin.id, rare, other.id].map((id) => due.find((each) => each.id === id));
    expect(place).toMatchObject({ kind: 'place', daysOver: 40, lastOn: null });
    expect(part).toMatchObject({ kind: 'part', daysOver: 20, why: '2 or fewer of ours are in stores: every 30 days' });
    expect(later!.daysOver).toBeLessThan(0);
    expect(due.map(({ daysOver }) => daysOver)).toEqual(due.map(({ daysOver }) => daysOver).toSorted((a, b) => b - a));

    await desk.end(await desk.counted(bin, [[lot, '1']]));
    const after = (await desk.due()).due;
    expect(after.find(({ id }) => id === bin.id)).toMatchObject({ daysOver: -10 });
    expect(after.find(({ id }) => id === rare)).toMatchObject({ daysOver: -30 });
    await owner.send('PUT', `/api/parts/${rare}/count-mark`, { scarce: false });
    expect((await desk.due()).due.find(({ id }) => id === rare)).toBeUndefined();
  });
});

describe('the books themselves', () => {
  it('keep entries, decisions and endings for good, and take nothing into a count that has ended', async () => {
    const bin = await stock.place();
    const lot = await lotIn(bin, '2');
    const countId = await desk.counted(bin, [[lot, '2']]);
    await desk.end(countId);
    await expect(stock.query('UPDATE count_entries SET quantity = 1')).rejects.toMatchObject({ code: 'CW001' });
    await expect(stock.query('DELETE FROM count_lines')).rejects.toMatchObject({ code: 'CW001' });
    await expect(
      stock.query(
        'UPDATE counts SET ended_at = NULL, ended_by = NULL, ending = NULL, ending_why = NULL, ending_key = NULL WHERE id = $1',
        [countId],
      ),
    ).rejects.toMatchObject({ code: 'CW026' });
    await expect(server.database.rows('UPDATE counts SET begun_at = now()')).rejects.toMatchObject({ code: '42501' });
    await expect(server.database.rows('DELETE FROM count_decisions')).rejects.toMatchObject({ code: '42501' });
  });

  it('decide all lines that are sent, or none', async () => {
    const bin = await stock.place();
    const [one, two] = [await lotIn(bin, '3'), await lotIn(bin, '3', { ownerId: await stock.customer() })];
    const countId = await desk.counted(bin, [
      [one, '1'],
      [two, '1'],
    ]);
    const lines = await Promise.all([desk.line(countId, one, bin), desk.line(countId, two, bin)]);
    const sent = await owner.post<{ code: string; title: string }>(`/api/counts/${countId}/decisions`, {
      lines: lines.map((line) => decisionOn(line, 'post')),
    });
    expect(sent.body).toMatchObject({
      status: 409,
      code: 'cannot-be-decided-so',
      title: expect.stringContaining('Thrust washer'),
    });
    expect(await heldAt(one, bin)).toBe('3');
  });
});
