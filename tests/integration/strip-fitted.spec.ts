import { jest } from '@jest/globals';
import { verifyBooks } from '../../apps/api/src/stores/verify/verify-books.js';
import type { JobCard } from '../../libs/contracts/src/jobs.js';
import type { Thing } from '../../libs/contracts/src/stores.js';
import { addPerson, type BareServer, startBareServer, type Visitor } from '../support/bare-server.js';
import { balancesOf } from '../support/load-stock.js';
import { PassDesk } from '../support/pass-desk.js';
import { type Made, Stock } from '../support/stock.js';
import { StripBench, unitTypeOf } from '../support/strip-bench.js';

jest.setTimeout(60_000);

let server: BareServer;
let owner: Visitor;
let bench: Visitor;
let stock: Stock;

beforeAll(async () => {
  server = await startBareServer('refitted');
  owner = await server.setUp();
  stock = await Stock.open(server.testDatabase.ownerUrl);
  bench = await addPerson(server, owner, 'bench', 'tomh', 'Tom Hasleby');
});
afterEach(async () => {
  expect(await verifyBooks(server.database)).toEqual([]);
});
afterAll(async () => {
  await stock.close();
  await server.stop();
});

interface Rebuilt {
  unit: Made;
  jobId: string;
  lots: [Made, Made];
  open: StripBench;
}

/** A unit that was rebuilt here: two washers of one lot and two of another fitted in it, open on the bench again. */
async function rebuilt(customerId: string | null = null): Promise<Rebuilt> {
  const partId = await stock.part({ name: 'Thrust washer' });
  const unitTypeId = await unitTypeOf(stock, [
    { name: 'Thrust washers', partId, quantity: '4', usualFate: 'to stores' },
    { name: 'Casing' },
  ]);
  const job = await stock.job([{ partId, quantity: '4', reusable: true }], { customerId });
  await stock.query('UPDATE units SET unit_type_id = $2 WHERE thing_id = $1', [job.unit.id, unitTypeId]);
  const lots = [
    await stock.lot(partId, { quantity: '10', source: 'old stock', packetRead: '1961' }),
    await stock.lot(partId, { quantity: '2', source: 'new' }),
  ] as [Made, Made];
  for (const { code } of lots) expect((await bench.post('/api/fits', { code, jobId: job.id, quantity: '2' })).status).toBe(200);
  return { unit: job.unit, jobId: job.id, lots, open: await StripBench.open(bench, job.unit) };
}

const thingOf = async (id: string) => (await owner.get<Thing>(`/api/things/${id}`)).body;
const fittedOn = async (jobId: string) => {
  const { coverage } = (await owner.get<JobCard>(`/api/jobs/${jobId}`)).body;
  return coverage.lines[0];
};
const toStores = (quantity: string) => ({ quantity, placeId: stock.placeId, finding: 'good' });

describe('a unit that was rebuilt here', () => {
  it('says of each component which lots were fitted here', async () => {
    const { open, lots } = await rebuilt();
    expect(
      (await open.shown()).components.map(({ fittedHere }) => fittedHere.map(({ code, quantity }) => [code, quantity])),
    ).toEqual([
      [
        [lots[0].code, '2'],
        [lots[1].code, '2'],
      ],
      [],
    ]);
  });

  it('gives up the fitted lot itself: fitted once, never old stock again, and nothing is there twice', async () => {
    const { open, lots, unit, jobId } = await rebuilt();
    expect(await open.refused(1, 'to stores', toStores('3'))).toMatchObject({
      code: 'fitted-here',
      detail: expect.stringContaining('record 2 at most'),
    });
    const { thing, cost } = await open.recorded(1, 'to stores', toStores('2'));
    expect(cost).toBe('It was fitted here and carries what it cost before.');
    expect(await thingOf(thing!.id)).toMatchObject({
      kind: 'lot',
      held: '2',
      fittedOnce: true,
      source: 'harvested',
      donor: null,
    });
    // ten came in, eight lie in their place, and two went on as the other lot
    expect(await balancesOf(stock, lots[0].id)).toMatchObject({ place: '8' });
    expect(await balancesOf(stock, thing!.id)).toMatchObject({ place: '2' });
    const [row] = await stock.query<{ came: string }>(
      "SELECT coalesce(sum(quantity), 0)::text AS came FROM balances JOIN holders ON holders.id = holder_id WHERE kind = 'unit' AND holder_id = $1 AND thing_id = $2",
      [unit.id, lots[0].id],
    );
    expect(Number(row!.came)).toBe(0);
    expect(JSON.stringify(await fittedOn(jobId))).toContain('"quantity":"2"');
    const [ended] = await stock.query<{ quantity: string; newLotId: string }>(
      'SELECT trim_scale(fitting_endings.quantity)::text AS quantity, new_lot_id AS "newLotId" FROM fitting_endings JOIN fittings ON fittings.id = fitting_id WHERE thing_id = $1',
      [lots[0].id],
    );
    expect(ended).toEqual({ quantity: '2', newLotId: thing!.id });
    expect((await open.shown()).components[0]!.fittedHere.map(({ code }) => code)).toEqual([lots[1].code]);
  });

  it('gives them all up lot by lot in the one act for the rest', async () => {
    const { open, lots } = await rebuilt();
    const given = await open.rest<{ given: { name: string; thing: { id: string } | null }[] }>(stock.placeId);
    expect(given.status).toBe(200);
    const things = given.body.given.flatMap(({ thing }) => (thing === null ? [] : [thing.id]));
    expect(things).toHaveLength(2);
    for (const id of things) expect(await thingOf(id)).toMatchObject({ held: '2', fittedOnce: true });
    expect(await balancesOf(stock, lots[1].id)).not.toHaveProperty('unit');
    expect((await open.finish()).status).toBe(200);
  });

  it('has what was taken out put right as the lot that it is, and not put back behind the ledger’s back', async () => {
    const { open } = await rebuilt();
    const first = await open.recorded(1, 'to stores', toStores('2'));
    const supersedesId = first.finding.id;
    expect(await open.refused(1, 'left in place', { quantity: '2', supersedesId })).toMatchObject({ code: 'fitted-lot-out' });
    expect(await open.refused(1, 'scrap', { quantity: '1', supersedesId })).toMatchObject({ code: 'fitted-lot-out' });
    const second = await open.recorded(1, 'scrap', { quantity: '2', finding: 'scored', supersedesId });
    expect(second.thing!.id).toBe(first.thing!.id);
    expect(await balancesOf(stock, first.thing!.id)).toMatchObject({ scrap: '2' });
  });

  it('lays by for its own job what is used again, as many as there are', async () => {
    const { open, jobId } = await rebuilt();
    const { thing } = await open.recorded(1, 'hold', { quantity: '2', placeId: stock.placeId, finding: 'worn' });
    expect(await thingOf(thing!.id)).toMatchObject({ held: '2', heldBack: { reason: 'to be decided: worn' } });
    const again = await open.recorded(1, 're-use here', { quantity: '2', finding: 'good', placeId: stock.placeId });
    expect(await thingOf(again.thing!.id)).toMatchObject({ claimed: '2', claims: [{ claimant: { id: jobId }, quantity: '2' }] });
  });

  it('of a customer gives them to the customer, whose the unit is, and they bear no share of its cost', async () => {
    const customerId = await stock.customer();
    const { open, unit } = await rebuilt(customerId);
    const { thing } = await open.recorded(1, 'to stores', toStores('2'));
    expect(await thingOf(thing!.id)).toMatchObject({ owner: { id: customerId } });
    expect((await new PassDesk(owner).of(unit.id)).rows.map(({ id }) => id)).toEqual([unit.id]);
  });
});

describe('two people at one fitted lot', () => {
  it('one takes it out at the strip-down, one at the job: it comes out once', async () => {
    const { open, lots } = await rebuilt();
    const [fitting] = await stock.query<{ id: string }>('SELECT id FROM fittings WHERE thing_id = $1', [lots[0].id]);
    const body = { lotId: crypto.randomUUID(), quantity: '2', placeId: stock.placeId, why: 'too tight' };
    const [stripped, removed] = await Promise.all([
      open.record(1, 'to stores', toStores('2')),
      owner.post(`/api/fittings/${fitting!.id}/removal`, body),
    ]);
    const [row] = await stock.query<{ ended: string }>(
      'SELECT coalesce(sum(quantity), 0)::int AS ended FROM fitting_endings WHERE fitting_id = $1',
      [fitting!.id],
    );
    expect(Number(row!.ended)).toBe(2);
    expect([stripped.status, removed.status]).toContain(200);
  });
});
