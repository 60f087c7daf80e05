import { newId } from '../../apps/api/src/platform/new-id.js';
import { addPerson, type BareServer, startBareServer, type Visitor } from '../support/bare-server.js';
import {
  balancesOf,
  keyRow,
  type LoadShown,
  lotRow,
  openLoad,
  type RowShown,
  unitRow,
  unitType,
  unsortedRow,
} from '../support/load-stock.js';
import { Stock } from '../support/stock.js';

let server: BareServer;
let owner: Visitor;
let stock: Stock;
let sealId: string;
let washerId: string;

beforeAll(async () => {
  server = await startBareServer('goods_in');
  owner = await server.setUp();
  stock = await Stock.open(server.testDatabase.ownerUrl);
  sealId = await stock.part({ name: 'Oil seal, worm input', material: 'rubber', polymer: 'NBR' });
  washerId = await stock.part({ name: 'Bronze thrust washer' });
});
afterAll(async () => {
  await stock.close();
  await server.stop();
});

const rowPath = (load: { id: string }, rowId: string) => `/api/loads/${load.id}/rows/${rowId}`;
const loadPage = async (load: { id: string }): Promise<LoadShown> => (await owner.get<LoadShown>(`/api/loads/${load.id}`)).body;

describe('a load', () => {
  it('is opened once however often it is sent, and a seller nobody knew becomes a firm', async () => {
    const body = { id: newId(), words: 'shelf of spares', sellerName: 'Farrow Bros', boughtOn: '2026-11-02' };
    const key = newId();
    const first = await owner.post<LoadShown>('/api/loads', body, { key });
    const again = await owner.post<LoadShown>('/api/loads', body, { key });
    expect(first.status).toBe(200);
    expect(again.body).toEqual(first.body);
    const firms = await owner.get<{ firms: { name: string; isSupplier: boolean }[] }>('/api/firms?q=farrow');
    expect(firms.body.firms).toMatchObject([{ name: 'Farrow Bros', isSupplier: true }]);
  });

  it('is listed newest first, page by page, with the next page in the Link header', async () => {
    const [older, newer] = [await openLoad(owner, 'older'), await openLoad(owner, 'newer')];
    const first = await owner.get<{ loads: LoadShown[]; cursor: string }>('/api/loads?limit=1');
    expect(first.body.loads[0]?.id).toBe(newer.id);
    const next = /<([^>]+)>; rel="next"/.exec(first.headers.get('link') ?? '')?.[1];
    const second = await owner.get<{ loads: LoadShown[] }>(next ?? '');
    expect(second.body.loads[0]?.id).toBe(older.id);
  });

  it('that was bought on a day to come is refused', async () => {
    const answer = await owner.post<{ detail: string }>('/api/loads', {
      id: newId(),
      words: 'x',
      sellerName: 'y',
      boughtOn: '2999-01-01',
    });
    expect(answer.status).toBe(422);
    expect(answer.body.detail).toContain('still to come');
  });

  it('refuses a cursor that nobody gave', async () => {
    expect((await owner.get('/api/loads?cursor=%7Bnonsense')).status).toBe(422);
  });
});

describe('a new row', () => {
  it('gets its code at once, lies at Goods-in without a place, and came from the seller', async () => {
    const load = await openLoad(owner);
    const typeId = await unitType(stock, { maker: 'Dunmarrow', model: 'S11' });
    const row = await keyRow(owner, load.id, unitRow({ unitTypeId: typeId, words: '', grade: 'C', marks: 'S11 20944 · 39/7' }));
    expect(row.status).toBe(200);
    expect(row.body.code).toMatch(/^U\d{8}$/);
    expect(row.body).toMatchObject({ name: 'Overhead-worm axle', place: null, version: 1, labelled: false, warnings: [] });
    expect(row.headers.get('etag')).toBe('"1"');
    expect(await balancesOf(stock, row.body.id)).toEqual({ supplier: '-1', place: '1' });
    const places = await owner.get<{ places: { name: string; thingCount: number }[] }>('/api/places?q=goods-in');
    expect(places.body.places).toMatchObject([{ name: 'Goods-in' }]);
  });

  it('counts once however often it is sent', async () => {
    const load = await openLoad(owner);
    const [id, key] = [newId(), newId()];
    const send = () => owner.put<RowShown>(rowPath(load, id), lotRow(washerId), { key });
    const answers = await Promise.all([send(), send(), send()]);
    const again = await send();
    expect(new Set(answers.map((answer) => JSON.stringify(answer.body)))).toEqual(new Set([JSON.stringify(again.body)]));
    expect(await balancesOf(stock, id)).toEqual({ supplier: '-4', place: '4' });
    expect((await loadPage(load)).rows).toHaveLength(1);
  });

  it('is refused when its key was used for another row', async () => {
    const load = await openLoad(owner);
    const key = newId();
    await owner.put(rowPath(load, newId()), lotRow(washerId), { key });
    const answer = await owner.put<{ code: string }>(rowPath(load, newId()), lotRow(washerId), { key });
    expect(answer).toMatchObject({ status: 422, body: { code: 'key-used-otherwise' } });
  });

  it('takes the next free line where another tab was quicker', async () => {
    const load = await openLoad(owner);
    const rows = await Promise.all([1, 2, 3].map(() => keyRow(owner, load.id, unsortedRow({ position: 7 }))));
    expect(rows.map((row) => row.body.position).sort()).toEqual([7, 8, 9]);
  });

  it('keeps a packet date as read, makes the maker on the packet, and says that rubber is past its life', async () => {
    const load = await openLoad(owner);
    const row = await keyRow(
      owner,
      load.id,
      lotRow(sealId, { packetRead: '3/94', packetCondition: 'sealed', makerName: 'Halloran Seals' }),
    );
    expect(row.body.packet).toEqual({ asRead: '3/94', precision: 'quarter', earliest: '1994-07-01', latest: '1994-09-30' });
    expect(row.body.storageLife?.state).toBe('past');
    expect(row.body.maker).toBe('Halloran Seals');
    expect(row.body.warnings).toMatchObject([{ kind: 'storage-life', words: expect.stringContaining('1 Jul 2001') }]);
    const undated = await keyRow(owner, load.id, lotRow(sealId, { position: 2, makerName: 'halloran seals' }));
    expect(undated.body.storageLife?.state).toBe('unknown date');
    expect(undated.body.maker).toBe('Halloran Seals');
    expect(undated.body.warnings[0]?.words).toContain('without a date');
  });

  it.each([
    ['no quantity', () => lotRow(washerId, { quantity: '0' }), 'quantity', 'Nought'],
    ['half of what comes whole', () => lotRow(washerId, { quantity: '2.5' }), 'quantity', 'Key 2 or 3'],
    ['less than nothing', () => lotRow(washerId, { quantity: '-1' }), 'quantity', 'more than nought'],
    ['a day that no calendar has', () => lotRow(washerId, { packetRead: '31/2/1955' }), 'packetRead', '31 Feb is not a date'],
    ['a packet of next century', () => lotRow(washerId, { packetRead: '5/2999' }), 'packetRead', 'after today'],
    ['nothing that says what it is', () => lotRow(null), 'words', 'Key a part number'],
    ['a part that is not there', () => lotRow(newId()), 'partId', 'not in the books'],
    ['a unit nobody described', () => unitRow({ words: '' }), 'words', 'Choose a type'],
    ['an owner nobody knows', () => unitRow({ ownerName: 'R. Nobody' }), 'ownerName', 'Add the customer first'],
    ['a seller as owner', () => unitRow({ ownerName: 'Dray & Tolliver, sale rooms' }), 'ownerName', 'not as a customer'],
    ['a place that is not there', () => unitRow({ placeId: newId() }), 'placeId', 'not in the books'],
    ['a field nobody asked for', () => unitRow({ price: '1' }), '', 'price'],
  ])('is refused with %s, and nothing is kept', async (_, row, path, words) => {
    const load = await openLoad(owner);
    const answer = await keyRow(owner, load.id, row());
    const problem = answer.body as unknown as { detail: string; values: { fields: { path: string; words: string }[] } };
    expect(answer.status).toBe(422);
    expect(problem.values.fields[0]?.path).toBe(path);
    expect(problem.values.fields[0]?.words).toContain(words);
    expect((await loadPage(load)).rows).toEqual([]);
  });

  it('names a customer’s goods by their owner', async () => {
    await owner.post('/api/firms', { id: newId(), name: 'R. Sandiman', isCustomer: true, isSupplier: false, isOutworker: false });
    const load = await openLoad(owner);
    const row = await keyRow(owner, load.id, unitRow({ ownerName: 'r. sandiman' }));
    expect(row.body.owner?.name).toBe('R. Sandiman');
  });

  it('is refused under the id of another load’s row', async () => {
    const [one, other] = [await openLoad(owner), await openLoad(owner)];
    const row = await keyRow(owner, one.id, unsortedRow());
    const answer = await owner.put<{ code: string }>(rowPath(other, row.body.id), unsortedRow());
    expect(answer).toMatchObject({ status: 422, body: { code: 'row-of-another-load' } });
  });

  it('is not for the bench', async () => {
    const bench = await addPerson(server, owner, 'bench', 'wilf', 'Wilf Peskett');
    const load = await openLoad(owner);
    expect((await keyRow(bench, load.id, unsortedRow())).status).toBe(403);
    expect((await bench.get(`/api/loads/${load.id}`)).status).toBe(200);
  });
});

describe('the same mark twice', () => {
  it('is pointed out whichever of the two could not be read, and not for casting numbers', async () => {
    const load = await openLoad(owner);
    const first = await keyRow(owner, load.id, unitRow({ marks: 'WD7 4?18 · 48 B 6' }));
    expect(first.body.warnings).toEqual([]);
    const second = await keyRow(owner, load.id, unitRow({ position: 2, marks: 'wd7-4518' }));
    expect(second.body.warnings).toMatchObject([
      {
        kind: 'same-mark',
        words: expect.stringMatching(/^Same mark as U \d{6} \d\d, line 1 of load \d+\? One of them is misread\.$/),
        other: { code: first.body.code },
      },
    ]);
    const cast = await keyRow(owner, load.id, unitRow({ position: 3, marks: 'cast 61-0?9' }));
    const castAgain = await keyRow(owner, load.id, unitRow({ position: 4, marks: 'cast 61-019' }));
    expect([cast.body.warnings, castAgain.body.warnings]).toEqual([[], []]);
    expect((await loadPage(load)).rows.map((row) => row.warnings.length)).toEqual([1, 1, 0, 0]);
  });

  it('is forgotten once one of the rows is struck out', async () => {
    const load = await openLoad(owner);
    const row = await keyRow(owner, load.id, unitRow({ marks: 'P30 H 1174' }));
    const twin = await keyRow(owner, load.id, unitRow({ position: 2, marks: 'P30 H 11?4' }));
    expect(twin.body.warnings).toHaveLength(1);
    await owner.post(`${rowPath(load, row.body.id)}/strike`, { reason: 'keyed twice' }, { ifMatch: 1 });
    expect((await loadPage(load)).rows[1]?.warnings).toEqual([]);
  });
});

describe('a row put right', () => {
  it('needs the version that was seen, and shows the row as it is to whoever was slower', async () => {
    const load = await openLoad(owner);
    const { id } = (await keyRow(owner, load.id, unitRow({ marks: '4G/2 11862' }))).body;
    const blind = await owner.put<{ code: string }>(rowPath(load, id), unitRow({ marks: '4G/2 11863' }));
    expect(blind).toMatchObject({ status: 428, body: { code: 'if-match-missing' } });
    const quicker = await owner.put<RowShown>(rowPath(load, id), unitRow({ marks: '4G/2 11?62' }), { ifMatch: 1 });
    expect(quicker.body.version).toBe(2);
    const slower = await owner.put<{ code: string; values: { current: { marks: string; version: number } } }>(
      rowPath(load, id),
      unitRow({ marks: 'none' }),
      { ifMatch: 1 },
    );
    expect(slower.status).toBe(412);
    expect(slower.body).toMatchObject({ code: 'changed-meanwhile', values: { current: { marks: '4G/2 11?62', version: 2 } } });
  });

  it('of two browsers at once changes it once', async () => {
    const load = await openLoad(owner);
    const { id } = (await keyRow(owner, load.id, lotRow(washerId))).body;
    const answers = await Promise.all(
      ['5', '6'].map((quantity) => owner.put(rowPath(load, id), lotRow(washerId, { quantity }), { ifMatch: 1 })),
    );
    expect(answers.map((answer) => answer.status).sort()).toEqual([200, 412]);
  });

  it('corrects a count by movements from and to the seller, and never loses a row of the ledger', async () => {
    const load = await openLoad(owner);
    const { id } = (await keyRow(owner, load.id, lotRow(washerId, { quantity: '4' }))).body;
    const more = await owner.put<RowShown>(rowPath(load, id), lotRow(washerId, { quantity: '7' }), { ifMatch: 1 });
    expect(more.body.quantity).toBe('7');
    const key = newId();
    const fewer = () => owner.put<RowShown>(rowPath(load, id), lotRow(washerId, { quantity: '2' }), { ifMatch: 2, key });
    expect((await fewer()).body.quantity).toBe('2');
    expect((await fewer()).body.quantity).toBe('2');
    expect(await balancesOf(stock, id)).toEqual({ supplier: '-2', place: '2' });
    const moves = await owner.get<{ movements: { quantity: string; reason: string; from: string; to: string }[] }>(
      `/api/things/${id}/movements`,
    );
    expect(moves.body.movements.map(({ quantity, reason }) => [quantity, reason])).toEqual([
      ['5', 'count corrected'],
      ['3', 'count corrected'],
      ['4', 'taken in'],
    ]);
    expect(moves.body.movements[0]).toMatchObject({ from: 'Goods-in', to: 'Dray & Tolliver, sale rooms' });
  });

  it('does not count below what is claimed for a job', async () => {
    const load = await openLoad(owner);
    const { id } = (await keyRow(owner, load.id, lotRow(washerId, { quantity: '4' }))).body;
    const job = await stock.job([{ partId: washerId, quantity: '3' }]);
    await stock.query('INSERT INTO claims (id, thing_id, claimant_id, purpose_id, quantity) VALUES ($1, $2, $3, $4, 3)', [
      newId(),
      id,
      job.id,
      job.lineIds[0],
    ]);
    const answer = await owner.put<{ code: string }>(rowPath(load, id), lotRow(washerId, { quantity: '2' }), { ifMatch: 1 });
    expect(answer).toMatchObject({ status: 409, body: { code: 'claimed-for-another-job' } });
    const another = await owner.put<{ code: string }>(rowPath(load, id), lotRow(sealId, { quantity: '4' }), { ifMatch: 1 });
    expect(another).toMatchObject({ status: 409, body: { code: 'in-use' } });
    const strike = await owner.post<{ code: string }>(`${rowPath(load, id)}/strike`, { reason: 'x' }, { ifMatch: 1 });
    expect(strike).toMatchObject({ status: 409, body: { code: 'in-use' } });
    expect(await balancesOf(stock, id)).toEqual({ supplier: '-4', place: '4' });
  });

  it('moves the thing when another place is keyed, and leaves alone what somebody put away since', async () => {
    const load = await openLoad(owner);
    const [bin, rack, yard] = [await stock.place(), await stock.place(), await stock.place()];
    const keyed = await keyRow(owner, load.id, lotRow(washerId));
    const { id } = keyed.body;
    const placed = await owner.put<RowShown>(rowPath(load, id), lotRow(washerId, { placeId: bin.id }), { ifMatch: 1 });
    expect(placed.body.place?.id).toBe(bin.id);
    await owner.post('/api/put-aways', { code: keyed.body.code, placeId: rack.id });
    const stale = await owner.put<RowShown>(rowPath(load, id), lotRow(washerId, { placeId: bin.id, note: 'waxed paper' }), {
      ifMatch: 2,
    });
    expect(stale.status).toBe(200);
    expect(stale.body.place?.id).toBe(rack.id);
    const third = await owner.put<{ code: string }>(rowPath(load, id), lotRow(washerId, { placeId: yard.id }), { ifMatch: 3 });
    expect(third).toMatchObject({ status: 409, body: { code: 'moved-since' } });
  });

  it('keeps its kind', async () => {
    const load = await openLoad(owner);
    const { id } = (await keyRow(owner, load.id, unsortedRow())).body;
    const answer = await owner.put<{ code: string }>(rowPath(load, id), lotRow(washerId), { ifMatch: 1 });
    expect(answer).toMatchObject({ status: 422, body: { code: 'kind-stays' } });
  });
});

describe('a row struck out', () => {
  it('gives everything back to the seller, voids the code in words and stays to be read', async () => {
    const load = await openLoad(owner);
    const { id, code } = (await keyRow(owner, load.id, lotRow(washerId))).body;
    const key = newId();
    const strike = () =>
      owner.post<RowShown>(`${rowPath(load, id)}/strike`, { reason: 'belongs to the other load' }, { ifMatch: 1, key });
    expect((await strike()).body).toMatchObject({ struckOut: true, version: 2, quantity: '0' });
    expect((await strike()).body).toMatchObject({ struckOut: true, version: 2 });
    expect(await balancesOf(stock, id)).toEqual({});
    const scan = await owner.get<{ code: string; detail: string }>(`/api/scan/${code}`);
    expect(scan).toMatchObject({ status: 409, body: { code: 'code-void' } });
    expect(scan.body.detail).toContain(`line 1 of load ${load.number}, which was struck out: belongs to the other load`);
    const page = await loadPage(load);
    expect([page.rowCount, page.unlabelled, page.rows[0]?.struckOut]).toEqual([0, 0, true]);
    const edit = await owner.put<{ code: string }>(rowPath(load, id), lotRow(washerId), { ifMatch: 2 });
    expect(edit).toMatchObject({ status: 409, body: { code: 'struck-out' } });
  });

  it('is refused without the version that was seen, and while a job is on the unit', async () => {
    const load = await openLoad(owner);
    const row = await keyRow(owner, load.id, unitRow());
    expect((await owner.post(`${rowPath(load, row.body.id)}/strike`, { reason: 'x' })).status).toBe(428);
    expect((await owner.post(`${rowPath(load, row.body.id)}/strike`, { reason: 'x' }, { ifMatch: 9 })).status).toBe(412);
    const job = await stock.job([]);
    await stock.query('UPDATE jobs SET unit_id = $1 WHERE id = $2', [row.body.id, job.id]);
    const answer = await owner.post<{ code: string; detail: string }>(
      `${rowPath(load, row.body.id)}/strike`,
      { reason: 'x' },
      { ifMatch: 1 },
    );
    expect(answer).toMatchObject({ status: 409, body: { code: 'in-use' } });
    expect(answer.body.detail).toContain('job');
  });
});

describe('twenty rows keyed from several browsers at once', () => {
  it('all stand, each on a line of its own, and the ledger adds up', async () => {
    const load = await openLoad(owner);
    const rows = Array.from({ length: 20 }, (_, index) =>
      index % 3 === 0
        ? unitRow({ position: index + 1 })
        : index % 3 === 1
          ? lotRow(washerId, { position: index + 1 })
          : unsortedRow({ position: index + 1 }),
    );
    const answers = await Promise.all(rows.map((row) => keyRow(owner, load.id, row)));
    expect(answers.map((answer) => answer.status)).toEqual(rows.map(() => 200));
    const page = await loadPage(load);
    expect(page.rows.map((row) => row.position)).toEqual(rows.map((_, index) => index + 1));
    expect(page).toMatchObject({ rowCount: 20, unlabelled: 20 });
    const [sums] = await stock.query<{ wrong: number }>(
      'SELECT count(*)::integer AS wrong FROM (SELECT thing_id FROM balances GROUP BY thing_id HAVING sum(quantity) <> 0) AS off',
    );
    expect(sums?.wrong).toBe(0);
  });
});
