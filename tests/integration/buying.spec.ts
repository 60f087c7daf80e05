import { jest } from '@jest/globals';
import { newId } from '../../apps/api/src/platform/new-id.js';
import { addPerson, type BareServer, startBareServer, type Visitor } from '../support/bare-server.js';
import { Stock } from '../support/stock.js';

// A busy machine is slow, not wrong.
jest.setTimeout(60_000);

interface Receipt {
  id: string;
  supplier: { id: string; name: string };
  quantity: string;
  quantityReceived: string;
  dueOn: string | null;
  forJob: { id: string; code: string; name: string } | null;
  calledOff: boolean;
  version: number;
}
interface Arrived {
  lot: { id: string; code: string; name: string };
  outstanding: string;
}

let server: BareServer;
let owner: Visitor;
let stock: Stock;
let partId: string;

beforeAll(async () => {
  server = await startBareServer('buying');
  owner = await server.setUp();
  stock = await Stock.open(server.testDatabase.ownerUrl);
  partId = await stock.part({ name: 'Bearing cone' });
});
afterAll(async () => {
  await stock.close();
  await server.stop();
});

let orders = 0;
function ordered(facts: Record<string, unknown> = {}) {
  orders += 1;
  return {
    id: newId(),
    orderReference: `O-${orders}`,
    supplierName: 'Veldrow Bearings',
    partId,
    quantity: '4',
    dueOn: null,
    confirmed: false,
    forJobId: null,
    ...facts,
  };
}

async function order(facts: Record<string, unknown> = {}): Promise<Receipt> {
  const answer = await owner.post<Receipt>('/api/receipts', ordered(facts));
  expect(answer.status).toBe(200);
  return answer.body;
}

function arrival(facts: Record<string, unknown> = {}) {
  return { lotId: newId(), quantity: '1', placeId: stock.placeId, source: 'new', make: 'genuine', ...facts };
}

const edit = (receipt: Receipt, facts: Record<string, unknown>, ifMatch = receipt.version) =>
  owner.patch<Receipt>(
    `/api/receipts/${receipt.id}`,
    {
      dueOn: receipt.dueOn,
      confirmed: false,
      forJobId: receipt.forJob?.id ?? null,
      calledOff: receipt.calledOff,
      note: '',
      ...facts,
    },
    { ifMatch },
  );

const heldOf = async (lotId: string) =>
  (await server.database.row<{ held: string; claimed: string }>('SELECT held, claimed FROM things WHERE id = $1', [lotId])) ??
  null;

describe('what is ordered', () => {
  it('is written once however often it is sent, with its supplier made where it is new', async () => {
    const key = newId();
    const body = ordered({ supplierName: 'Halloran Seals', dueOn: '2026-12-04', confirmed: true });
    const first = await owner.post<Receipt>('/api/receipts', body, { key });
    expect(first).toMatchObject({
      status: 200,
      body: {
        supplier: { name: 'Halloran Seals' },
        quantity: '4',
        quantityReceived: '0',
        dueOn: '2026-12-04',
        confirmed: true,
        version: 1,
      },
    });
    const second = await owner.post('/api/receipts', body, { key });
    expect(second.body).toEqual(first.body);
    const other = await order({ supplierName: 'HALLORAN SEALS' });
    expect(other.supplier).toEqual(first.body.supplier);
  });

  it.each([
    ['nought', { quantity: '0' }, 'quantity'],
    ['less than nought', { quantity: '-2' }, 'quantity'],
    ['half of what comes whole', { quantity: '1.5' }, 'quantity'],
    ['no number', { quantity: 'a few' }, 'quantity'],
    ['a part that is not in the books', { partId: newId() }, 'partId'],
    ['a job that is not in the books', { forJobId: newId() }, 'forJobId'],
    ['a date confirmed and not given', { confirmed: true, dueOn: null }, 'dueOn'],
    ['a day that no calendar has', { dueOn: '2026-11-31' }, 'dueOn'],
  ])('is refused with %s', async (_, facts, path) => {
    const answer = await owner.post('/api/receipts', ordered(facts));
    expect(answer).toMatchObject({
      status: 422,
      body: { code: 'bad-input', values: { fields: [{ path, words: expect.stringMatching(/\w/) }] } },
    });
  });

  it('is refused where the order lists the part already, and says which row', async () => {
    const first = await order({ orderReference: 'DOUBLE' });
    const again = await owner.post('/api/receipts', ordered({ orderReference: 'DOUBLE' }));
    expect(again).toMatchObject({ status: 409, body: { code: 'already-there', values: { receiptId: first.id } } });
  });

  it('is edited by version', async () => {
    const receipt = await order();
    const first = await edit(receipt, { dueOn: '2027-01-15', confirmed: true });
    expect(first).toMatchObject({ status: 200, body: { dueOn: '2027-01-15', confirmed: true, version: 2 } });
    const second = await edit(receipt, { dueOn: '2027-02-01' });
    expect(second).toMatchObject({
      status: 412,
      body: { code: 'changed-meanwhile', values: { current: { dueOn: '2027-01-15' } } },
    });
  });

  it('is kept by keepers, and seen by all', async () => {
    const bench = await addPerson(server, owner, 'bench', 'wilf', 'Wilf Peskett');
    expect((await bench.post('/api/receipts', ordered())).status).toBe(403);
    expect((await bench.get('/api/receipts')).status).toBe(200);
  });
});

describe('the list of what is ordered', () => {
  it('goes by due date page by page, those without a date last, each once', async () => {
    const listed = await stock.part({ name: 'Oil seal', material: 'rubber', polymer: 'NBR' });
    for (const dueOn of ['2027-03-02', null, '2027-03-01', '2027-03-02', null]) await order({ partId: listed, dueOn });
    const seen: (string | null)[] = [];
    const ids = new Set<string>();
    let cursor: string | null = null;
    do {
      const path: string = `/api/receipts?partId=${listed}&limit=2${cursor ? `&cursor=${cursor}` : ''}`;
      const page = await owner.get<{ receipts: Receipt[]; cursor: string | null }>(path);
      for (const receipt of page.body.receipts) {
        seen.push(receipt.dueOn);
        ids.add(receipt.id);
      }
      cursor = page.body.cursor;
      expect(page.headers.get('link') !== null).toBe(cursor !== null);
    } while (cursor !== null);
    expect(seen).toEqual(['2027-03-01', '2027-03-02', '2027-03-02', null, null]);
    expect(ids.size).toBe(5);
  });

  it('tells what is still to come from what is not', async () => {
    const of = await stock.part({ name: 'Spacer' });
    const [open, off, come] = [
      await order({ partId: of }),
      await order({ partId: of }),
      await order({ partId: of, quantity: '1' }),
    ];
    await edit(off, { calledOff: true });
    await owner.post(`/api/receipts/${come.id}/arrivals`, arrival());
    const ids = async (query: string) =>
      (await owner.get<{ receipts: Receipt[] }>(`/api/receipts?partId=${of}${query}`)).body.receipts.map((receipt) => receipt.id);
    expect(await ids('&open=yes')).toEqual([open.id]);
    expect((await ids('&open=no')).sort()).toEqual([off.id, come.id].sort());
    expect(await ids('')).toHaveLength(3);
  });

  it.each(['x', 'W10', Buffer.from('["tomorrow","x"]').toString('base64url')])(
    'refuses the made-up cursor %s',
    async (cursor) => {
      expect((await owner.get(`/api/receipts?cursor=${cursor}`)).status).toBe(422);
    },
  );
});

describe('goods of an order that come', () => {
  it('become a lot with a code, moved from the supplier to a place, and the rest is outstanding', async () => {
    const receipt = await order({ quantity: '4' });
    const body = arrival({ quantity: '3', source: 'old stock', packetRead: '5/56', packetCondition: 'sealed' });
    const answer = await owner.post<Arrived>(`/api/receipts/${receipt.id}/arrivals`, body);
    expect(answer).toMatchObject({ status: 200, body: { outstanding: '1', lot: { id: body.lotId, name: 'Bearing cone' } } });
    expect(answer.body.lot.code).toMatch(/^L\d{8}$/);
    const rows = await server.database.rows(
      'SELECT quantity, from_holder_id, to_holder_id, reason FROM movements WHERE thing_id = $1',
      [body.lotId],
    );
    expect(rows).toEqual([
      {
        quantity: '3.0000',
        from_holder_id: receipt.supplier.id,
        to_holder_id: stock.placeId,
        reason: `came on order O-${orders}`,
      },
    ]);
    expect(
      await server.database.row(
        'SELECT packet_precision, packet_earliest, packet_latest, packet_condition FROM lots WHERE thing_id = $1',
        [body.lotId],
      ),
    ).toEqual({
      packet_precision: 'month',
      packet_earliest: '1956-05-01',
      packet_latest: '1956-05-31',
      packet_condition: 'sealed',
    });
    expect(await heldOf(body.lotId)).toEqual({ held: '3.0000', claimed: '0.0000' });
    expect(
      await server.database.row("SELECT subject_id FROM codes WHERE code = $1 AND kind = 'L'", [answer.body.lot.code]),
    ).toEqual({
      subject_id: body.lotId,
    });
  });

  it('count once however often they are sent', async () => {
    const receipt = await order({ quantity: '4' });
    const [key, body] = [newId(), arrival({ quantity: '2' })];
    const answers = await Promise.all(
      [1, 2, 3].map(() => owner.post<Arrived>(`/api/receipts/${receipt.id}/arrivals`, body, { key })),
    );
    expect(new Set(answers.map((answer) => JSON.stringify(answer.body))).size).toBe(1);
    expect(await heldOf(body.lotId)).toMatchObject({ held: '2.0000' });
    const again = await owner.post(`/api/receipts/${receipt.id}/arrivals`, body);
    expect(again).toMatchObject({ status: 422, body: { values: { fields: [{ path: 'lotId' }] } } });
  });

  it('are never more than was ordered, though several book them in at once', async () => {
    const receipt = await order({ quantity: '3' });
    const answers = await Promise.all(
      Array.from({ length: 6 }, () => owner.post(`/api/receipts/${receipt.id}/arrivals`, arrival({ quantity: '1' }))),
    );
    expect(answers.map((answer) => answer.status).sort()).toEqual([200, 200, 200, 409, 409, 409]);
    expect(await server.database.row('SELECT quantity_received FROM expected_receipts WHERE id = $1', [receipt.id])).toEqual({
      quantity_received: '3.0000',
    });
    const more = await owner.post(`/api/receipts/${receipt.id}/arrivals`, arrival({ quantity: '1' }));
    expect(more).toMatchObject({
      status: 409,
      body: { code: 'more-than-ordered', detail: expect.stringContaining('has come already') },
    });
  });

  it('are refused in words, and nothing is written', async () => {
    const receipt = await order({ quantity: '2' });
    const tray = (await stock.job([{ partId }])).trayId;
    const lots: string[] = [];
    const refusalOf = async (facts: Record<string, unknown>) => {
      const body = arrival(facts);
      lots.push(body.lotId);
      const answer = await owner.post<{ code: string; values?: { fields?: { path: string }[] } }>(
        `/api/receipts/${receipt.id}/arrivals`,
        body,
      );
      return [answer.body.code, answer.body.values?.fields?.[0]?.path];
    };
    expect(await refusalOf({ quantity: '3' })).toEqual(['more-than-ordered', undefined]);
    expect(await refusalOf({ quantity: '0.5' })).toEqual(['bad-input', 'quantity']);
    expect(await refusalOf({ placeId: newId() })).toEqual(['bad-input', 'placeId']);
    expect(await refusalOf({ placeId: tray })).toEqual(['cannot-be-put-there', 'placeId']);
    expect(await refusalOf({ source: 'harvested' })).toEqual(['bad-input', 'source']);
    expect(await refusalOf({ packetRead: '31/2/56' })).toEqual(['bad-input', 'packetRead']);
    await edit(receipt, { calledOff: true });
    expect(await refusalOf({})).toEqual(['called-off', undefined]);
    expect(await server.database.rows('SELECT id FROM things WHERE id = ANY($1)', [lots])).toEqual([]);
  });

  it('are claimed for the job they were ordered for, as far as its lines lack them', async () => {
    const job = await stock.job([
      { partId, quantity: '2' },
      { partId, quantity: '1' },
    ]);
    const receipt = await order({ quantity: '6', forJobId: job.id });
    expect(receipt.forJob).toEqual({ id: job.id, code: job.code, name: 'Overhead-worm axle' });
    const first = arrival({ quantity: '1' });
    await owner.post(`/api/receipts/${receipt.id}/arrivals`, first);
    expect(await heldOf(first.lotId)).toEqual({ held: '1.0000', claimed: '1.0000' });
    const second = arrival({ quantity: '5' });
    await owner.post(`/api/receipts/${receipt.id}/arrivals`, second);
    expect(await heldOf(second.lotId)).toEqual({ held: '5.0000', claimed: '2.0000' });
    const claims = await server.database.rows(
      'SELECT purpose_id, sum(quantity) AS quantity FROM claims WHERE claimant_id = $1 GROUP BY purpose_id',
      [job.id],
    );
    expect(new Map(claims.map((claim) => [claim.purpose_id, claim.quantity]))).toEqual(
      new Map([
        [job.lineIds[0], '2.0000'],
        [job.lineIds[1], '1.0000'],
      ]),
    );
  });

  it('are not claimed where the job is over or rubber may not be fitted any more', async () => {
    const seal = await stock.part({ name: 'Oil seal', material: 'rubber', polymer: 'NBR' });
    const job = await stock.job([
      { partId: seal, quantity: '2' },
      { partId, quantity: '1' },
    ]);
    const old = await order({ partId: seal, quantity: '2', forJobId: job.id });
    const packet = arrival({ quantity: '1', packetRead: '1961', source: 'old stock' });
    await owner.post(`/api/receipts/${old.id}/arrivals`, packet);
    expect(await heldOf(packet.lotId)).toEqual({ held: '1.0000', claimed: '0.0000' });
    const late = await order({ quantity: '1', forJobId: job.id });
    await stock.query("UPDATE jobs SET state = 'released' WHERE id = $1", [job.id]);
    const body = arrival();
    await owner.post(`/api/receipts/${late.id}/arrivals`, body);
    expect(await heldOf(body.lotId)).toEqual({ held: '1.0000', claimed: '0.0000' });
    expect(await owner.post('/api/receipts', ordered({ forJobId: job.id }))).toMatchObject({
      status: 422,
      body: { detail: expect.stringContaining('released') },
    });
    // The job stays on its order all the same.
    expect((await edit(late, { note: 'came late' }, 2)).status).toBe(200);
  });

  it('are told on the page of the part while they are to come', async () => {
    const part = await stock.part({ name: 'Lock washer' });
    const receipt = await order({ partId: part, quantity: '5', dueOn: '2027-01-04', confirmed: true });
    await owner.post(`/api/receipts/${receipt.id}/arrivals`, arrival({ quantity: '2' }));
    const page = await owner.get<{ receipts: unknown[] }>(`/api/parts/${part}`);
    expect(page.body.receipts).toEqual([
      {
        id: receipt.id,
        orderReference: `O-${orders}`,
        supplier: 'Veldrow Bearings',
        quantity: '3',
        dueOn: '2027-01-04',
        confirmed: true,
      },
    ]);
  });
});
