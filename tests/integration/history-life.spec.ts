import { newId } from '../../apps/api/src/platform/new-id.js';
import { arrangingRoutes } from '../../apps/api/src/stores/arrange-places/arranged-history.js';
import { verifyBooks } from '../../apps/api/src/stores/verify/verify-books.js';
import { formatCode, type LabelCode } from '../../libs/codes/src/label-code.js';
import { addPerson, type BareServer, startBareServer, type Visitor } from '../support/bare-server.js';
import { CountingDesk } from '../support/counting-desk.js';
import { HistoryReader } from '../support/history-reader.js';
import { LabelDesk } from '../support/label-changes.js';
import { OpeningDesk } from '../support/opening-desk.js';
import { routesOf } from '../support/routes.js';
import { saidIn } from '../support/said-in.js';
import { type Made, Stock } from '../support/stock.js';
import { accepted, today } from '../support/write-making.js';

let server: BareServer;
let owner: Visitor;
let bench: Visitor & { id: string };
let stock: Stock;
let history: HistoryReader;
let seenAtBench: HistoryReader;
let labels: LabelDesk;
let counting: CountingDesk;

beforeAll(async () => {
  server = await startBareServer('historylife');
  owner = await server.setUp();
  bench = await addPerson(server, owner, 'bench', 'tom', 'Tom Hasleby');
  stock = await Stock.open(server.testDatabase.ownerUrl);
  [history, seenAtBench, labels, counting] = [
    new HistoryReader(owner),
    new HistoryReader(bench),
    new LabelDesk(owner),
    new CountingDesk(owner),
  ];
});
afterAll(async () => {
  expect(await verifyBooks(server.database)).toEqual([]);
  await stock.close();
  await server.stop();
});

const said = (code: string) => formatCode(code as LabelCode);
const post = <Body = { id: string }>(path: string, body: object = {}) => accepted(owner.post<Body>(path, body));

/** A bag that was keyed at a shelf before the books began, and named at the desk. */
async function keyedAndNamed(): Promise<Made & { partId: string; placeId: string }> {
  const desk = new OpeningDesk(owner);
  const partId = await stock.part({ name: 'Thrust plate' });
  const placeId = await desk.shelf();
  const row = await desk.keyed(placeId, { words: 'thrust plates', count: '9' });
  await accepted(desk.name(row, { partId, cost: { standing: 'figure', amount: '18.00' } }));
  await accepted(desk.done(placeId));
  const [code] = await stock.query<{ code: string }>('SELECT code FROM codes WHERE subject_id = $1', [row.id]);
  return { id: row.id, code: code!.code, partId, placeId };
}

describe('the life of a bag', () => {
  it('is told from the shelf on which it was keyed to the skip into which it went', async () => {
    const bag = await keyedAndNamed();
    const page = `/api/things/${bag.id}`;
    await stock.customer('Orla Penrice');

    const place = { id: bag.placeId, code: await codeOfPlace(bag.placeId) };
    const countId = await counting.counted(place, [[bag, '8']]);
    const line = await counting.line(countId, bag, place);
    await accepted(counting.decide(countId, line, 'post', { why: 'one was fitted last winter' }));
    await accepted(counting.end(countId));

    const { code: live } = await accepted(labels.replace(bag.code, null, 'spoiled'));
    const { lot: parted } = await accepted(labels.split(bag.id, '2', bag.placeId));
    await accepted(labels.merge(parted.id, live));

    await post(`${page}/hold`, { reason: 'faces look burnt', mayLiftId: bench.id, lookAgainOn: '2099-01-05' });
    await post(`${page}/hold-on`, { words: 'the plate is still at the grinder', lookAgainOn: '2099-02-05' });
    await accepted(bench.post(`${page}/hold-lift`, { reason: 'measured, and good' }));

    const keptId = newId();
    await post('/api/kept-for-jobs', { id: keptId, thingId: bag.id, reason: 'the last of them' });
    await post(`/api/kept-for-jobs/${keptId}/lifting`, { why: 'a boxful came in' });
    const sale = await post<{ id: string; lines: { id: string }[] }>('/api/sales', {
      id: newId(),
      lines: [{ thingId: bag.id, quantity: '2', price: '12.50' }],
      buyer: 'a man from Hexley',
      paid: 'cash',
    });
    await post(`/api/sales/${sale.id}/taking-back`, {
      id: newId(),
      lineId: sale.lines[0]!.id,
      quantity: '1',
      placeId: bag.placeId,
      why: 'one too many',
      money: 'cash back',
      givenBack: '6.25',
      fitted: false,
    });

    const job = await stock.job([{ partId: bag.partId, quantity: '3' }]);
    const fitted = await post<{ actId: string; fittingId: string }>('/api/fits', { code: live, jobId: job.id, quantity: '1' });
    const takenOut = newId();
    await post(`/api/fittings/${fitted.fittingId}/removal`, {
      lotId: takenOut,
      quantity: '1',
      placeId: bag.placeId,
      why: 'it rubbed',
    });

    await post(`${page}/owner`, {
      how: 'given to them',
      ownerName: 'Orla Penrice',
      price: '',
      on: today(),
      words: 'for her old ones',
    });
    const waits = newId();
    await post(`${page}/kept-for-owner`, {
      id: waits,
      kind: 'to be collected',
      words: 'she comes by in spring',
      since: today(),
      askWhom: '',
      lookAgainOn: '2099-01-05',
    });
    await post(`/api/kept-for-owners/${waits}/notes`, {
      id: newId(),
      way: 'call',
      on: today(),
      withWhom: 'Orla Penrice',
      words: 'she would rather sell them',
      lookAgainOn: '2099-01-05',
    });
    await post(`/api/kept-for-owners/${waits}/ending`, { how: 'bought', price: '4', words: 'paid in cash', restsOn: '' });
    await post(`${page}/condemnation`, { reason: 'cracked through', noPicture: 'the camera is away' });
    await post(`${page}/disposal`, { how: 'scrapped', words: 'in the iron skip' });

    const told = (...kinds: string[]) => history.told('things', bag.id, ...kinds);
    expect(await told('opening-stock')).toEqual(['Keyed as opening stock, 9', 'Named at the desk']);
    expect(await told('counts')).toEqual(['8 counted', 'Difference of the count posted', 'Count posted: it differed']);
    const labelsTold = await told('labels');
    expect(labelsTold[0]).toBe(`${said(bag.code)} replaced by ${said(live)}`);
    expect(labelsTold).toContain(`${said(parted.code)} came over, with goods that were another lot`);
    expect(await told('regrouping')).toEqual([
      `2 parted off as ${said(parted.code)}`,
      `2 joined to it that were ${said(parted.code)}`,
    ]);
    // the second time while it waited for its owner
    const waited = ['Held back', 'No longer held back'];
    expect(await told('holds')).toEqual(['Held back', 'Still held back', 'No longer held back', ...waited]);
    expect(await told('kept-for-jobs')).toEqual(['Kept for our own jobs', 'May be sold again']);
    expect(await told('sales')).toEqual(['2 sold, receipt 1', '1 brought back, receipt 1']);
    expect(await told('prices')).toEqual(['Sold for 12.50 GBP', 'Given back 6.25 GBP']);
    expect(await told('fittings')).toEqual([
      `1 fitted in job ${said(job.code)}, line 1`,
      `1 taken out again, job ${said(job.code)}, line 1`,
    ]);
    expect(await history.told('things', takenOut, 'fittings')).toEqual([
      `Taken out after fitting, job ${said(job.code)}, line 1`,
    ]);
    expect(await told('kept-for-owners')).toEqual([
      'Kept for its owner: to be collected',
      'Call, Orla Penrice',
      'No longer kept for its owner: bought',
    ]);
    expect(await told('condemned')).toEqual(['Condemned for good', 'Condemned, and scrapped']);

    const all = await history.all('things', bag.id);
    expect(all.map(({ at }) => at)).toEqual(
      all
        .map(({ at }) => at)
        .toSorted()
        .reverse(),
    );
    const detailOf = (title: string) => all.findLast((entry) => entry.title === title);
    expect(detailOf('Held back')).toMatchObject({
      detail: 'faces look burnt, Tom Hasleby may lift it, to be looked at again on 5 Jan 2099',
      by: 'Edie Marrack',
    });
    expect(detailOf('No longer held back')).toMatchObject({ detail: 'measured, and good', by: 'Tom Hasleby' });
    expect(detailOf('Difference of the count posted')?.detail).toMatch(
      /^8 counted, the books had 9, .*, count 1, one was fitted last winter$/,
    );
    expect(detailOf('2 sold, receipt 1')?.detail).toBe('to a man from Hexley');

    const atBench = await seenAtBench.page('things', bag.id, '?limit=500');
    expect(atBench.entries.filter(({ kind }) => kind === 'prices' || kind === 'costs')).toEqual([]);
    expect(saidIn(atBench)).not.toMatch(/12\.50|6\.25|18\.00/);
    expect(atBench.kinds.map(({ kind }) => kind)).not.toContain('prices');
    expect((await bench.get(`/api/things/${bag.id}/history?kinds=prices`)).status).toBe(422);

    expect(await history.told('places', bag.placeId, 'opening-stock')).toEqual([
      'Opening stock begun here',
      'Opening stock: all here is keyed',
    ]);
    const atPlace = await history.told('places', bag.placeId, 'counts');
    expect(atPlace).toEqual(
      expect.arrayContaining(['Count 1 begun', 'Counts here', 'Counted: all here is scanned', 'Count 1 posted']),
    );
    const ending = (await history.all('places', bag.placeId)).find(({ title }) => title === 'Count 1 posted');
    expect(ending).toMatchObject({ detail: '1 of 1 things here differed', by: 'Edie Marrack' });
  });

  it('goes on with the lot that it became part of, and says so', async () => {
    const partId = await stock.part();
    const [goes, stays] = [await stock.lot(partId, { quantity: '3' }), await stock.lot(partId, { quantity: '1' })];
    await accepted(labels.merge(goes.id, stays.code));
    expect(await history.told('things', goes.id, 'regrouping')).toEqual([`Now part of ${said(stays.code)}, 3`]);
    expect(await history.told('things', goes.id, 'labels')).toEqual([
      `${said(goes.code)} went over to ${said(stays.code)}, with its goods`,
    ]);
    // over all lots of the part each of the two acts is told of both lots
    const ofPart = (await history.all('parts', partId, 1)).filter(({ kind }) => ['regrouping', 'labels'].includes(kind));
    expect(ofPart).toHaveLength(4);
  });
});

const codeOfPlace = async (placeId: string) =>
  (await stock.query<{ code: string }>('SELECT code FROM codes WHERE subject_id = $1', [placeId]))[0]!.code;

describe('a container', () => {
  it('was opened, used on a job, put right and used up', async () => {
    const partId = await stock.part({ name: 'Sealant', material: 'other' });
    const settings = {
      container: 'cartridge',
      keepsDays: 90,
      oneAtATime: true,
      charged: 'by use',
      useAmount: '',
      usesPerContainer: 20,
      flat: [],
    };
    await accepted(owner.put(`/api/parts/${partId}/consumable`, settings));
    const lot = await stock.lot(partId, { quantity: '1' });
    await post(`/api/things/${lot.id}/use-by`, { useBy: '2099-06-01' });
    const { thing } = await post<{ thing: { id: string } }>(`/api/things/${lot.id}/opening`, { openedOn: today() });
    const job = await stock.job([]);
    const { rows } = await post<{ rows: { id: string }[] }>(`/api/jobs/${job.id}/consumable-uses`, { partId, uses: 2 });
    await post(`/api/consumable-uses/${rows[0]!.id}/putting-right`, { why: 'another job' });
    await post(`/api/things/${thing.id}/container-end`, { how: 'empty', words: '' });
    const told = [
      ...(await history.told('things', lot.id, 'consumables')),
      ...(thing.id === lot.id ? [] : await history.told('things', thing.id, 'consumables')),
    ];
    expect(told).toEqual([
      'Use by 1 Jun 2099, as read on the packet',
      'Opened',
      '2 uses',
      '2 uses put right, and no longer charged',
      'Empty',
    ]);
  });
});

describe('a place', () => {
  it('says when it was named, carried, closed and opened again, and by whom', async () => {
    const [rack, bin] = [newId(), newId()];
    await post('/api/places', { id: rack, parentId: null, name: 'Long rack', kind: 'rack' });
    await post('/api/places', { id: bin, parentId: null, name: 'Bin of odds', kind: 'bin' });
    await accepted(
      owner.patch(`/api/places/${bin}`, { name: 'Bin of ends', kind: 'bin', nicknames: 'the odd one' }, { ifMatch: 1 }),
    );
    await accepted(bench.post(`/api/places/${bin}/carrying`, { parentId: rack }, { ifMatch: 2 }));
    await accepted(owner.post(`/api/places/${bin}/closing`, {}, { ifMatch: 3 }));
    await accepted(owner.post(`/api/places/${bin}/opening`, {}, { ifMatch: 4 }));
    // refused: it is open already
    expect((await owner.post(`/api/places/${bin}/opening`, {}, { ifMatch: 5 })).status).toBe(409);
    expect((await bench.post(`/api/places/${bin}/nicknames`, { words: 'the sad one' })).status).toBe(200);
    const entries = (await history.all('places', bin)).filter(({ kind }) => kind === 'arranged').reverse();
    expect(entries.map(({ title, detail, by }) => [title, detail, by])).toEqual([
      ['Named Bin of ends', 'bin, also called the odd one', 'Edie Marrack'],
      ['Carried to Long rack, Bin of ends', 'it stood by itself', 'Tom Hasleby'],
      ['Closed: it takes no goods', '', 'Edie Marrack'],
      ['Opened again', '', 'Edie Marrack'],
      ['People look for it by: the odd one; the sad one', '', 'Tom Hasleby'],
    ]);
    expect((await history.all('places', rack)).filter(({ kind }) => kind === 'arranged')).toEqual([]);
  });

  it('is told of by the names of the routes that were recorded: none that changes one is left out, and none that ever did', async () => {
    // what is done to what lies in a place stands with those things
    const notArranging = ['POST /api/places/:id/holds'];
    const known = arrangingRoutes.map(({ route }) => route);
    const changing = routesOf(server.app).filter(({ method, path }) => method !== 'GET' && path.startsWith('/api/places/:id'));
    expect(
      changing
        .map(({ name }) => name)
        .filter((name) => !(known as string[]).includes(name))
        .sort(),
    ).toEqual(notArranging);
    // as workshops have them on record, for good: this list only grows
    expect(known).toEqual(
      expect.arrayContaining([
        'PATCH /api/places/:id',
        'POST /api/places/:id/carrying',
        'POST /api/places/:id/closing',
        'POST /api/places/:id/opening',
        'POST /api/places/:id/nicknames',
      ]),
    );
  });
});

describe('a count that goes on', () => {
  const titles = async (lot: Made) => (await history.told('things', lot.id, 'counts')).join('; ');

  it('is not told of before its place is closed, to nobody', async () => {
    const place = await stock.place();
    const lot = await stock.lot(await stock.part(), { quantity: '3', placeId: place.id });
    const { count } = await accepted(counting.take(place, {}, bench));
    await accepted(counting.enter(place, lot, '2', {}, bench));
    expect(await titles(lot)).toBe('');
    expect((await history.told('places', place.id, 'counts')).join('; ')).toBe(`Count ${count.number} begun; Counts here`);
    await accepted(counting.close(place, {}, bench));
    expect(await titles(lot)).toBe('2 counted');
    // it is to be counted again: until that is done nobody is told what was counted before, or what became of it
    await accepted(
      counting.decide(count.id, await counting.line(count.id, lot, place), 'again', { why: 'look behind the rack' }),
    );
    expect(await titles(lot)).toBe('');
    await accepted(counting.take(place, { join: true }));
    await accepted(counting.enter(place, lot, '3'));
    expect(await titles(lot)).toBe('');
    await accepted(counting.close(place));
    expect(await titles(lot)).toBe('2 counted; To be counted again; 3 counted');
    await accepted(counting.end(count.id));
    expect(await titles(lot)).toBe('2 counted; To be counted again; 3 counted; Count posted: it agreed');
  });

  it('is not told of while somebody else has begun to count there too', async () => {
    const place = await stock.place();
    const lot = await stock.lot(await stock.part(), { quantity: '3', placeId: place.id });
    await counting.counted(place, [[lot, '2']], bench);
    expect(await titles(lot)).toBe('2 counted');
    await accepted(counting.take(place, { join: true }));
    expect(await titles(lot)).toBe('');
    await accepted(counting.close(place));
    expect(await titles(lot)).toBe('2 counted');
  });
});
