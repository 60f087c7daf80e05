import { newId } from '../../apps/api/src/platform/new-id.js';
import type { Sale, SaleCosts, SaleList, SaleTotals } from '../../libs/contracts/src/selling.js';
import type { Visitor } from '../support/bare-server.js';
import { CounterDesk } from '../support/counter-desk.js';

let desk: CounterDesk;

beforeAll(async () => {
  desk = await CounterDesk.open('receipts');
});
afterAll(() => desk.close());

describe('what comes back', () => {
  it('goes to a place and is on the receipt; all of it at once is a reversal', async () => {
    const { id } = await desk.lotOf('2', { name: 'Shim' });
    const { body: sale } = await desk.sell([{ thingId: id, quantity: '2', price: '9' }]);
    const answer = await desk.back(sale, { quantity: '2', givenBack: '9', money: 'cash back' });
    expect(answer.body).toMatchObject({ takenBack: 'all', givenBack: '9.00' });
    expect(await desk.page(id)).toMatchObject({ held: '2', holdings: [{ holderId: desk.stock.placeId, quantity: '2' }] });
    expect(
      await desk.stock.query('SELECT reverses_id IS NOT NULL AS reverses FROM movements WHERE thing_id = $1 ORDER BY sequence', [
        id,
      ]),
    ).toEqual([{ reverses: false }, { reverses: false }, { reverses: true }]);
    expect(await desk.textOf(sale.id, 'roll')).toMatch(/Taken back .*: 2 × Shim.*cash back/);
  });

  it('is never more than was sold, nor more money than was paid, however many ask at once', async () => {
    const { id } = await desk.lotOf('2');
    const { body: sale } = await desk.sell([{ thingId: id, quantity: '2', price: '9' }]);
    expect((await desk.back(sale, { quantity: '3' })).body.code).toBe('more-than-sold');
    expect((await desk.back(sale, { givenBack: '9.01' })).body.code).toBe('bad-input');
    expect((await desk.bench.post(`/api/sales/${sale.id}/taking-back`, {})).status).toBe(403);
    const answers = await Promise.all([1, 2, 3].map(() => desk.back(sale, { givenBack: '3' })));
    expect(answers.map(({ status }) => status).toSorted()).toEqual([200, 200, 409]);
    expect((await desk.page(id)).held).toBe('2');
  });

  it('is no new part where it was fitted meanwhile: a lot of its own, fitted once', async () => {
    const partId = await desk.stock.part();
    const lot = await desk.stock.lot(partId, { quantity: '2', source: 'old stock' });
    const { body: sale } = await desk.sell([{ thingId: lot.id, quantity: '2', price: '9' }]);
    expect((await desk.back(sale, { fitted: true })).body.code).toBe('bad-input');
    const newLotId = newId();
    const answer = await desk.back(sale, { fitted: true, newLotId });
    expect(answer.body).toMatchObject({
      takenBack: 'in part',
      lines: [{ returns: [{ fitted: true, newLot: { id: newLotId } }] }],
    });
    expect(await desk.page(newLotId)).toMatchObject({ held: '1', fittedOnce: true, source: 'harvested' });
    expect((await desk.page(lot.id)).held).toBe('0');
  });
});

describe('the receipt and the figures', () => {
  it('says the workshop’s name, address and own words on tax as they were that day', async () => {
    const paper = (await desk.owner.get<{ version: number }>('/api/receipt-paper')).body;
    const keyed = {
      address: '4 Forge Lane\nHexley',
      taxWords: 'Sold under the margin scheme',
      footWords: 'Goods back within 14 days',
    };
    expect((await desk.bench.put('/api/receipt-paper', keyed, { ifMatch: paper.version })).status).toBe(403);
    expect((await desk.owner.put('/api/receipt-paper', keyed, { ifMatch: paper.version })).status).toBe(200);
    const lot = await desk.lotOf('1', { name: 'Oil seal', number: 'HS-204' });
    const { body: sale } = await desk.sell([{ thingId: lot.id, price: '1250.5' }], { buyer: 'Mr Penhale', paid: 'by transfer' });
    await desk.owner.put('/api/receipt-paper', { ...keyed, address: 'Elsewhere' }, { ifMatch: paper.version + 1 });
    for (const size of ['A4', 'roll']) {
      const text = await desk.textOf(sale.id, size);
      for (const words of [
        `Receipt ${sale.number}`,
        '4 Forge Lane',
        'Hexley',
        '1 × Oil seal, HS-204',
        'Sold to Mr Penhale',
        'Paid: by transfer',
        'GBP 1250.50',
        'Sold under the margin scheme',
        'Goods back within 14 days',
        'by the maker’s manual',
      ])
        expect(text).toContain(words);
      expect(text).not.toContain('Elsewhere');
    }
  });

  it('knows what was sold cost, to the last penny, or says that nobody knows; to those alone who keep the books', async () => {
    const [known, unknown] = [await desk.lotOf('3'), await desk.lotOf('1')];
    const [person] = await desk.stock.query<{ id: string }>('SELECT id FROM people LIMIT 1');
    const [command] = await desk.stock.query<{ key: string }>('SELECT key FROM commands LIMIT 1');
    await desk.stock.query(
      "INSERT INTO cost_entries (id, command_key, thing_id, amount_minor, currency, kind, person_id) VALUES ($1, $2, $3, 1000, 'GBP', 'adjustment', $4)",
      [newId(), command!.key, known.id, person!.id],
    );
    const sales: Sale[] = [];
    for (let nth = 0; nth < 3; nth += 1) sales.push((await desk.sell([{ thingId: known.id, price: '5' }])).body);
    const without = (await desk.sell([{ thingId: unknown.id, price: '7' }])).body;
    const costOf = async ({ id }: Sale) => (await desk.owner.get<SaleCosts>(`/api/sales/${id}/costs`)).body.lines[0]!;
    expect((await Promise.all(sales.map(costOf))).map(({ cost }) => cost)).toEqual(['3.33', '3.33', '3.34']);
    expect(await costOf(sales[0]!)).toMatchObject({ margin: '1.67' });
    expect(await costOf(without)).toMatchObject({ cost: null, margin: null });
    expect((await desk.bench.get(`/api/sales/${without.id}/costs`)).status).toBe(403);
    expect((await desk.bench.get('/api/sale-totals')).status).toBe(403);
    const { totals } = (await desk.owner.get<SaleTotals>('/api/sale-totals?by=month')).body;
    const lines = await desk.stock.query<{ sold: string }>('SELECT sum(total_minor)::text AS sold FROM sales');
    expect(totals).toHaveLength(1);
    expect(totals[0]!.sold.replace('.', '')).toBe(lines[0]!.sold);
    expect(totals[0]).toMatchObject({ cost: '10.00', margin: '5.00' });
    expect(totals[0]!.unknownCosts).toBeGreaterThan(0);
  });

  it('lists receipts with the newest first, page by page, and by days', async () => {
    const { sales } = (await desk.owner.get<SaleList>('/api/sales')).body;
    expect(sales.map(({ number }) => number)).toEqual(sales.map((_, index) => sales[0]!.number - index));
    expect((await desk.owner.get<SaleList>('/api/sales?to=2001-01-01')).body.sales).toEqual([]);
  });

  it('is taken out as CSV, what came back below what was sold', async () => {
    const { id } = await desk.lotOf('1', { name: 'Thrust cup' });
    const { body: sale } = await desk.sell([{ thingId: id, price: '8.5' }], { buyer: '=Penhale' });
    await desk.back(sale, { givenBack: '8.5', money: 'cash back' });
    const file = async (by: Visitor) => fetch(`${desk.server.url}/api/exports/sales`, { headers: { cookie: by.cookie ?? '' } });
    expect((await file(desk.bench)).status).toBe(403);
    const rows = (await (await file(desk.owner)).text()).trim().split('\r\n').slice(-2);
    expect(rows[0]).toMatch(new RegExp(`^${sale.number},1,sold,.*Thrust cup.*,1,each,8\\.50,GBP,'=Penhale`));
    expect(rows[1]).toMatch(new RegExp(`^${sale.number},1,taken back,.*-1,each,.?-8\\.50,GBP`));
  });

  it('is never changed afterwards', async () => {
    await expect(desk.server.database.rows('UPDATE sales SET total_minor = 0')).rejects.toThrow();
    await expect(desk.stock.query('DELETE FROM sale_lines')).rejects.toThrow();
    await expect(desk.server.database.rows('UPDATE receipt_numbers SET last = 0')).rejects.toThrow();
  });
});
