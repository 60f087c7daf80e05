import type * as z from 'zod';
import { newId } from '../../apps/api/src/platform/new-id.js';
import { verifyBooks } from '../../apps/api/src/stores/verify/verify-books.js';
import type { AlikeLie, ContentsMoved, PlaceCarried, PlaceNode, PlacePage } from '../../libs/contracts/src/places.js';
import type { PlaceBrief, PutAwayDone } from '../../libs/contracts/src/stores.js';
import { addPerson, type BareServer, startBareServer, type Visitor } from '../support/bare-server.js';
import { unitType } from '../support/load-stock.js';
import { type Made, Stock } from '../support/stock.js';

type Told<Body> = Body & { code: string; detail: string; title: string };

let server: BareServer;
let owner: Visitor;
let bench: Visitor;
let stock: Stock;

beforeAll(async () => {
  server = await startBareServer('places');
  owner = await server.setUp();
  bench = await addPerson(server, owner, 'bench', 'tom', 'Tom Hasleby');
  stock = await Stock.open(server.testDatabase.ownerUrl);
});
afterAll(async () => {
  expect(await verifyBooks(server.database)).toEqual([]);
  await stock.close();
  await server.stop();
});

let serial = 0;
let goodsInMade: Promise<PlaceBrief> | null = null;
/** The place where things stand that have come in: there is one. */
function theGoodsIn(): Promise<PlaceBrief> {
  goodsInMade ??= place('area', null, 'Goods-in');
  return goodsInMade;
}
async function place(kind: string, parentId: string | null = null, name?: string): Promise<PlaceBrief> {
  serial += 1;
  const made = await owner.post<PlaceBrief>('/api/places', { id: newId(), parentId, name: name ?? `${kind} ${serial}`, kind });
  expect(made.status).toBe(200);
  return made.body;
}
const page = async (id: string) => (await owner.get<PlacePage>(`/api/places/${id}`)).body;
const level = async (within?: string) =>
  (await owner.get<{ places: PlaceNode[] }>(`/api/place-levels${within === undefined ? '' : `?within=${within}`}`)).body.places;
const edit = (id: string, keyed: object, ifMatch?: number) =>
  owner.patch<Told<PlacePage>>(`/api/places/${id}`, keyed, ifMatch === undefined ? {} : { ifMatch });
const carry = (id: string, parentId: string | null, options: { ifMatch?: number; key?: string } = {}) =>
  bench.post<Told<PlaceCarried>>(`/api/places/${id}/carrying`, { parentId }, options);
const close = (id: string, ifMatch = 1) => owner.post<Told<PlacePage>>(`/api/places/${id}/closing`, {}, { ifMatch });
const open = (id: string, ifMatch: number) => owner.post<Told<PlacePage>>(`/api/places/${id}/opening`, {}, { ifMatch });
const putAway = (code: string, placeId: string, quantity?: string) =>
  bench.post<Told<z.infer<typeof PutAwayDone>>>('/api/put-aways', {
    code,
    placeId,
    ...(quantity === undefined ? {} : { quantity }),
  });
const moveAll = (fromPlaceId: string, toPlaceId: string, key?: string) =>
  bench.post<Told<ContentsMoved>>('/api/contents-moves', { fromPlaceId, toPlaceId }, key === undefined ? {} : { key });
const takeBack = (actId: string) =>
  bench.post<{ words: string; quantity: string; code: string; detail: string }>(`/api/acts/${actId}/take-back`, {});
const lyingIn = async (id: string) => (await page(id)).contents.map((thing) => [thing.id, thing.quantity]).sort();
const movementsOf = (thingId: string) =>
  stock.query<{ reason: string; to: string }>(
    'SELECT reason, to_holder_id AS "to" FROM movements WHERE thing_id = $1 ORDER BY sequence',
    [thingId],
  );

/** A bin with lots in it, each of so many. */
async function binOf(...quantities: string[]): Promise<{ bin: PlaceBrief; lots: Made[] }> {
  const bin = await place('bin');
  const lots: Made[] = [];
  for (const quantity of quantities) lots.push(await stock.lot(await stock.part(), { quantity, placeId: bin.id }));
  return { bin, lots };
}

describe('putting away', () => {
  it('leaves a part of a lot where it was, so that it lies in two places, and is put back', async () => {
    const { bin, lots } = await binOf('12');
    const other = await place('bin');
    const [lot] = lots as [Made];
    const done = await putAway(lot.code, other.id, '4');
    expect(done.body).toMatchObject({ act: 'put away', quantity: '4' });
    expect([await lyingIn(bin.id), await lyingIn(other.id)]).toEqual([[[lot.id, '8']], [[lot.id, '4']]]);
    expect((await putAway(lot.code, other.id, '9')).body).toMatchObject({
      code: 'not-enough',
      detail: expect.stringMatching(/^8 of this lie/),
    });
    expect((await takeBack(done.body.actId)).body.words).toMatch(/4 back where it was/);
    expect(await lyingIn(bin.id)).toEqual([[lot.id, '12']]);
    expect((await takeBack(done.body.actId)).body).toMatchObject({ code: 'cannot-be-taken-back' });
  });

  it('takes what lies in several places at once, and all of it goes back to each', async () => {
    const { bin, lots } = await binOf('5');
    const [second, third] = [await place('bin'), await place('bin')];
    const [lot] = lots as [Made];
    await putAway(lot.code, second.id, '2');
    const done = await putAway(lot.code, third.id);
    expect(done.body.quantity).toBe('5');
    expect((await takeBack(done.body.actId)).body.quantity).toBe('5');
    expect([await lyingIn(bin.id), await lyingIn(second.id)]).toEqual([[[lot.id, '3']], [[lot.id, '2']]]);
  });

  it('is not put back once some of it has been moved on', async () => {
    const { lots } = await binOf('3');
    const [second, third] = [await place('bin'), await place('bin')];
    const [lot] = lots as [Made];
    const done = await putAway(lot.code, second.id);
    await putAway(lot.code, third.id, '1');
    expect(await takeBack(done.body.actId)).toMatchObject({
      status: 409,
      body: { detail: expect.stringMatching(/moved on since: .*\. Put away by hand/) },
    });
    expect([await lyingIn(second.id), await lyingIn(third.id)]).toEqual([[[lot.id, '2']], [[lot.id, '1']]]);
  });

  it('is refused in words where the thing is with a firm, in a unit, sold, scrapped, or there already', async () => {
    const bin = await place('bin');
    const there = await stock.lot(null, { placeId: bin.id });
    expect((await putAway(there.code, bin.id)).body.detail).toMatch(/lies in bin \d+ already/);
    const firm = newId();
    await stock.query("INSERT INTO parties (id, name, is_outworker) VALUES ($1, 'Strake Grinding', true)", [firm]);
    const customer = await stock.customer('R. Sandiman');
    await stock.query("INSERT INTO holders (id, kind) VALUES ($1, 'outworker'), ($2, 'customer')", [firm, customer]);
    const unit = await stock.unit();
    const holders: [string, RegExp][] = [
      [firm, /at Strake Grinding\. Write down first that it has come back/],
      [customer, /was sold, and R\. Sandiman has it/],
      [unit.id, /it is fitted: it is in U/],
      ['00000000-0000-7000-8000-0000000005c4', /was scrapped/],
    ];
    for (const [holder, words] of holders) {
      const lot = await stock.lot(null);
      await stock.query(
        `INSERT INTO movements (id, command_key, thing_id, quantity, from_holder_id, to_holder_id, reason, occurred_at)
         SELECT $1, command_key, $2, 1, $3, $4, 'elsewhere', now() FROM movements LIMIT 1`,
        [newId(), lot.id, stock.placeId, holder],
      );
      expect(await putAway(lot.code, bin.id)).toMatchObject({
        status: 409,
        body: { code: 'nothing-to-put-away', detail: expect.stringMatching(words) },
      });
      expect(await movementsOf(lot.id)).toHaveLength(2);
    }
  });

  it('says where others of the part lie, and where the rest of a kept set does', async () => {
    const partId = await stock.part({ name: 'Selector fork' });
    const rack = await place('rack');
    const [near, far] = [await place('bin', rack.id, 'Bin 9'), await place('bin')];
    await stock.lot(partId, { quantity: '12', placeId: near.id });
    const other = await stock.lot(partId);
    const first = await putAway(other.code, far.id);
    expect(first.body.words).toBe(`Selector fork, 1: now in ${far.path}. Others of this part lie in ${near.path} (12).`);
    expect((await putAway(other.code, near.id)).body.words).toBe(`Selector fork, 1: now in ${near.path}.`);

    const fellow = await stock.lot(await stock.part(), { placeId: near.id });
    const members = [other, fellow].map(({ code }) => ({ code, stamped: '1342' }));
    expect((await owner.post('/api/kept-sets', { id: newId(), words: 'a pair', members })).status).toBe(200);
    expect((await putAway(other.code, far.id)).body.words).toMatch(
      /belongs to a kept set; the rest of it: L \d{6} \d\d in rack \d+, Bin 9\./,
    );
  });

  it('tells before where like things lie, with the nearest empty bin beside them', async () => {
    const partId = await stock.part({ name: 'Oil thrower' });
    const rack = await place('rack');
    const bins = [];
    for (const number of [1, 2, 10, 11]) bins.push(await place('bin', rack.id, `Bin ${number}`));
    await stock.lot(partId, { quantity: '7', placeId: bins[1]!.id });
    await stock.lot(null, { placeId: bins[0]!.id });
    const alike = async (id: string) => (await owner.get<{ words: string }>(`/api/things/${id}/alike`)).body.words;
    const lot = await stock.lot(partId);
    expect(await alike(lot.id)).toBe(`Others of this part lie in ${rack.path}, Bin 2 (7); an empty bin near them is Bin 10.`);
    const namesake = await stock.lot(await stock.part({ name: 'oil thrower' }));
    expect(await alike(namesake.id)).toMatch(/^Parts of this name lie in /);
    expect(await alike((await stock.lot(null)).id)).toBe('');
  });

  it('tells the same of a row that only says which part or which type it is, without the thing that it is already', async () => {
    const partId = await stock.part({ name: 'Banjo bolt' });
    const rack = await place('rack');
    const [full, empty] = [await place('bin', rack.id, 'Bin 4'), await place('bin', rack.id, 'Bin 5')];
    const ask = async (path: string) => (await owner.get<AlikeLie>(`/api/${path}`)).body;
    expect(await ask(`parts/${partId}/alike`)).toEqual({ words: '', places: [] });
    const lot = await stock.lot(partId, { quantity: '6', placeId: full.id });
    expect(await ask(`parts/${partId}/alike`)).toEqual({
      words: `Others of this part lie in ${full.path} (6); an empty bin near them is Bin 5.`,
      places: [
        { id: full.id, path: full.path },
        { id: empty.id, path: empty.path },
      ],
    });
    expect((await ask(`parts/${partId}/alike?besides=${lot.id}`)).places).toEqual([]);
    const namesake = await stock.part({ name: 'banjo bolt' });
    expect((await ask(`parts/${namesake}/alike`)).words).toMatch(/^Parts of this name lie in /);
    // what has only come in has no place yet
    const goodsIn = await theGoodsIn();
    await putAway(lot.code, goodsIn.id);
    expect((await ask(`parts/${partId}/alike`)).words).toBe('');

    const unitTypeId = await unitType(stock);
    const unit = await stock.unit({ unitTypeId });
    await putAway(unit.code, rack.id);
    expect((await ask(`unit-types/${unitTypeId}/alike`)).words).toMatch(
      new RegExp(`^Others of this type stand in ${rack.path} \\(1\\)`),
    );
    expect((await ask(`unit-types/${unitTypeId}/alike?besides=${unit.id}`)).words).toBe('');
  });
});

describe('all that lies in one place', () => {
  it('goes to another in one act, a movement for each thing, once however often it is sent, and goes back in one', async () => {
    const { bin, lots } = await binOf('3', '0.5', '7');
    const unit = await stock.unit();
    await putAway(unit.code, bin.id);
    const target = await place('rack');
    const key = newId();
    const done = await moveAll(bin.id, target.id, key);
    expect(done.body).toMatchObject({
      act: 'moved together',
      moved: 4,
      stayed: [],
      words: `4 things out of ${bin.path}: now in ${target.path}.`,
    });
    expect((await moveAll(bin.id, target.id, key)).body).toEqual(done.body);
    expect(await lyingIn(bin.id)).toEqual([]);
    expect((await lyingIn(target.id)).map(([, quantity]) => quantity).sort()).toEqual(['0.5', '1', '3', '7']);
    for (const { id } of lots)
      expect((await movementsOf(id)).map(({ reason }) => reason)).toEqual(['opening stock', 'moved together']);
    const back = await takeBack(done.body.actId);
    expect(back.body).toMatchObject({
      quantity: '4',
      words: expect.stringMatching(/^4 things are back where they were, in bin/),
    });
    expect(await lyingIn(bin.id)).toHaveLength(4);
    expect(await lyingIn(target.id)).toEqual([]);
  });

  it('is put back whole or not at all', async () => {
    const { bin, lots } = await binOf('1', '1');
    const [target, other] = [await place('bin'), await place('bin')];
    const done = await moveAll(bin.id, target.id);
    await putAway(lots[1]!.code, other.id);
    expect((await takeBack(done.body.actId)).status).toBe(409);
    expect(await lyingIn(bin.id)).toEqual([]);
  });

  it('leaves what nobody found marked where it is, and says so', async () => {
    const { bin, lots } = await binOf('1', '1');
    await bench.post(`/api/things/${lots[0]!.id}/not-there`, { placeId: null });
    const target = await place('bin');
    const done = await moveAll(bin.id, target.id);
    expect(done.body).toMatchObject({ moved: 1, stayed: [{ id: lots[0]!.id, why: 'it was looked for and not found' }] });
    expect(await moveAll(bin.id, target.id)).toMatchObject({
      status: 409,
      body: { code: 'nothing-to-move', detail: expect.stringMatching(/not found/) },
    });
    expect((await page(bin.id)).contents).toMatchObject([{ id: lots[0]!.id, isMissing: true }]);
  });

  it('is refused out of a job’s tray, into one, out of an empty place, into itself, into a closed one', async () => {
    const partId = await stock.part();
    const lot = await stock.lot(partId, { quantity: '2' });
    const job = await stock.job([{ partId, quantity: '2' }]);
    await bench.post('/api/picks', { code: lot.code, jobId: job.id });
    const [{ bin }, empty, shut] = [await binOf('1'), await place('bin'), await place('bin')];
    await close(shut.id);
    const refusals: [string, string, string][] = [
      [job.trayId, empty.id, 'tray-of-a-job'],
      [bin.id, job.trayId, 'cannot-be-put-there'],
      [empty.id, bin.id, 'nothing-to-move'],
      [bin.id, bin.id, 'same-place'],
      [bin.id, shut.id, 'place-closed'],
      [newId(), bin.id, 'not-found'],
      [bin.id, newId(), 'not-found'],
    ];
    for (const [from, to, code] of refusals) expect((await moveAll(from, to)).body.code).toBe(code);
    expect(await lyingIn(bin.id)).toHaveLength(1);
  });

  it('raced with picks out of it, moves or leaves each thing, and never both', async () => {
    const { bin } = await binOf();
    const partId = await stock.part();
    const lots: Made[] = [];
    for (let count = 0; count < 12; count += 1) lots.push(await stock.lot(partId, { placeId: bin.id }));
    const job = await stock.job([{ partId, quantity: '12' }]);
    const target = await place('bin');
    const [moved, other, ...picks] = await Promise.all([
      moveAll(bin.id, target.id),
      moveAll(bin.id, target.id),
      ...lots.slice(0, 6).map(({ code }) => bench.post('/api/picks', { code, jobId: job.id })),
    ]);
    expect(picks.map(({ status }) => status)).toEqual(Array(6).fill(200));
    expect([moved!.status, other!.status].sort()).toEqual([200, 409]);
    const [held] = await stock.query<{ held: string; lying: string }>(
      `SELECT sum(held)::text AS held, (SELECT sum(quantity)::text FROM balances WHERE thing_id = ANY ($1) AND holder_id IN ($2, $3)) AS lying
         FROM things WHERE id = ANY ($1)`,
      [lots.map(({ id }) => id), target.id, job.trayId],
    );
    expect([Number(held!.held), Number(held!.lying)]).toEqual([12, 12]);
    expect(await lyingIn(bin.id)).toEqual([]);
  });
});

describe('a place carried elsewhere', () => {
  it('takes along what lies and stands in it without a movement, and the way to all of it changes', async () => {
    const [stores, yard] = [await place('area'), await place('area')];
    let around = await place('rack', stores.id);
    const top = around;
    for (let depth = 0; depth < 12; depth += 1) around = await place('bin', around.id, `Box ${depth}`);
    const lot = await stock.lot(null, { placeId: around.id });
    const key = newId();
    const done = await carry(top.id, yard.id, { key });
    expect(done.body).toMatchObject({ place: { path: `${yard.path}, ${top.name}` }, before: { id: stores.id } });
    expect((await carry(top.id, yard.id, { key })).body).toEqual(done.body);
    expect((await page(around.id)).path).toBe(
      `${yard.path}, ${top.name}, ${Array.from({ length: 12 }, (_, depth) => `Box ${depth}`).join(', ')}`,
    );
    expect(await movementsOf(lot.id)).toHaveLength(1);
    expect((await lyingIn(around.id))[0]).toEqual([lot.id, '1']);
    expect((await carry(top.id, stores.id)).body.place.path).toBe(`${stores.path}, ${top.name}`);
    expect((await carry(top.id, null)).body.place.path).toBe(top.name);
  });

  it('is refused into itself, into what stands in it, a site into a bin, beside a namesake, into a closed place or a tray, and over another’s change', async () => {
    const [site, rack] = [await place('site'), await place('rack')];
    const [bin, shut] = [await place('bin', rack.id, 'Left-hand box'), await place('bin')];
    const namesake = await place('bin', null, 'left-hand box');
    await close(shut.id);
    const job = await stock.job([{ partId: await stock.part() }]);
    const refusals: [string, string | null, string][] = [
      [rack.id, rack.id, 'place-in-itself'],
      [rack.id, bin.id, 'place-in-itself'],
      [site.id, bin.id, 'cannot-stand-there'],
      [rack.id, namesake.id, 'cannot-stand-there'],
      [namesake.id, rack.id, 'name-taken'],
      [bin.id, rack.id, 'stands-there-already'],
      [bin.id, shut.id, 'place-closed'],
      [bin.id, job.trayId, 'cannot-stand-there'],
      [bin.id, newId(), 'bad-input'],
      [newId(), rack.id, 'not-found'],
    ];
    for (const [id, parentId, code] of refusals) expect([code, (await carry(id, parentId)).body.code]).toEqual([code, code]);
    expect((await carry(bin.id, null, { ifMatch: 9 })).status).toBe(412);
    expect((await page(bin.id)).parentId).toBe(rack.id);
  });

  it('of two carried into each other at once one stays, however deep they stand', async () => {
    for (let round = 0; round < 5; round += 1) {
      const [one, other] = [await place('rack'), await place('rack')];
      const [inOne, inOther] = [await place('rack', one.id), await place('rack', other.id)];
      const answers = await Promise.all([carry(one.id, inOther.id), carry(other.id, inOne.id)]);
      expect(answers.map(({ status }) => status).filter((status) => status === 200)).toHaveLength(1);
    }
  });

  it('is kept out of itself and a site out of a bin by the database, whoever writes', async () => {
    const [site, rack] = [await place('site'), await place('rack')];
    const bin = await place('bin', rack.id);
    await expect(stock.query('UPDATE places SET parent_id = $2 WHERE holder_id = $1', [rack.id, bin.id])).rejects.toMatchObject({
      code: 'CW003',
    });
    await expect(stock.query('UPDATE places SET parent_id = $2 WHERE holder_id = $1', [site.id, bin.id])).rejects.toMatchObject({
      code: 'CW029',
    });
    await expect(stock.query("UPDATE places SET kind = 'tray' WHERE holder_id = $1", [rack.id])).rejects.toMatchObject({
      code: 'CW029',
    });
  });
});

describe('what a place is called and what it is', () => {
  it('is changed over the version that was seen, with the way to all below', async () => {
    const rack = await place('rack');
    const bin = await place('bin', rack.id, 'Bin 3');
    const keyed = { name: 'The long rack', kind: 'area', nicknames: 'by the door; Edie’s' };
    expect((await edit(rack.id, keyed)).status).toBe(428);
    expect((await edit(rack.id, keyed, 1)).body).toMatchObject({ ...keyed, version: 2, path: 'The long rack' });
    expect(await edit(rack.id, keyed, 1)).toMatchObject({ status: 412, body: { code: 'changed-meanwhile' } });
    expect((await page(bin.id)).path).toBe('The long rack, Bin 3');
    expect((await bench.patch(`/api/places/${rack.id}`, keyed, { ifMatch: 2 })).status).toBe(403);
    const found = await owner.get<{ places: PlaceBrief[] }>(`/api/places?q=${encodeURIComponent('long / bin 3')}`);
    expect(found.body.places.map(({ id }) => id)).toEqual([bin.id]);
  });

  it('is refused as a second of one name, as a tray, and as too small for what stands in it', async () => {
    const area = await place('area');
    const rack = await place('rack', area.id, 'Rack A');
    await place('rack', area.id, 'Rack B');
    const refused = async (id: string, keyed: object) => (await edit(id, keyed, 1)).body.detail;
    expect(await refused(rack.id, { name: 'rack b', kind: 'rack' })).toMatch(/There is a “rack b” there already/);
    expect(await refused(rack.id, { name: 'Rack A', kind: 'tray' })).toMatch(/kit tray belongs to a job/);
    expect(await refused(area.id, { name: area.name, kind: 'bin' })).toMatch(/Rack A stands in it and is a rack/);
    expect(await refused(rack.id, { name: 'Rack A', kind: 'site' })).toMatch(/is an area, and a site does not stand in one/);
    expect((await page(rack.id)).version).toBe(1);
  });
});

describe('a closed place', () => {
  it('is empty, takes no goods and no places, keeps its code and its history, and is opened again', async () => {
    const { bin, lots } = await binOf('2');
    const [lot] = lots as [Made];
    expect(await close(bin.id)).toMatchObject({
      status: 409,
      body: { code: 'not-empty', detail: expect.stringMatching(/^1 thing lies in/) },
    });
    const done = await putAway(lot.code, stock.placeId);
    expect((await close(bin.id, 7)).status).toBe(412);
    expect((await close(bin.id)).body).toMatchObject({
      isClosed: true,
      version: 2,
      code: bin.code,
      closed: { by: 'Edie Marrack' },
    });
    expect((await putAway(lot.code, bin.id)).body.code).toBe('place-closed');
    expect((await takeBack(done.body.actId)).body.code).toBe('place-closed');
    expect(
      (await owner.post<{ detail: string }>('/api/places', { id: newId(), parentId: bin.id, name: 'Bag', kind: 'bin' })).body
        .detail,
    ).toMatch(/is closed/);
    expect((await owner.get<{ places: unknown[] }>(`/api/places?q=${bin.code}`)).body.places).toEqual([]);
    expect((await bench.get<{ name: string }>(`/api/scan/${bin.code}`)).body.name).toBe(bin.name);
    expect(await close(bin.id, 2)).toMatchObject({ status: 409, body: { code: 'closed-already' } });
    expect((await open(bin.id, 2)).body).toMatchObject({ isClosed: false, closed: null, version: 3 });
    expect((await takeBack(done.body.actId)).status).toBe(200);
  });

  it('holds no open place, and a place in a closed one is not opened before it', async () => {
    const rack = await place('rack');
    const bin = await place('bin', rack.id);
    expect((await close(rack.id)).body).toMatchObject({
      code: 'not-empty',
      detail: expect.stringMatching(/^1 open place stands/),
    });
    await close(bin.id);
    expect((await close(rack.id)).status).toBe(200);
    expect((await open(bin.id, 2)).body.code).toBe('place-closed');
    expect((await level(rack.id)).map(({ isClosed }) => isClosed)).toEqual([true]);
  });

  it('is never the one that goods come into, nor a job’s tray', async () => {
    const goodsIn = await theGoodsIn();
    expect((await close(goodsIn.id)).body.code).toBe('in-use');
    const job = await stock.job([{ partId: await stock.part() }]);
    expect((await close(job.trayId)).body.code).toBe('tray-of-a-job');
  });

  it('closed while something is put into it, is either closed and empty or open with the thing in it', async () => {
    for (let round = 0; round < 8; round += 1) {
      const bin = await place('bin');
      const lot = await stock.lot(null);
      const [closed, put] = await Promise.all([close(bin.id), putAway(lot.code, bin.id)]);
      expect([closed.status, put.status].sort()).toEqual([200, 409]);
      const after = await page(bin.id);
      expect([after.isClosed, after.contents.length]).toEqual(closed.status === 200 ? [true, 0] : [false, 1]);
    }
    const shut = await place('bin');
    await close(shut.id);
    await expect(stock.lot(null, { placeId: shut.id })).rejects.toMatchObject({ code: 'CW028' });
  });
});

describe('the tree of places', () => {
  it('opens level by level, counts what is below, and puts 2 before 10', async () => {
    const area = await place('area');
    const racks = [await place('rack', area.id, 'Rack 10'), await place('rack', area.id, 'Rack 2')];
    const bin = await place('bin', racks[0]!.id, 'Bin 1');
    await stock.lot(null, { placeId: bin.id });
    await stock.lot(null, { placeId: racks[0]!.id });
    expect((await level()).find(({ id }) => id === area.id)).toMatchObject({ placesBelow: 3, thingsBelow: 2, thingCount: 0 });
    expect(await level(area.id)).toMatchObject([
      { name: 'Rack 2', placesBelow: 0, thingsBelow: 0, thingCount: 0 },
      { name: 'Rack 10', placesBelow: 1, thingsBelow: 1, thingCount: 1 },
    ]);
  });

  it('of 5,000 places comes at once, and one is found by words of its way', async () => {
    const area = await place('area', null, 'Great hall');
    await stock.query(
      `WITH made AS (INSERT INTO holders (id, kind) SELECT gen_random_uuid(), 'place' FROM generate_series(1, 5000) RETURNING id),
            numbered AS (SELECT id, row_number() OVER () AS number FROM made),
            placed AS (INSERT INTO places (holder_id, parent_id, name, kind) SELECT id, $1, 'Bin ' || number, 'bin' FROM numbered RETURNING holder_id)
       INSERT INTO codes (code, kind, subject_id) SELECT 'P9' || lpad(number::text, 7, '0') || '00', 'P', id FROM numbered`,
      [area.id],
    );
    const bins = await level(area.id);
    expect(bins).toHaveLength(5000);
    expect(bins.slice(0, 3).map(({ name }) => name)).toEqual(['Bin 1', 'Bin 2', 'Bin 3']);
    expect((await level()).find(({ id }) => id === area.id)?.placesBelow).toBe(5000);
    const found = await owner.get<{ places: PlaceBrief[] }>('/api/places?q=great%20bin%204711');
    expect(found.body.places.map(({ path }) => path)).toEqual(['Great hall, Bin 4711']);
    // what is called exactly so comes first among all that have the words, and no list is longer than one looks through
    const offered = async (asked: string) => (await owner.get<{ places: PlaceBrief[] }>(`/api/places?${asked}`)).body.places;
    const eleven = await offered('q=bin%2011');
    expect(eleven[0]?.path).toBe('Great hall, Bin 11');
    expect(eleven).toHaveLength(40);
    expect(await offered('')).toHaveLength(40);
    expect((await offered(`q=${bins[4]!.code}`)).map(({ name }) => name)).toEqual(['Bin 5']);
    const hits = await owner.get<{ hits: { name: string }[] }>('/api/search?q=hall%204711');
    expect(hits.body.hits.map(({ name }) => name)).toEqual(['Bin 4711']);
  });
});

it('is offered by what may be put there: no kit tray where goods go, and where things are kept apart those places alone', async () => {
  const job = await stock.job([{ partId: await stock.part() }]);
  const apart = await stock.place('quarantine');
  const offered = async (asked: string) =>
    (await owner.get<{ places: PlaceBrief[] }>(`/api/places?${asked}`)).body.places.map(({ id }) => id);
  expect(await offered(`q=${job.trayId}`)).toEqual([job.trayId]);
  expect(await offered(`q=${job.trayId}&kinds=no%20trays`)).toEqual([]);
  expect(await offered('kinds=quarantine')).toContain(apart.id);
  expect(await offered(`q=${job.trayId}&kinds=quarantine`)).toEqual([]);
  expect((await owner.get('/api/places?kinds=shelves')).status).toBe(422);
});

describe('the page of a place', () => {
  it('shows what stands on it with what lies in each, whose it is, what is held back, missing, and when it last moved', async () => {
    const rack = await place('rack');
    const bins = [await place('bin', rack.id, 'Bin 10'), await place('bin', rack.id, 'Bin 9')];
    const customer = await stock.customer();
    const theirs = await stock.lot(await stock.part({ name: 'Half shaft' }), { placeId: bins[0]!.id, ownerId: customer });
    for (let count = 0; count < 5; count += 1) await stock.lot(null, { placeId: bins[1]!.id });
    const held = await owner.post(`/api/things/${theirs.id}/hold`, { reason: 'crack detection' }, { ifMatch: 1 });
    expect(held.status).toBe(200);
    const shown = await page(rack.id);
    expect(shown.children.map(({ name, thingCount, things }) => [name, thingCount, things.length])).toEqual([
      ['Bin 9', 5, 4],
      ['Bin 10', 1, 1],
    ]);
    expect(shown.children[1]!.things[0]).toMatchObject({
      name: 'Half shaft',
      owner: expect.stringMatching(/^Customer/),
      heldBack: 'crack detection',
    });
    await putAway(theirs.code, rack.id);
    expect((await page(rack.id)).contents).toMatchObject([{ id: theirs.id, lastMoved: { by: 'Tom Hasleby' } }]);
    const hits = await owner.get<{ hits: { lastMoved: { by: string } | null }[] }>(`/api/search?q=${theirs.code}`);
    expect(hits.body.hits[0]?.lastMoved).toMatchObject({ by: 'Tom Hasleby' });
  });
});
