import { newId } from '../../apps/api/src/platform/new-id.js';
import { verifyBooks } from '../../apps/api/src/stores/verify/verify-books.js';
import type { AlikeLie } from '../../libs/contracts/src/places.js';
import { addPerson, type BareServer, startBareServer, type Visitor } from '../support/bare-server.js';
import { unitType } from '../support/load-stock.js';
import { PlacesDesk } from '../support/places-desk.js';
import { type Made, Stock } from '../support/stock.js';

let server: BareServer;
let owner: Visitor;
let bench: Visitor;
let stock: Stock;
let desk: PlacesDesk;

beforeAll(async () => {
  server = await startBareServer('putaway');
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

describe('putting away', () => {
  it('leaves a part of a lot where it was, so that it lies in two places, and is put back', async () => {
    const { bin, lots } = await desk.binOf('12');
    const other = await desk.place('bin');
    const [lot] = lots as [Made];
    const done = await desk.putAway(lot.code, other.id, '4');
    expect(done.body).toMatchObject({ act: 'put away', quantity: '4' });
    expect([await desk.lyingIn(bin.id), await desk.lyingIn(other.id)]).toEqual([[[lot.id, '8']], [[lot.id, '4']]]);
    expect((await desk.putAway(lot.code, other.id, '9')).body).toMatchObject({
      code: 'not-enough',
      detail: expect.stringMatching(/^8 of this lie/),
    });
    expect((await desk.takeBack(done.body.actId)).body.words).toMatch(/4 back where it was/);
    expect(await desk.lyingIn(bin.id)).toEqual([[lot.id, '12']]);
    expect((await desk.takeBack(done.body.actId)).body).toMatchObject({ code: 'cannot-be-taken-back' });
  });

  it('takes what lies in several places at once, and all of it goes back to each', async () => {
    const { bin, lots } = await desk.binOf('5');
    const [second, third] = [await desk.place('bin'), await desk.place('bin')];
    const [lot] = lots as [Made];
    await desk.putAway(lot.code, second.id, '2');
    const done = await desk.putAway(lot.code, third.id);
    expect(done.body.quantity).toBe('5');
    expect((await desk.takeBack(done.body.actId)).body.quantity).toBe('5');
    expect([await desk.lyingIn(bin.id), await desk.lyingIn(second.id)]).toEqual([[[lot.id, '3']], [[lot.id, '2']]]);
  });

  it('is not put back once some of it has been moved on', async () => {
    const { lots } = await desk.binOf('3');
    const [second, third] = [await desk.place('bin'), await desk.place('bin')];
    const [lot] = lots as [Made];
    const done = await desk.putAway(lot.code, second.id);
    await desk.putAway(lot.code, third.id, '1');
    expect(await desk.takeBack(done.body.actId)).toMatchObject({
      status: 409,
      body: { detail: expect.stringMatching(/moved on since: .*\. Put away by hand/) },
    });
    expect([await desk.lyingIn(second.id), await desk.lyingIn(third.id)]).toEqual([[[lot.id, '2']], [[lot.id, '1']]]);
  });

  it('is refused in words where the thing is with a firm, in a unit, sold, scrapped, or there already', async () => {
    const bin = await desk.place('bin');
    const there = await stock.lot(null, { placeId: bin.id });
    expect((await desk.putAway(there.code, bin.id)).body.detail).toMatch(/lies in bin \d+ already/);
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
      expect(await desk.putAway(lot.code, bin.id)).toMatchObject({
        status: 409,
        body: { code: 'nothing-to-put-away', detail: expect.stringMatching(words) },
      });
      expect(await desk.movementsOf(lot.id)).toHaveLength(2);
    }
  });

  it('says where others of the part lie, and where the rest of a kept set does', async () => {
    const partId = await stock.part({ name: 'Selector fork' });
    const rack = await desk.place('rack');
    const [near, far] = [await desk.place('bin', rack.id, 'Bin 9'), await desk.place('bin')];
    await stock.lot(partId, { quantity: '12', placeId: near.id });
    const other = await stock.lot(partId);
    const first = await desk.putAway(other.code, far.id);
    expect(first.body.words).toBe(`Selector fork, 1: now in ${far.path}. Others of this part lie in ${near.path} (12).`);
    expect((await desk.putAway(other.code, near.id)).body.words).toBe(`Selector fork, 1: now in ${near.path}.`);

    const fellow = await stock.lot(await stock.part(), { placeId: near.id });
    const members = [other, fellow].map(({ code }) => ({ code, stamped: '1342' }));
    expect((await owner.post('/api/kept-sets', { id: newId(), words: 'a pair', members })).status).toBe(200);
    expect((await desk.putAway(other.code, far.id)).body.words).toMatch(
      /belongs to a kept set; the rest of it: L \d{6} \d\d in rack \d+, Bin 9\./,
    );
  });

  it('tells before where like things lie, with the nearest empty bin beside them', async () => {
    const partId = await stock.part({ name: 'Oil thrower' });
    const rack = await desk.place('rack');
    const bins = [];
    for (const number of [1, 2, 10, 11]) bins.push(await desk.place('bin', rack.id, `Bin ${number}`));
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
    const rack = await desk.place('rack');
    const [full, empty] = [await desk.place('bin', rack.id, 'Bin 4'), await desk.place('bin', rack.id, 'Bin 5')];
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
    const goodsIn = await desk.place('area', null, 'Goods-in');
    await desk.putAway(lot.code, goodsIn.id);
    expect((await ask(`parts/${partId}/alike`)).words).toBe('');

    const unitTypeId = await unitType(stock);
    const unit = await stock.unit({ unitTypeId });
    await desk.putAway(unit.code, rack.id);
    expect((await ask(`unit-types/${unitTypeId}/alike`)).words).toMatch(
      new RegExp(`^Others of this type stand in ${rack.path} \\(1\\)`),
    );
    expect((await ask(`unit-types/${unitTypeId}/alike?besides=${unit.id}`)).words).toBe('');
  });
});

describe('all that lies in one place', () => {
  it('goes to another in one act, a movement for each thing, once however often it is sent, and goes back in one', async () => {
    const { bin, lots } = await desk.binOf('3', '0.5', '7');
    const unit = await stock.unit();
    await desk.putAway(unit.code, bin.id);
    const target = await desk.place('rack');
    const key = newId();
    const done = await desk.moveAll(bin.id, target.id, key);
    expect(done.body).toMatchObject({
      act: 'moved together',
      moved: 4,
      stayed: [],
      words: `4 things out of ${bin.path}: now in ${target.path}.`,
    });
    expect((await desk.moveAll(bin.id, target.id, key)).body).toEqual(done.body);
    expect(await desk.lyingIn(bin.id)).toEqual([]);
    expect((await desk.lyingIn(target.id)).map(([, quantity]) => quantity).sort()).toEqual(['0.5', '1', '3', '7']);
    for (const { id } of lots)
      expect((await desk.movementsOf(id)).map(({ reason }) => reason)).toEqual(['opening stock', 'moved together']);
    const back = await desk.takeBack(done.body.actId);
    expect(back.body).toMatchObject({
      quantity: '4',
      words: expect.stringMatching(/^4 things are back where they were, in bin/),
    });
    expect(await desk.lyingIn(bin.id)).toHaveLength(4);
    expect(await desk.lyingIn(target.id)).toEqual([]);
  });

  it('is put back whole or not at all', async () => {
    const { bin, lots } = await desk.binOf('1', '1');
    const [target, other] = [await desk.place('bin'), await desk.place('bin')];
    const done = await desk.moveAll(bin.id, target.id);
    await desk.putAway(lots[1]!.code, other.id);
    expect((await desk.takeBack(done.body.actId)).status).toBe(409);
    expect(await desk.lyingIn(bin.id)).toEqual([]);
  });

  it('leaves what nobody found marked where it is, and says so', async () => {
    const { bin, lots } = await desk.binOf('1', '1');
    await bench.post(`/api/things/${lots[0]!.id}/not-there`, { placeId: null });
    const target = await desk.place('bin');
    const done = await desk.moveAll(bin.id, target.id);
    expect(done.body).toMatchObject({ moved: 1, stayed: [{ id: lots[0]!.id, why: 'it was looked for and not found' }] });
    expect(await desk.moveAll(bin.id, target.id)).toMatchObject({
      status: 409,
      body: { code: 'nothing-to-move', detail: expect.stringMatching(/not found/) },
    });
    expect((await desk.page(bin.id)).contents).toMatchObject([{ id: lots[0]!.id, isMissing: true }]);
  });

  it('is refused out of a job’s tray, into one, out of an empty place, into itself, into a closed one', async () => {
    const partId = await stock.part();
    const lot = await stock.lot(partId, { quantity: '2' });
    const job = await stock.job([{ partId, quantity: '2' }]);
    await bench.post('/api/picks', { code: lot.code, jobId: job.id });
    const [{ bin }, empty, shut] = [await desk.binOf('1'), await desk.place('bin'), await desk.place('bin')];
    await desk.close(shut.id);
    const refusals: [string, string, string][] = [
      [job.trayId, empty.id, 'tray-of-a-job'],
      [bin.id, job.trayId, 'cannot-be-put-there'],
      [empty.id, bin.id, 'nothing-to-move'],
      [bin.id, bin.id, 'same-place'],
      [bin.id, shut.id, 'place-closed'],
      [newId(), bin.id, 'not-found'],
      [bin.id, newId(), 'bad-input'],
    ];
    for (const [from, to, code] of refusals) expect((await desk.moveAll(from, to)).body.code).toBe(code);
    expect(await desk.lyingIn(bin.id)).toHaveLength(1);
  });

  it('raced with picks out of it, moves or leaves each thing, and never both', async () => {
    const { bin } = await desk.binOf();
    const partId = await stock.part();
    const lots: Made[] = [];
    for (let count = 0; count < 12; count += 1) lots.push(await stock.lot(partId, { placeId: bin.id }));
    const job = await stock.job([{ partId, quantity: '12' }]);
    const target = await desk.place('bin');
    const [moved, other, ...picks] = await Promise.all([
      desk.moveAll(bin.id, target.id),
      desk.moveAll(bin.id, target.id),
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
    expect(await desk.lyingIn(bin.id)).toEqual([]);
  });
});
