import { jest } from '@jest/globals';
import { newId } from '../../apps/api/src/platform/new-id.js';
import type { AskAround, ThingAnswer } from '../../libs/contracts/src/ask-around.js';
import { addPerson, type BareServer, startBareServer, type Visitor } from '../support/bare-server.js';
import { keyRow, lotRow, openLoad, unitRow, unitType, unsortedRow } from '../support/load-stock.js';
import { onePoint, sendPicture } from '../support/pictures.js';
import { saidIn } from '../support/said-in.js';
import { Stock } from '../support/stock.js';

jest.setTimeout(60_000);

let server: BareServer;
let owner: Visitor;
let bench: Visitor;
let stock: Stock;

beforeAll(async () => {
  server = await startBareServer('asking');
  owner = await server.setUp();
  stock = await Stock.open(server.testDatabase.ownerUrl);
  bench = await addPerson(server, owner, 'bench', 'tomh', 'Tom Hasleby');
});
afterAll(async () => {
  await stock.close();
  await server.stop();
});

const list = async (who = bench) => (await who.get<AskAround>('/api/ask-around')).body;
const answer = (thingId: string, fields: Record<string, unknown> = {}, who = bench) =>
  who.post<{ answers: ThingAnswer[]; code: string }>(`/api/things/${thingId}/answers`, {
    id: newId(),
    toldBy: 'Old Mr Pellow',
    words: 'a Halloran transfer box, pre-war',
    ...fields,
  });

describe('what nobody could name', () => {
  it('are boxes and units not yet identified, with where, since when, and from which load and seller; never what they cost', async () => {
    const load = await openLoad(owner);
    const typeId = await unitType(stock);
    const unknown = (await keyRow(owner, load.id, unitRow({ position: 1, placeId: stock.placeId, marks: 'K?17' }))).body;
    const tin = (await keyRow(owner, load.id, unsortedRow({ position: 2, placeId: stock.placeId }))).body;
    await keyRow(owner, load.id, unitRow({ position: 3, unitTypeId: typeId, words: '' }));
    await keyRow(owner, load.id, lotRow(null, { position: 4, words: 'felt rings' }));
    const paid = { price: '7391.13', haulage: '0', fees: '0', currency: 'GBP' };
    expect((await owner.patch(`/api/loads/${load.id}/cost`, paid, { ifMatch: 1 })).status).toBe(200);
    expect((await owner.post(`/api/loads/${load.id}/cost-shares`, { way: 'equally' })).status).toBe(200);
    const { things, count } = await list();
    expect(count).toBe(2);
    expect(things.map((thing) => thing.id)).toEqual([unknown.id, tin.id]);
    expect(things[0]).toMatchObject({
      kind: 'unit',
      code: unknown.code,
      words: 'worm axle, drum brakes',
      marks: 'K?17',
      places: expect.stringContaining('Bin'),
      load: { id: load.id, name: `load ${load.number}` },
      seller: 'Dray & Tolliver, sale rooms',
      answers: [],
    });
    expect(things[1]).toMatchObject({ kind: 'unsorted', pieces: 40 });
    expect(saidIn(await list(owner))).not.toMatch(/7391|1847|GBP|cost|price/);
  });

  it('of a box that was opened counts what is left, and lists what was named a unit only', async () => {
    const load = await openLoad(owner);
    const tin = (await keyRow(owner, load.id, unsortedRow({ placeId: stock.placeId }))).body;
    const inside = { kind: 'unit', id: newId(), unitTypeId: null, words: 'little box with a lever' };
    expect((await bench.post(`/api/boxes/${tin.id}/takings`, inside)).status).toBe(200);
    const { things } = await list();
    expect(things.find((thing) => thing.id === tin.id)).toMatchObject({ pieces: 39 });
    expect(things.find((thing) => thing.id === inside.id)).toMatchObject({
      load: { id: load.id },
      seller: 'Dray & Tolliver, sale rooms',
    });
    expect((await bench.post(`/api/boxes/${tin.id}/emptying`, { why: 'swept up' })).status).toBe(200);
    expect((await list()).things.some((thing) => thing.id === tin.id)).toBe(false);
  });

  it('shows the photographs that stand', async () => {
    const unit = await stock.unit();
    const kept = await sendPicture(server.url, owner, unit.id, onePoint);
    expect(kept.status).toBe(200);
    expect((await list()).things.find((thing) => thing.id === unit.id)?.pictures).toEqual([kept.body.id]);
  });
});

describe('an answer', () => {
  it('stays on the thing with who said so, the newest first, and names nothing by itself', async () => {
    const unit = await stock.unit();
    expect((await answer(unit.id)).status).toBe(200);
    const second = await answer(unit.id, { toldBy: 'Mrs Ockley', words: 'off a hay press' });
    expect(second.body.answers.map(({ toldBy, words, by }) => [toldBy, words, by])).toEqual([
      ['Mrs Ockley', 'off a hay press', 'Tom Hasleby'],
      ['Old Mr Pellow', 'a Halloran transfer box, pre-war', 'Tom Hasleby'],
    ]);
    expect((await list()).things.find((thing) => thing.id === unit.id)?.answers).toEqual(second.body.answers);
    expect((await bench.get(`/api/things/${unit.id}/answers`)).body).toEqual({ answers: second.body.answers });
  });

  it('is refused without who or what, of a lot, of nothing, and from somebody who only looks', async () => {
    const unit = await stock.unit();
    expect((await answer(unit.id, { toldBy: ' ' })).status).toBe(422);
    expect((await answer(unit.id, { words: '' })).status).toBe(422);
    const lot = await stock.lot(await stock.part());
    expect((await answer(lot.id)).body).toMatchObject({ code: 'named-already' });
    expect((await answer(newId())).status).toBe(404);
    const viewer = await addPerson(server, owner, 'viewer', 'vera', 'Vera Quill');
    expect((await answer(unit.id, {}, viewer)).status).toBe(403);
  });
});
