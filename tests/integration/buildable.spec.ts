import { newId } from '../../apps/api/src/platform/new-id.js';
import { formatCode, type LabelCode } from '../../libs/codes/src/label-code.js';
import type { Buildable } from '../../libs/contracts/src/buildable.js';
import { surelyGood } from '../../libs/yields/src/component-yield.js';
import { type BareServer, startBareServer, type Visitor } from '../support/bare-server.js';
import { unitType } from '../support/load-stock.js';
import { Stock } from '../support/stock.js';

let server: BareServer;
let owner: Visitor;
let stock: Stock;
let made = 0;

beforeAll(async () => {
  server = await startBareServer('buildable');
  owner = await server.setUp();
  stock = await Stock.open(server.testDatabase.ownerUrl);
});
afterAll(async () => {
  await stock.close();
  await server.stop();
});

interface Line {
  partId: string;
  quantity?: string;
  critical?: boolean;
  reusable?: boolean;
}

/** A type with this parts list and so many free cores. */
async function type(model: string, cores: number, lines: Line[]): Promise<string> {
  made += 1;
  const id = await unitType(stock, { maker: `Brantock ${made}`, model });
  await stock.query("INSERT INTO unit_type_operations (unit_type_id, number, name, minutes) VALUES ($1, 10, 'Build', 60)", [id]);
  for (const [index, line] of lines.entries())
    await stock.query(
      `INSERT INTO unit_type_lines (unit_type_id, line_no, part_id, quantity, operation_number, critical, reusable) VALUES ($1, $2, $3, $4, 10, $5, $6)`,
      [id, index + 1, line.partId, line.quantity ?? '1', line.critical ?? false, line.reusable ?? false],
    );
  for (let core = 0; core < cores; core += 1) await stock.unit({ unitTypeId: id });
  return id;
}

const ask = async (types: string[], more: Record<string, string> = {}) =>
  (await owner.get<Buildable>(`/api/buildable?${new URLSearchParams({ types: types.join(','), ...more })}`)).body;
const relate = (from: string, kind: string, to: string) =>
  owner.post(`/api/parts/${from}/relations`, {
    kind,
    toPartIds: [to],
    evidence: { kind: 'measured', words: 'bore, outside and width' },
  });

describe('how many could be built', () => {
  it('is as many as the cores and the scarcest part allow, and what stops the next one is named', async () => {
    const [seal, cone] = [
      await stock.part({ name: 'Oil seal', number: 'SE 1' }),
      await stock.part({ name: 'Cone', number: 'CO 1' }),
    ];
    await stock.lot(seal, { quantity: '9' });
    await stock.lot(cone, { quantity: '5' });
    const id = await type('WD7', 4, [
      { partId: seal, quantity: '2' },
      { partId: cone, quantity: '2' },
    ]);
    const { types, total, words } = await ask([id]);
    expect(total).toBe(2);
    expect(types).toMatchObject([
      { cores: 4, builds: 2, lacking: { cores: 0, parts: [{ part: { id: cone }, quantity: '1', unitOfMeasure: 'each' }] } },
    ]);
    expect(types[0]?.words).toMatch(
      /^2 of Brantock \d+ WD7 can be built, with 4 free cores\. The next one lacks 1 of CO 1, Cone\.$/,
    );
    expect(words).toMatch(/^2 in all, at the most/);
    await stock.lot(cone, { quantity: '30' });
    expect((await ask([id])).types[0]).toMatchObject({ builds: 4, lacking: { cores: 1, parts: [{ part: { id: seal } }] } });
  });

  it('of types that compete for a part is the most of both together', async () => {
    const shared = await stock.part({ name: 'Thrust bearing' });
    await stock.lot(shared, { quantity: '4' });
    const greedy = await type('G3', 3, [{ partId: shared, quantity: '3' }]);
    const thrifty = await type('T1', 3, [{ partId: shared, quantity: '1' }]);
    const { types, total } = await ask([greedy, thrifty]);
    expect(total).toBe(3);
    expect(Object.fromEntries(types.map(({ unitType: named, builds }) => [named.id, builds]))).toEqual({
      [greedy]: 0,
      [thrifty]: 3,
    });
  });

  it('counts what may stand for a part as far as the build standard takes it', async () => {
    const [wanted, same, serves] = [await stock.part(), await stock.part(), await stock.part()];
    await relate(same, 'same as', wanted);
    await relate(serves, 'will serve for', wanted);
    await stock.lot(same);
    await stock.lot(serves);
    const id = await type('R2', 3, [{ partId: wanted }]);
    expect((await ask([id])).total).toBe(2);
    expect((await ask([id], { standard: 'as original' })).total).toBe(1);
  });

  it('counts neither a customer’s goods nor what is promised, held back or past its life; nor a core that is on a job or a customer’s', async () => {
    const [part, seal] = [await stock.part(), await stock.part({ material: 'rubber', polymer: 'NBR' })];
    const customer = await stock.customer();
    await stock.lot(part, { quantity: '5', ownerId: customer });
    await stock.lot(seal, { quantity: '5', packetRead: '1949', packetEarliest: '1949-01-01', packetLatest: '1949-12-31' });
    const id = await type('N4', 2, [{ partId: part }]);
    const rubber = await type('N5', 2, [{ partId: seal }]);
    expect((await ask([id, rubber])).total).toBe(0);
    const lot = await stock.lot(part, { quantity: '3' });
    const job = await stock.job([{ partId: part, quantity: '2' }]);
    await owner.post('/api/picks', { code: lot.code, jobId: job.id });
    await stock.unit({ unitTypeId: id, ownerId: customer });
    const { types } = await ask([id]);
    expect(types[0]).toMatchObject({ cores: 2, builds: 1 });
    await stock.query('UPDATE units SET unit_type_id = $1 WHERE thing_id = $2', [id, job.unit.id]);
    expect((await ask([id])).types[0]?.cores).toBe(2);
  });

  it('takes what may be used again out of the core itself, unless all is to be replaced; and the critical lines alone where that is asked', async () => {
    const [casing, gasket] = [await stock.part({ name: 'Casing' }), await stock.part({ name: 'Gasket' })];
    const id = await type('C6', 2, [
      { partId: casing, reusable: true, critical: true },
      { partId: gasket, quantity: '2' },
    ]);
    expect((await ask([id], { lines: 'critical' })).total).toBe(2);
    expect((await ask([id], { lines: 'critical', own: 'replaced' })).types[0]).toMatchObject({
      builds: 0,
      lacking: { parts: [{ part: { name: 'Casing' }, quantity: '1' }] },
    });
    await stock.lot(gasket, { quantity: '3' });
    expect((await ask([id])).total).toBe(1);
  });

  it('counts no core that was stripped or rebuilt', async () => {
    const id = await type('S8', 3, [{ partId: await stock.part(), reusable: true }]);
    expect((await ask([id])).total).toBe(3);
    const [one, other] = await stock.query<{ id: string }>('SELECT thing_id AS id FROM units WHERE unit_type_id = $1', [id]);
    await stock.query("UPDATE units SET stage = 'stripped' WHERE thing_id = $1", [one!.id]);
    await stock.query("UPDATE units SET stage = 'rebuilt' WHERE thing_id = $1", [other!.id]);
    expect((await ask([id])).types[0]).toMatchObject({ cores: 1, builds: 1 });
  });

  it('is asked of all types that have a free core where none is named, and answers nothing to what is not there', async () => {
    const everything = await owner.get<Buildable>('/api/buildable');
    expect(everything.body.types.length).toBeGreaterThan(5);
    expect((await ask([newId()])).types).toEqual([]);
    expect((await owner.get('/api/buildable?types=x')).status).toBe(422);
    expect((await owner.get('/api/buildable?own=perhaps')).status).toBe(422);
  });
});

describe('what could be built when cores may be broken', () => {
  /** A type with these components, of each of which so many were looked at and so many of those were good. */
  async function donorType(model: string, components: { partId: string; quantity?: number; good: number; looked: number }[]) {
    const id = await type(model, 0, []);
    await stock.query('DELETE FROM unit_type_components WHERE unit_type_id = $1', [id]);
    for (const [index, { partId, quantity, good, looked }] of components.entries()) {
      await stock.query(
        'INSERT INTO unit_type_components (unit_type_id, position, name, quantity, part_id) VALUES ($1, $2, $3, $4, $5)',
        [id, index + 1, 'Worm wheel', quantity ?? 1, partId],
      );
      await stock.query(
        "INSERT INTO component_yields (unit_type_id, position, grade, looked, serviceable) VALUES ($1, $2, '', $3, $4)",
        [id, index + 1, looked, good],
      );
    }
    return id;
  }
  const cores = async (typeId: string, count: number) => {
    const made = [];
    for (let core = 0; core < count; core += 1) made.push(await stock.unit({ unitTypeId: typeId }));
    return made;
  };
  const broken = { donors: 'broken' };

  it('names the cores that it rests on, and takes of them only what surely comes out', async () => {
    const wheel = await stock.part({ name: 'Worm wheel', number: 'WW 31' });
    await stock.lot(wheel);
    const id = await type('D1', 4, [{ partId: wheel }]);
    const donor = await donorType('D2', [{ partId: wheel, good: 14, looked: 16 }]);
    const units = await cores(donor, 3);
    expect((await ask([id])).total).toBe(1);
    expect((await ask([id])).donors).toBeNull();
    const { total, donors } = await ask([id], broken);
    const seen = { serviceable: 14, looked: 16 };
    const sure = [1, 2, 3].map((count) => surelyGood(seen, count));
    expect(sure).toEqual([0, 1, 2]);
    expect(total).toBe(1 + sure[2]!);
    expect(donors).toMatchObject({
      resting: 2,
      broken: [{ unitType: { id: donor }, gives: [{ part: { id: wheel }, pieces: 2 }] }],
    });
    expect(donors!.broken[0]!.units.map(({ id: unitId }) => unitId)).toEqual(units.map((unit) => unit.id));
    const spoken = units.map(({ code }) => formatCode(code as LabelCode)).join(', ');
    expect(donors!.words).toBe(`2 of the 3 rest on 3 cores not yet stripped: ${spoken}.`);
  });

  it('never breaks a core that is built on, one that is promised, on a job, a customer’s, opened or stripped', async () => {
    const wheel = await stock.part({ name: 'Worm wheel' });
    const id = await donorType('D3', [{ partId: wheel, good: 40, looked: 40 }]);
    await stock.query("INSERT INTO unit_type_operations (unit_type_id, number, name, minutes) VALUES ($1, 20, 'Build', 60)", [
      id,
    ]);
    await stock.query(
      'INSERT INTO unit_type_lines (unit_type_id, line_no, part_id, quantity, operation_number) VALUES ($1, 1, $2, 1, 20)',
      [id, wheel],
    );
    const [one, two, three] = await cores(id, 3);
    expect(await ask([id], broken)).toMatchObject({ total: 1, types: [{ cores: 3, builds: 1 }], donors: { resting: 1 } });
    await cores(id, 1);
    expect((await ask([id], broken)).total).toBe(2);
    await stock.query('INSERT INTO claims (id, thing_id, claimant_id, quantity) VALUES ($1, $2, $1, 1)', [newId(), one!.id]);
    expect((await ask([id], broken)).total).toBe(1);
    await owner.post(`/api/units/${two!.id}/components`, {
      id: newId(),
      position: 1,
      name: 'Worm wheel',
      partId: wheel,
      placeId: stock.placeId,
    });
    expect((await ask([id], broken)).types[0]).toMatchObject({ cores: 3, builds: 1 });
    expect((await owner.post(`/api/units/${three!.id}/strip-downs`, { id: newId() })).status).toBe(200);
    const { donors } = await ask([id], broken);
    expect(donors!.broken.flatMap(({ units }) => units.map((unit) => unit.id))).not.toContain(three!.id);
    await stock.unit({ unitTypeId: id, ownerId: await stock.customer() });
    expect((await ask([id], broken)).types[0]).toMatchObject({ cores: 2, builds: 1 });
  });

  it('claims nothing of what too few were looked at, of rubber, or where the build standard takes no such part', async () => {
    const [few, seal, wheel] = [await stock.part(), await stock.part({ material: 'rubber', polymer: 'NBR' }), await stock.part()];
    const donor = await donorType('D4', [
      { partId: few, good: 4, looked: 4 },
      { partId: seal, good: 40, looked: 40 },
    ]);
    await cores(donor, 2);
    const [ofFew, ofSeal, ofWheel] = [
      await type('D5', 1, [{ partId: few }]),
      await type('D6', 1, [{ partId: seal }]),
      await type('D7', 1, [{ partId: wheel }]),
    ];
    const answer = await ask([ofFew, ofSeal], broken);
    expect(answer).toMatchObject({ total: 0, donors: { resting: 0, broken: [] } });
    expect(answer.donors!.words).toContain('No core in the yard surely gives anything');
    await cores(await donorType('D8', [{ partId: wheel, good: 40, looked: 40 }]), 1);
    expect((await ask([ofWheel], broken)).total).toBe(1);
    const { standards } = (
      await owner.get<{ standards: { id: string; name: string; version: number }[] }>('/api/build-standards')
    ).body;
    const standard = standards.find(({ name }) => name === 'as original')!;
    const rules = { ways: ['same as'], sources: ['new', 'old stock'], makes: [], gradeLeast: '' };
    expect((await owner.patch(`/api/build-standards/${standard.id}`, rules, { ifMatch: standard.version })).status).toBe(200);
    const original = await ask([ofWheel], { ...broken, standard: 'as original' });
    expect(original.donors!.words).toMatch(/^Nothing is counted on from cores: this build standard accepts new, old stock/);
    expect(original.total).toBe(0);
  });

  it('gives as many of a component as the core has, through what may stand for the part as well', async () => {
    const [wanted, same] = [await stock.part({ name: 'Pinion' }), await stock.part({ name: 'Pinion' })];
    await relate(same, 'same as', wanted);
    const id = await type('D9', 3, [{ partId: wanted, quantity: '2' }]);
    await cores(await donorType('D10', [{ partId: same, quantity: 4, good: 60, looked: 60 }]), 1);
    const { total, donors } = await ask([id], broken);
    const pieces = surelyGood({ serviceable: 60, looked: 60 }, 1, 4);
    expect(pieces).toBe(4);
    expect(total).toBe(2);
    expect(donors!.broken).toMatchObject([{ gives: [{ part: { id: wanted }, pieces }] }]);
  });
});
