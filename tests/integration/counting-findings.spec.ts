import { jest } from '@jest/globals';
import { newId } from '../../apps/api/src/platform/new-id.js';
import { verifyBooks } from '../../apps/api/src/stores/verify/verify-books.js';
import type { Today } from '../../libs/contracts/src/today.js';
import type { Visitor } from '../support/bare-server.js';
import type { CountingDesk } from '../support/counting-desk.js';
import { CountingScene } from '../support/counting-scene.js';
import { phonePhotograph, sendPicture } from '../support/pictures.js';
import type { Made, Stock } from '../support/stock.js';

type Entry = { title: string; detail: string };
const history = async ({ id }: Made) => (await owner.get<{ entries: Entry[] }>(`/api/things/${id}/history`)).body.entries;

jest.setTimeout(120_000);

let scene: CountingScene;
let owner: Visitor;
let bench: Visitor;
let stock: Stock;
let desk: CountingDesk;
let lotIn: CountingScene['lotIn'];
let heldAt: CountingScene['heldAt'];
let thingOf: CountingScene['thingOf'];

beforeAll(async () => {
  scene = await CountingScene.open('findings');
  ({ owner, bench, stock, desk, lotIn, heldAt, thingOf } = scene);
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

  it('is photographed, before it is written down or after, and the photographs are those of the thing that it becomes', async () => {
    const bin = await stock.place();
    const { body } = await desk.take(bin, {}, bench);
    const id = newId();
    const photograph = await phonePhotograph(320, 240);
    const early = await sendPicture(scene.server.url, bench, id, photograph);
    expect(early.status).toBe(404);
    const written = await bench.post('/api/count-findings', { id, kind: 'no label', placeId: bin.id, words: 'a seal, no label' });
    expect(written.status).toBe(200);
    const sent = await sendPicture(scene.server.url, bench, id, photograph);
    expect(sent.body).toMatchObject({ subjectId: id, shows: 'finding', takenBy: 'Tom Hasleby' });
    await desk.close(bin, {}, bench);
    expect((await desk.page(body.count.id)).findings).toMatchObject([{ id, pictures: [{ id: sent.body.id }] }]);

    expect((await owner.post(`/api/count-findings/${id}/end`, { how: 'made unsorted', why: '' })).status).toBe(200);
    const made = (await desk.page(body.count.id)).findings[0]!.ended!.thing!;
    // one that waited on a phone until now
    const late = await sendPicture(scene.server.url, bench, id, await phonePhotograph(320, 241));
    expect(late.body.shows).toBe('thing');
    expect((await thingOf(made)).pictures.map((picture) => [picture.id, picture.shows])).toEqual(
      expect.arrayContaining([
        [sent.body.id, 'thing'],
        [late.body.id, 'thing'],
      ]),
    );
    expect(await history(made)).toEqual(
      expect.arrayContaining([
        expect.objectContaining({
          title: 'Found without a label',
          detail: expect.stringMatching(/^a seal, no label, Bin .*, count \d+, 2 photographs$/),
        }),
      ]),
    );
  });
});

describe('a figure that whoever counts it doubts', () => {
  it('is told to those who post it, with its photographs, once all is scanned, and they say what came of it', async () => {
    const bin = await stock.place();
    const lot = await lotIn(bin, '5');
    const countId = (await desk.take(bin, {}, bench)).body.count.id;
    await desk.enter(bin, lot, '4', {}, bench);
    const id = newId();
    const doubt = { id, kind: 'in doubt', placeId: bin.id, words: 'the bag is torn, one may lie behind' };
    expect((await bench.post('/api/count-findings', doubt)).status).toBe(422);
    expect((await bench.post('/api/count-findings', { ...doubt, code: lot.code })).status).toBe(200);
    const sent = await sendPicture(scene.server.url, bench, id, await phonePhotograph(320, 240));
    const seenBy = async (who: Visitor) => (await desk.page(countId, who)).findings.length;
    // whoever counts beside them, keeper or not, is not told what makes them doubt
    expect([await seenBy(bench), await seenBy(owner)]).toEqual([1, 0]);
    await desk.close(bin, {}, bench);
    expect(await seenBy(owner)).toBe(1);
    expect(await desk.line(countId, lot, bin)).toMatchObject({
      state: 'short',
      doubts: [{ words: doubt.words, by: 'Tom Hasleby', pictures: [{ id: sent.body.id }] }],
    });

    await desk.decide(countId, await desk.line(countId, lot, bin), 'post');
    expect((await desk.end(countId)).body).toMatchObject({ code: 'findings-open' });
    const end = (how: string, why = '') => owner.post<{ detail: string }>(`/api/count-findings/${id}/end`, { how, why });
    expect((await end('made unsorted')).body).toMatchObject({ status: 422 });
    expect((await end('left', 'looked behind the bin: nothing')).status).toBe(200);
    expect((await desk.end(countId)).status).toBe(200);
    const titles = (await history(lot)).map(({ title, detail }) => `${title}: ${detail}`);
    expect(titles).toEqual(
      expect.arrayContaining([
        expect.stringMatching(/^What was counted is in doubt: the bag is torn.*1 photograph$/),
        expect.stringMatching(/^What was in doubt is looked into: looked behind the bin: nothing/),
      ]),
    );
  });
});
