import { newId } from '../../apps/api/src/platform/new-id.js';
import { verifyBooks } from '../../apps/api/src/stores/verify/verify-books.js';
import type { AskAround } from '../../libs/contracts/src/ask-around.js';
import type { ThingCost } from '../../libs/contracts/src/costs.js';
import type { Thing } from '../../libs/contracts/src/stores.js';
import { addPerson, type BareServer, startBareServer, type Visitor } from '../support/bare-server.js';
import { OpeningDesk } from '../support/opening-desk.js';
import { phonePhotograph, sendPicture } from '../support/pictures.js';
import { Stock } from '../support/stock.js';
import { accepted } from '../support/write-making.js';

let server: BareServer;
let owner: Visitor;
let bench: Visitor & { id: string };
let stock: Stock;
let desk: OpeningDesk;

beforeAll(async () => {
  server = await startBareServer('openingdesk');
  owner = await server.setUp();
  bench = await addPerson(server, owner, 'bench', 'tom', 'Tom Hasleby');
  stock = await Stock.open(server.testDatabase.ownerUrl);
  desk = new OpeningDesk(owner);
});
afterAll(async () => {
  expect(await verifyBooks(server.database)).toEqual([]);
  await stock.close();
  await server.stop();
});

const thing = async (id: string) => (await owner.get<Thing>(`/api/things/${id}`)).body;
const cost = async (id: string) => (await owner.get<ThingCost>(`/api/things/${id}/cost`)).body;
const rowsOf = async (placeId: string) => (await desk.page(placeId)).rows;

describe('the desk', () => {
  it('gives two people different rows, and keeps what one has from the other', async () => {
    const wilf = desk.as(await addPerson(server, owner, 'stores', 'wilf', 'Wilf Peskett'));
    const shelf = await desk.shelf();
    await desk.keyed(shelf, { words: 'first' });
    await desk.keyed(shelf, { words: 'second' });
    const [mine, theirs] = await Promise.all([desk.next(), wilf.next()]);
    expect(mine.body.row!.id).not.toBe(theirs.body.row!.id);
    const hers = (await wilf.next({ rowId: mine.body.row!.id })).body;
    expect(hers).toMatchObject({ code: 'with-another', detail: expect.stringContaining('Edie Marrack') });
    expect((await wilf.name(mine.body.row!, { words: 'quicker' })).body.code).toBe('with-another');
    expect((await desk.name(mine.body.row!, { words: 'pinion nuts' })).status).toBe(200);
    expect((await desk.name(mine.body.row!, { words: 'once more' })).status).toBe(412);
    expect((await desk.as(bench).next()).status).toBe(403);
  });

  it('goes on from row to row and round again, until nothing waits', async () => {
    const shelf = await desk.shelf();
    await stock.customer('Halse Haulage');
    await desk.keyed(shelf, { kind: 'unit', marks: 'WD71?' });
    await desk.keyed(shelf, { kind: 'unsorted', words: 'odds', count: '40' });
    await desk.keyed(shelf, { words: 'their spare ring', ownerName: 'Halse Haulage' });
    for (let turn = 0; turn < 100; turn += 1) {
      const { row, left } = (await desk.next()).body;
      if (row === null) return expect(left).toBe((await stock.query<{ n: number }>(waiting))[0]!.n);
      const said =
        row.kind === 'unsorted' ? { kind: 'unsorted', words: row.words } : { kind: row.kind, words: row.words || 'named' };
      const fields =
        row.kind === 'unit'
          ? { ...said, unitTypeId: null }
          : { ...said, ...(row.kind === 'lot' ? { partId: row.part?.id ?? null } : {}) };
      const cost = row.owner === null ? { standing: 'unknown', amount: '' } : null;
      const answer = await owner.post(`/api/opening/rows/${row.id}/name`, { ...fields, cost }, { ifMatch: row.version });
      expect(answer.status).toBe(200);
    }
    throw new Error('The desk never came to an end.');
  });
  // what Wilf has in hand is his
  const waiting = `SELECT count(*)::integer AS n FROM opening_desk JOIN opening_rows USING (thing_id) WHERE until > now() AND standing = 'to name'`;

  it('says of a cost whether it is a figure, an estimate or unknown, and never forgets a figure', async () => {
    const shelf = await desk.shelf();
    const [one, two, three] = [
      await desk.keyed(shelf, { words: 'one' }),
      await desk.keyed(shelf, { words: 'two' }),
      await desk.keyed(shelf, { words: 'three' }),
    ];
    const before = await desk.worth();
    const figure = await desk.name(one!, { words: 'one', cost: { standing: 'figure', amount: '8' } });
    await desk.name(two!, { words: 'two', cost: { standing: 'estimate', amount: '3.50' } });
    await desk.name(three!, { words: 'three', cost: { standing: 'unknown', amount: '' } });
    expect((await desk.as(bench).worth()) as unknown).toMatchObject({ status: 403 });
    const after = await desk.worth();
    expect([after.figures - before.figures, after.estimates - before.estimates, after.unknown - before.unknown]).toEqual([
      1, 1, 1,
    ]);
    expect(Number(after.known) - Number(before.known)).toBeCloseTo(11.5);
    expect((await cost(three!.id)).amount).toBeNull();
    const lower = await desk.name(figure.body, { words: 'one', cost: { standing: 'estimate', amount: '6' } });
    expect(await cost(one!.id)).toMatchObject({ amount: '6.00', entries: [{ amount: '-2.00' }, { amount: '8.00' }] });
    const forgotten = await desk.name(lower.body, { words: 'one', cost: { standing: 'unknown', amount: '' } });
    expect(forgotten.body.detail).toContain('stays on the record');
    const nought = await desk.name(lower.body, { words: 'one', cost: { standing: 'figure', amount: '0' } });
    expect(nought.body).toMatchObject({ cost: '0.00', costStanding: 'figure' });
  });

  it('takes a figure back with the row that is struck out', async () => {
    const row = await desk.keyed(await desk.shelf(), { words: 'keyed twice' });
    const named = (await desk.name(row, { words: 'keyed twice', cost: { standing: 'figure', amount: '4' } })).body;
    expect((await desk.strike(named)).status).toBe(200);
    expect((await cost(row.id)).amount).toBe('0.00');
  });

  it('splits off what is something else, which shows the same photographs', async () => {
    const shelf = await desk.shelf();
    const row = await desk.keyed(shelf, { words: 'washers and a cup', count: '7' });
    await sendPicture(server.url, owner, row.id, await phonePhotograph(300, 200));
    const { row: rest, splitOff } = (await desk.split(row, { count: '1', words: 'bearing cup' })).body;
    expect(rest).toMatchObject({ quantity: '6' });
    expect(splitOff).toMatchObject({ quantity: '1', words: 'bearing cup', standing: 'to name', splitFrom: { id: row.id } });
    expect(splitOff.pictures).toHaveLength(1);
    expect([(await thing(row.id)).held, (await thing(splitOff.id)).held]).toEqual(['6', '1']);
    expect((await desk.split(rest, { count: '6' })).body.detail).toContain('fewer than that');
    const box = await desk.keyed(shelf, { kind: 'unsorted', words: 'odds and ends' });
    expect((await desk.split(box, { count: '1' })).body.code).toBe('not-to-be-split');
  });

  it('leaves what nobody knows to whoever is asked around', async () => {
    const row = await desk.keyed(await desk.shelf(), { words: 'three-lobed cam', count: '2' });
    expect((await desk.ask(row)).body).toMatchObject({ standing: 'asked' });
    const asked = async () => (await owner.get<AskAround>('/api/ask-around')).body.things.find(({ id }) => id === row.id);
    expect(await asked()).toMatchObject({ kind: 'lot', words: 'three-lobed cam' });
    const answer = { id: newId(), toldBy: 'Mrs Ockley', words: 'off a hay press' };
    await accepted(owner.post(`/api/things/${row.id}/answers`, answer));
    const told = (await desk.next({ rowId: row.id })).body.row!;
    await accepted(desk.name(told, { partId: await stock.part() }));
    expect(await asked()).toBeUndefined();
  });

  it('sends junk to scrap by name, but nothing that is promised', async () => {
    const shelf = await desk.shelf();
    const row = await desk.keyed(shelf, { words: 'perished boots', count: '5' });
    expect((await desk.scrap(row)).body).toMatchObject({ standing: 'scrapped', where: 'scrap' });
    expect(await thing(row.id)).toMatchObject({
      held: '0',
      lastSeen: { by: 'Edie Marrack', words: expect.stringContaining('rusted through') },
    });
    const [scrapped] = (await rowsOf(shelf)).filter(({ id }) => id === row.id);
    expect((await desk.bringBack(row)).status).toBe(412);
    expect((await desk.bringBack(scrapped!)).body).toMatchObject({ standing: 'to name', canBeChanged: true });
    expect((await thing(row.id)).held).toBe('5');
    expect((await desk.bringBack({ ...scrapped!, version: 3 })).body.code).toBe('not-scrapped');
    const partId = await stock.part();
    const job = await stock.job([{ partId, quantity: '1' }]);
    const wanted = await desk.keyed(shelf, { partId, count: '1' });
    await accepted(owner.post('/api/picks', { code: wanted.code, jobId: job.id, quantity: '1' }));
    expect((await desk.scrap(wanted)).body.code).toBe('in-use');
  });

  it('tells the packet by the rules of goods-in', async () => {
    const partId = await stock.part({ material: 'rubber', polymer: 'NBR' });
    const row = await desk.keyed(await desk.shelf(), { words: 'seals in a packet', count: '3' });
    const named = await desk.name(row, { partId, source: 'old stock', packetRead: '1994', packetCondition: 'sealed' });
    expect(named.body).toMatchObject({ packetRead: '1994', packetCondition: 'sealed', source: 'old stock' });
    expect((await desk.name(named.body, { partId, packetRead: 'last Tuesday week' })).status).toBe(422);
  });
});
