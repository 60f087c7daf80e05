import { newId } from '../../apps/api/src/platform/new-id.js';
import { verifyBooks } from '../../apps/api/src/stores/verify/verify-books.js';
import { type Disposition, dispositions, type RecordStripFinding } from '../../libs/contracts/src/cores.js';
import { notGraded, type YieldChoices, type Yields } from '../../libs/contracts/src/yields.js';
import { coresToBuy, yieldOf } from '../../libs/yields/src/component-yield.js';
import { type BareServer, startBareServer, type Visitor } from '../support/bare-server.js';
import { keyRow, openLoad, unitRow } from '../support/load-stock.js';
import { type Made, Stock } from '../support/stock.js';
import { type Expected, StripBench, unitTypeOf } from '../support/strip-bench.js';

let server: BareServer;
let owner: Visitor;
let stock: Stock;

beforeAll(async () => {
  server = await startBareServer('yields');
  owner = await server.setUp();
  stock = await Stock.open(server.testDatabase.ownerUrl);
  await stock.query(
    "INSERT INTO grades (scale, letter, rank, meaning) VALUES ('core', 'A', 1, 'whole'), ('core', 'C', 3, 'poor') ON CONFLICT (scale, letter) DO NOTHING",
  );
});
afterAll(async () => {
  expect(await verifyBooks(server.database)).toEqual([]);
  await stock.close();
  await server.stop();
});

const worm: Expected[] = [{ name: 'Worm' }];

async function strip(typeId: string, unit?: Made): Promise<StripBench> {
  return StripBench.open(owner, unit ?? (await stock.unit({ unitTypeId: typeId })));
}

/** So many units, of each of which the component at position 1 is given a fate. */
async function stripMany(typeId: string, fates: readonly Disposition[], grade = ''): Promise<void> {
  for (const fate of fates) {
    const unit = await stock.unit({ unitTypeId: typeId });
    await stock.query('UPDATE units SET grade = $2 WHERE thing_id = $1', [unit.id, grade]);
    await (await strip(typeId, unit)).recorded(1, fate, { placeId: stock.placeId, ownersWord: '' });
  }
}

const ask = async (asked: Record<string, string>) => (await owner.get<Yields>(`/api/yields?${new URLSearchParams(asked)}`)).body;
const counted = async (asked: Record<string, string>) =>
  (await ask(asked)).components.map(({ name, serviceable, afterWork, looked }) => [name, serviceable, afterWork, looked]);

describe('how often a component was serviceable', () => {
  it('is what was looked at and used or kept as it came out; what is held until somebody decides counts in neither', async () => {
    const type = await unitTypeOf(stock, worm);
    const outworker = newId();
    await stock.query('INSERT INTO parties (id, name, is_outworker) VALUES ($1, $2, true)', [outworker, `Strake ${outworker}`]);
    const bench = async (fate: Disposition, more: Partial<RecordStripFinding> = {}) =>
      (await strip(type)).recorded(1, fate, { placeId: stock.placeId, ...more });
    for (const fate of dispositions) await bench(fate, fate === 'send out' ? { firmId: outworker, placeId: null } : {});
    expect(await counted({ type })).toEqual([['Worm', 3, 2, 7]]);
  });

  it('counts pieces that are missing or are another thing as looked at and not serviceable, and leaves out what nobody expected', async () => {
    const type = await unitTypeOf(stock, [{ name: 'Pinions', quantity: '4' }]);
    const bench = await strip(type);
    await bench.recorded(1, 'left in place', { quantity: '2' });
    await bench.recorded(1, null, { kind: 'missing' });
    await bench.recorded(1, 'scrap', { kind: 'wrong', words: 'of another axle' });
    await bench.recorded(null, 'left in place', { kind: 'extra', name: 'Spacer' });
    expect(await counted({ type })).toEqual([['Pinions', 2, 0, 4]]);
  });

  it('counts in no yield what got its usual fate and was never looked at', async () => {
    const type = await unitTypeOf(stock, worm);
    const bench = await strip(type);
    expect((await bench.rest(null)).status).toBe(200);
    expect(await counted({ type })).toEqual([['Worm', 0, 0, 0]]);
    const { findings } = (await bench.shown()).components[0]!;
    await bench.recorded(1, 'replace', { supersedesId: findings[0]!.id });
    expect(await counted({ type })).toEqual([['Worm', 0, 0, 1]]);
  });

  it('follows a finding that is put right, and then counts as it was put right', async () => {
    const type = await unitTypeOf(stock, worm);
    const bench = await strip(type);
    const first = await bench.recorded(1, 'left in place');
    const second = await bench.recorded(1, 'replace', { supersedesId: first.finding.id });
    expect(await counted({ type })).toEqual([['Worm', 0, 0, 1]]);
    const third = await bench.recorded(1, 'hold', { supersedesId: second.finding.id, placeId: stock.placeId });
    expect(await counted({ type })).toEqual([['Worm', 0, 0, 0]]);
    await bench.recorded(1, 're-use after rework', { supersedesId: third.finding.id, placeId: stock.placeId });
    expect(await counted({ type })).toEqual([['Worm', 0, 1, 1]]);
  });

  it('stays right when two are written at the same moment, and goes along when a unit is graded anew', async () => {
    const type = await unitTypeOf(stock, worm);
    const benches: StripBench[] = [];
    for (let bench = 0; bench < 6; bench += 1) benches.push(await strip(type));
    await Promise.all(benches.map((bench, index) => bench.recorded(1, index % 2 === 0 ? 'left in place' : 'replace')));
    expect(await counted({ type, grade: notGraded })).toEqual([['Worm', 3, 0, 6]]);
    const [unit] = await stock.query<{ id: string }>('SELECT unit_id AS id FROM strip_downs WHERE id = $1', [benches[0]!.id]);
    await stock.query("UPDATE units SET grade = 'A' WHERE thing_id = $1", [unit!.id]);
    expect(await counted({ type, grade: 'A' })).toEqual([['Worm', 1, 0, 1]]);
    expect(await counted({ type, grade: notGraded })).toEqual([['Worm', 2, 0, 5]]);
  });

  it('cannot be written by whoever serves requests', async () => {
    await expect(server.database.rows('UPDATE component_yields SET looked = 99')).rejects.toMatchObject({ code: '42501' });
  });
});

describe('the answer', () => {
  it('has the range and the cores to buy by the library, whose figures are checked against another, and says so in words', async () => {
    const type = await unitTypeOf(stock, worm);
    await stripMany(type, ['left in place', 'left in place', 'left in place', 'replace', 'left in place', 'replace'], 'A');
    const [worms] = (await ask({ type, wanted: '3' })).components;
    const { mean, interval } = yieldOf({ serviceable: 4, looked: 6 });
    expect(worms).toMatchObject({
      looked: 6,
      serviceable: 4,
      enough: true,
      inHundred: { least: Math.floor(interval.least * 100), mean: Math.round(mean * 100), most: Math.ceil(interval.most * 100) },
      cores: coresToBuy({ serviceable: 4, looked: 6 }, 3),
    });
    expect(worms!.words).toBe('4 of 6 that were looked at were serviceable: between 34 and 90 in 100; expect 64.');
    expect((await ask({ type, grade: 'C' })).components[0]!.words).toBe('Nobody has looked at one yet.');
  });

  it('goes from the worst to the best, and what too few were looked at of comes last and claims nothing', async () => {
    const type = await unitTypeOf(stock, [{ name: 'Hub' }, { name: 'Worm' }, { name: 'Cross' }, { name: 'Lid' }]);
    for (let unit = 0; unit < 6; unit += 1) {
      const bench = await strip(type);
      await bench.recorded(1, 'left in place');
      await bench.recorded(2, unit === 0 ? 'left in place' : 'replace');
      if (unit < 2) await bench.recorded(3, 'replace');
    }
    const { components, stripDowns } = await ask({ type });
    expect(stripDowns).toBe(6);
    expect(components.map(({ name, enough }) => [name, enough])).toEqual([
      ['Worm', true],
      ['Hub', true],
      ['Cross', false],
      ['Lid', false],
    ]);
    expect(components[2]).toMatchObject({
      cores: null,
      words: '0 of 2 that were looked at were serviceable: not enough looked at to say.',
    });
    expect((await ask({})).components.some(({ name }) => name === 'Lid')).toBe(false);
  });

  it('is asked for by load and by seller, and a row that was struck out belongs to neither', async () => {
    const type = await unitTypeOf(stock, worm);
    const load = await openLoad(owner, 'three worm axles');
    const rows = [];
    for (let position = 1; position <= 3; position += 1)
      rows.push(
        (await keyRow(owner, load.id, unitRow({ position, unitTypeId: type, words: '', placeId: stock.placeId, grade: 'A' })))
          .body,
      );
    for (const [index, row] of rows.slice(0, 2).entries())
      await (await strip(type, { id: row.id, code: row.code })).recorded(1, index === 0 ? 'left in place' : 'scrap');
    await (await strip(type)).recorded(1, 'left in place');
    expect(await counted({ type })).toEqual([['Worm', 2, 0, 3]]);
    expect(await counted({ load: load.id })).toEqual([['Worm', 1, 0, 2]]);
    expect(await counted({ load: load.id, grade: 'C' })).toEqual([]);
    const choices = (await owner.get<YieldChoices>('/api/yield-choices')).body;
    const seller = choices.sellers.find(({ name }) => name === 'Dray & Tolliver, sale rooms');
    expect(await counted({ type, seller: seller!.id })).toEqual([['Worm', 1, 0, 2]]);
    expect(choices.loads.map(({ id }) => id)).toContain(load.id);
    expect(choices.grades).toEqual(expect.arrayContaining(['A', notGraded]));
    await stock.query('UPDATE load_rows SET struck_out = true WHERE thing_id = $1', [rows[0]!.id]);
    expect(await counted({ load: load.id })).toEqual([['Worm', 0, 0, 1]]);
  });

  it('counts of a load what was put right as it stands now, in every strip-down by itself', async () => {
    const type = await unitTypeOf(stock, [{ name: 'Worm' }, { name: 'Lid' }]);
    const load = await openLoad(owner, 'two worm axles that were put right');
    const row = (position: number) => unitRow({ position, unitTypeId: type, words: '', placeId: stock.placeId, grade: 'A' });
    const benches: StripBench[] = [];
    for (const position of [1, 2]) benches.push(await strip(type, (await keyRow(owner, load.id, row(position))).body));
    for (const bench of benches) {
      const worm = await bench.recorded(1, 'left in place');
      await bench.recorded(2, 'left in place');
      const again = await bench.recorded(1, 'replace', { supersedesId: worm.finding.id });
      if (bench === benches[0]) await bench.recorded(1, 'hold', { supersedesId: again.finding.id, placeId: stock.placeId });
    }
    expect((await counted({ load: load.id })).toSorted()).toEqual([
      ['Lid', 2, 0, 2],
      ['Worm', 0, 0, 1],
    ]);
    expect((await counted({ load: load.id })).toSorted()).toEqual((await counted({ type })).toSorted());
  });

  it('refuses what names nothing', async () => {
    for (const query of ['type=x', 'wanted=0', 'wanted=many', 'who=me'])
      expect((await owner.get(`/api/yields?${query}`)).status).toBe(422);
  });
});

describe('the check of the books', () => {
  it('finds a count that differs from the findings', async () => {
    const type = await unitTypeOf(stock, worm);
    await (await strip(type)).recorded(1, 'left in place');
    await stock.query('UPDATE component_yields SET serviceable = 0 WHERE unit_type_id = $1', [type]);
    expect(await verifyBooks(server.database)).toMatchObject([
      { what: 'yield of a component', kept: '0, 0, 1', rebuilt: '1, 0, 1' },
    ]);
    await stock.query('UPDATE component_yields SET serviceable = 1 WHERE unit_type_id = $1', [type]);
    expect(await verifyBooks(server.database)).toEqual([]);
  });
});
