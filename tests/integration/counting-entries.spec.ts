import { jest } from '@jest/globals';
import { verifyBooks } from '../../apps/api/src/stores/verify/verify-books.js';
import type { Visitor } from '../support/bare-server.js';
import type { CountingDesk } from '../support/counting-desk.js';
import { ago, CountingScene } from '../support/counting-scene.js';
import type { Made, Stock } from '../support/stock.js';

jest.setTimeout(120_000);

let scene: CountingScene;
let owner: Visitor;
let bench: Visitor;
let ida: Visitor;
let stock: Stock;
let desk: CountingDesk;
let partId: string;
let lotIn: CountingScene['lotIn'];
let heldAt: CountingScene['heldAt'];
let longThere: CountingScene['longThere'];

beforeAll(async () => {
  scene = await CountingScene.open('entries');
  ({ owner, bench, ida, stock, desk, partId, lotIn, heldAt, longThere } = scene);
});
afterAll(async () => {
  expect(await verifyBooks(scene.server.database)).toEqual([]);
  await scene.close();
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
});

describe('a second look', () => {
  /** A bag of five of which somebody counted four, and a second look is asked for. */
  async function disputed(): Promise<{ bin: Made; lot: Made; countId: string }> {
    const bin = await stock.place();
    const lot = await lotIn(bin, '5');
    const countId = await desk.counted(bin, [[lot, '4']], bench);
    await desk.decide(countId, await desk.line(countId, lot, bin), 'again', { why: 'look behind it' });
    return { bin, lot, countId };
  }
  const again = async (countId: string) => (await desk.page(countId, ida)).places[0]!.again;

  it('is of another than those who looked first, while one works here who has not', async () => {
    const { bin, lot, countId } = await disputed();
    expect(await again(countId)).toMatchObject([
      { thing: { id: lot.id }, whose: 'Edie Marrack or Ida Crake looks; Tom Hasleby has' },
    ]);
    const refused = await desk.enter(bin, lot, '5', { inOwnName: true }, bench);
    expect(refused.body).toMatchObject({
      status: 409,
      code: 'another-is-asked',
      detail: expect.stringContaining('who has not: Edie Marrack or Ida Crake.'),
    });
    // to say that it is not there would be a look as well
    expect((await desk.close(bin, { inOwnName: true }, bench)).body).toMatchObject({ code: 'another-is-asked' });
    expect((await desk.line(countId, lot, bin)).state).toBe('to be counted again');
    const entered = await desk.enter(bin, lot, '5', {}, ida);
    expect(entered.body.words).not.toMatch(/own name/);
    expect(await desk.differences(countId)).toMatchObject({ open: 0 });
  });

  it('is anybody’s where everybody has looked, once they were told who has, and the record says so', async () => {
    const { bin, lot, countId } = await disputed();
    for (const [who, quantity] of [
      [ida, '3'],
      [owner, '2'],
    ] as const) {
      expect((await desk.enter(bin, lot, quantity, {}, who)).status).toBe(200);
      await desk.decide(countId, await desk.line(countId, lot, bin), 'again');
    }
    expect((await again(countId))[0]!.whose).toBe(
      'Tom Hasleby, Ida Crake and Edie Marrack have looked, and nobody is left: anybody looks once more, in their own name',
    );
    const told = await desk.enter(bin, lot, '4', {}, bench);
    expect(told.body).toMatchObject({
      status: 409,
      code: 'everybody-has-looked',
      detail: expect.stringMatching(/^Tom Hasleby, Ida Crake and Edie Marrack have looked at this here before, .* Scan it again/),
      values: { looked: ['Tom Hasleby', 'Ida Crake', 'Edie Marrack'] },
    });
    expect((await desk.line(countId, lot, bin)).state).toBe('to be counted again');
    const looked = await desk.enter(bin, lot, '4', { inOwnName: true }, bench);
    expect(looked.body.words).toContain('In your own name: everybody had looked before.');
    // what they put right of it needs no second word, and is in their own name too
    expect((await desk.enter(bin, lot, '3', {}, bench)).status).toBe(200);
    const line = await desk.line(countId, lot, bin);
    expect(line).toMatchObject({
      state: 'short',
      counted: '3',
      counts: [{ words: '3 by Tom Hasleby, who had looked before' }],
      entries: [{ by: 'Tom Hasleby', inOwnName: true }],
    });
    await desk.decide(countId, line, 'post');
    await desk.end(countId);
    const history = await owner.get<{ entries: { title: string; detail: string }[] }>(`/api/things/${lot.id}/history`);
    expect(history.body.entries.find(({ title }) => title === '3 counted')?.detail).toMatch(
      /in their own name: everybody had looked before$/,
    );
  });

  it('that finds nothing is said of the place, by whom it may be', async () => {
    const { bin, lot, countId } = await disputed();
    expect((await desk.close(bin, {}, ida)).status).toBe(200);
    expect(await desk.line(countId, lot, bin)).toMatchObject({ state: 'missing' });
    await desk.decide(countId, await desk.line(countId, lot, bin), 'again');
    expect((await desk.close(bin, {}, owner)).status).toBe(200);
    await desk.decide(countId, await desk.line(countId, lot, bin), 'again');
    expect((await desk.close(bin, {}, bench)).body).toMatchObject({
      code: 'everybody-has-looked',
      detail: expect.stringContaining('Say once more that all is scanned'),
    });
    expect((await desk.close(bin, { inOwnName: true }, bench)).status).toBe(200);
    expect((await desk.line(countId, lot, bin)).counts).toMatchObject([
      { words: '0 nobody scanned it; Tom Hasleby, who had looked before, said that everything is' },
    ]);
    await desk.end(countId, 'given up', 'counted anew');
  });

  it('of two who look at once in their own names keeps both', async () => {
    const { bin, lot, countId } = await disputed();
    for (const who of [ida, owner]) {
      await desk.enter(bin, lot, '4', {}, who);
      await desk.decide(countId, await desk.line(countId, lot, bin), 'again');
    }
    const answers = await Promise.all([bench, ida].map((who) => desk.enter(bin, lot, '3', { inOwnName: true }, who)));
    expect(answers.map(({ status }) => status)).toEqual([200, 200]);
    expect(await desk.line(countId, lot, bin)).toMatchObject({ state: 'counted twice' });
    await desk.end(countId, 'given up', 'counted anew');
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
  });
});
