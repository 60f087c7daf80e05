import { jest } from '@jest/globals';
import { newId } from '../../apps/api/src/platform/new-id.js';
import { countDifferenceId } from '../../apps/api/src/stores/ledger.js';
import { verifyBooks } from '../../apps/api/src/stores/verify/verify-books.js';
import type { LastCounted } from '../../libs/contracts/src/counting.js';
import type { Thing } from '../../libs/contracts/src/stores.js';
import type { Today } from '../../libs/contracts/src/today.js';
import { addPerson, type BareServer, startBareServer, type Visitor } from '../support/bare-server.js';
import { CostDesk } from '../support/cost-desk.js';
import { CountingDesk, decisionOn } from '../support/counting-desk.js';
import { unitType } from '../support/load-stock.js';
import { type Made, Stock } from '../support/stock.js';

jest.setTimeout(120_000);

let server: BareServer;
let owner: Visitor;
let bench: Visitor;
let ida: Visitor;
let stock: Stock;
let desk: CountingDesk;
let partId: string;

beforeAll(async () => {
  server = await startBareServer('counting');
  owner = await server.setUp();
  bench = await addPerson(server, owner, 'bench', 'tom', 'Tom Hasleby');
  ida = await addPerson(server, owner, 'stores', 'ida', 'Ida Crake');
  stock = await Stock.open(server.testDatabase.ownerUrl);
  desk = new CountingDesk(owner);
  partId = await stock.part({ name: 'Thrust washer' });
});
afterAll(async () => {
  expect(await verifyBooks(server.database)).toEqual([]);
  await stock.close();
  await server.stop();
});

const lotIn = (place: Made, quantity: string, facts: { ownerId?: string; partId?: string } = {}) =>
  stock.lot(facts.partId ?? partId, { quantity, placeId: place.id, ownerId: facts.ownerId ?? null });
const thingOf = async (thing: Made) => (await owner.get<Thing>(`/api/things/${thing.id}`)).body;
const heldAt = async (thing: Made, place: Made): Promise<string> =>
  (await thingOf(thing)).holdings.find(({ holderId }) => holderId === place.id)?.quantity ?? '0';
const ago = (minutes: number) => new Date(Date.now() - minutes * 60_000).toISOString();
/** A lot that has lain there for a day. */
async function longThere(place: Made, quantity: string): Promise<Made> {
  const [lot, key] = [await stock.lot(partId, { quantity: '0' }), newId()];
  await stock.query("INSERT INTO commands (key, route, request_hash) VALUES ($1, 'test', '')", [key]);
  await stock.query("UPDATE things SET created_at = created_at - interval '1 day' WHERE id = $1", [lot.id]);
  await stock.query(
    `INSERT INTO movements (id, command_key, thing_id, quantity, from_holder_id, to_holder_id, reason, occurred_at)
     VALUES ($1, $2, $3, $4, $5, $6, 'opening stock', now() - interval '1 day')`,
    [newId(), key, lot.id, quantity, countDifferenceId, place.id],
  );
  return lot;
}

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

describe('work that goes on beside a count', () => {
  it('makes no difference: what was picked before an entry was not counted, what was picked after it was', async () => {
    const bin = await stock.place();
    const lot = await lotIn(bin, '10');
    const job = await stock.job([{ partId, quantity: '9' }]);
    const countId = (await desk.take(bin)).body.count.id;
    await owner.post('/api/picks', { code: lot.code, jobId: job.id, quantity: '2' });
    await desk.enter(bin, lot, '8');
    await owner.post('/api/picks', { code: lot.code, jobId: job.id, quantity: '3' });
    await desk.close(bin);
    expect(await desk.differences(countId)).toMatchObject({ open: 0, agreed: 1 });
  });

  it('is compared with the moment of the scan, however late scans arrive and in whatever order', async () => {
    const bin = await stock.place();
    const lot = await longThere(bin, '10');
    const job = await stock.job([{ partId, quantity: '9' }]);
    const countId = (await desk.take(bin, { occurredAt: ago(20) })).body.count.id;
    // counted at 10 minutes ago, when 4 had been picked 12 minutes ago by a device that was offline
    await desk.enter(bin, lot, '6', { occurredAt: ago(10) });
    await desk.close(bin);
    const before = await desk.line(countId, lot, bin);
    await owner.post('/api/picks', { code: lot.code, jobId: job.id, quantity: '4', occurredAt: ago(12) });
    await owner.post('/api/picks', { code: lot.code, jobId: job.id, quantity: '1', occurredAt: ago(5) });
    expect(before.state).toBe('short');
    expect(await desk.differences(countId)).toMatchObject({ open: 0 });
  });

  it('is posted against what is there now: what went out since is not written off too', async () => {
    const bin = await stock.place();
    const lot = await lotIn(bin, '4');
    const job = await stock.job([{ partId, quantity: '4' }]);
    const countId = await desk.counted(bin, [[lot, '1']]);
    const line = await desk.line(countId, lot, bin);
    await owner.post('/api/picks', { code: lot.code, jobId: job.id, quantity: '3' });
    expect((await desk.decide(countId, line, 'post')).body).toMatchObject({ status: 409, code: 'gone-meanwhile' });
    expect(await heldAt(lot, bin)).toBe('1');
  });

  it('says on Today what arrived when its count was closed, until it is counted once more', async () => {
    const bin = await stock.place();
    const lot = await longThere(bin, '5');
    const job = await stock.job([{ partId, quantity: '2' }]);
    const countId = (await desk.take(bin, { occurredAt: ago(20) })).body.count.id;
    await desk.enter(bin, lot, '3', { occurredAt: ago(5) });
    await desk.close(bin);
    await desk.decide(countId, await desk.line(countId, lot, bin), 'post');
    await desk.end(countId);
    const onToday = async () =>
      (await owner.get<Today>('/api/today')).body.items.find(({ id }) => id.startsWith(`counted-without:${lot.id}`));
    expect(await onToday()).toBeUndefined();
    await owner.post('/api/picks', { code: lot.code, jobId: job.id, quantity: '2', occurredAt: ago(10) });
    expect(await onToday()).toMatchObject({
      title: expect.stringMatching(/^Thrust washer: a scan came after count \d+ was closed$/),
    });
    const again = await desk.counted(bin, [[lot, '3']]);
    const line = await desk.line(again, lot, bin);
    expect(line).toMatchObject({ state: 'found', difference: '2' });
    await desk.decide(again, line, 'post');
    await desk.end(again);
    expect(await onToday()).toBeUndefined();
  });

  it('opens a line again that was posted before the scan arrived that explains it', async () => {
    const bin = await stock.place();
    const lot = await longThere(bin, '5');
    const job = await stock.job([{ partId, quantity: '2' }]);
    const countId = (await desk.take(bin, { occurredAt: ago(20) })).body.count.id;
    await desk.enter(bin, lot, '3', { occurredAt: ago(5) });
    await desk.close(bin);
    await desk.decide(countId, await desk.line(countId, lot, bin), 'post');
    await owner.post('/api/picks', { code: lot.code, jobId: job.id, quantity: '2', occurredAt: ago(10) });
    const line = await desk.line(countId, lot, bin);
    expect(line).toMatchObject({ state: 'found', counted: '3', books: '3', difference: '2' });
    expect((await desk.takeBack(line.decided!.id)).status).toBe(200);
    expect(await desk.differences(countId)).toMatchObject({ open: 0 });
    expect(await heldAt(lot, bin)).toBe('3');
  });

  it('loses nothing when picks and posts race', async () => {
    for (let round = 0; round < 6; round += 1) {
      const bin = await stock.place();
      const lot = await lotIn(bin, '3');
      const jobs: Made[] = [];
      for (let index = 0; index < 3; index += 1) jobs.push(await stock.job([{ partId, quantity: '3' }]));
      const countId = await desk.counted(bin, [[lot, '1']]);
      const line = await desk.line(countId, lot, bin);
      const answers = await Promise.all([
        ...jobs.map((job) => owner.post('/api/picks', { code: lot.code, jobId: job.id, quantity: '1' })),
        desk.decide(countId, line, 'post'),
        desk.decide(countId, line, 'post'),
      ]);
      expect(answers.every(({ status }) => status === 200 || status === 409)).toBe(true);
      const [picked, posted] = [answers.slice(0, 3), answers.slice(3)].map(
        (some) => some.filter(({ status }) => status === 200).length,
      );
      expect(posted).toBeLessThanOrEqual(1);
      expect(await heldAt(lot, bin)).toBe(String(3 - picked! - 2 * posted!));
    }
  });
});

describe('several people', () => {
  it('share places out: the second is told who counts there, joins, and both numbers are shown', async () => {
    const bin = await stock.place();
    const lot = await lotIn(bin, '5');
    const countId = (await desk.take(bin, {}, bench)).body.count.id;
    const told = await desk.take(bin, {}, ida);
    expect(told.body).toMatchObject({ status: 409, code: 'counted-by-another', title: 'Tom Hasleby counts here' });
    expect((await desk.take(bin, { join: true }, ida)).status).toBe(200);
    await desk.enter(bin, lot, '3', {}, bench);
    await desk.enter(bin, lot, '2', {}, ida);
    await desk.close(bin, {}, ida);
    const line = await desk.line(countId, lot, bin);
    expect(line).toMatchObject({ state: 'counted twice', counted: null, difference: null });
    expect(line.counts.map(({ words }) => words)).toEqual([
      '3 by Tom Hasleby',
      '2 by Ida Crake',
      '5 together, had they shared it out',
    ]);
    expect((await desk.decide(countId, line, 'post', { counted: '5' })).body).toMatchObject({ code: 'agrees' });
    expect((await desk.decide(countId, line, 'post', { counted: '3' })).status).toBe(200);
    expect(await heldAt(lot, bin)).toBe('3');
    expect(await desk.differences(countId)).toMatchObject({ open: 0 });
  });

  it('who look again are others than those who looked first', async () => {
    const bin = await stock.place();
    const lot = await lotIn(bin, '5');
    const countId = await desk.counted(bin, [[lot, '4']], bench);
    await desk.decide(countId, await desk.line(countId, lot, bin), 'again', { why: 'look behind it' });
    expect((await desk.page(countId, ida)).places[0]!.again).toMatchObject([{ thing: { id: lot.id } }]);
    expect((await desk.enter(bin, lot, '5', {}, bench)).body).toMatchObject({ status: 409, code: 'another-is-asked' });
    expect((await desk.line(countId, lot, bin)).state).toBe('to be counted again');
    expect((await desk.enter(bin, lot, '5', {}, ida)).status).toBe(200);
    expect(await desk.differences(countId)).toMatchObject({ open: 0 });
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

describe('what is keyed wrong', () => {
  it('is asked for once more without a word of the books, and is not posted until the number is sure', async () => {
    const bin = await stock.place();
    const lot = await lotIn(bin, '12');
    const taken = await desk.take(bin);
    const first = await desk.enter(bin, lot, '1122');
    expect(first.body).toMatchObject({
      asks: 'once more',
      words: expect.stringMatching(/Key the number once more, to be sure\.$/),
    });
    await desk.close(bin);
    const line = await desk.line(taken.body.count.id, lot, bin);
    expect(line).toMatchObject({ state: 'to be keyed once more', typed: true });
    expect((await desk.decide(taken.body.count.id, line, 'post')).body).toMatchObject({ code: 'type-the-number' });
    expect((await desk.enter(bin, lot, '12')).body).toMatchObject({ asks: 'nothing' });
    expect(await desk.differences(taken.body.count.id)).toMatchObject({ open: 0 });
  });

  it('is believed when it is keyed twice, and a thousand where the books have one is typed before it is posted', async () => {
    const bin = await stock.place();
    const lot = await lotIn(bin, '1');
    const { body } = await desk.take(bin);
    expect((await desk.enter(bin, lot, '1000')).body.asks).toBe('once more');
    expect((await desk.enter(bin, lot, '1000')).body.asks).toBe('nothing');
    await desk.close(bin);
    const line = await desk.line(body.count.id, lot, bin);
    expect(line).toMatchObject({ state: 'found', typed: true });
    expect((await desk.decide(body.count.id, line, 'post', { typed: '100' })).body).toMatchObject({ code: 'type-the-number' });
    expect((await desk.decide(body.count.id, line, 'post', { typed: '1000' })).status).toBe(200);
    expect(await heldAt(lot, bin)).toBe('1000');
  });

  it('without a number waits for one, and a thing with a tag of its own is one', async () => {
    const bin = await stock.place();
    const [lot, unit] = [await lotIn(bin, '6'), await stock.unit()];
    const { body } = await desk.take(bin);
    expect((await desk.enter(bin, lot)).body).toMatchObject({ asks: 'how many', quantity: null });
    expect((await desk.enter(bin, unit)).body).toMatchObject({ asks: 'nothing', quantity: '1' });
    expect((await desk.enter(bin, unit, '11')).status).toBe(422);
    await desk.close(bin);
    expect(await desk.line(body.count.id, lot, bin)).toMatchObject({ state: 'no number keyed', offered: ['again', 'leave'] });
    const halves = await desk.enter(bin, lot, '2.5');
    expect(halves.body).toMatchObject({ status: 422, detail: expect.stringContaining('Each comes whole') });
  });

  it('is struck out again', async () => {
    const bin = await stock.place();
    const lot = await stock.lot(partId, { quantity: '2' });
    const { body } = await desk.take(bin, {}, bench);
    const entry = await desk.enter(bin, lot, '2', {}, bench);
    const path = `/api/count-entries/${entry.body.actId}/strike`;
    expect((await bench.post(path, {})).status).toBe(200);
    expect((await bench.post(path, {})).body).toMatchObject({ code: 'struck-already' });
    await desk.close(bin, {}, bench);
    expect((await desk.differences(body.count.id)).lines).toEqual([]);
  });

  it('dated long before the count is refused, and a little before it is taken as its beginning', async () => {
    const bin = await stock.place();
    const lot = await longThere(bin, '2');
    await desk.take(bin);
    expect((await desk.enter(bin, lot, '2', { occurredAt: ago(200) })).body).toMatchObject({
      code: 'dated-before',
      detail: expect.stringMatching(/before this count had begun/),
    });
    expect((await desk.enter(bin, lot, '2', { occurredAt: ago(9) })).body.words).toMatch(/The clock of this device is slow/);
  });

  it('dated before the thing was in the books is refused, and in the future is taken as now', async () => {
    const bin = await stock.place();
    await desk.take(bin, { occurredAt: ago(60) });
    const lot = await lotIn(bin, '2');
    expect((await desk.enter(bin, lot, '2', { occurredAt: ago(40) })).body).toMatchObject({
      code: 'dated-before',
      detail: expect.stringMatching(/before the books knew this thing/),
    });
    const ahead = await desk.enter(bin, lot, '2', { occurredAt: ago(-90) });
    expect(ahead.body.words).toMatch(/The clock of this device is fast/);
  });

  it('is a place where a thing is due, or a thing where nobody counts', async () => {
    const bin = await stock.place();
    const lot = await lotIn(bin, '2');
    expect((await desk.enter(bin, lot, '2')).body).toMatchObject({ status: 409, code: 'no-count-here' });
    await desk.take(bin);
    expect((await desk.enter(bin, bin, '2')).body).toMatchObject({ status: 422, code: 'code-of-another-kind' });
    expect((await desk.take(lot)).body).toMatchObject({ status: 422, code: 'code-of-another-kind' });
    const job = await stock.job([]);
    const [tray] = await stock.query<{ code: string }>('SELECT code FROM codes WHERE subject_id = $1', [job.trayId]);
    expect((await desk.take({ id: job.trayId, code: tray!.code })).body).toMatchObject({ code: 'tray-not-counted' });
  });
});

describe('what bears no label', () => {
  it('goes on as something unsorted with a label of its own, or is left with a reason', async () => {
    const bin = await stock.place();
    const { body } = await desk.take(bin, {}, bench);
    const countId = body.count.id;
    const lot = await lotIn(bin, '1');
    const finding = (facts: object) =>
      bench.post<{ detail: string }>('/api/count-findings', { id: newId(), placeId: bin.id, ...facts });
    expect((await finding({ kind: 'no label', words: 'a bag of small springs', quantity: 14 })).status).toBe(200);
    expect((await finding({ kind: 'another label', words: 'a pinion', code: lot.code })).status).toBe(200);
    expect((await finding({ kind: 'another label', words: 'a pinion' })).status).toBe(422);
    const today = (await owner.get<Today>('/api/today')).body.items;
    expect(today.find(({ tag }) => tag?.id === lot.id)).toMatchObject({
      title: expect.stringContaining('Its label is on something else'),
    });
    expect(today.find(({ id }) => id === `count:${countId}`)).toMatchObject({ action: { path: `/stores/counting/${countId}` } });

    await desk.enter(bin, lot, '1', {}, bench);
    await desk.close(bin, {}, bench);
    expect((await desk.end(countId)).body).toMatchObject({ code: 'findings-open' });
    const { findings } = await desk.page(countId);
    const end = (id: string, how: string, why = '') =>
      owner.post<{ code: string }>(`/api/count-findings/${id}/end`, { how, why });
    expect((await end(findings[0]!.id, 'made unsorted')).status).toBe(200);
    expect((await end(findings[0]!.id, 'made unsorted')).body).toMatchObject({ code: 'finding-decided' });
    expect((await end(findings[1]!.id, 'left')).status).toBe(422);
    expect((await end(findings[1]!.id, 'left', 'Tom knows it')).status).toBe(200);
    const made = (await desk.page(countId)).findings[0]!.ended!.thing!;
    expect(made.code).toMatch(/^X/);
    expect(await heldAt(made, bin)).toBe('1');
    expect((await desk.end(countId)).status).toBe(200);
  });
});

describe('what is due', () => {
  it('is what nobody has counted for as long as the workshop says, the longest overdue first', async () => {
    const [bin, other] = [await stock.place(), await stock.place()];
    const rare = await stock.part({ name: 'Pinion, straddle mounted' });
    const [lot] = [await lotIn(bin, '1', { partId: rare }), await lotIn(other, '30')];
    for (const each of [lot])
      await stock.query("UPDATE things SET created_at = now() - interval '50 days' WHERE id = $1", [each.id]);
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
