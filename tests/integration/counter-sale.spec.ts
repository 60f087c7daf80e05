import { newId } from '../../apps/api/src/platform/new-id.js';
import { CounterDesk, type SaleAnswer } from '../support/counter-desk.js';

let desk: CounterDesk;

beforeAll(async () => {
  desk = await CounterDesk.open('countersale');
});
afterAll(() => desk.close());

describe('a sale at the counter', () => {
  it('moves what was sold to the buyer, on one receipt however often it is sent', async () => {
    const [one, other] = [await desk.lotOf('3', { name: 'Oil seal' }), await desk.lotOf('1')];
    const key = newId();
    const id = newId();
    const body = {
      id,
      lines: [
        { thingId: one.id, quantity: '2', price: '12.5' },
        { thingId: other.id, quantity: '1', price: '0' },
      ],
    };
    const first = await desk.bench.post<SaleAnswer>('/api/sales', { ...body, buyer: 'Mr Penhale', paid: 'cash' }, { key });
    expect(first.status).toBe(200);
    expect(first.body).toMatchObject({ total: '12.50', buyer: 'Mr Penhale', paid: 'cash', takenBack: 'no', by: 'Tom Hasleby' });
    expect(
      (await desk.bench.post<SaleAnswer>('/api/sales', { ...body, buyer: 'Mr Penhale', paid: 'cash' }, { key })).body,
    ).toEqual(first.body);
    expect(await desk.page(one.id)).toMatchObject({
      held: '1',
      holdings: [{ quantity: '1' }, { holderKind: 'customer', words: 'a buyer at the counter', quantity: '2' }],
      lastSeen: { words: 'sold at the counter, a buyer at the counter' },
    });
    expect((await desk.page(other.id)).held).toBe('0');
    await desk.refusedWith(desk.bench.post<SaleAnswer>('/api/sales', { ...body, lines: [body.lines[0]] }), 'bad-input');
  });

  it('goes to a firm of the books, which is a customer from then on', async () => {
    const [firmId, lot] = [newId(), await desk.lotOf()];
    await desk.stock.query("INSERT INTO parties (id, name, is_supplier) VALUES ($1, 'Veldrow Bearings', true)", [firmId]);
    expect((await desk.sell([{ thingId: lot.id }], { buyerId: firmId })).body).toMatchObject({
      buyer: 'Veldrow Bearings',
      firm: { id: firmId },
    });
    expect((await desk.page(lot.id)).holdings).toMatchObject([{}, { holderKind: 'customer', words: 'Veldrow Bearings' }]);
    expect(await desk.stock.query('SELECT is_customer FROM parties WHERE id = $1', [firmId])).toEqual([{ is_customer: true }]);
    await desk.refusedWith(desk.sell([{ thingId: lot.id }], { buyerId: newId() }), 'bad-input');
  });

  it('numbers its receipts without a gap, refusals and races among them', async () => {
    const lots = await Promise.all(Array.from({ length: 6 }, () => desk.lotOf('1')));
    const both = lots.flatMap(({ id }) => [desk.sell([{ thingId: id }]), desk.sell([{ thingId: id }], {}, desk.bench)]);
    const answers = await Promise.all(both);
    expect(answers.filter(({ status }) => status === 200)).toHaveLength(6);
    for (const { status, body } of answers) if (status !== 200) expect(body.code).toBe('not-in-stores');
    const numbers = (await desk.stock.query<{ number: number }>('SELECT number FROM sales ORDER BY number')).map(
      ({ number }) => number,
    );
    expect(numbers).toEqual(numbers.map((_, index) => index + 1));
  });

  it('keeps to whole pieces, to what is there, and to an amount that the currency has', async () => {
    const { id } = await desk.lotOf('2');
    expect((await desk.refusedWith(desk.sell([{ thingId: id, quantity: '3' }]), 'not-enough')).detail).toContain(
      '2 of it lie in stores',
    );
    await desk.refusedWith(desk.sell([{ thingId: id, quantity: '0.5' }]), 'bad-quantity');
    await desk.refusedWith(desk.sell([{ thingId: id, price: '1.005' }]), 'bad-input');
    await desk.refusedWith(desk.sell([{ thingId: id, price: '-1' }]), 'bad-input');
    await desk.refusedWith(desk.sell([{ thingId: newId() }]), 'bad-input');
    await desk.refusedWith(desk.sell([{ thingId: id }, { thingId: id }]), 'bad-input');
  });

  it('takes a unit outright', async () => {
    const unit = await desk.stock.unit();
    expect((await desk.sell([{ thingId: unit.id, price: '450' }])).body).toMatchObject({ total: '450.00' });
    expect((await desk.refusedWith(desk.sell([{ thingId: unit.id }]), 'not-in-stores')).detail).toContain(
      'with a buyer at the counter already',
    );
    const job = await desk.stock.job([]);
    await desk.refusedWith(desk.sell([{ thingId: job.unit.id }]), 'job-open');
  });
});

describe('what is not sold', () => {
  it('is a customer’s, and the database refuses it too', async () => {
    const ownerId = await desk.stock.customer();
    const lot = await desk.stock.lot(await desk.stock.part(), { ownerId });
    await desk.refusedWith(desk.sell([{ thingId: lot.id }]), 'goods-of-a-customer');
    const sale = (await desk.sell([{ thingId: (await desk.lotOf()).id }])).body;
    await expect(
      desk.stock.query(
        `INSERT INTO sale_lines (id, sale_id, line_no, thing_id, quantity, unit_of_measure, words, price_minor) VALUES ($1, $2, 9, $3, 1, 'each', 'seal', 0)`,
        [newId(), sale.id, lot.id],
      ),
    ).rejects.toThrow(/not sold/);
  });

  it('is condemned, missing, unnamed, or at an outworker', async () => {
    const [condemned, missing, away] = [await desk.lotOf(), await desk.lotOf(), await desk.lotOf('0')];
    await desk.stock.query('UPDATE things SET condemned = true WHERE id = $1', [condemned.id]);
    await desk.bench.post(`/api/things/${missing.id}/not-there`, { placeId: null });
    const firmId = newId();
    await desk.stock.query("INSERT INTO parties (id, name, is_outworker) VALUES ($1, 'Strake Grinding', true)", [firmId]);
    await desk.stock.query("INSERT INTO holders (id, kind) VALUES ($1, 'outworker')", [firmId]);
    await desk.stock.bring(away.id, '2', firmId);
    await desk.refusedWith(desk.sell([{ thingId: condemned.id }]), 'condemned');
    await desk.refusedWith(desk.sell([{ thingId: missing.id }]), 'missing');
    expect((await desk.refusedWith(desk.sell([{ thingId: away.id }]), 'not-in-stores')).detail).toContain('Strake Grinding');
  });

  it('is one of a set: the set goes whole', async () => {
    const [one, other] = [await desk.lotOf('1', { name: 'Crown wheel' }), await desk.lotOf('1', { name: 'Pinion' })];
    const members = [one, other].map(({ code }) => ({ code, stamped: '17' }));
    expect((await desk.owner.post('/api/kept-sets', { id: newId(), words: 'wheel and pinion', members })).status).toBe(200);
    expect((await desk.preview(`${one.id}:1`)).lines[0]).toMatchObject({
      stops: [{ code: 'kept-set-not-whole' }],
      goesWith: [{ id: other.id, name: 'Pinion' }],
    });
    await desk.refusedWith(desk.sell([{ thingId: one.id }]), 'kept-set-not-whole');
    const sold = await desk.sell([{ thingId: one.id }, { thingId: other.id }]);
    expect(sold.body.lines.map(({ said }) => said)).toEqual([
      expect.stringContaining('part of a set'),
      expect.stringContaining('part of a set'),
    ]);
  });

  it('is kept for own jobs, until somebody who keeps the books lifts it', async () => {
    const { partId, id } = await desk.lotOf();
    const keepId = newId();
    const keep = { id: keepId, partId, reason: 'None are made any more.' };
    expect((await desk.bench.post('/api/kept-for-jobs', keep)).status).toBe(403);
    expect((await desk.owner.post('/api/kept-for-jobs', keep)).status).toBe(200);
    expect((await desk.owner.post<SaleAnswer>('/api/kept-for-jobs', { ...keep, id: newId() })).body.code).toBe('kept-already');
    const refusal = await desk.refusedWith(desk.sell([{ thingId: id }]), 'kept-for-own-jobs');
    expect(refusal.detail).toContain('None are made any more.');
    expect((await desk.owner.get<{ kept: unknown[] }>(`/api/kept-for-jobs?thingId=${id}`)).body.kept).toMatchObject([
      { on: 'part' },
    ]);
    expect((await desk.bench.post(`/api/kept-for-jobs/${keepId}/lifting`, { why: 'a boxful came' })).status).toBe(403);
    expect((await desk.owner.post(`/api/kept-for-jobs/${keepId}/lifting`, { why: 'a boxful came' })).status).toBe(200);
    expect((await desk.owner.post<SaleAnswer>(`/api/kept-for-jobs/${keepId}/lifting`, { why: 'again' })).body.code).toBe(
      'lifted-already',
    );
    expect((await desk.sell([{ thingId: id }])).status).toBe(200);
  });

  it('is held back or rubber past its life, but over a name, with the reason on the receipt', async () => {
    const held = await desk.lotOf();
    await desk.owner.post(`/api/things/${held.id}/hold`, { reason: 'crack detection' });
    const seal = await desk.stock.lot(await desk.stock.part({ name: 'Lip seal', material: 'rubber', polymer: 'NBR' }));
    await desk.refusedWith(desk.sell([{ thingId: held.id }]), 'held-back');
    await desk.refusedWith(desk.sell([{ thingId: seal.id }]), 'undated-rubber');
    await desk.refusedWith(desk.sell([{ thingId: seal.id, letGo: 'for display' }], {}, desk.bench), 'not-allowed');
    const sold = await desk.sell([
      { thingId: held.id, letGo: 'he wants it for a pattern' },
      { thingId: seal.id, letGo: 'for display' },
    ]);
    expect(sold.body.lines).toMatchObject([
      { letGo: { why: 'he wants it for a pattern' }, said: expect.stringContaining('crack detection') },
      { letGo: { why: 'for display' } },
    ]);
    const text = await desk.textOf(sold.body.id, 'A4');
    expect(text).toContain('Sold all the same: for display');
    expect(text).toContain('crack detection');
  });
});

describe('what jobs would lose', () => {
  it('is told by job and line before, and a sale that was not told is refused', async () => {
    const { partId, id } = await desk.lotOf('2', { name: 'Thrust race' });
    const job = await desk.stock.job([{ partId, quantity: '2', critical: true }]);
    const told = await desk.preview(`${id}:1`);
    expect(told.jobs).toMatchObject([
      {
        job: { id: job.id },
        lines: [{ lineId: job.lineIds[0], critical: true, before: '2 free in stores', after: '1 free in stores, 1 lacking' }],
      },
    ]);
    expect(told.jobs[0]!.dateNow).not.toBe(told.jobs[0]!.dateThen);
    const refusal = await desk.refusedWith(desk.sell([{ thingId: id }]), 'jobs-count-on-it');
    expect(refusal.detail).toContain('line 1, Thrust race, would turn from 2 free in stores to 1 free in stores, 1 lacking');
    expect((await desk.sell([{ thingId: id }], { told: [job.lineIds[0]] })).status).toBe(200);
  });

  it('is nobody’s where enough is left', async () => {
    const { partId, id } = await desk.lotOf('5');
    await desk.stock.job([{ partId, quantity: '2' }]);
    expect((await desk.preview(`${id}:3`)).jobs).toEqual([]);
    expect((await desk.sell([{ thingId: id, quantity: '3' }])).status).toBe(200);
  });

  it('is reserved: it is taken with a reason, by those who keep the books, and the record of the job says so', async () => {
    const { partId, id } = await desk.lotOf('3');
    const job = await desk.stock.job([{ partId, quantity: '2' }]);
    const reserve = { until: null, lines: [{ lineId: job.lineIds[0], thingId: id, quantity: '2' }] };
    expect((await desk.owner.post(`/api/jobs/${job.id}/reservations`, reserve)).status).toBe(200);
    expect((await desk.preview(`${id}:2`)).lines[0]).toMatchObject({
      free: '1',
      here: '3',
      takes: [{ job: { id: job.id }, quantity: '1' }],
    });
    const told = [job.lineIds[0]!];
    await desk.refusedWith(desk.sell([{ thingId: id, quantity: '2' }], { told }), 'reserved-for-jobs');
    await desk.refusedWith(desk.sell([{ thingId: id, quantity: '2' }], { told, takeReason: 'x' }, desk.bench), 'not-allowed');
    expect((await desk.sell([{ thingId: id, quantity: '2' }], { told, takeReason: 'He is stranded.' })).status).toBe(200);
    expect(
      await desk.stock.query("SELECT quantity, reason FROM claim_changes WHERE job_id = $1 AND kind = 'released'", [job.id]),
    ).toEqual([{ quantity: '-1.0000', reason: 'Sold at the counter: He is stranded.' }]);
    expect((await desk.page(id)).claimed).toBe('1');
  });

  it('is not what lies in a tray', async () => {
    const { partId, id, code } = await desk.lotOf('1');
    const job = await desk.stock.job([{ partId }]);
    expect((await desk.bench.post('/api/picks', { code, jobId: job.id })).status).toBe(200);
    expect((await desk.refusedWith(desk.sell([{ thingId: id }]), 'not-in-stores')).detail).toContain('It was picked');
  });

  it('goes to one alone, whether a sale or a pick comes first', async () => {
    for (let round = 0; round < 6; round += 1) {
      const { partId, id, code } = await desk.lotOf('1');
      const job = await desk.stock.job([{ partId }]);
      const [sold, picked] = await Promise.all([
        desk.sell([{ thingId: id }], { told: job.lineIds }),
        desk.bench.post<{ code: string }>('/api/picks', { code, jobId: job.id }),
      ]);
      expect([sold.status, picked.status].toSorted()).toEqual([200, 409]);
      expect((await desk.page(id)).held).toBe(picked.status === 200 ? '1' : '0');
    }
  });
});
