import { newId } from '../../apps/api/src/platform/new-id.js';
import { verifyBooks } from '../../apps/api/src/stores/verify/verify-books.js';
import { formatCode, type LabelCode } from '../../libs/codes/src/label-code.js';
import type { ThingCost } from '../../libs/contracts/src/costs.js';
import { Bags } from '../support/bags.js';
import { addPerson, type BareServer, startBareServer, type Visitor } from '../support/bare-server.js';
import { CostDesk } from '../support/cost-desk.js';
import { LabelDesk } from '../support/label-changes.js';
import { keyRow, lotRow, openLoad } from '../support/load-stock.js';
import { phonePhotograph, sendPicture } from '../support/pictures.js';
import { Stock } from '../support/stock.js';

let server: BareServer;
let owner: Visitor;
let bench: Visitor;
let stock: Stock;
let desk: LabelDesk;
let keeper: LabelDesk;
let bags: Bags;
let partId: string;

beforeAll(async () => {
  server = await startBareServer('joined');
  owner = await server.setUp();
  bench = await addPerson(server, owner, 'bench', 'tom', 'Tom Hasleby');
  stock = await Stock.open(server.testDatabase.ownerUrl);
  [desk, keeper] = [new LabelDesk(bench), new LabelDesk(owner)];
  partId = await stock.part({ name: 'Big seal' });
  bags = new Bags(bench, stock, partId);
});
afterEach(async () => {
  expect(await verifyBooks(server.database)).toEqual([]);
});
afterAll(async () => {
  await stock.close();
  await server.stop();
});

const said = (code: string) => formatCode(code as LabelCode);
const differing = ({ values }: { values?: Record<string, unknown> }) => (values?.differing ?? []) as { what: string }[];

describe('two bags that turn out to be one', () => {
  it('become one: both codes open it, and its quantity, claims, photographs and flags go over', async () => {
    const [goes, stays, place] = [await bags.bag('3'), await bags.bag('5'), await stock.place()];
    await bench.post('/api/put-aways', { code: goes.code, placeId: place.id, quantity: '1' });
    const job = await bags.reserve(goes.id, '2');
    await sendPicture(server.url, owner, goes.id, await phonePhotograph(40, 30));
    await stock.query("INSERT INTO stores_flags (id, thing_id, kind, words) VALUES ($1, $2, 'found in hand', 'one more')", [
      newId(),
      goes.id,
    ]);
    const key = newId();
    expect((await desk.merge(goes.id, stays.code)).status).toBe(403);
    const merged = await keeper.merge(goes.id, stays.code, key);
    expect([merged.status, merged.body.lot?.id]).toEqual([200, stays.id]);
    expect((await keeper.merge(goes.id, stays.code, key)).body).toEqual(merged.body);
    for (const code of [goes.code, stays.code]) expect(await desk.scan(code)).toMatchObject({ id: stays.id });
    const one = await bags.page(stays.id);
    expect([one.held, one.claimed, one.code]).toEqual(['8', '2', stays.code]);
    expect(one.claims).toMatchObject([{ claimant: { id: job.id }, quantity: '2' }]);
    expect(one.pictures).toHaveLength(1);
    expect(new Map(one.holdings.map(({ holderId, quantity }) => [holderId, quantity]))).toEqual(
      new Map([
        [stock.placeId, '7'],
        [place.id, '1'],
      ]),
    );
    expect(await stock.query('SELECT 1 FROM stores_flags WHERE thing_id = $1 AND settled_at IS NULL', [stays.id])).toHaveLength(
      1,
    );
    expect(await desk.regroupings(goes.id)).toMatchObject({
      partOf: { id: stays.id, code: stays.code },
      changes: [{ kind: 'merged', quantity: '3', to: { id: stays.id } }],
    });
    const gone = await bags.page(goes.id);
    expect([gone.held, gone.claimed, gone.code]).toEqual(['0', '0', goes.code]);
    expect((await desk.borne(goes.id)).labels).toMatchObject([{ code: goes.code, state: 'went over', opens: { id: stays.id } }]);
    expect((await bench.post('/api/picks', { code: goes.code, jobId: job.id })).status).toBe(200);
  });

  it('are split again, with the label that came over', async () => {
    const [goes, stays] = [await bags.bag('3'), await bags.bag('5')];
    await keeper.merge(goes.id, stays.code);
    const split = await desk.split(stays.id, '3', stock.placeId, goes.code);
    expect(split.body.lot.code).toBe(goes.code);
    expect(await desk.scan(goes.code)).toMatchObject({ id: split.body.lot.id });
    expect(await bags.held(stays.id, split.body.lot.id)).toEqual(['5', '3']);
    expect((await keeper.merge(goes.id, stays.code)).body.code).toBe('part-of-another-lot');
  });

  it('are refused where a fact differs, naming each with both values and no other', async () => {
    const otherPart = await stock.part({ name: 'Small seal' });
    const customer = await stock.customer('Miss Applegarth');
    const variants: [string, () => Promise<{ id: string; code: string }>][] = [
      ['part', () => stock.lot(otherPart, { quantity: '5' })],
      ['owner', () => bags.bag('5', { ownerId: customer })],
      ['source', () => bags.bag('5', { source: 'old stock' })],
      ['make', () => bags.bag('5', { make: 'pattern' })],
      ['condition', () => bags.bag('5', { condition: 'worn' })],
      ['packet date', () => bags.bag('5', { packetRead: '1971', packetEarliest: '1971-01-01', packetLatest: '1971-12-31' })],
    ];
    const stays = await bags.bag('5');
    for (const [what, make] of variants) {
      const { body, status } = await keeper.merge((await make()).id, stays.code);
      expect([what, status, body.code]).toEqual([what, 409, 'facts-differ']);
      expect(differing(body).map((each) => each.what)).toEqual([what]);
    }
    const owned = await keeper.merge((await bags.bag('5', { ownerId: customer })).id, stays.code);
    expect(owned.body.detail).toContain('owner, Miss Applegarth against the workshop');
    const heldBack = await bags.bag('5');
    await owner.post(`/api/things/${heldBack.id}/hold`, { reason: 'to be looked at' });
    expect((await keeper.merge(heldBack.id, stays.code)).body.detail).toContain('held back, to be looked at against no');
    const several = await bags.bag('5', { source: 'unknown', make: 'pattern', condition: 'worn' });
    expect(differing((await keeper.merge(several.id, stays.code)).body).map(({ what }) => what)).toEqual([
      'source',
      'make',
      'condition',
    ]);
  });

  it('are refused where one is missing, unnamed, no lot, the same, or not all in stores, and say which way round it goes', async () => {
    const [goes, stays, missing] = [await bags.bag('3'), await bags.bag('5'), await bags.bag('2')];
    const unnamed = [await stock.lot(null), await stock.lot(null)];
    expect((await keeper.merge(unnamed[0]!.id, unnamed[1]!.code)).body.code).toBe('not-named');
    await bench.post(`/api/things/${missing.id}/not-there`, { placeId: null });
    expect((await keeper.merge(missing.id, stays.code)).body.code).toBe('missing');
    expect((await keeper.merge(stays.id, missing.code)).body.code).toBe('missing');
    expect((await keeper.merge(stays.id, stays.code)).body.code).toBe('one-already');
    expect((await keeper.merge((await stock.unit()).id, stays.code)).body.code).toBe('not-a-lot');
    expect((await keeper.merge(goes.id, (await stock.unit()).code)).body.code).toBe('code-of-another-kind');
    const job = await stock.job([{ partId, quantity: '1' }]);
    expect((await bench.post('/api/picks', { code: goes.code, jobId: job.id })).status).toBe(200);
    const refused = (await keeper.merge(goes.id, stays.code)).body;
    expect(refused.code).toBe('not-all-here');
    expect(refused.detail).toContain(`Make ${said(stays.code)} part of ${said(goes.code)} instead`);
    expect((await keeper.merge(stays.id, goes.code)).status).toBe(200);
    expect((await bags.page(goes.id)).held).toBe('8');
  });

  it('raced with a pick and with one another conserve', async () => {
    for (let round = 0; round < 6; round += 1) {
      const [goes, stays] = [await bags.bag('3'), await bags.bag('5')];
      const job = await stock.job([{ partId, quantity: '2' }]);
      const [, , pick] = await Promise.all([
        keeper.merge(goes.id, stays.code),
        keeper.merge(stays.id, goes.code),
        bench.post<{ code?: string }>('/api/picks', { code: goes.code, jobId: job.id, quantity: '2' }),
      ]);
      expect([200, 409]).toContain(pick.status);
      const sums = (await bags.held(goes.id, stays.id)).map(Number);
      expect(sums.reduce((a, b) => a + b)).toBe(8);
    }
  });

  it('stay so whatever the code does: the database lets nothing back, and nothing go between that does not arrive', async () => {
    const [goes, stays] = [await bags.bag('3'), await bags.bag('5')];
    await keeper.merge(goes.id, stays.code);
    await expect(stock.bring(goes.id, '1', stock.placeId)).rejects.toThrow(/merged_is_gone/);
    const lone = stock.query(
      `INSERT INTO movements (id, command_key, thing_id, quantity, from_holder_id, to_holder_id, reason, occurred_at)
       SELECT $1, key, $2, 1, $3, '00000000-0000-7000-8000-0000000a1107', 'lost between', now() FROM commands LIMIT 1`,
      [newId(), stays.id, stock.placeId],
    );
    await expect(lone).rejects.toThrow(/comes into the other/);
  });
});

describe('what parted and joined lots cost', () => {
  const amounts = async (...ids: string[]) =>
    Promise.all(ids.map(async (id) => (await owner.get<ThingCost>(`/api/things/${id}/cost`)).body));

  it('goes with the goods to the last minor unit, and follows when the load is shared anew', async () => {
    const costs = new CostDesk(owner, newId(), partId);
    const load = await openLoad(owner);
    const placed = { placeId: stock.placeId, source: 'new', quantity: '7' };
    const first = (await keyRow(owner, load.id, lotRow(partId, { ...placed, position: 1 }))).body;
    const second = (await keyRow(owner, load.id, lotRow(partId, { ...placed, position: 2, quantity: '3' }))).body;
    const split = (await desk.split(first.id, '2', stock.placeId)).body.lot;
    expect((await amounts(split.id))[0]).toMatchObject({ amount: null, words: expect.stringContaining('was part of') });
    await costs.pay(load.id, { price: '100' });
    expect((await costs.share(load.id, 'equally')).status).toBe(200);
    const [whole, part] = await amounts(first.id, split.id);
    expect([whole!.amount, part!.amount]).toEqual(['50.00', '14.29']);
    expect(whole!.parts.map(({ amount }) => amount).sort()).toEqual(['14.29', '35.71']);
    expect((await keeper.merge(second.id, split.code)).status).toBe(200);
    expect((await amounts(split.id))[0]).toMatchObject({
      amount: '64.29',
      words: expect.stringContaining('which became part of it'),
    });
    await costs.pay(load.id, { price: '120' });
    await costs.share(load.id, 'equally');
    expect((await amounts(split.id))[0]!.amount).toBe('77.14');
    expect((await keeper.merge(split.id, first.code)).status).toBe(200);
    expect((await amounts(first.id))[0]).toMatchObject({ amount: '120.00', parts: [{ quantity: '10', amount: '120.00' }] });
  });

  it('is not known where a part of it is not known', async () => {
    const load = await openLoad(owner);
    const costs = new CostDesk(owner, newId(), partId);
    const row = (await keyRow(owner, load.id, lotRow(partId, { placeId: stock.placeId, source: 'new' }))).body;
    await costs.pay(load.id, { price: '8' });
    await costs.share(load.id, 'equally');
    const unknown = await bags.bag('4', { condition: '' });
    expect((await keeper.merge(unknown.id, row.code)).status).toBe(200);
    expect((await amounts(row.id))[0]).toMatchObject({ amount: null, words: expect.stringMatching(/became part of it/) });
  });
});
