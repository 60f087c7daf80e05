import { jest } from '@jest/globals';
import { verifyBooks } from '../../apps/api/src/stores/verify/verify-books.js';
import type { Today } from '../../libs/contracts/src/today.js';
import type { Visitor } from '../support/bare-server.js';
import type { CountingDesk } from '../support/counting-desk.js';
import { ago, CountingScene } from '../support/counting-scene.js';
import type { Made, Stock } from '../support/stock.js';

jest.setTimeout(120_000);

let scene: CountingScene;
let owner: Visitor;
let stock: Stock;
let desk: CountingDesk;
let partId: string;
let lotIn: CountingScene['lotIn'];
let heldAt: CountingScene['heldAt'];
let longThere: CountingScene['longThere'];

beforeAll(async () => {
  scene = await CountingScene.open('beside');
  ({ owner, stock, desk, partId, lotIn, heldAt, longThere } = scene);
});
afterAll(async () => {
  expect(await verifyBooks(scene.server.database)).toEqual([]);
  await scene.close();
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
