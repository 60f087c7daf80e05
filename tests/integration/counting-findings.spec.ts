import { jest } from '@jest/globals';
import { newId } from '../../apps/api/src/platform/new-id.js';
import { verifyBooks } from '../../apps/api/src/stores/verify/verify-books.js';
import type { Today } from '../../libs/contracts/src/today.js';
import type { Visitor } from '../support/bare-server.js';
import type { CountingDesk } from '../support/counting-desk.js';
import { CountingScene } from '../support/counting-scene.js';
import type { Stock } from '../support/stock.js';

jest.setTimeout(120_000);

let scene: CountingScene;
let owner: Visitor;
let bench: Visitor;
let stock: Stock;
let desk: CountingDesk;
let lotIn: CountingScene['lotIn'];
let heldAt: CountingScene['heldAt'];

beforeAll(async () => {
  scene = await CountingScene.open('findings');
  ({ owner, bench, stock, desk, lotIn, heldAt } = scene);
});
afterAll(async () => {
  expect(await verifyBooks(scene.server.database)).toEqual([]);
  await scene.close();
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
