import { WorkshopClock } from '../../apps/api/src/people/workshop.js';
import { newId } from '../../apps/api/src/platform/new-id.js';
import { scrapId, unknownOwnerId } from '../../apps/api/src/stores/ledger.js';
import { verifyBooks } from '../../apps/api/src/stores/verify/verify-books.js';
import type { KeptForOwner, KeptForOwners } from '../../libs/contracts/src/goods-apart.js';
import type { Thing } from '../../libs/contracts/src/stores.js';
import type { Today } from '../../libs/contracts/src/today.js';
import { addDays } from '../../libs/quantities/src/plain-date.js';
import { addPerson, type BareServer, startBareServer, type Visitor } from '../support/bare-server.js';
import { Stock } from '../support/stock.js';

let server: BareServer;
let stock: Stock;
let owner: Visitor;
let bench: Visitor;
/** The workshop's day as the test sets it. */
let day = '2031-03-03';

beforeAll(async () => {
  server = await startBareServer('keptowner');
  owner = await server.setUp();
  stock = await Stock.open(server.testDatabase.ownerUrl);
  bench = await addPerson(server, owner, 'bench', 'tom', 'Tom Hasleby');
  Object.assign(server.app.get(WorkshopClock), { now: () => new Date(`${day}T12:00:00Z`) });
});
afterAll(async () => {
  expect(await verifyBooks(server.database)).toEqual([]);
  await stock.close();
  await server.stop();
});

interface Refused {
  code: string;
  detail: string;
  values?: { fields?: { path: string }[] };
}
type Kept = KeptForOwner & Refused;

const found = (facts: object = {}) => ({
  id: newId(),
  thingId: newId(),
  name: 'lapping plate in a sack',
  quantity: '1',
  placeId: stock.placeId,
  foundWhere: 'under the long bench',
  foundBy: 'Tom Hasleby',
  since: day,
  askWhom: 'the man with the red van',
  lookAgainOn: addDays(day, 14),
  ...facts,
});
const keep = (thingId: string, facts: object = {}) =>
  owner.post<Kept>(`/api/things/${thingId}/kept-for-owner`, {
    id: newId(),
    kind: 'left over from a job',
    words: 'two shims and a cover',
    since: day,
    askWhom: 'his daughter',
    lookAgainOn: addDays(day, 14),
    ...facts,
  });
const end = (keptId: string, body: object) =>
  owner.post<Kept>(`/api/kept-for-owners/${keptId}/ending`, { words: 'signed for', ...body });
const list = async () => (await owner.get<KeptForOwners>('/api/kept-for-owners')).body;
const page = async (id: string) => (await owner.get<Thing>(`/api/things/${id}`)).body;
const onToday = async (keptId: string) =>
  (await owner.get<Today>('/api/today')).body.items.find(({ id }) => id === `kept:${keptId}`);
const lastMove = async (id: string) =>
  (
    await stock.query<{ to: string }>(
      'SELECT to_holder_id AS to FROM movements WHERE thing_id = $1 ORDER BY sequence DESC LIMIT 1',
      [id],
    )
  )[0]!.to;
const field = (body: Refused) => body.values?.fields?.[0]?.path;

describe('found property', () => {
  it('gets a label, is held back and is nobody’s; anybody at the bench may write it down', async () => {
    const body = found();
    const answer = await bench.post<Kept>('/api/found-property', body);
    expect(answer).toMatchObject({
      status: 200,
      body: {
        kind: 'found property',
        owner: null,
        standing: 'later',
        foundBy: 'Tom Hasleby',
        by: 'Tom Hasleby',
        notes: [],
        ended: null,
      },
    });
    const thing = await page(body.thingId);
    expect(thing).toMatchObject({
      name: 'lapping plate in a sack',
      held: '1',
      owner: { id: unknownOwnerId },
      heldBack: { reason: 'found property: under the long bench' },
    });
    const label = (await owner.get<{ warning: string; foot: string[] }>(`/api/labels/${thing.code}`)).body;
    expect(label.warning).toBe('FOUND PROPERTY: look again 17 Mar 2031');
    expect(label.foot.join()).toContain('owner not known');
    const scan = (await owner.get<{ warning: string; free: string }>(`/api/scan/${thing.code}`)).body;
    expect(scan.warning).toBe('kept for its owner: look again on 17 Mar 2031');
  });

  it('is refused with a day to look again that is past, and a day found that is to come', async () => {
    expect(field((await owner.post<Kept>('/api/found-property', found({ lookAgainOn: addDays(day, -1) }))).body)).toBe(
      'lookAgainOn',
    );
    expect(field((await owner.post<Kept>('/api/found-property', found({ since: addDays(day, 1) }))).body)).toBe('since');
    expect((await owner.post<Kept>('/api/found-property', found({ placeId: newId() }))).status).toBe(422);
  });

  it('reaches Today when its day is there, and is overdue after it; a letter puts the day on', async () => {
    const body = found({ lookAgainOn: addDays(day, 3) });
    await owner.post('/api/found-property', body);
    const begun = day;
    try {
      expect(await onToday(body.id)).toBeUndefined();
      day = addDays(begun, 3);
      expect(await onToday(body.id)).toMatchObject({
        section: 'stores',
        title: expect.stringContaining('today'),
        tag: { id: body.thingId },
      });
      day = addDays(begun, 5);
      expect(await onToday(body.id)).toMatchObject({ title: expect.stringContaining('was to be looked at again on 6 Mar 2031') });
      expect((await list()).kept[0]).toMatchObject({ id: body.id, standing: 'overdue' });
      const note = {
        id: newId(),
        way: 'letter',
        on: day,
        withWhom: 'the carrier',
        words: 'asked whose it may be',
        lookAgainOn: addDays(day, 20),
      };
      const noted = await bench.post<Kept>(`/api/kept-for-owners/${body.id}/notes`, note);
      expect(noted.body).toMatchObject({
        standing: 'later',
        lookAgainOn: addDays(day, 20),
        notes: [{ way: 'letter', withWhom: 'the carrier', words: 'asked whose it may be', by: 'Tom Hasleby', on: day }],
      });
      expect(await onToday(body.id)).toBeUndefined();
    } finally {
      day = begun;
    }
  });

  it('is claimed by an owner who is named, and is that customer’s from then on, held back no longer', async () => {
    const body = found();
    await owner.post('/api/found-property', body);
    const name = 'Ockley and Sons';
    const customer = await stock.customer(name);
    for (const how of ['collected', 'bought']) expect(field((await end(body.id, { how })).body)).toBe('how');
    expect(field((await end(body.id, { how: 'claimed' })).body)).toBe('ownerName');
    expect(field((await end(body.id, { how: 'claimed', ownerName: 'Nobody we know' })).body)).toBe('ownerName');
    expect((await end(body.id, { how: 'claimed', ownerName: name })).body).toMatchObject({
      ended: { how: 'claimed' },
      standing: 'ended',
    });
    expect(await page(body.thingId)).toMatchObject({ owner: { id: customer }, heldBack: null, held: '1' });
    expect((await end(body.id, { how: 'claimed', ownerName: name })).body.code).toBe('ended-already');
  });

  it('is given away or scrapped only on what is written down, and never becomes ours by an edit', async () => {
    const [one, two] = [found(), found()];
    for (const body of [one, two]) await owner.post('/api/found-property', body);
    expect(field((await end(one.id, { how: 'scrapped' })).body)).toBe('restsOn');
    expect((await end(one.id, { how: 'scrapped', restsOn: 'advice taken; two letters, kept for a year' })).status).toBe(200);
    expect(await lastMove(one.thingId)).toBe(scrapId);
    const bought = { how: 'bought', price: '1', on: day, words: 'x' };
    expect((await owner.post<Refused>(`/api/things/${two.thingId}/owner`, bought)).body.code).toBe('owner-not-known');
    expect((await owner.post<Refused>(`/api/things/${two.thingId}/hold-lift`, { reason: 'x' })).body.code).toBe('kept-for-owner');
  });
});

describe('what waits for its owner', () => {
  it('is a customer’s, lies here, and is kept once; ours is not', async () => {
    expect((await keep((await stock.lot(null)).id)).body.code).toBe('ours');
    const lot = await stock.lot(null, { ownerId: await stock.customer() });
    const answers = await Promise.all([keep(lot.id), keep(lot.id), keep(lot.id)]);
    expect(answers.map(({ status }) => status).sort()).toEqual([200, 409, 409]);
    expect((await keep(newId())).status).toBe(404);
    expect((await bench.post(`/api/things/${lot.id}/kept-for-owner`, {})).status).toBe(403);
  });

  it('is no part of a tray, nor reserved', async () => {
    const ownerId = await stock.customer();
    const partId = await stock.part();
    const lot = await stock.lot(partId, { ownerId, quantity: '2' });
    const job = await stock.job([{ partId }], { customerId: ownerId });
    await owner.post('/api/picks', { code: lot.code, jobId: job.id, quantity: '1' });
    expect((await keep(lot.id)).body.code).toBe('in-use');
    await expect(stock.query('UPDATE things SET kept_for_owner = true WHERE id = $1', [lot.id])).rejects.toThrow(
      /kept_for_its_owner_is_claimed_by_nobody/,
    );
  });

  it('is collected, with who signed, and goes to its owner', async () => {
    const ownerId = await stock.customer();
    const lot = await stock.lot(null, { ownerId });
    const { body } = await keep(lot.id);
    expect((await end(body.id, { how: 'collected', words: 'his daughter signed the list' })).body.ended).toMatchObject({
      how: 'collected',
      words: 'his daughter signed the list',
      by: 'Edie Marrack',
    });
    expect(await lastMove(lot.id)).toBe(ownerId);
    expect(await page(lot.id)).toMatchObject({ held: '0', heldBack: null });
    expect((await list()).ended.some(({ id }) => id === body.id)).toBe(true);
  });

  it('is bought: ours at that price, held back no longer, and free', async () => {
    const number = `KB-${newId().slice(-10)}`;
    const partId = await stock.part({ number });
    const lot = await stock.lot(partId, { ownerId: await stock.customer(), quantity: '3' });
    const { body } = await keep(lot.id);
    expect((await end(body.id, { how: 'bought', price: '30' })).status).toBe(200);
    expect(await page(lot.id)).toMatchObject({ owner: null, heldBack: null, held: '3' });
    const hits = (await owner.get<{ hits: { kind: string; quantity: string }[] }>(`/api/search?q=${number}`)).body.hits;
    expect(hits.find(({ kind }) => kind === 'part')!.quantity).toBe('3');
    expect((await owner.get<{ amount: string }>(`/api/things/${lot.id}/cost`)).body.amount).toBe('30.00');
  });

  it('keeps a hold that somebody had put on before', async () => {
    const lot = await stock.lot(null, { ownerId: await stock.customer() });
    await owner.post(`/api/things/${lot.id}/hold`, { reason: 'ask the maker' });
    const { body } = await keep(lot.id);
    expect((await end(body.id, { how: 'bought' })).status).toBe(200);
    expect((await page(lot.id)).heldBack?.reason).toBe('ask the maker');
  });

  it('what has ended stays as it ended, and notes of it are not changed: the database refuses', async () => {
    const lot = await stock.lot(null, { ownerId: await stock.customer() });
    const { body } = await keep(lot.id);
    const note = { id: newId(), way: 'call', on: day, withWhom: '', words: 'no answer', lookAgainOn: null };
    await owner.post(`/api/kept-for-owners/${body.id}/notes`, note);
    await end(body.id, { how: 'collected' });
    expect((await owner.post<Refused>(`/api/kept-for-owners/${body.id}/notes`, { ...note, id: newId() })).body.code).toBe(
      'ended-already',
    );
    await expect(stock.query("UPDATE kept_for_owners SET words = 'x' WHERE id = $1", [body.id])).rejects.toThrow(/as it ended/);
    await expect(stock.query('DELETE FROM kept_for_owners WHERE id = $1', [body.id])).rejects.toThrow(/kept for good/);
    await expect(stock.query("UPDATE kept_for_owner_notes SET words = 'x' WHERE kept_id = $1", [body.id])).rejects.toThrow(
      /kept for good/,
    );
  });
});
