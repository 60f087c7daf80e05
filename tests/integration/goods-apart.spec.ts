import { newId } from '../../apps/api/src/platform/new-id.js';
import { scrapId } from '../../apps/api/src/stores/ledger.js';
import { verifyBooks } from '../../apps/api/src/stores/verify/verify-books.js';
import type { ThingCost } from '../../libs/contracts/src/costs.js';
import type { NotOurs } from '../../libs/contracts/src/goods-apart.js';
import { addDays } from '../../libs/quantities/src/plain-date.js';
import { ApartDesk, type Refused } from '../support/apart-desk.js';
import { addPerson, type BareServer, startBareServer, type Visitor } from '../support/bare-server.js';
import { Stock } from '../support/stock.js';
import { today } from '../support/write-making.js';

let server: BareServer;
let stock: Stock;
let owner: Visitor;
let keeper: Visitor & { id: string };
let bench: Visitor & { id: string };
let desk: ApartDesk;

beforeAll(async () => {
  server = await startBareServer('goodsapart');
  owner = await server.setUp();
  stock = await Stock.open(server.testDatabase.ownerUrl);
  keeper = await addPerson(server, owner, 'stores', 'wilf', 'Wilf Peskett');
  bench = await addPerson(server, owner, 'bench', 'tom', 'Tom Hasleby');
  desk = new ApartDesk(owner, stock);
});
afterAll(async () => {
  expect(await verifyBooks(server.database)).toEqual([]);
  await stock.close();
  await server.stop();
});

describe('a hold', () => {
  it('that names who lifts it is lifted by that person alone, and its history stays', async () => {
    const lot = await stock.lot(null);
    const on = addDays(today(), 10);
    await desk.taken(desk.act(keeper, lot.id, 'hold', { reason: 'ask the customer', mayLiftId: bench.id, lookAgainOn: on }));
    for (const other of [owner, keeper])
      expect(await desk.act(other, lot.id, 'hold-lift', { reason: 'it is fine' })).toMatchObject({
        status: 409,
        body: { code: 'not-yours-to-lift', detail: expect.stringContaining('Ask Tom Hasleby.') },
      });
    expect((await desk.apart(lot.id)).heldBack).toMatchObject({
      reason: 'ask the customer',
      by: 'Wilf Peskett',
      mayLift: { id: bench.id, name: 'Tom Hasleby' },
      lookAgainOn: on,
    });
    await desk.taken(desk.act(bench, lot.id, 'hold-lift', { reason: 'he says that it stays' }));
    const after = await desk.apart(lot.id);
    expect(after.heldBack).toBeNull();
    expect(after.holdChanges.map(({ held, by, reason, mayLift }) => [held, by, reason, mayLift])).toEqual([
      [false, 'Tom Hasleby', 'he says that it stays', ''],
      [true, 'Wilf Peskett', 'ask the customer', 'Tom Hasleby'],
    ]);
  });

  it('without a name is not lifted from the bench', async () => {
    const lot = await stock.lot(null);
    await desk.taken(desk.act(keeper, lot.id, 'hold', { reason: 'crack detection' }));
    expect((await desk.act(bench, lot.id, 'hold-lift', { reason: 'looks well' })).body.code).toBe('not-yours-to-lift');
    await desk.taken(desk.act(owner, lot.id, 'hold-lift', { reason: 'no crack was found' }));
  });

  it('of somebody who has left is lifted by an owner, and the list says so', async () => {
    const gone = await addPerson(server, owner, 'stores', 'jess', 'Jess Arkwright');
    const lot = await stock.lot(null);
    await desk.taken(desk.act(keeper, lot.id, 'hold', { reason: 'ask the maker', mayLiftId: gone.id }));
    const { body: person } = await owner.get<{ people: { id: string; version: number }[] }>('/api/people');
    const { version } = person.people.find(({ id }) => id === gone.id)!;
    await owner.patch(
      `/api/people/${gone.id}`,
      { displayName: 'Jess Arkwright', role: 'stores', active: false },
      { ifMatch: version },
    );
    expect((await desk.holds()).held.find(({ id }) => id === lot.id)!.heldBack.mayLiftWords).toBe(
      'an owner, for Jess Arkwright is no longer here',
    );
    expect((await desk.holds()).lifters.some(({ id }) => id === gone.id)).toBe(false);
    expect((await desk.act(keeper, lot.id, 'hold-lift', { reason: 'no need' })).body.code).toBe('not-yours-to-lift');
    expect(
      (await desk.act(keeper, (await stock.lot(null)).id, 'hold', { reason: 'ask', mayLiftId: gone.id })).body.values?.fields?.[0]
        ?.path,
    ).toBe('mayLiftId');
    await desk.taken(desk.act(owner, lot.id, 'hold-lift', { reason: 'no need' }));
  });

  it('is kept on after a look until another day, and not until a day that is past', async () => {
    const lot = await stock.lot(null);
    await desk.taken(desk.act(keeper, lot.id, 'hold', { reason: 'at the crack detector', lookAgainOn: today() }));
    expect((await desk.holds()).held.find(({ id }) => id === lot.id)).toMatchObject({ isDue: true, days: 0 });
    expect((await desk.act(bench, lot.id, 'hold-on', { words: 'not back', lookAgainOn: addDays(today(), -1) })).status).toBe(422);
    await desk.taken(desk.act(bench, lot.id, 'hold-on', { words: 'not back', lookAgainOn: addDays(today(), 7) }));
    expect((await desk.holds()).held.find(({ id }) => id === lot.id)).toMatchObject({
      isDue: false,
      heldBack: { reason: 'at the crack detector', lookAgainOn: addDays(today(), 7) },
    });
    expect((await desk.act(bench, (await stock.lot(null)).id, 'hold-on', { words: 'x', lookAgainOn: null })).body.code).toBe(
      'not-held',
    );
  });

  it('is put on a whole bin at once, but for what is held already; a second time there is nothing to hold', async () => {
    const place = await stock.place();
    const [one, two, before] = await Promise.all([0, 1, 2].map(() => stock.lot(null, { placeId: place.id })));
    await desk.taken(desk.act(keeper, before!.id, 'hold', { reason: 'mine' }));
    const reason = { reason: 'out of a flooded shed', mayLiftId: keeper.id, lookAgainOn: null };
    const first = await owner.post<{ held: number; before: number }>(`/api/places/${place.id}/holds`, reason);
    expect(first).toMatchObject({ status: 200, body: { held: 2, before: 1 } });
    for (const lot of [one!, two!]) expect((await desk.page(lot.id)).heldBack?.reason).toBe('out of a flooded shed');
    expect((await desk.page(before!.id)).heldBack?.reason).toBe('mine');
    expect((await owner.post<Refused>(`/api/places/${place.id}/holds`, reason)).body.code).toBe('nothing-to-hold');
    expect((await owner.post(`/api/places/${newId()}/holds`, reason)).status).toBe(404);
    expect((await bench.post(`/api/places/${place.id}/holds`, reason)).status).toBe(403);
  });

  it('and its place match: what lies in quarantine unheld is shown, and putting it there says so', async () => {
    const quarantine = await stock.place('quarantine');
    const lot = await stock.lot(null);
    const answer = await bench.post<{ words: string }>('/api/put-aways', { code: lot.code, placeId: quarantine.id });
    expect(answer.body.words).toContain('a quarantine, and it is not held back');
    expect((await desk.holds()).unheld.some(({ id }) => id === lot.id)).toBe(true);
    await desk.taken(desk.act(keeper, lot.id, 'hold', { reason: 'ask' }));
    expect((await desk.holds()).unheld.some(({ id }) => id === lot.id)).toBe(false);
    expect((await desk.holds()).held.find(({ id }) => id === lot.id)!.inQuarantine).toBe(true);
  });
});

describe('what is condemned', () => {
  it('is condemned once, by keepers, with a photograph or a word why there is none', async () => {
    const lot = await stock.lot(null);
    expect((await desk.condemn(lot.id, bench)).status).toBe(403);
    expect((await desk.act(owner, lot.id, 'condemnation', { reason: 'cracked' })).body.values?.fields?.[0]?.path).toBe(
      'noPicture',
    );
    const key = newId();
    const body = { reason: 'cracked', noPicture: 'the camera is away' };
    const first = await desk.act(owner, lot.id, 'condemnation', body, { key });
    expect(first).toMatchObject({ status: 200, body: { condemned: true } });
    expect((await desk.act(owner, lot.id, 'condemnation', body, { key })).body).toEqual(first.body);
    expect((await desk.act(owner, lot.id, 'condemnation', body)).body.code).toBe('condemned-already');
    expect((await desk.apart(lot.id)).condemnation).toMatchObject({ reason: 'cracked', by: 'Edie Marrack', disposals: [] });
    for (const what of ['hold', 'hold-lift'])
      expect((await desk.act(owner, lot.id, what, { reason: 'x' })).body.code).toBe('condemned');
  });

  it('gives back what jobs had reserved of it, and says so on the record', async () => {
    const partId = await stock.part();
    const lot = await stock.lot(partId, { quantity: '3' });
    const job = await stock.job([{ partId, quantity: '3' }]);
    const reserve = { lines: [{ lineId: job.lineIds[0], thingId: lot.id, quantity: '2' }], until: null };
    expect((await owner.post(`/api/jobs/${job.id}/reservations`, reserve)).status).toBe(200);
    await desk.taken(desk.condemn(lot.id));
    expect(await desk.page(lot.id)).toMatchObject({ condemned: true, claimed: '0', claims: [] });
    const [logged] = await stock.query<{ kind: string; reason: string }>(
      "SELECT kind, reason FROM claim_changes WHERE thing_id = $1 AND kind = 'released'",
      [lot.id],
    );
    expect(logged?.reason).toBe('condemned: cracked through');
  });

  it('is not condemned while it lies in a tray or is fitted here', async () => {
    const partId = await stock.part();
    const lot = await stock.lot(partId, { quantity: '2' });
    const job = await stock.job([{ partId, quantity: '2' }]);
    await owner.post('/api/picks', { code: lot.code, jobId: job.id, quantity: '1' });
    expect((await desk.condemn(lot.id)).body).toMatchObject({ code: 'in-use', detail: expect.stringContaining('tray') });
    await owner.post('/api/fits', { code: lot.code, jobId: job.id, quantity: '1' });
    expect((await desk.condemn(lot.id)).body).toMatchObject({ code: 'in-use', detail: expect.stringContaining('fitted') });
  });

  it('stays condemned, unclaimed and unfitted whatever the code does: the database refuses', async () => {
    const partId = await stock.part();
    const lot = await stock.lot(partId);
    const job = await stock.job([{ partId }]);
    await desk.taken(desk.condemn(lot.id));
    await expect(stock.query('UPDATE things SET condemned = false WHERE id = $1', [lot.id])).rejects.toThrow(/stays condemned/);
    await expect(
      stock.query('INSERT INTO claims (id, thing_id, claimant_id, purpose_id, quantity) VALUES ($1, $2, $3, $4, 1)', [
        newId(),
        lot.id,
        job.id,
        job.lineIds[0],
      ]),
    ).rejects.toThrow(/condemned_is_claimed_by_nobody/);
    const [command] = await stock.query<{ key: string }>('SELECT key FROM commands LIMIT 1');
    for (const to of [job.unit.id, job.trayId])
      await expect(
        stock.query(
          "INSERT INTO movements (id, command_key, thing_id, quantity, from_holder_id, to_holder_id, reason, occurred_at) VALUES ($1, $2, $3, 1, $4, $5, 'fitted', now())",
          [newId(), command!.key, lot.id, stock.placeId, to],
        ),
      ).rejects.toThrow(/neither picked nor fitted/);
    await expect(stock.query('DELETE FROM condemnations WHERE thing_id = $1', [lot.id])).rejects.toThrow(/kept for good/);
    await expect(server.database.rows('UPDATE things SET condemned = true WHERE id = $1', [lot.id])).rejects.toThrow(
      /permission denied/,
    );
    await expect(server.database.rows('UPDATE things SET owner_id = NULL WHERE id = $1', [lot.id])).rejects.toThrow(
      /permission denied/,
    );
  });

  it('is scrapped, or kept as a pattern or for display with that mark; what is not condemned is not disposed of so', async () => {
    const lot = await stock.lot(null, { quantity: '2' });
    expect((await desk.act(owner, lot.id, 'disposal', { how: 'scrapped', words: 'skip' })).body.code).toBe('not-condemned');
    await desk.taken(desk.condemn(lot.id));
    expect((await desk.act(owner, lot.id, 'disposal', { how: 'given back', words: 'x' })).body.code).toBe('ours');
    await desk.taken(desk.act(owner, lot.id, 'disposal', { how: 'kept as a pattern', words: 'for the foundry' }));
    expect((await desk.holds()).condemned.find(({ id }) => id === lot.id)).toMatchObject({
      keptAs: 'kept as a pattern',
      quantity: '2',
    });
    await desk.taken(desk.act(owner, lot.id, 'disposal', { how: 'scrapped', words: 'the pattern is made' }));
    expect((await desk.movements(lot.id))[0]).toEqual({ to: scrapId, quantity: '2' });
    expect((await desk.holds()).condemned.some(({ id }) => id === lot.id)).toBe(false);
    expect((await desk.act(owner, lot.id, 'disposal', { how: 'scrapped', words: 'again' })).body.code).toBe('not-here');
  });

  it('of a customer’s goes to scrap on the owner’s word only, or back to its owner', async () => {
    const customer = await stock.customer();
    const [one, two] = [await stock.lot(null, { ownerId: customer }), await stock.lot(null, { ownerId: customer })];
    for (const lot of [one, two]) await desk.taken(desk.condemn(lot.id));
    expect((await desk.act(owner, one.id, 'disposal', { how: 'scrapped', words: 'skip' })).body.values?.fields?.[0]?.path).toBe(
      'ownersWord',
    );
    await desk.taken(
      desk.act(owner, one.id, 'disposal', { how: 'scrapped', words: 'skip', ownersWord: 'he said so by telephone' }),
    );
    await desk.taken(desk.act(owner, two.id, 'disposal', { how: 'given back', words: 'he took it along' }));
    expect((await desk.movements(two.id))[0]).toEqual({ to: customer, quantity: '1' });
  });
});

describe('whose a thing is', () => {
  const owning = (id: string, body: object) => desk.act(owner, id, 'owner', { on: today(), words: 'by word of mouth', ...body });

  it('changes by a purchase, with its price as its cost; ours is not bought', async () => {
    const lot = await stock.lot(null, { ownerId: await stock.customer('Pell Motors') });
    expect((await owning(lot.id, { how: 'given to us', price: '4' })).body.values?.fields?.[0]?.path).toBe('price');
    expect((await owning(lot.id, { how: 'bought', price: '-4' })).status).toBe(422);
    expect((await owning(lot.id, { how: 'bought', price: '4', on: addDays(today(), 2) })).status).toBe(422);
    expect((await desk.taken(owning(lot.id, { how: 'bought', price: '12.50' }))).owner).toBeNull();
    expect((await desk.apart(lot.id)).ownerChanges).toMatchObject([
      { how: 'bought', from: 'Pell Motors', to: 'ours', price: '12.50' },
    ]);
    expect((await owner.get<ThingCost>(`/api/things/${lot.id}/cost`)).body.amount).toBe('12.50');
    expect((await owning(lot.id, { how: 'bought' })).body.code).toBe('ours-already');
    const gift = await stock.lot(null, { ownerId: await stock.customer() });
    await desk.taken(owning(gift.id, { how: 'given to us' }));
    expect((await owner.get<ThingCost>(`/api/things/${gift.id}/cost`)).body.amount).toBe('0.00');
  });

  it('is bought once by two at the same time', async () => {
    const lot = await stock.lot(null, { ownerId: await stock.customer() });
    const answers = await Promise.all([1, 2, 3].map(() => owning(lot.id, { how: 'bought', price: '5' })));
    expect(answers.map(({ status }) => status).sort()).toEqual([200, 409, 409]);
    expect((await owner.get<ThingCost>(`/api/things/${lot.id}/cost`)).body.amount).toBe('5.00');
  });

  it('turns out to be another’s, but not while a job counts on it', async () => {
    await stock.customer('Aldous and Daughter');
    const partId = await stock.part();
    const lot = await stock.lot(partId, { quantity: '2' });
    const job = await stock.job([{ partId, quantity: '2' }]);
    await owner.post('/api/picks', { code: lot.code, jobId: job.id, quantity: '1' });
    const theirs = { how: 'theirs after all', ownerName: 'Aldous and Daughter' };
    expect((await owning(lot.id, theirs)).body.code).toBe('in-use');
    const other = await stock.lot(partId);
    expect((await owning(other.id, { ...theirs, ownerName: 'Nobody’s name' })).body.values?.fields?.[0]?.path).toBe('ownerName');
    expect((await desk.taken(owning(other.id, theirs))).owner?.name).toBe('Aldous and Daughter');
  });

  it('shows apart by owner, with where, since when and for which job; never among ours', async () => {
    const ownerId = await stock.customer('Tarn Valley Buses');
    const number = `AP-${newId().slice(-10)}`;
    const partId = await stock.part({ number });
    const lot = await stock.lot(partId, { ownerId, quantity: '4' });
    const job = await stock.job([{ partId }], { customerId: ownerId });
    await owner.post(`/api/jobs/${job.id}/reservations`, {
      lines: [{ lineId: job.lineIds[0], thingId: lot.id, quantity: '1' }],
      until: null,
    });
    const { body } = await owner.get<NotOurs>(`/api/not-ours?ownerId=${ownerId}`);
    const [theirs] = body.owners;
    expect(theirs).toMatchObject({ owner: { name: 'Tarn Valley Buses' }, isKnown: true });
    expect(theirs!.things.map(({ id }) => id).sort()).toEqual([lot.id, job.unit.id].sort());
    expect(theirs!.things.find(({ id }) => id === lot.id)).toMatchObject({ quantity: '4', jobs: [{ id: job.id }] });
    expect(await desk.freeOf(number)).toBe('0');
    const all = (await owner.get<NotOurs>('/api/not-ours')).body.owners;
    expect(all.flatMap(({ things }) => things).length).toBe(
      (await stock.query('SELECT id FROM things WHERE owner_id IS NOT NULL AND held + awaited > 0')).length,
    );
  });
});
