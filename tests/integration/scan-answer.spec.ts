import { newId } from '../../apps/api/src/platform/new-id.js';
import type { ScanAnswer } from '../../libs/contracts/src/scanning.js';
import { type BareServer, startBareServer, type Visitor } from '../support/bare-server.js';
import { Stock } from '../support/stock.js';

let server: BareServer;
let owner: Visitor;
let stock: Stock;

beforeAll(async () => {
  server = await startBareServer('scananswer');
  owner = await server.setUp();
  stock = await Stock.open(server.testDatabase.ownerUrl);
});
afterAll(async () => {
  await stock.close();
  await server.stop();
});

const scan = (code: string) => owner.get<ScanAnswer>(`/api/scan/${code}`);

describe('what a scan answers', () => {
  it('a lot: its part, how it came, where it lies and what is free', async () => {
    const partId = await stock.part({ name: 'Thrust washer' });
    const lot = await stock.lot(partId, {
      quantity: '5',
      source: 'old stock',
      make: 'genuine',
      packetRead: '1953',
      packetEarliest: '1953-01-01',
      packetLatest: '1953-12-31',
    });
    const answer = await scan(lot.code);
    expect(answer.body).toMatchObject({
      kind: 'lot',
      id: lot.id,
      name: 'Thrust washer',
      where: `Bin ${stock.placeId}`,
      quantity: '5',
      free: '5',
      warning: null,
    });
    expect(answer.body.detail).toMatch(/^T-\S+, old stock, genuine, packet 1953$/);
  });

  it('a lot that nobody has named, by its words; rubber without a date with its warning', async () => {
    const unnamed = await stock.lot(null);
    expect((await scan(unnamed.code)).body).toMatchObject({ kind: 'lot', name: 'a bag of something' });
    const rubber = await stock.lot(await stock.part({ name: 'Oil seal', material: 'rubber', polymer: 'NBR' }));
    expect((await scan(rubber.code)).body).toMatchObject({ name: 'Oil seal', warning: expect.stringMatching(/^rubber, /) });
  });

  it('a unit with its owner, a component and an unsorted box', async () => {
    const unit = await stock.unit({ ownerId: await stock.customer('R. Sandiman') });
    expect((await scan(unit.code)).body).toMatchObject({
      kind: 'unit',
      id: unit.id,
      name: 'Overhead-worm axle',
      detail: 'property of R. Sandiman',
      quantity: '1',
    });
    const component = await bare(
      'C',
      "INSERT INTO components (thing_id, unit_id, name, position) VALUES ($1, $2, 'Differential', 3)",
      [unit.id],
    );
    expect((await scan(component.code)).body).toMatchObject({
      kind: 'component',
      id: component.id,
      name: 'Differential',
      detail: '',
    });
    const box = await bare('X', "INSERT INTO unsorted_boxes (thing_id, words) VALUES ($1, 'a box of levers')", []);
    expect((await scan(box.code)).body).toMatchObject({ kind: 'unsorted', id: box.id, name: 'a box of levers', detail: '' });
  });

  it('a place inside another, with the whole way to it', async () => {
    const [site, bin] = [await stock.place(), await stock.place()];
    await stock.query("UPDATE places SET name = 'Stores', kind = 'site' WHERE holder_id = $1", [site.id]);
    await stock.query("UPDATE places SET name = 'Bin 12', parent_id = $2 WHERE holder_id = $1", [bin.id, site.id]);
    expect((await scan(bin.code)).body).toMatchObject({
      kind: 'place',
      name: 'Bin 12',
      where: 'Stores, Bin 12',
      quantity: '0 things',
    });
    const lot = await stock.lot(await stock.part(), { placeId: bin.id });
    expect((await scan(lot.code)).body.where).toBe('Stores, Bin 12');
    expect((await scan(bin.code)).body.quantity).toBe('1 thing');
  });

  it('what is true now, right after a scan has changed it', async () => {
    const partId = await stock.part();
    const lot = await stock.lot(partId, { quantity: '5' });
    const job = await stock.job([{ partId, quantity: '3' }]);
    for (const left of ['4', '3', '2']) {
      expect((await owner.post('/api/fits', { code: lot.code, jobId: job.id, quantity: '1' })).status).toBe(200);
      expect((await scan(lot.code)).body).toMatchObject({ quantity: left, free: left });
    }
  });
});

async function bare(kind: 'C' | 'X', insert: string, values: unknown[]): Promise<{ id: string; code: string }> {
  const id = newId();
  await stock.query('INSERT INTO things (id, kind) VALUES ($1, $2)', [id, kind]);
  await stock.query(insert, [id, ...values]);
  return { id, code: await stock.codeFor(kind, id) };
}
