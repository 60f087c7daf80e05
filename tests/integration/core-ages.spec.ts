import { newId } from '../../apps/api/src/platform/new-id.js';
import type { CoreAges, CoreReviewList, CoreReviewMarks, CoreWorths } from '../../libs/contracts/src/core-ages.js';
import type { Today } from '../../libs/contracts/src/today.js';
import { addDays, addMonths } from '../../libs/quantities/src/plain-date.js';
import { addPerson, type BareServer, startBareServer, type Visitor } from '../support/bare-server.js';
import { CostDesk } from '../support/cost-desk.js';
import { keyRow, lotRow, openLoad, unitRow } from '../support/load-stock.js';
import { type Made, Stock } from '../support/stock.js';
import { type Problem, StripBench, unitTypeOf } from '../support/strip-bench.js';

let server: BareServer;
let owner: Visitor;
let tom: Visitor;
let stock: Stock;
let today: string;

beforeAll(async () => {
  server = await startBareServer('core_ages');
  owner = await server.setUp();
  tom = await addPerson(server, owner, 'bench', 'tom', 'Tom Hasleby');
  stock = await Stock.open(server.testDatabase.ownerUrl);
  today = (await ages()).on;
});
afterAll(async () => {
  await stock.close();
  await server.stop();
});

const ages = async () => (await owner.get<CoreAges>('/api/core-ages')).body;
const ageOf = async ({ id }: { id: string }) => (await ages()).cores.find((core) => core.id === id);
const reviewPath = ({ id }: { id: string }) => `/api/units/${id}/core-reviews`;
const review = (more: Record<string, unknown> = {}) => ({
  id: newId(),
  decided: 'keep',
  note: 'dry, turns freely',
  nextOn: addMonths(today, 6),
  ...more,
});
const worthOf = async ({ id }: { id: string }) =>
  (await owner.get<CoreWorths>('/api/core-worths')).body.cores.find((core) => core.id === id);

/** A core that came with a load which was bought so many days ago. */
async function boughtCore(daysAgo: number, fields: Record<string, unknown> = {}): Promise<Made & { loadId: string }> {
  const load = await openLoad(owner, 'cores from a barn');
  await stock.query('UPDATE loads SET bought_on = $2 WHERE id = $1', [load.id, addDays(today, -daysAgo)]);
  const { id, code } = (await keyRow(owner, load.id, unitRow({ placeId: stock.placeId, ...fields }))).body;
  return { id, code, loadId: load.id };
}

describe('cores by age', () => {
  it('age from the day on which their load was bought, pass two marks, and the oldest come first', async () => {
    const [young, half, old] = [await boughtCore(10), await boughtCore(200), await boughtCore(400)];
    expect(await ageOf(young)).toMatchObject({
      months: 0,
      standing: 'not yet',
      sinceWords: expect.stringMatching(/^bought with load \d+$/),
    });
    expect(await ageOf(half)).toMatchObject({ months: 6, standing: 'past the first mark' });
    expect(await ageOf(old)).toMatchObject({ months: 13, standing: 'past the second mark', review: null });
    const order = (await ages()).cores.map(({ id }) => id);
    expect([old, half, young].map(({ id }) => order.indexOf(id))).toEqual(
      [old, half, young].map(({ id }) => order.indexOf(id)).sort((a, b) => a - b),
    );
    const bare = await stock.unit();
    expect(await ageOf(bare)).toMatchObject({ since: today, sinceWords: 'in the books since', months: 0 });
  });

  it('are ours alone, whole, here and on no job', async () => {
    const job = await stock.job([]);
    const customers = await stock.unit({ ownerId: await stock.customer() });
    const opened = await stock.unit();
    await StripBench.open(owner, opened);
    for (const unit of [job.unit, customers, opened]) expect(await ageOf(unit)).toBeUndefined();
  });

  it('are told of on Today when marks are past', async () => {
    await boughtCore(500, { words: 'the oldest axle of all' });
    const { items } = (await owner.get<Today>('/api/today')).body;
    const { due } = await ages();
    expect(items.find(({ id }) => id === 'old-cores')).toMatchObject({
      section: 'stores',
      title: `${due} cores are to be looked through again`,
      reason: expect.stringContaining('the oldest axle of all, has lain here for 16 months'),
      action: { path: '/stores/cores-by-age?show=due' },
    });
  });
});

describe('a core that is looked through', () => {
  it('waits until the day that was named, whatever was decided, and all of it stays on the record', async () => {
    const core = await boughtCore(400);
    expect((await owner.post<CoreReviewList>(reviewPath(core), review())).body.reviews).toMatchObject([
      { decided: 'keep', note: 'dry, turns freely', nextOn: addMonths(today, 6) },
    ]);
    expect(await ageOf(core)).toMatchObject({ standing: 'looked through', dueOn: addMonths(today, 6) });
    const answer = await owner.post<CoreReviewList>(reviewPath(core), review({ decided: 'sell', nextOn: addDays(today, 1) }));
    expect(answer.body.reviews.map(({ decided }) => decided)).toEqual(['sell', 'keep']);
    expect((await tom.get<CoreReviewList>(reviewPath(core))).body.reviews).toHaveLength(2);
    await expect(stock.query("UPDATE core_reviews SET note = 'never'")).rejects.toMatchObject({ code: 'CW001' });
    await expect(server.database.rows('DELETE FROM core_reviews')).rejects.toMatchObject({ code: '42501' });
  });

  it('is refused with a day that has come, without a note, of a customer’s, of one that is stripped, and from bench hands', async () => {
    const core = await boughtCore(400);
    for (const wrong of [{ nextOn: today }, { note: '' }, { decided: 'throw away' }])
      expect((await owner.post(reviewPath(core), review(wrong))).status).toBe(422);
    expect((await tom.post(reviewPath(core), review())).status).toBe(403);
    const customers = await stock.unit({ ownerId: await stock.customer() });
    expect((await owner.post<Problem>(reviewPath(customers), review())).body.code).toBe('goods-of-a-customer');
    await stock.query("UPDATE units SET stage = 'stripped' WHERE thing_id = $1", [core.id]);
    expect((await owner.post<Problem>(reviewPath(core), review())).body.code).toBe('not-a-core');
    expect((await owner.post(reviewPath({ id: newId() }), review())).status).toBe(404);
    expect((await owner.get<CoreReviewList>(reviewPath(core))).body.reviews).toEqual([]);
  });

  it('is looked through after as many months as the workshop says', async () => {
    const core = await boughtCore(100);
    const { marks } = await ages();
    const keep = (months: unknown, ifMatch?: number) =>
      owner.put<CoreReviewMarks>('/api/core-review-marks', months, ifMatch === undefined ? {} : { ifMatch });
    expect((await ageOf(core))?.standing).toBe('not yet');
    expect((await keep({ firstMonths: 3, secondMonths: 9 })).status).toBe(428);
    expect((await keep({ firstMonths: 9, secondMonths: 3 }, marks.version)).status).toBe(422);
    expect((await keep({ firstMonths: 3, secondMonths: 9 }, marks.version)).body).toMatchObject({
      firstMonths: 3,
      version: marks.version + 1,
    });
    expect((await ageOf(core))?.standing).toBe('past the first mark');
    expect((await keep({ firstMonths: 6, secondMonths: 12 }, marks.version)).status).toBe(412);
    expect((await keep({ firstMonths: 6, secondMonths: 12 }, marks.version + 1)).status).toBe(200);
    expect(
      (await tom.put('/api/core-review-marks', { firstMonths: 1, secondMonths: 2 }, { ifMatch: marks.version + 2 })).status,
    ).toBe(403);
  });
});

describe('a core’s worth', () => {
  it('is for those who keep the books', async () => {
    expect((await tom.get('/api/core-worths')).status).toBe(403);
    expect((await tom.get('/api/core-ages')).status).toBe(200);
  });

  it('whole is what it cost, else what was last paid for one of its type and grade, else unknown', async () => {
    const type = await unitTypeOf(stock, [{ name: 'Casing' }]);
    const desk = new CostDesk(owner, type, await stock.part());
    const dear = await boughtCore(20, { unitTypeId: type, words: '', grade: 'B' });
    expect(await worthOf(dear)).toMatchObject({
      whole: null,
      isBetterBroken: false,
      wholeWords: expect.stringContaining('not known'),
    });
    await desk.pay(dear.loadId, { price: '480.50' });
    await desk.share(dear.loadId, 'equally');
    expect(await worthOf(dear)).toMatchObject({ whole: '480.50', wholeWords: 'what it cost' });
    const [alike, other] = [
      await boughtCore(10, { unitTypeId: type, words: '', grade: 'B' }),
      await boughtCore(10, { unitTypeId: type, words: '', grade: 'D' }),
    ];
    expect(await worthOf(alike)).toMatchObject({
      whole: '480.50',
      wholeWords: expect.stringContaining('last paid for one of its type and grade'),
    });
    expect(await worthOf(other)).toMatchObject({ whole: null });
  });

  it('for spares is what open jobs lack of it, by its yield and what was last paid for the part', async () => {
    const wheel = await stock.part({ name: 'Worm wheel', number: 'WW 77' });
    const type = await unitTypeOf(stock, [{ name: 'Worm wheel', partId: wheel }]);
    const core = await boughtCore(400, { unitTypeId: type, words: '', grade: 'C' });
    const desk = new CostDesk(owner, type, wheel);
    await desk.pay(core.loadId, { price: '60' });
    await desk.share(core.loadId, 'equally');
    expect(await worthOf(core)).toMatchObject({ whole: '60.00', wanted: [], words: 'No open job lacks anything that it has.' });
    const job = await stock.job([{ partId: wheel, quantity: '2', critical: true }]);
    expect((await worthOf(core))?.wanted).toMatchObject([
      { part: { id: wheel }, pieces: '1', jobs: [{ id: job.id }], worth: null },
    ]);
    for (const fate of ['left in place', 'left in place', 'left in place', 'left in place', 'scrap'] as const)
      await (await StripBench.open(owner, await stock.unit({ unitTypeId: type }))).recorded(1, fate);
    const unpriced = await worthOf(core);
    expect(unpriced).toMatchObject({ spares: null, isBetterBroken: false, words: expect.stringContaining('no known worth') });
    expect(unpriced?.wanted[0]?.words).toContain('what one is worth is not known');
    // three wheels for 300 on another load: 4.5 of 6 of 100.00 each
    const load = await openLoad(owner, 'three wheels');
    await keyRow(owner, load.id, lotRow(wheel, { quantity: '3', placeId: stock.placeId }));
    await desk.pay(load.id, { price: '300' });
    await desk.share(load.id, 'equally');
    await stock.query('UPDATE things SET held_back_reason = $1 WHERE id IN (SELECT thing_id FROM lots WHERE part_id = $2)', [
      'odd',
      wheel,
    ]);
    expect(await worthOf(core)).toMatchObject({
      whole: '60.00',
      spares: '75.00',
      isBetterBroken: true,
      wanted: [{ worth: '75.00', words: '4 of 5 looked at were serviceable; by what was last paid for 3.' }],
    });
    await stock.query('UPDATE jobs SET state = $1 WHERE id = $2', ['released', job.id]);
    expect((await worthOf(core))?.wanted).toEqual([]);
  });
});
