import { PDFiumLibrary } from '@hyzyla/pdfium';
import { newId } from '../../apps/api/src/platform/new-id.js';
import { verifyBooks } from '../../apps/api/src/stores/verify/verify-books.js';
import type { Sale, SaleCosts, SaleList, SalePreview, SaleTotals } from '../../libs/contracts/src/selling.js';
import type { Thing } from '../../libs/contracts/src/stores.js';
import { addPerson, type BareServer, startBareServer, type Visitor } from '../support/bare-server.js';
import { Stock } from '../support/stock.js';

let server: BareServer;
let owner: Visitor;
let bench: Visitor;
let stock: Stock;

beforeAll(async () => {
  server = await startBareServer('countersale');
  owner = await server.setUp();
  bench = await addPerson(server, owner, 'bench', 'tom', 'Tom Hasleby');
  stock = await Stock.open(server.testDatabase.ownerUrl);
});
afterAll(async () => {
  expect(await verifyBooks(server.database)).toEqual([]);
  await stock.close();
  await server.stop();
});

type Answer = Sale & { code: string; detail: string; values: Record<string, unknown> };
interface LineKeyed {
  thingId: string;
  quantity?: string;
  price?: string;
  letGo?: string;
}

const sell = (lines: LineKeyed[], more: object = {}, { by = owner, key }: { by?: Visitor; key?: string } = {}) =>
  by.post<Answer>(
    '/api/sales',
    { id: newId(), lines: lines.map((line) => ({ quantity: '1', price: '10', ...line })), ...more },
    key === undefined ? {} : { key },
  );
const preview = async (...lines: string[]): Promise<SalePreview> =>
  (await owner.get<SalePreview>(`/api/sale-preview?lines=${lines.join(',')}`)).body;
const page = async (id: string) => (await owner.get<Thing>(`/api/things/${id}`)).body;
const count = async (): Promise<number> => (await stock.query<{ n: number }>('SELECT count(*)::integer AS n FROM sales'))[0]!.n;
const back = (sale: Sale, more: object) =>
  owner.post<Answer>(`/api/sales/${sale.id}/taking-back`, {
    id: newId(),
    lineId: sale.lines[0]!.id,
    quantity: '1',
    placeId: stock.placeId,
    why: 'the wrong side',
    givenBack: '0',
    fitted: false,
    ...more,
  });

async function lotOf(quantity = '3', facts: Parameters<Stock['part']>[0] = {}) {
  const partId = await stock.part(facts);
  return { partId, ...(await stock.lot(partId, { quantity })) };
}

async function refusedWith(answer: Promise<{ status: number; body: Answer }>, code: string): Promise<Answer> {
  const before = await count();
  const { status, body } = await answer;
  expect({ status, code: body.code }).toMatchObject({ code });
  expect(status).toBeGreaterThanOrEqual(400);
  expect(await count()).toBe(before);
  return body;
}

async function textOf(saleId: string, paper: string): Promise<string> {
  const answer = await fetch(`${server.url}/api/sales/${saleId}/receipt.pdf?paper=${paper}`, {
    headers: { cookie: owner.cookie ?? '' },
  });
  expect(answer.headers.get('content-type')).toBe('application/pdf');
  const library = await PDFiumLibrary.init();
  const document = await library.loadDocument(Buffer.from(await answer.arrayBuffer()));
  const text = [...document.pages()].map((each) => each.getText()).join('\n');
  document.destroy();
  library.destroy();
  return text.replace(/\s+/g, ' ');
}

describe('a sale at the counter', () => {
  it('moves what was sold to the buyer, on one receipt however often it is sent', async () => {
    const [one, other] = [await lotOf('3', { name: 'Oil seal' }), await lotOf('1')];
    const key = newId();
    const id = newId();
    const body = {
      id,
      lines: [
        { thingId: one.id, quantity: '2', price: '12.5' },
        { thingId: other.id, quantity: '1', price: '0' },
      ],
    };
    const first = await bench.post<Answer>('/api/sales', { ...body, buyer: 'Mr Penhale', paid: 'cash' }, { key });
    expect(first.status).toBe(200);
    expect(first.body).toMatchObject({ total: '12.50', buyer: 'Mr Penhale', paid: 'cash', takenBack: 'no', by: 'Tom Hasleby' });
    expect((await bench.post<Answer>('/api/sales', { ...body, buyer: 'Mr Penhale', paid: 'cash' }, { key })).body).toEqual(
      first.body,
    );
    expect(await page(one.id)).toMatchObject({
      held: '1',
      holdings: [{ quantity: '1' }, { holderKind: 'customer', words: 'a buyer at the counter', quantity: '2' }],
      lastSeen: { words: 'sold at the counter, a buyer at the counter' },
    });
    expect((await page(other.id)).held).toBe('0');
    await refusedWith(bench.post<Answer>('/api/sales', { ...body, lines: [body.lines[0]] }), 'bad-input');
  });

  it('goes to a firm of the books, which is a customer from then on', async () => {
    const [firmId, lot] = [newId(), await lotOf()];
    await stock.query("INSERT INTO parties (id, name, is_supplier) VALUES ($1, 'Veldrow Bearings', true)", [firmId]);
    expect((await sell([{ thingId: lot.id }], { buyerId: firmId })).body).toMatchObject({
      buyer: 'Veldrow Bearings',
      firm: { id: firmId },
    });
    expect((await page(lot.id)).holdings).toMatchObject([{}, { holderKind: 'customer', words: 'Veldrow Bearings' }]);
    expect(await stock.query('SELECT is_customer FROM parties WHERE id = $1', [firmId])).toEqual([{ is_customer: true }]);
    await refusedWith(sell([{ thingId: lot.id }], { buyerId: newId() }), 'bad-input');
  });

  it('numbers its receipts without a gap, refusals and races among them', async () => {
    const lots = await Promise.all(Array.from({ length: 6 }, () => lotOf('1')));
    const both = lots.flatMap(({ id }) => [sell([{ thingId: id }]), sell([{ thingId: id }], {}, { by: bench })]);
    const answers = await Promise.all(both);
    expect(answers.filter(({ status }) => status === 200)).toHaveLength(6);
    for (const { status, body } of answers) if (status !== 200) expect(body.code).toBe('not-in-stores');
    const numbers = (await stock.query<{ number: number }>('SELECT number FROM sales ORDER BY number')).map(
      ({ number }) => number,
    );
    expect(numbers).toEqual(numbers.map((_, index) => index + 1));
  });

  it('keeps to whole pieces, to what is there, and to an amount that the currency has', async () => {
    const { id } = await lotOf('2');
    expect((await refusedWith(sell([{ thingId: id, quantity: '3' }]), 'not-enough')).detail).toContain('2 of it lie in stores');
    await refusedWith(sell([{ thingId: id, quantity: '0.5' }]), 'bad-quantity');
    await refusedWith(sell([{ thingId: id, price: '1.005' }]), 'bad-input');
    await refusedWith(sell([{ thingId: id, price: '-1' }]), 'bad-input');
    await refusedWith(sell([{ thingId: newId() }]), 'bad-input');
    await refusedWith(sell([{ thingId: id }, { thingId: id }]), 'bad-input');
  });

  it('takes a unit outright', async () => {
    const unit = await stock.unit();
    expect((await sell([{ thingId: unit.id, price: '450' }])).body).toMatchObject({ total: '450.00' });
    expect((await refusedWith(sell([{ thingId: unit.id }]), 'not-in-stores')).detail).toContain(
      'with a buyer at the counter already',
    );
    const job = await stock.job([]);
    await refusedWith(sell([{ thingId: job.unit.id }]), 'job-open');
  });
});

describe('what is not sold', () => {
  it('is a customer’s, and the database refuses it too', async () => {
    const ownerId = await stock.customer();
    const lot = await stock.lot(await stock.part(), { ownerId });
    await refusedWith(sell([{ thingId: lot.id }]), 'goods-of-a-customer');
    const sale = (await sell([{ thingId: (await lotOf()).id }])).body;
    await expect(
      stock.query(
        `INSERT INTO sale_lines (id, sale_id, line_no, thing_id, quantity, unit_of_measure, words, price_minor) VALUES ($1, $2, 9, $3, 1, 'each', 'seal', 0)`,
        [newId(), sale.id, lot.id],
      ),
    ).rejects.toThrow(/not sold/);
  });

  it('is condemned, missing, unnamed, or at an outworker', async () => {
    const [condemned, missing, away] = [await lotOf(), await lotOf(), await lotOf('0')];
    await stock.query('UPDATE things SET condemned = true WHERE id = $1', [condemned.id]);
    await bench.post(`/api/things/${missing.id}/not-there`, { placeId: null });
    const firmId = newId();
    await stock.query("INSERT INTO parties (id, name, is_outworker) VALUES ($1, 'Strake Grinding', true)", [firmId]);
    await stock.query("INSERT INTO holders (id, kind) VALUES ($1, 'outworker')", [firmId]);
    await stock.bring(away.id, '2', firmId);
    await refusedWith(sell([{ thingId: condemned.id }]), 'condemned');
    await refusedWith(sell([{ thingId: missing.id }]), 'missing');
    expect((await refusedWith(sell([{ thingId: away.id }]), 'not-in-stores')).detail).toContain('Strake Grinding');
  });

  it('is one of a set: the set goes whole', async () => {
    const [one, other] = [await lotOf('1', { name: 'Crown wheel' }), await lotOf('1', { name: 'Pinion' })];
    const members = [one, other].map(({ code }) => ({ code, stamped: '17' }));
    expect((await owner.post('/api/kept-sets', { id: newId(), words: 'wheel and pinion', members })).status).toBe(200);
    expect((await preview(`${one.id}:1`)).lines[0]).toMatchObject({
      stops: [{ code: 'kept-set-not-whole' }],
      goesWith: [{ id: other.id, name: 'Pinion' }],
    });
    await refusedWith(sell([{ thingId: one.id }]), 'kept-set-not-whole');
    const sold = await sell([{ thingId: one.id }, { thingId: other.id }]);
    expect(sold.body.lines.map(({ said }) => said)).toEqual([
      expect.stringContaining('part of a set'),
      expect.stringContaining('part of a set'),
    ]);
  });

  it('is kept for own jobs, until somebody who keeps the books lifts it', async () => {
    const { partId, id } = await lotOf();
    const keepId = newId();
    const keep = { id: keepId, partId, reason: 'None are made any more.' };
    expect((await bench.post('/api/kept-for-jobs', keep)).status).toBe(403);
    expect((await owner.post('/api/kept-for-jobs', keep)).status).toBe(200);
    expect((await owner.post<Answer>('/api/kept-for-jobs', { ...keep, id: newId() })).body.code).toBe('kept-already');
    const refusal = await refusedWith(sell([{ thingId: id }]), 'kept-for-own-jobs');
    expect(refusal.detail).toContain('None are made any more.');
    expect((await owner.get<{ kept: unknown[] }>(`/api/kept-for-jobs?thingId=${id}`)).body.kept).toMatchObject([{ on: 'part' }]);
    expect((await bench.post(`/api/kept-for-jobs/${keepId}/lifting`, { why: 'a boxful came' })).status).toBe(403);
    expect((await owner.post(`/api/kept-for-jobs/${keepId}/lifting`, { why: 'a boxful came' })).status).toBe(200);
    expect((await owner.post<Answer>(`/api/kept-for-jobs/${keepId}/lifting`, { why: 'again' })).body.code).toBe('lifted-already');
    expect((await sell([{ thingId: id }])).status).toBe(200);
  });

  it('is held back or rubber past its life, but over a name, with the reason on the receipt', async () => {
    const held = await lotOf();
    await owner.post(`/api/things/${held.id}/hold`, { reason: 'crack detection' });
    const seal = await stock.lot(await stock.part({ name: 'Lip seal', material: 'rubber', polymer: 'NBR' }));
    await refusedWith(sell([{ thingId: held.id }]), 'held-back');
    await refusedWith(sell([{ thingId: seal.id }]), 'undated-rubber');
    await refusedWith(sell([{ thingId: seal.id, letGo: 'for display' }], {}, { by: bench }), 'not-allowed');
    const sold = await sell([
      { thingId: held.id, letGo: 'he wants it for a pattern' },
      { thingId: seal.id, letGo: 'for display' },
    ]);
    expect(sold.body.lines).toMatchObject([
      { letGo: { why: 'he wants it for a pattern' }, said: expect.stringContaining('crack detection') },
      { letGo: { why: 'for display' } },
    ]);
    const text = await textOf(sold.body.id, 'A4');
    expect(text).toContain('Sold all the same: for display');
    expect(text).toContain('crack detection');
  });
});

describe('what jobs would lose', () => {
  it('is told by job and line before, and a sale that was not told is refused', async () => {
    const { partId, id } = await lotOf('2', { name: 'Thrust race' });
    const job = await stock.job([{ partId, quantity: '2', critical: true }]);
    const told = await preview(`${id}:1`);
    expect(told.jobs).toMatchObject([
      {
        job: { id: job.id },
        lines: [{ lineId: job.lineIds[0], critical: true, before: '2 free in stores', after: '1 free in stores, 1 lacking' }],
      },
    ]);
    expect(told.jobs[0]!.dateNow).not.toBe(told.jobs[0]!.dateThen);
    const refusal = await refusedWith(sell([{ thingId: id }]), 'jobs-count-on-it');
    expect(refusal.detail).toContain('line 1, Thrust race, would turn from 2 free in stores to 1 free in stores, 1 lacking');
    expect((await sell([{ thingId: id }], { told: [job.lineIds[0]] })).status).toBe(200);
  });

  it('is nobody’s where enough is left', async () => {
    const { partId, id } = await lotOf('5');
    await stock.job([{ partId, quantity: '2' }]);
    expect((await preview(`${id}:3`)).jobs).toEqual([]);
    expect((await sell([{ thingId: id, quantity: '3' }])).status).toBe(200);
  });

  it('is reserved: it is taken with a reason, by those who keep the books, and the record of the job says so', async () => {
    const { partId, id } = await lotOf('3');
    const job = await stock.job([{ partId, quantity: '2' }]);
    const reserve = { until: null, lines: [{ lineId: job.lineIds[0], thingId: id, quantity: '2' }] };
    expect((await owner.post(`/api/jobs/${job.id}/reservations`, reserve)).status).toBe(200);
    expect((await preview(`${id}:2`)).lines[0]).toMatchObject({
      free: '1',
      here: '3',
      takes: [{ job: { id: job.id }, quantity: '1' }],
    });
    const told = [job.lineIds[0]!];
    await refusedWith(sell([{ thingId: id, quantity: '2' }], { told }), 'reserved-for-jobs');
    await refusedWith(sell([{ thingId: id, quantity: '2' }], { told, takeReason: 'x' }, { by: bench }), 'not-allowed');
    expect((await sell([{ thingId: id, quantity: '2' }], { told, takeReason: 'He is stranded.' })).status).toBe(200);
    expect(
      await stock.query("SELECT quantity, reason FROM claim_changes WHERE job_id = $1 AND kind = 'released'", [job.id]),
    ).toEqual([{ quantity: '-1.0000', reason: 'Sold at the counter: He is stranded.' }]);
    expect((await page(id)).claimed).toBe('1');
  });

  it('is not what lies in a tray', async () => {
    const { partId, id, code } = await lotOf('1');
    const job = await stock.job([{ partId }]);
    expect((await bench.post('/api/picks', { code, jobId: job.id })).status).toBe(200);
    expect((await refusedWith(sell([{ thingId: id }]), 'not-in-stores')).detail).toContain('It was picked');
  });

  it('goes to one alone, whether a sale or a pick comes first', async () => {
    for (let round = 0; round < 6; round += 1) {
      const { partId, id, code } = await lotOf('1');
      const job = await stock.job([{ partId }]);
      const [sold, picked] = await Promise.all([
        sell([{ thingId: id }], { told: job.lineIds }),
        bench.post<{ code: string }>('/api/picks', { code, jobId: job.id }),
      ]);
      expect([sold.status, picked.status].toSorted()).toEqual([200, 409]);
      expect((await page(id)).held).toBe(picked.status === 200 ? '1' : '0');
    }
  });
});

describe('what comes back', () => {
  it('goes to a place and is on the receipt; all of it at once is a reversal', async () => {
    const { id } = await lotOf('2', { name: 'Shim' });
    const { body: sale } = await sell([{ thingId: id, quantity: '2', price: '9' }]);
    const answer = await back(sale, { quantity: '2', givenBack: '9', money: 'cash back' });
    expect(answer.body).toMatchObject({ takenBack: 'all', givenBack: '9.00' });
    expect(await page(id)).toMatchObject({ held: '2', holdings: [{ holderId: stock.placeId, quantity: '2' }] });
    expect(
      await stock.query('SELECT reverses_id IS NOT NULL AS reverses FROM movements WHERE thing_id = $1 ORDER BY sequence', [id]),
    ).toEqual([{ reverses: false }, { reverses: false }, { reverses: true }]);
    expect(await textOf(sale.id, 'roll')).toMatch(/Taken back .*: 2 × Shim.*cash back/);
  });

  it('is never more than was sold, nor more money than was paid, however many ask at once', async () => {
    const { id } = await lotOf('2');
    const { body: sale } = await sell([{ thingId: id, quantity: '2', price: '9' }]);
    expect((await back(sale, { quantity: '3' })).body.code).toBe('more-than-sold');
    expect((await back(sale, { givenBack: '9.01' })).body.code).toBe('bad-input');
    expect((await bench.post(`/api/sales/${sale.id}/taking-back`, {})).status).toBe(403);
    const answers = await Promise.all([1, 2, 3].map(() => back(sale, { givenBack: '3' })));
    expect(answers.map(({ status }) => status).toSorted()).toEqual([200, 200, 409]);
    expect((await page(id)).held).toBe('2');
  });

  it('is no new part where it was fitted meanwhile: a lot of its own, fitted once', async () => {
    const partId = await stock.part();
    const lot = await stock.lot(partId, { quantity: '2', source: 'old stock' });
    const { body: sale } = await sell([{ thingId: lot.id, quantity: '2', price: '9' }]);
    expect((await back(sale, { fitted: true })).body.code).toBe('bad-input');
    const newLotId = newId();
    const answer = await back(sale, { fitted: true, newLotId });
    expect(answer.body).toMatchObject({
      takenBack: 'in part',
      lines: [{ returns: [{ fitted: true, newLot: { id: newLotId } }] }],
    });
    expect(await page(newLotId)).toMatchObject({ held: '1', fittedOnce: true, source: 'harvested' });
    expect((await page(lot.id)).held).toBe('0');
  });
});

describe('the receipt and the figures', () => {
  it('says the workshop’s name, address and own words on tax as they were that day', async () => {
    const paper = (await owner.get<{ version: number }>('/api/receipt-paper')).body;
    const keyed = {
      address: '4 Forge Lane\nHexley',
      taxWords: 'Sold under the margin scheme',
      footWords: 'Goods back within 14 days',
    };
    expect((await bench.put('/api/receipt-paper', keyed, { ifMatch: paper.version })).status).toBe(403);
    expect((await owner.put('/api/receipt-paper', keyed, { ifMatch: paper.version })).status).toBe(200);
    const lot = await lotOf('1', { name: 'Oil seal', number: 'HS-204' });
    const { body: sale } = await sell([{ thingId: lot.id, price: '1250.5' }], { buyer: 'Mr Penhale', paid: 'by transfer' });
    await owner.put('/api/receipt-paper', { ...keyed, address: 'Elsewhere' }, { ifMatch: paper.version + 1 });
    for (const size of ['A4', 'roll']) {
      const text = await textOf(sale.id, size);
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
    const [known, unknown] = [await lotOf('3'), await lotOf('1')];
    const [person] = await stock.query<{ id: string }>('SELECT id FROM people LIMIT 1');
    const [command] = await stock.query<{ key: string }>('SELECT key FROM commands LIMIT 1');
    await stock.query(
      "INSERT INTO cost_entries (id, command_key, thing_id, amount_minor, currency, kind, person_id) VALUES ($1, $2, $3, 1000, 'GBP', 'adjustment', $4)",
      [newId(), command!.key, known.id, person!.id],
    );
    const sales: Sale[] = [];
    for (let nth = 0; nth < 3; nth += 1) sales.push((await sell([{ thingId: known.id, price: '5' }])).body);
    const without = (await sell([{ thingId: unknown.id, price: '7' }])).body;
    const costOf = async ({ id }: Sale) => (await owner.get<SaleCosts>(`/api/sales/${id}/costs`)).body.lines[0]!;
    expect((await Promise.all(sales.map(costOf))).map(({ cost }) => cost)).toEqual(['3.33', '3.33', '3.34']);
    expect(await costOf(sales[0]!)).toMatchObject({ margin: '1.67' });
    expect(await costOf(without)).toMatchObject({ cost: null, margin: null });
    expect((await bench.get(`/api/sales/${without.id}/costs`)).status).toBe(403);
    expect((await bench.get('/api/sale-totals')).status).toBe(403);
    const { totals } = (await owner.get<SaleTotals>('/api/sale-totals?by=month')).body;
    const lines = await stock.query<{ sold: string }>('SELECT sum(total_minor)::text AS sold FROM sales');
    expect(totals).toHaveLength(1);
    expect(totals[0]!.sold.replace('.', '')).toBe(lines[0]!.sold);
    expect(totals[0]).toMatchObject({ cost: '10.00', margin: '5.00' });
    expect(totals[0]!.unknownCosts).toBeGreaterThan(0);
  });

  it('lists receipts with the newest first, page by page, and by days', async () => {
    const { sales } = (await owner.get<SaleList>('/api/sales')).body;
    expect(sales.map(({ number }) => number)).toEqual(sales.map((_, index) => sales[0]!.number - index));
    expect((await owner.get<SaleList>('/api/sales?to=2001-01-01')).body.sales).toEqual([]);
  });

  it('is taken out as CSV, what came back below what was sold', async () => {
    const { id } = await lotOf('1', { name: 'Thrust cup' });
    const { body: sale } = await sell([{ thingId: id, price: '8.5' }], { buyer: '=Penhale' });
    await back(sale, { givenBack: '8.5', money: 'cash back' });
    const file = async (by: Visitor) => fetch(`${server.url}/api/exports/sales`, { headers: { cookie: by.cookie ?? '' } });
    expect((await file(bench)).status).toBe(403);
    const rows = (await (await file(owner)).text()).trim().split('\r\n').slice(-2);
    expect(rows[0]).toMatch(new RegExp(`^${sale.number},1,sold,.*Thrust cup.*,1,each,8\\.50,GBP,'=Penhale`));
    expect(rows[1]).toMatch(new RegExp(`^${sale.number},1,taken back,.*-1,each,.?-8\\.50,GBP`));
  });

  it('is never changed afterwards', async () => {
    await expect(server.database.rows('UPDATE sales SET total_minor = 0')).rejects.toThrow();
    await expect(stock.query('DELETE FROM sale_lines')).rejects.toThrow();
    await expect(server.database.rows('UPDATE receipt_numbers SET last = 0')).rejects.toThrow();
  });
});
