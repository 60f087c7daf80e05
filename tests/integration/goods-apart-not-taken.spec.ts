import { newId } from '../../apps/api/src/platform/new-id.js';
import { scrapId, unknownOwnerId } from '../../apps/api/src/stores/ledger.js';
import { verifyBooks } from '../../apps/api/src/stores/verify/verify-books.js';
import type { CoveredLine } from '../../libs/contracts/src/coverage.js';
import type { KeptForOwner } from '../../libs/contracts/src/goods-apart.js';
import { addDays } from '../../libs/quantities/src/plain-date.js';
import { ApartDesk, type Refused } from '../support/apart-desk.js';
import { addPerson, type BareServer, startBareServer, type Visitor } from '../support/bare-server.js';
import { type Made, Stock } from '../support/stock.js';
import { today } from '../support/write-making.js';

let server: BareServer;
let stock: Stock;
let owner: Visitor;
let bench: Visitor & { id: string };
let desk: ApartDesk;

beforeAll(async () => {
  server = await startBareServer('nevertaken');
  owner = await server.setUp();
  stock = await Stock.open(server.testDatabase.ownerUrl);
  bench = await addPerson(server, owner, 'bench', 'tom', 'Tom Hasleby');
  desk = new ApartDesk(owner, stock);
});
afterAll(async () => {
  expect(await verifyBooks(server.database)).toEqual([]);
  await stock.close();
  await server.stop();
});

describe('condemning and taking at the same moment', () => {
  it('is one after the other: nothing condemned is ever claimed, in a tray or fitted', async () => {
    for (let round = 0; round < 6; round += 1) {
      const partId = await stock.part();
      const lot = await stock.lot(partId, { quantity: '3' });
      const jobs = [await stock.job([{ partId }]), await stock.job([{ partId }])];
      const answers = await Promise.all([
        owner.post('/api/picks', { code: lot.code, jobId: jobs[0]!.id }),
        desk.condemn(lot.id),
        owner.post('/api/fits', { code: lot.code, jobId: jobs[1]!.id }),
      ]);
      for (const { status } of answers) expect([200, 409]).toContain(status);
      const [left] = await stock.query<{ condemned: boolean; claimed: string; used: number }>(
        `SELECT condemned, trim_scale(claimed)::text AS claimed,
                (SELECT count(*)::int FROM balances JOIN holders ON holders.id = holder_id WHERE thing_id = things.id AND quantity > 0 AND kind IN ('tray', 'unit')) AS used
           FROM things WHERE id = $1`,
        [lot.id],
      );
      if (left!.condemned) expect(left).toMatchObject({ claimed: '0', used: 0 });
    }
  });

  it('what was fitted in a unit that has left, and comes out of it again, is condemned with its lot', async () => {
    const partId = await stock.part();
    const lot = await stock.lot(partId, { quantity: '2' });
    const job = await stock.job([{ partId }]);
    const { body: fit } = await owner.post<{ fittingId: string; actId: string }>('/api/fits', { code: lot.code, jobId: job.id });
    const [command] = await stock.query<{ key: string }>('SELECT key FROM commands LIMIT 1');
    const ways = [stock.placeId, scrapId];
    const sentOn = `INSERT INTO movements (id, command_key, thing_id, quantity, from_holder_id, to_holder_id, reason, occurred_at) VALUES ($1, $2, $3, 1, $4, $5, 'test', now())`;
    await stock.query(sentOn, [newId(), command!.key, job.unit.id, ...ways]);
    await desk.taken(desk.condemn(lot.id));
    const back = await owner.post<Refused>(`/api/acts/${fit.actId}/take-back`, {});
    expect(back).toMatchObject({ status: 409, body: { code: 'cannot-be-taken-back' } });
    const removal = { lotId: newId(), quantity: '1', why: 'recalled' };
    expect((await owner.post(`/api/fittings/${fit.fittingId}/removal`, { ...removal, placeId: job.trayId })).status).toBe(422);
    expect((await owner.post(`/api/fittings/${fit.fittingId}/removal`, { ...removal, placeId: stock.placeId })).status).toBe(200);
    expect(await desk.page(removal.lotId)).toMatchObject({ condemned: true, held: '1' });
    expect((await desk.apart(removal.lotId)).condemnation?.reason).toBe('cracked through');
  });
});

/** Something of each kind that may not be used, and every way in which stock is taken. */
describe('no way of taking stock takes', () => {
  let customer: string;
  const waits = () => addDays(today(), 30);
  beforeAll(async () => {
    customer = await stock.customer('Harrow Lane Garage');
  });

  const states: [string, { of: 'us' | 'them' | 'nobody'; make(id: string): Promise<unknown>; codes: string[] }][] = [
    ['condemned', { of: 'us', make: (id) => desk.taken(desk.condemn(id)), codes: ['condemned'] }],
    [
      'condemned and theirs',
      { of: 'them', make: (id) => desk.taken(desk.condemn(id)), codes: ['condemned', 'goods-of-another-customer'] },
    ],
    [
      'kept for its owner',
      {
        of: 'them',
        make: (id) =>
          desk.taken(
            desk.act<KeptForOwner>(owner, id, 'kept-for-owner', {
              id: newId(),
              kind: 'job not paid',
              words: 'two letters',
              since: today(),
              lookAgainOn: waits(),
            }),
          ),
        codes: ['kept-for-owner', 'goods-of-another-customer'],
      },
    ],
    ['another customer’s', { of: 'them', make: async () => null, codes: ['goods-of-another-customer'] }],
    ['nobody’s', { of: 'nobody', make: async () => null, codes: ['goods-of-another-customer'] }],
    [
      'held back',
      {
        of: 'us',
        make: (id) => desk.taken(desk.act(owner, id, 'hold', { reason: 'crack suspected', mayLiftId: bench.id })),
        codes: ['held-back'],
      },
    ],
  ];
  const ownerOf = { us: () => null, them: () => customer, nobody: () => unknownOwnerId };

  const takings: [string, (lot: Made, job: Awaited<ReturnType<Stock['job']>>) => Promise<{ status: number; body: Refused }>][] = [
    ['a pick', (lot, job) => owner.post<Refused>('/api/picks', { code: lot.code, jobId: job.id })],
    ['a fit', (lot, job) => owner.post<Refused>('/api/fits', { code: lot.code, jobId: job.id })],
    [
      'a reservation',
      (lot, job) =>
        owner.post<Refused>(`/api/jobs/${job.id}/reservations`, {
          lines: [{ lineId: job.lineIds[0], thingId: lot.id, quantity: '1' }],
          until: null,
        }),
    ],
  ];

  for (const [state, { of, make, codes }] of states)
    for (const [taking, take] of takings)
      it(`what is ${state}: ${taking}`, async () => {
        const number = `AP-${newId().slice(-10)}`;
        const partId = await stock.part({ number });
        const lot = await stock.lot(partId, { ownerId: ownerOf[of](), quantity: '2' });
        const job = await stock.job([{ partId }]);
        await make(lot.id);
        const answer = await take(lot, job);
        expect(answer.status).toBe(409);
        expect(codes).toContain(answer.body.code);
        expect(await desk.page(lot.id)).toMatchObject({ held: '2', claimed: '0' });
        // nor does cover count on it
        const { body } = await owner.get<{ lines: CoveredLine[] }>(`/api/jobs/${job.id}/coverage`);
        expect(body.lines[0]!.state).toBe('lacking');
        expect(await desk.freeOf(number)).toBe('0');
      });

  it.each(['condemned', 'kept for its owner'])('what is %s, though somebody puts a name to it', async (state) => {
    const partId = await stock.part();
    const lot = await stock.lot(partId, { ownerId: customer });
    const job = await stock.job([{ partId }], { customerId: customer });
    await states.find(([name]) => name === state)![1].make(lot.id);
    for (const override of [undefined, { reason: 'the customer wants it so' }]) {
      const answer = await owner.post<Refused>('/api/fits', { code: lot.code, jobId: job.id, ...(override && { override }) });
      expect(answer).toMatchObject({ status: 409, body: { code: state === 'condemned' ? 'condemned' : 'kept-for-owner' } });
    }
  });

  it.each(['condemned', 'kept for its owner', 'held back'])(
    'a unit that is %s: nothing is taken off it, and it is not stripped',
    async (state) => {
      const [, { of, make }] = states.find(([name]) => name === state)!;
      const unit = await stock.unit({ ownerId: ownerOf[of]() });
      await make(unit.id);
      const wanted = state === 'condemned' ? 'condemned' : state === 'held back' ? 'held-back' : 'kept-for-owner';
      const component = { id: newId(), position: 1, name: 'Brake drum', partId: null, placeId: stock.placeId };
      expect((await owner.post<Refused>(`/api/units/${unit.id}/components`, component)).body.code).toBe(wanted);
      expect((await owner.post<Refused>(`/api/units/${unit.id}/strip-downs`, { id: newId(), forJobId: null })).body.code).toBe(
        wanted,
      );
      if (state === 'held back') return;
      const job = { id: newId(), unitCode: unit.code, buildStandard: 'serviceable' };
      expect((await owner.post<Refused>('/api/jobs', job)).body.code).toBe(wanted);
    },
  );

  it('a job on a unit of which nobody knows whose it is', async () => {
    const unit = await stock.unit({ ownerId: unknownOwnerId });
    const job = { id: newId(), unitCode: unit.code, buildStandard: 'serviceable' };
    expect((await owner.post<Refused>('/api/jobs', job)).body.code).toBe('owner-not-known');
    await expect(stock.job([], { customerId: unknownOwnerId })).rejects.toThrow(/jobs_have_a_known_customer/);
  });

  it('a condemned box, and no set is bound of what is condemned', async () => {
    const boxId = newId();
    await stock.query("INSERT INTO things (id, kind) VALUES ($1, 'X')", [boxId]);
    await stock.query("INSERT INTO unsorted_boxes (thing_id, words) VALUES ($1, 'cigar box of keys')", [boxId]);
    await stock.codeFor('X', boxId);
    await stock.bring(boxId, '1', stock.placeId);
    await desk.taken(desk.condemn(boxId));
    expect((await owner.post<Refused>(`/api/boxes/${boxId}/emptying`, { why: '' })).body.code).toBe('condemned');
    const [one, two] = [await stock.lot(await stock.part()), await stock.lot(await stock.part())];
    await desk.taken(desk.condemn(one.id));
    const set = {
      id: newId(),
      words: 'worm set',
      members: [one, two].map(({ code }) => ({ code, stamped: '7' })),
      different: '',
    };
    const answer = await owner.post<Refused>('/api/kept-sets', set);
    expect([409, 422]).toContain(answer.status);
    if (answer.status === 409) expect(answer.body.code).toBe('condemned');
  });
});
