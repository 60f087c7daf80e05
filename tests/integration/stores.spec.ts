import { newId } from '../../apps/api/src/platform/new-id.js';
import { addPerson, type BareServer, startBareServer, type Visitor } from '../support/bare-server.js';
import { balancesOf, keyRow, lotRow, openLoad, unitRow, unitType, unsortedRow } from '../support/load-stock.js';
import { Stock } from '../support/stock.js';

interface ThingShown {
  id: string;
  kind: string;
  name: string;
  held: string;
  claimed: string;
  version: number;
  holdings: { words: string; quantity: string; code: string }[];
  claims: { claimant: { code: string; name: string }; quantity: string }[];
  heldBack: { reason: string; by: string } | null;
  load: { name: string } | null;
  lastSeen: { by: string; words: string } | null;
  owner: { name: string } | null;
}
interface Hit {
  kind: string;
  id: string;
  code: string | null;
  name: string;
  detail: string;
  where: string;
  quantity: string;
  exact: boolean;
}
interface Problem {
  code: string;
  detail: string;
}

let server: BareServer;
let owner: Visitor;
let stock: Stock;
let partId: string;
let typeId: string;

beforeAll(async () => {
  server = await startBareServer('stores');
  owner = await server.setUp();
  stock = await Stock.open(server.testDatabase.ownerUrl);
  partId = await stock.part({ name: 'Layshaft, 22/29/36/41' });
  typeId = await unitType(stock);
});
afterAll(async () => {
  await stock.close();
  await server.stop();
});

const thing = async (id: string): Promise<ThingShown> => (await owner.get<ThingShown>(`/api/things/${id}`)).body;
const search = async (keyed: string): Promise<Hit[]> =>
  (await owner.get<{ hits: Hit[] }>(`/api/search?q=${encodeURIComponent(keyed)}`)).body.hits;

async function keyed(row: Record<string, unknown>) {
  const load = await openLoad(owner);
  return { load, ...(await keyRow(owner, load.id, row)).body };
}

describe('a thing’s page', () => {
  it('says where it lies, who claims it, from which load, and who saw it last', async () => {
    const lot = await keyed(lotRow(partId, { quantity: '4' }));
    const bin = await stock.place();
    await owner.post('/api/put-aways', { code: lot.code, placeId: bin.id, quantity: '1' });
    const job = await stock.job([{ partId, quantity: '2' }]);
    await stock.query('INSERT INTO claims (id, thing_id, claimant_id, purpose_id, quantity) VALUES ($1, $2, $3, $4, 2)', [
      newId(),
      lot.id,
      job.id,
      job.lineIds[0],
    ]);
    const page = await thing(lot.id);
    expect(page).toMatchObject({ kind: 'lot', held: '4', claimed: '2', load: { name: `load ${lot.load.number}` } });
    expect(page.holdings.map(({ words, quantity }) => [words, quantity])).toEqual([
      ['Goods-in', '3'],
      [`Bin ${bin.id}`, '1'],
    ]);
    expect(page.claims).toMatchObject([{ claimant: { code: job.code, name: 'Overhead-worm axle' }, quantity: '2' }]);
    expect(page.lastSeen).toMatchObject({ by: 'Edie Marrack', words: `put away, Bin ${bin.id}` });
  });

  it('has its movements page by page, newest first', async () => {
    const box = await keyed(unsortedRow());
    const [one, other] = [await stock.place(), await stock.place()];
    for (let turn = 0; turn < 52; turn += 1)
      await stock.query(
        `INSERT INTO movements (id, command_key, thing_id, quantity, from_holder_id, to_holder_id, reason, occurred_at)
       SELECT $1, command_key, thing_id, 1, to_holder_id, $3, 'put away', now() FROM movements WHERE thing_id = $2 ORDER BY sequence DESC LIMIT 1`,
        [newId(), box.id, turn % 2 === 0 ? one.id : other.id],
      );
    const first = await owner.get<{ movements: { reason: string }[]; cursor: string }>(`/api/things/${box.id}/movements`);
    expect(first.body.movements).toHaveLength(50);
    const next = /<([^>]+)>/.exec(first.headers.get('link') ?? '')?.[1] ?? '';
    const second = await owner.get<{ movements: { reason: string }[]; cursor: null }>(next);
    expect(second.body.movements.map((movement) => movement.reason)).toEqual(['put away', 'put away', 'taken in']);
    expect(second.body.cursor).toBeNull();
  });

  it('of something unknown is not found', async () => {
    expect((await owner.get(`/api/things/${newId()}`)).status).toBe(404);
    expect((await owner.get('/api/things/not-an-id')).status).toBe(422);
  });
});

describe('a scan that is dated', () => {
  const ago = (minutes: number) => new Date(Date.now() - minutes * 60_000).toISOString();

  it('before what it moves was in the books is refused in words, and nothing is moved', async () => {
    const lot = await stock.lot(partId, { quantity: '4' });
    const [place, job] = [await stock.place(), await stock.job([{ partId, quantity: '1' }])];
    const before = await balancesOf(stock, lot.id);
    const occurredAt = '2001-05-06T07:08:00Z';
    for (const answer of [
      await owner.post<Problem>('/api/put-aways', { code: lot.code, placeId: place.id, occurredAt }),
      await owner.post<Problem>('/api/picks', { code: lot.code, jobId: job.id, occurredAt }),
      await owner.post<Problem>('/api/fits', { code: lot.code, jobId: job.id, occurredAt: ago(40) }),
    ]) {
      expect(answer).toMatchObject({ status: 409, body: { code: 'dated-before' } });
      expect(answer.body.detail).toMatch(
        /before it was in the books\. Look at that clock, then scan it again\. Nothing was changed\.$/,
      );
    }
    expect(await balancesOf(stock, lot.id)).toEqual(before);
    expect((await owner.post('/api/put-aways', { code: lot.code, placeId: place.id, occurredAt: ago(10) })).status).toBe(200);
  });

  it('long ago, by a device that was without the network, is taken where the goods were in the books by then', async () => {
    const load = await openLoad(owner);
    const madeAt = ago(300);
    const lot = (await keyRow(owner, load.id, lotRow(partId, { placeId: stock.placeId }))).body;
    await stock.query('ALTER TABLE movements DISABLE TRIGGER USER');
    await stock.query('UPDATE movements SET occurred_at = $2 WHERE thing_id = $1', [lot.id, madeAt]);
    await stock.query('ALTER TABLE movements ENABLE TRIGGER USER');
    const place = await stock.place();
    expect((await owner.post('/api/put-aways', { code: lot.code, placeId: place.id, occurredAt: ago(200) })).status).toBe(200);
  });
});

describe('a hold', () => {
  it('is put on and lifted with a reason, each on the record, once however often it is sent', async () => {
    const lot = await keyed(lotRow(partId));
    const key = newId();
    const hold = () => owner.post<ThingShown>(`/api/things/${lot.id}/hold`, { reason: 'crack suspected' }, { key });
    const [first, again] = [await hold(), await hold()];
    expect(first.body).toMatchObject({ heldBack: { reason: 'crack suspected', by: 'Edie Marrack' }, version: 2 });
    expect(again.body).toEqual(first.body);
    expect(await owner.post(`/api/things/${lot.id}/hold`, { reason: 'rust' })).toMatchObject({
      status: 409,
      body: { code: 'held-already' },
    });
    const lifted = await owner.post<ThingShown>(`/api/things/${lot.id}/hold-lift`, { reason: 'dye showed nothing' });
    expect(lifted.body).toMatchObject({ heldBack: null, version: 3 });
    expect(await owner.post(`/api/things/${lot.id}/hold-lift`, { reason: 'x' })).toMatchObject({
      status: 409,
      body: { code: 'not-held' },
    });
    const changes = await stock.query('SELECT held_back, reason FROM hold_changes WHERE thing_id = $1 ORDER BY recorded_at', [
      lot.id,
    ]);
    expect(changes).toEqual([
      { held_back: true, reason: 'crack suspected' },
      { held_back: false, reason: 'dye showed nothing' },
    ]);
    await expect(stock.query('DELETE FROM hold_changes WHERE thing_id = $1', [lot.id])).rejects.toThrow(/kept for good/);
  });

  it('needs a reason, an unchanged page, and somebody who keeps the books', async () => {
    const lot = await keyed(lotRow(partId));
    expect((await owner.post(`/api/things/${lot.id}/hold`, { reason: ' ' })).status).toBe(422);
    expect((await owner.post(`/api/things/${lot.id}/hold`, { reason: 'x' }, { ifMatch: 7 })).status).toBe(412);
    expect((await owner.post(`/api/things/${newId()}/hold`, { reason: 'x' })).status).toBe(404);
    const bench = await addPerson(server, owner, 'bench', 'tom', 'Tom Hasleby');
    expect((await bench.post(`/api/things/${lot.id}/hold`, { reason: 'x' })).status).toBe(403);
    expect((await thing(lot.id)).heldBack).toBeNull();
  });

  it('of two at once is put on once', async () => {
    const lot = await keyed(lotRow(partId));
    const answers = await Promise.all(
      ['one', 'two', 'three'].map((reason) => owner.post(`/api/things/${lot.id}/hold`, { reason })),
    );
    expect(answers.map((answer) => answer.status).sort()).toEqual([200, 409, 409]);
  });
});

describe('a component taken off its unit', () => {
  const component = (placeId: string, fields: Record<string, unknown> = {}) => ({
    id: newId(),
    position: 3,
    name: 'Worm shaft',
    partId: null,
    placeId,
    ...fields,
  });

  it('gets its tag at once, has the unit’s owner, and its way is on the record from where the unit came', async () => {
    await owner.post('/api/firms', { id: newId(), name: 'R. Sandiman', isCustomer: true, isSupplier: false, isOutworker: false });
    const unit = await keyed(unitRow({ unitTypeId: typeId, ownerName: 'R. Sandiman' }));
    const [bin, key] = [await stock.place(), newId()];
    const body = component(bin.id);
    const take = () => owner.post<{ id: string; code: string }>(`/api/units/${unit.id}/components`, body, { key });
    const taken = await take();
    expect(taken.body.code).toMatch(/^C\d{8}$/);
    expect((await take()).body).toEqual(taken.body);
    expect(await thing(taken.body.id)).toMatchObject({
      kind: 'component',
      name: 'Worm shaft',
      held: '1',
      owner: { name: 'R. Sandiman' },
      unit: { code: unit.code, name: 'Brantock WD7' },
      position: 3,
      of: 9,
    });
    expect(await balancesOf(stock, taken.body.id)).toEqual({ supplier: '-1', place: '1' });
    const moves = await owner.get<{ movements: { from: string; to: string; reason: string }[] }>(
      `/api/things/${taken.body.id}/movements`,
    );
    expect(moves.body.movements.map((movement) => movement.reason)).toEqual(['taken off', 'came in its unit']);
    expect(moves.body.movements[0]?.from).toMatch(/^U \d{6} \d\d, Brantock WD7$/);
  });

  it('is refused where that number has a tag already, where the unit is not here, and into a kit tray', async () => {
    const unit = await keyed(unitRow({ unitTypeId: typeId }));
    const bin = await stock.place();
    const job = await stock.job([]);
    const path = `/api/units/${unit.id}/components`;
    const first = await owner.post<{ code: string }>(path, component(bin.id));
    const second = await owner.post<Problem>(path, component(bin.id));
    expect(second).toMatchObject({ status: 409, body: { code: 'already-off' } });
    expect(second.body.detail.replaceAll(' ', '')).toContain(first.body.code);
    expect((await owner.post(path, component(job.trayId, { position: 4 }))).status).toBe(409);
    expect((await owner.post(path, component(bin.id, { position: 0 }))).status).toBe(422);
    expect((await owner.post(`/api/units/${newId()}/components`, component(bin.id))).status).toBe(404);
    const gone = await keyed(unitRow());
    await owner.post(`/api/loads/${gone.load.id}/rows/${gone.id}/strike`, { reason: 'never came' }, { ifMatch: 1 });
    expect(await owner.post(`/api/units/${gone.id}/components`, component(bin.id))).toMatchObject({
      status: 409,
      body: { code: 'unit-not-here' },
    });
  });
});

describe('the one search', () => {
  it('finds by code, by the beginning of a code, and says it is the thing itself', async () => {
    const unit = await keyed(unitRow({ unitTypeId: typeId, marks: 'WD7 5207' }));
    const spaced = unit.code.replace(/^(.)(.*)(..)$/, '$1 $2 $3');
    expect((await search(spaced))[0]).toMatchObject({
      kind: 'unit',
      id: unit.id,
      code: unit.code,
      exact: true,
      where: 'Goods-in',
      quantity: '1',
    });
    expect((await search(unit.code.slice(0, -2)))[0]).toMatchObject({ id: unit.id, exact: false });
  });

  it.each([
    ['WD7 61?4', '6104'],
    ['WD7 6244', '62?4'],
    ['WD7 6?84', 'wd7-638?'],
  ])('finds marks with ? for any character: %s by %s', async (marks, keyedMark) => {
    const unit = await keyed(unitRow({ unitTypeId: typeId, marks }));
    expect((await search(keyedMark)).map((hit) => hit.id)).toContain(unit.id);
  });

  it('finds parts with their stock, lots by mark, boxes and places by words', async () => {
    const lot = await keyed(lotRow(null, { words: 'brass cage, odd', marks: 'CX T 45-90' }));
    const box = await keyed(unsortedRow({ words: 'biscuit tin of woodruff keys' }));
    const place = newId();
    await owner.post('/api/places', { id: place, parentId: null, name: 'Pound Lane barn', kind: 'site' });
    expect((await search('T 45-90')).map((hit) => hit.id)).toEqual([lot.id]);
    expect((await search('keys biscuit')).map((hit) => hit.id)).toEqual([box.id]);
    expect((await search('pound lane'))[0]).toMatchObject({ kind: 'place', id: place, where: 'Pound Lane barn' });
    const parts = await search('layshaft');
    expect(parts[0]).toMatchObject({ kind: 'part', id: partId, exact: false });
    expect(Number(parts[0]?.quantity)).toBeGreaterThan(0);
  });

  it('gives every hit once, page by page', async () => {
    for (let index = 0; index < 5; index += 1) await keyed(unsortedRow({ words: `crate ${index} of rollers` }));
    const seen: string[] = [];
    let path = '/api/search?q=crate+rollers&limit=2';
    while (path !== '') {
      const page = await owner.get<{ hits: Hit[] }>(path);
      seen.push(...page.body.hits.map((hit) => hit.name));
      path = /<([^>]+)>/.exec(page.headers.get('link') ?? '')?.[1] ?? '';
    }
    expect(seen).toEqual([0, 1, 2, 3, 4].map((index) => `crate ${index} of rollers`));
  });

  it('does not show what was struck out, but by its void code', async () => {
    const box = await keyed(unsortedRow({ words: 'hat box of tallow candles' }));
    await owner.post(`/api/loads/${box.load.id}/rows/${box.id}/strike`, { reason: 'not ours' }, { ifMatch: 1 });
    expect(await search('tallow candles')).toEqual([]);
    expect(await search(box.code)).toMatchObject([{ id: box.id, where: '', quantity: '0' }]);
  });

  it('answers nothing to nothing', async () => {
    expect(await search('  ')).toEqual([]);
  });
});

describe('a flag for stores', () => {
  it('is settled once; what was missing is missing no longer', async () => {
    const lot = await stock.lot(partId, { quantity: '2' });
    const flagId = newId();
    await stock.query("INSERT INTO stores_flags (id, thing_id, kind, words) VALUES ($1, $2, 'not there', 'Not in the bin.')", [
      flagId,
      lot.id,
    ]);
    await stock.query('UPDATE things SET missing_since = now() WHERE id = $1', [lot.id]);
    expect((await owner.post(`/api/flags/${flagId}/settle`, { words: 'behind the rack' })).body).toEqual({ done: true });
    expect((await owner.post(`/api/flags/${flagId}/settle`, { words: 'again' })).status).toBe(200);
    const [flag] = await stock.query(
      'SELECT words, settled_at IS NOT NULL AS settled, missing_since FROM stores_flags JOIN things ON things.id = thing_id WHERE stores_flags.id = $1',
      [flagId],
    );
    expect(flag).toEqual({ words: 'Not in the bin. Settled: behind the rack', settled: true, missing_since: null });
    expect((await owner.post(`/api/flags/${newId()}/settle`, {})).status).toBe(404);
  });
});
