import { newId } from '../../apps/api/src/platform/new-id.js';
import { verifyBooks } from '../../apps/api/src/stores/verify/verify-books.js';
import type { PlaceList } from '../../libs/contracts/src/stores.js';
import { addPerson, type BareServer, startBareServer, type Visitor } from '../support/bare-server.js';
import { keyRow, lotRow, openLoad } from '../support/load-stock.js';
import { PlacesDesk } from '../support/places-desk.js';
import { type Made, Stock } from '../support/stock.js';

let server: BareServer;
let owner: Visitor;
let bench: Visitor;
let stock: Stock;
let desk: PlacesDesk;

beforeAll(async () => {
  server = await startBareServer('places');
  owner = await server.setUp();
  bench = await addPerson(server, owner, 'bench', 'tom', 'Tom Hasleby');
  stock = await Stock.open(server.testDatabase.ownerUrl);
  desk = new PlacesDesk(owner, bench, stock);
});
afterAll(async () => {
  expect(await verifyBooks(server.database)).toEqual([]);
  await stock.close();
  await server.stop();
});

describe('places and firms', () => {
  it('make a tree, each with a code, and show what lies in them', async () => {
    const [area, rack] = [newId(), newId()];
    await owner.post('/api/places', { id: area, parentId: null, name: 'Stores', kind: 'area', nicknames: 'Edie’s' });
    const added = await owner.post<{ path: string; code: string }>('/api/places', {
      id: rack,
      parentId: area,
      name: 'Rack 3',
      kind: 'rack',
    });
    expect(added.body).toMatchObject({ path: 'Stores, Rack 3', code: expect.stringMatching(/^P\d{8}$/) });
    const partId = await stock.part({ name: 'Layshaft, 22/29/36/41' });
    const { body: lot } = await keyRow(owner, (await openLoad(owner)).id, lotRow(partId, { placeId: rack, marks: '4G-1?0' }));
    const page = await owner.get<{
      contents: { id: string; quantity: string; kind: string }[];
      children: unknown[];
      thingCount: number;
    }>(`/api/places/${rack}`);
    expect(page.body).toMatchObject({
      thingCount: 1,
      children: [],
      contents: [{ id: lot.id, kind: 'lot', quantity: '4', name: 'Layshaft, 22/29/36/41' }],
    });
    const parent = await owner.get<{ children: { id: string }[] }>(`/api/places/${area}`);
    expect(parent.body.children.map((child) => child.id)).toEqual([rack]);
    const found = await owner.get<{ places: { id: string }[] }>('/api/places?q=edie');
    expect(found.body.places.map((place) => place.id)).toEqual([area]);
  });

  it('keep the way to each, however they are renamed, moved or written down, and a wrong one is told by the check of the books', async () => {
    const ids = Array.from({ length: 4 }, newId) as [string, string, string, string];
    await stock.query("INSERT INTO holders (id, kind) SELECT unnest($1::uuid[]), 'place'", [ids]);
    const [shed, rack, bin, loft] = ids;
    // what stands in another is written down before it
    await stock.query(
      `INSERT INTO places (holder_id, parent_id, name, kind) VALUES ($1, $2, 'Bin 7', 'bin'), ($2, $3, 'Rack 9', 'rack'), ($3, NULL, 'Shed', 'area'), ($4, NULL, 'Loft', 'area')`,
      [bin, rack, shed, loft],
    );
    for (const id of ids) await stock.codeFor('P', id);
    const pathOf = async (id: string) =>
      (await stock.query<{ path: string }>('SELECT path FROM places WHERE holder_id = $1', [id]))[0]?.path;
    expect(await pathOf(bin)).toBe('Shed, Rack 9, Bin 7');
    await stock.query("UPDATE places SET name = 'Long shed' WHERE holder_id = $1", [shed]);
    expect(await pathOf(bin)).toBe('Long shed, Rack 9, Bin 7');
    await stock.query('UPDATE places SET parent_id = $2 WHERE holder_id = $1', [rack, loft]);
    expect([await pathOf(rack), await pathOf(bin)]).toEqual(['Loft, Rack 9', 'Loft, Rack 9, Bin 7']);
    expect(await verifyBooks(server.database)).toEqual([]);
    await stock.query("UPDATE places SET path = 'Cellar' WHERE holder_id = $1", [bin]);
    expect(await verifyBooks(server.database)).toMatchObject([
      { what: 'way to a place', kept: 'Cellar', rebuilt: 'Loft, Rack 9, Bin 7' },
    ]);
    await stock.query('UPDATE places SET name = name WHERE holder_id = $1', [bin]);
    expect(await verifyBooks(server.database)).toEqual([]);
  });

  it('keep the way to one that is added while what it stands in is renamed', async () => {
    const [rack, bin] = [newId(), newId()];
    await owner.post('/api/places', { id: rack, parentId: null, name: 'Rack of two minds', kind: 'rack' });
    await Promise.all([
      owner.post('/api/places', { id: bin, parentId: rack, name: 'Bin 1', kind: 'bin' }),
      stock.query("UPDATE places SET name = 'Rack of one mind' WHERE holder_id = $1", [rack]),
    ]);
    expect((await owner.get<{ path: string }>(`/api/places/${bin}`)).body.path).toBe('Rack of one mind, Bin 1');
  });

  it('refuse a second of one name, a parent that is not there, and a firm that is nothing to us', async () => {
    const id = newId();
    await owner.post('/api/places', { id, parentId: null, name: 'Yard', kind: 'area' });
    expect((await owner.post('/api/places', { id: newId(), parentId: null, name: 'yard', kind: 'area' })).status).toBe(422);
    expect((await owner.post('/api/places', { id: newId(), parentId: newId(), name: 'R2', kind: 'rack' })).status).toBe(422);
    expect((await owner.post('/api/places', { id, parentId: null, name: 'Yard 2', kind: 'area' })).status).toBe(422);
    const firm = { id: newId(), name: 'Strake Grinding', isCustomer: false, isSupplier: false, isOutworker: true };
    expect((await owner.post('/api/firms', firm)).status).toBe(200);
    expect((await owner.post('/api/firms', { ...firm, id: newId(), name: 'STRAKE grinding' })).status).toBe(422);
    expect((await owner.post('/api/firms', { ...firm, id: newId(), name: 'Nobody', isOutworker: false })).status).toBe(422);
  });
});
describe('a place carried elsewhere', () => {
  it('takes along what lies and stands in it without a movement, and the way to all of it changes', async () => {
    const [stores, yard] = [await desk.place('area'), await desk.place('area')];
    let around = await desk.place('rack', stores.id);
    const top = around;
    for (let depth = 0; depth < 12; depth += 1) around = await desk.place('bin', around.id, `Box ${depth}`);
    const lot = await stock.lot(null, { placeId: around.id });
    const key = newId();
    const done = await desk.carry(top.id, yard.id, { key });
    expect(done.body).toMatchObject({ place: { path: `${yard.path}, ${top.name}` }, before: { id: stores.id } });
    expect((await desk.carry(top.id, yard.id, { key })).body).toEqual(done.body);
    expect((await desk.page(around.id)).path).toBe(
      `${yard.path}, ${top.name}, ${Array.from({ length: 12 }, (_, depth) => `Box ${depth}`).join(', ')}`,
    );
    expect(await desk.movementsOf(lot.id)).toHaveLength(1);
    expect((await desk.lyingIn(around.id))[0]).toEqual([lot.id, '1']);
    expect((await desk.carry(top.id, stores.id)).body.place.path).toBe(`${stores.path}, ${top.name}`);
    expect((await desk.carry(top.id, null)).body.place.path).toBe(top.name);
  });

  it('is refused into itself, into what stands in it, a site into a bin, beside a namesake, into a closed place or a tray, and over another’s change', async () => {
    const [site, rack] = [await desk.place('site'), await desk.place('rack')];
    const [bin, shut] = [await desk.place('bin', rack.id, 'Left-hand box'), await desk.place('bin')];
    const namesake = await desk.place('bin', null, 'left-hand box');
    await desk.close(shut.id);
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
    for (const [id, parentId, code] of refusals) expect([code, (await desk.carry(id, parentId)).body.code]).toEqual([code, code]);
    expect((await desk.carry(bin.id, null, { ifMatch: 9 })).status).toBe(412);
    expect((await desk.page(bin.id)).parentId).toBe(rack.id);
  });

  it('of two carried into each other at once one stays, however deep they stand', async () => {
    for (let round = 0; round < 5; round += 1) {
      const [one, other] = [await desk.place('rack'), await desk.place('rack')];
      const [inOne, inOther] = [await desk.place('rack', one.id), await desk.place('rack', other.id)];
      const answers = await Promise.all([desk.carry(one.id, inOther.id), desk.carry(other.id, inOne.id)]);
      expect(answers.map(({ status }) => status).filter((status) => status === 200)).toHaveLength(1);
    }
  });

  it('is kept out of itself and a site out of a bin by the database, whoever writes', async () => {
    const [site, rack] = [await desk.place('site'), await desk.place('rack')];
    const bin = await desk.place('bin', rack.id);
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
    const rack = await desk.place('rack');
    const bin = await desk.place('bin', rack.id, 'Bin 3');
    const keyed = { name: 'The long rack', kind: 'area', nicknames: 'by the door; Edie’s' };
    expect((await desk.edit(rack.id, keyed)).status).toBe(428);
    expect((await desk.edit(rack.id, keyed, 1)).body).toMatchObject({ ...keyed, version: 2, path: 'The long rack' });
    expect(await desk.edit(rack.id, keyed, 1)).toMatchObject({ status: 412, body: { code: 'changed-meanwhile' } });
    expect((await desk.page(bin.id)).path).toBe('The long rack, Bin 3');
    expect((await bench.patch(`/api/places/${rack.id}`, keyed, { ifMatch: 2 })).status).toBe(403);
    const found = await owner.get<PlaceList>(`/api/places?q=${encodeURIComponent('long / bin 3')}`);
    expect(found.body.places.map(({ id }) => id)).toEqual([bin.id]);
  });

  it('is refused as a second of one name, as a tray, and as too small for what stands in it', async () => {
    const area = await desk.place('area');
    const rack = await desk.place('rack', area.id, 'Rack A');
    await desk.place('rack', area.id, 'Rack B');
    const refused = async (id: string, keyed: object) => (await desk.edit(id, keyed, 1)).body.detail;
    expect(await refused(rack.id, { name: 'rack b', kind: 'rack' })).toMatch(/There is a “rack b” there already/);
    expect(await refused(rack.id, { name: 'Rack A', kind: 'tray' })).toMatch(/kit tray belongs to a job/);
    expect(await refused(area.id, { name: area.name, kind: 'bin' })).toMatch(/Rack A stands in it and is a rack/);
    expect(await refused(rack.id, { name: 'Rack A', kind: 'site' })).toMatch(/is an area, and a site does not stand in one/);
    expect((await desk.page(rack.id)).version).toBe(1);
  });
});

describe('a closed place', () => {
  it('is empty, takes no goods and no places, keeps its code and its history, and is opened again', async () => {
    const { bin, lots } = await desk.binOf('2');
    const [lot] = lots as [Made];
    expect(await desk.close(bin.id)).toMatchObject({
      status: 409,
      body: { code: 'not-empty', detail: expect.stringMatching(/^1 thing lies in/) },
    });
    const done = await desk.putAway(lot.code, stock.placeId);
    expect((await desk.close(bin.id, 7)).status).toBe(412);
    expect((await desk.close(bin.id)).body).toMatchObject({
      isClosed: true,
      version: 2,
      code: bin.code,
      closed: { by: 'Edie Marrack' },
    });
    expect((await desk.putAway(lot.code, bin.id)).body.code).toBe('place-closed');
    expect((await desk.takeBack(done.body.actId)).body.code).toBe('place-closed');
    expect(
      (await owner.post<{ detail: string }>('/api/places', { id: newId(), parentId: bin.id, name: 'Bag', kind: 'bin' })).body
        .detail,
    ).toMatch(/is closed/);
    expect((await owner.get<{ places: unknown[] }>(`/api/places?q=${bin.code}`)).body.places).toEqual([]);
    expect((await bench.get<{ name: string }>(`/api/scan/${bin.code}`)).body.name).toBe(bin.name);
    expect(await desk.close(bin.id, 2)).toMatchObject({ status: 409, body: { code: 'closed-already' } });
    expect((await desk.open(bin.id, 2)).body).toMatchObject({ isClosed: false, closed: null, version: 3 });
    expect((await desk.takeBack(done.body.actId)).status).toBe(200);
  });

  it('holds no open place, and a place in a closed one is not opened before it', async () => {
    const rack = await desk.place('rack');
    const bin = await desk.place('bin', rack.id);
    expect((await desk.close(rack.id)).body).toMatchObject({
      code: 'not-empty',
      detail: expect.stringMatching(/^1 open place stands/),
    });
    await desk.close(bin.id);
    expect((await desk.close(rack.id)).status).toBe(200);
    expect((await desk.open(bin.id, 2)).body.code).toBe('place-closed');
    expect((await desk.level(rack.id)).map(({ isClosed }) => isClosed)).toEqual([true]);
  });

  it('is never the one that goods come into, nor a job’s tray', async () => {
    const goodsIn = await desk.place('area', null, 'Goods-in');
    expect((await desk.close(goodsIn.id)).body.code).toBe('in-use');
    const job = await stock.job([{ partId: await stock.part() }]);
    expect((await desk.close(job.trayId)).body.code).toBe('tray-of-a-job');
  });

  it('closed while something is put into it, is either closed and empty or open with the thing in it', async () => {
    for (let round = 0; round < 8; round += 1) {
      const bin = await desk.place('bin');
      const lot = await stock.lot(null);
      const [closed, put] = await Promise.all([desk.close(bin.id), desk.putAway(lot.code, bin.id)]);
      expect([closed.status, put.status].sort()).toEqual([200, 409]);
      const after = await desk.page(bin.id);
      expect([after.isClosed, after.contents.length]).toEqual(closed.status === 200 ? [true, 0] : [false, 1]);
    }
    const shut = await desk.place('bin');
    await desk.close(shut.id);
    await expect(stock.lot(null, { placeId: shut.id })).rejects.toMatchObject({ code: 'CW028' });
  });
});

describe('the tree of places', () => {
  it('opens level by level, counts what is below, and puts 2 before 10', async () => {
    const area = await desk.place('area');
    const racks = [await desk.place('rack', area.id, 'Rack 10'), await desk.place('rack', area.id, 'Rack 2')];
    const bin = await desk.place('bin', racks[0]!.id, 'Bin 1');
    await stock.lot(null, { placeId: bin.id });
    await stock.lot(null, { placeId: racks[0]!.id });
    expect((await desk.level()).find(({ id }) => id === area.id)).toMatchObject({
      placesBelow: 3,
      thingsBelow: 2,
      thingCount: 0,
    });
    expect(await desk.level(area.id)).toMatchObject([
      { name: 'Rack 2', placesBelow: 0, thingsBelow: 0, thingCount: 0 },
      { name: 'Rack 10', placesBelow: 1, thingsBelow: 1, thingCount: 1 },
    ]);
  });

  it('of 5,000 places comes at once, and one is found by words of its way', async () => {
    const area = await desk.place('area', null, 'Great hall');
    await stock.query(
      `WITH made AS (INSERT INTO holders (id, kind) SELECT gen_random_uuid(), 'place' FROM generate_series(1, 5000) RETURNING id),
            numbered AS (SELECT id, row_number() OVER () AS number FROM made),
            placed AS (INSERT INTO places (holder_id, parent_id, name, kind) SELECT id, $1, 'Bin ' || number, 'bin' FROM numbered RETURNING holder_id)
       INSERT INTO codes (code, kind, subject_id) SELECT 'P9' || lpad(number::text, 7, '0') || '00', 'P', id FROM numbered`,
      [area.id],
    );
    const bins = await desk.level(area.id);
    expect(bins).toHaveLength(5000);
    expect(bins.slice(0, 3).map(({ name }) => name)).toEqual(['Bin 1', 'Bin 2', 'Bin 3']);
    expect((await desk.level()).find(({ id }) => id === area.id)?.placesBelow).toBe(5000);
    const found = await owner.get<PlaceList>('/api/places?q=great%20bin%204711');
    expect(found.body).toMatchObject({ places: [{ path: 'Great hall, Bin 4711' }], hasMore: false });
    expect((await owner.get<PlaceList>('/api/places?q=great%20bin%2011')).body.hasMore).toBe(true);
    // what is called exactly so comes first among all that have the words, and no list is longer than one looks through
    const offered = async (asked: string) => (await owner.get<PlaceList>(`/api/places?${asked}`)).body.places;
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
  const offered = async (asked: string) => (await owner.get<PlaceList>(`/api/places?${asked}`)).body.places.map(({ id }) => id);
  expect(await offered(`q=${job.trayId}`)).toEqual([job.trayId]);
  expect(await offered(`q=${job.trayId}&kinds=no%20trays`)).toEqual([]);
  expect(await offered('kinds=quarantine')).toContain(apart.id);
  expect(await offered(`q=${job.trayId}&kinds=quarantine`)).toEqual([]);
  expect((await owner.get('/api/places?kinds=shelves')).status).toBe(422);
});

describe('the page of a place', () => {
  it('shows what stands on it with what lies in each, whose it is, what is held back, missing, and when it last moved', async () => {
    const rack = await desk.place('rack');
    const bins = [await desk.place('bin', rack.id, 'Bin 10'), await desk.place('bin', rack.id, 'Bin 9')];
    const customer = await stock.customer();
    const theirs = await stock.lot(await stock.part({ name: 'Half shaft' }), { placeId: bins[0]!.id, ownerId: customer });
    for (let count = 0; count < 5; count += 1) await stock.lot(null, { placeId: bins[1]!.id });
    const held = await owner.post(`/api/things/${theirs.id}/hold`, { reason: 'crack detection' }, { ifMatch: 1 });
    expect(held.status).toBe(200);
    const shown = await desk.page(rack.id);
    expect(shown.children.map(({ name, thingCount, things }) => [name, thingCount, things.length])).toEqual([
      ['Bin 9', 5, 4],
      ['Bin 10', 1, 1],
    ]);
    expect(shown.children[1]!.things[0]).toMatchObject({
      name: 'Half shaft',
      owner: expect.stringMatching(/^Customer/),
      heldBack: 'crack detection',
    });
    await desk.putAway(theirs.code, rack.id);
    expect((await desk.page(rack.id)).contents).toMatchObject([{ id: theirs.id, lastMoved: { by: 'Tom Hasleby' } }]);
    const hits = await owner.get<{ hits: { lastMoved: { by: string } | null }[] }>(`/api/search?q=${theirs.code}`);
    expect(hits.body.hits[0]?.lastMoved).toMatchObject({ by: 'Tom Hasleby' });
  });
});
