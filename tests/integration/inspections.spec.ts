import { newId } from '../../apps/api/src/platform/new-id.js';
import type { Coverage } from '../../libs/contracts/src/coverage.js';
import type { ScanAnswer } from '../../libs/contracts/src/scanning.js';
import type { Thing } from '../../libs/contracts/src/stores.js';
import type { Today } from '../../libs/contracts/src/today.js';
import { addDays, addYears, formatPlainDate } from '../../libs/quantities/src/plain-date.js';
import { addPerson, type BareServer, type SendOptions, startBareServer, type Visitor } from '../support/bare-server.js';
import { type Made, Stock } from '../support/stock.js';

type Lot = Extract<Thing, { kind: 'lot' }>;

let server: BareServer;
let owner: Visitor;
let stock: Stock;
let today: string;
let nitrile: string;

beforeAll(async () => {
  server = await startBareServer('inspections');
  owner = await server.setUp();
  stock = await Stock.open(server.testDatabase.ownerUrl);
  today = (await owner.get<{ today: string }>('/api/workshop')).body.today;
  nitrile = await stock.part({ name: 'Oil seal', material: 'rubber', polymer: 'NBR' });
});
afterAll(async () => {
  await stock.close();
  await server.stop();
});

/** A lot whose packet bears one day: so many days before today, less so many years. */
function packed(years: number, days: number, partId = nitrile): Promise<Made> {
  const day = addDays(addYears(today, -years), -days);
  return stock.lot(partId, { quantity: '3', packetRead: day, packetEarliest: day, packetLatest: day });
}
const good = (): Record<string, unknown> => ({
  inspectedOn: today,
  lookedAt: 'all three, lips and faces, under the glass',
  passed: true,
  words: 'supple, no cracks when bent',
});
const bad = (): Record<string, unknown> => ({ ...good(), passed: false, words: 'the lip has taken a set' });
const inspect = (id: string, body: Record<string, unknown>, options: SendOptions = {}) =>
  owner.post<Lot & { code: string; detail: string }>(`/api/things/${id}/inspections`, body, options);
const lotOf = async (id: string): Promise<Lot> => (await owner.get<Lot>(`/api/things/${id}`)).body;
const rowsOf = (id: string) => stock.query('SELECT id FROM storage_inspections WHERE thing_id = $1', [id]);

describe('an inspection that a lot passes', () => {
  it('extends rubber past its first period once, and everything that reckons its life knows it', async () => {
    const partId = await stock.part({ name: 'Oil seal, pinion', material: 'rubber', polymer: 'NBR' });
    const lot = await packed(7, 40, partId);
    const job = await stock.job([{ partId, quantity: '2' }]);
    const coverage = async () => (await owner.get<Coverage>(`/api/jobs/${job.id}/coverage`)).body.lines[0]!.shares;
    const fit = () => owner.post('/api/fits', { code: lot.code, jobId: job.id, quantity: '1' });
    const aged = async () => (await owner.get<Today>('/api/today')).body.items.filter((item) => item.id === 'aged');

    expect((await lotOf(lot.id)).storageLife).toMatchObject({ state: 'extendable', stops: true });
    expect(await fit()).toMatchObject({ status: 409, body: { code: 'past-storage-life' } });
    expect(await coverage()).toMatchObject([{ state: 'lacking', quantity: '2' }]);
    expect(await aged()).toHaveLength(1);

    const key = newId();
    const [first, again] = [await inspect(lot.id, good(), { key }), await inspect(lot.id, good(), { key })];
    const until = formatPlainDate(addDays(addYears(today, 3), -40), 'full');
    expect(first).toMatchObject({
      status: 200,
      body: {
        storageLife: { state: 'in life', stops: false, sentence: expect.stringContaining(`in life to ${until}, and no longer`) },
        inspections: [{ inspectedOn: today, passed: true, words: 'supple, no cracks when bent', by: 'Edie Marrack' }],
        heldBack: null,
        version: 2,
      },
    });
    expect(again.body).toEqual(first.body);
    expect(await rowsOf(lot.id)).toHaveLength(1);

    expect(await coverage()).toMatchObject([{ state: 'free in stores', quantity: '2' }]);
    expect((await owner.get<ScanAnswer>(`/api/scan/${lot.code}`)).body.warning).toBeNull();
    expect((await owner.get<{ lots: Lot[] }>(`/api/parts/${partId}`)).body.lots[0]?.storageLife.state).toBe('in life');
    expect(await aged()).toEqual([]);
    expect((await fit()).status).toBe(200);
  });

  it('is a note on felt, metal and what nobody has named, again and again', async () => {
    for (const partId of [await stock.part({ material: 'felt' }), await stock.part(), null]) {
      const lot = await stock.lot(partId);
      await inspect(lot.id, good());
      const { body } = await inspect(lot.id, { ...good(), words: 'no moth' });
      expect(body.storageLife.state).toBe('no limit');
      expect(body.inspections.map(({ words }) => words)).toEqual(['no moth', 'supple, no cracks when bent']);
    }
  });

  it.each([
    ['a second time', 'inspection-extended-already', () => packed(8, 0), true],
    ['past the longest extension', 'inspection-past-extension', () => packed(10, 0), false],
    ['with its first period still long', 'inspection-too-early', () => packed(1, 0), false],
    ['without a date', 'inspection-undated', () => stock.lot(nitrile), false],
  ] as const)('is refused for rubber %s, and changes nothing', async (_, code, make, before) => {
    const lot = await make();
    if (before) expect((await inspect(lot.id, good())).status).toBe(200);
    const kept = await lotOf(lot.id);
    const refusal = await inspect(lot.id, good());
    expect(refusal).toMatchObject({ status: 409, body: { code } });
    expect(refusal.body.detail).toMatch(/Nothing was changed\..*holds it back/);
    expect(await lotOf(lot.id)).toEqual(kept);
  });

  it.each(['', 'AEM'])('is refused for rubber "%s", of which no group with an extension is known', async (polymer) => {
    const lot = await packed(5, 10, await stock.part({ material: 'rubber', polymer }));
    expect((await lotOf(lot.id)).storageLife.state).toBe('past');
    expect(await inspect(lot.id, good())).toMatchObject({ status: 409, body: { code: 'inspection-no-extension' } });
  });

  it('counts from the day on which it was made, and not before', async () => {
    const lot = await packed(7, 40);
    const { body } = await inspect(lot.id, { ...good(), inspectedOn: addDays(today, -20) });
    expect(body.storageLife.state).toBe('in life');
  });
});

describe('an inspection that a lot does not pass', () => {
  it('holds it back with what was found, whatever its age, and takes back an extension', async () => {
    const lot = await packed(8, 0);
    await inspect(lot.id, good());
    const { body } = await inspect(lot.id, bad());
    expect(body).toMatchObject({
      heldBack: { reason: 'did not pass inspection: the lip has taken a set', by: 'Edie Marrack' },
      storageLife: { state: 'extendable', stops: true },
      version: 3,
    });
    expect(body.inspections.map(({ passed }) => passed)).toEqual([false, true]);
    expect(await stock.query('SELECT held_back, reason FROM hold_changes WHERE thing_id = $1', [lot.id])).toEqual([
      { held_back: true, reason: 'did not pass inspection: the lip has taken a set' },
    ]);
    const job = await stock.job([{ partId: nitrile }]);
    expect(await owner.post('/api/fits', { code: lot.code, jobId: job.id })).toMatchObject({ body: { code: 'held-back' } });
  });

  it('leaves the hold that stands already, and its reason', async () => {
    const lot = await stock.lot(nitrile);
    await owner.post(`/api/things/${lot.id}/hold`, { reason: 'kept for display' });
    const { status, body } = await inspect(lot.id, bad());
    expect(status).toBe(200);
    expect(body.heldBack?.reason).toBe('kept for display');
    expect(body.inspections).toHaveLength(1);
  });
});

describe('an inspection', () => {
  it('needs a past day, words, an unchanged page, a lot, and somebody who keeps the books', async () => {
    const lot = await packed(7, 1);
    expect((await inspect(lot.id, { ...good(), inspectedOn: addDays(today, 1) })).status).toBe(422);
    expect((await inspect(lot.id, { ...bad(), inspectedOn: '1879-12-31' })).status).toBe(422);
    expect((await inspect(lot.id, { ...good(), words: ' ' })).status).toBe(422);
    expect((await inspect(lot.id, { ...good(), lookedAt: '' })).status).toBe(422);
    expect((await inspect(lot.id, good(), { ifMatch: 7 })).status).toBe(412);
    expect((await inspect((await stock.unit()).id, good())).status).toBe(404);
    expect((await inspect(newId(), good())).status).toBe(404);
    const bench = await addPerson(server, owner, 'bench', 'tom', 'Tom Hasleby');
    expect((await bench.post(`/api/things/${lot.id}/inspections`, good())).status).toBe(403);
    expect(await rowsOf(lot.id)).toEqual([]);
  });

  it('by two at the same moment extends once', async () => {
    const lot = await packed(7, 1);
    const answers = await Promise.all([inspect(lot.id, good()), inspect(lot.id, good())]);
    expect(answers.map(({ status }) => status).sort()).toEqual([200, 409]);
    expect(await rowsOf(lot.id)).toHaveLength(1);
  });

  it('is never changed or deleted', async () => {
    const lot = await packed(7, 1);
    await inspect(lot.id, good());
    await expect(stock.query('DELETE FROM storage_inspections WHERE thing_id = $1', [lot.id])).rejects.toThrow(/kept for good/);
    await expect(server.database.rows('UPDATE storage_inspections SET passed = true')).rejects.toThrow(
      /permission denied|kept for good/,
    );
  });
});
