import { jest } from '@jest/globals';
import { newId } from '../../apps/api/src/platform/new-id.js';
import type { AcceptanceTerms } from '../../libs/contracts/src/acceptance.js';
import { AcceptanceDesk } from '../support/acceptance-desk.js';
import { addPerson, type BareServer, startBareServer, type Visitor } from '../support/bare-server.js';
import { keyRow, openLoad, unitRow } from '../support/load-stock.js';
import { Stock } from '../support/stock.js';
import { unitTypeOf } from '../support/strip-bench.js';

jest.setTimeout(60_000);

let server: BareServer;
let owner: Visitor;
let bench: Visitor;
let stock: Stock;
let desk: AcceptanceDesk;

beforeAll(async () => {
  server = await startBareServer('acceptance');
  owner = await server.setUp();
  stock = await Stock.open(server.testDatabase.ownerUrl);
  bench = await addPerson(server, owner, 'bench', 'tomh', 'Tom Hasleby');
  for (const [index, letter] of [...'ABCD'].entries())
    await owner.put(`/api/grades/${newId()}`, { scale: 'core', letter, rank: index + 1, meaning: `Grade ${letter}.` });
  desk = await AcceptanceDesk.open(owner, stock);
});
afterAll(async () => {
  await stock.close();
  await server.stop();
});

const gradeOf = async (unitId: string) => (await owner.get<{ grade: string }>(`/api/things/${unitId}`)).body.grade;

describe('what is asked of a core of a type', () => {
  it('says point by point what is acceptable, and what share hangs on each component; the rest is the casing’s', async () => {
    const { body } = await owner.get<AcceptanceTerms>(desk.termsPath);
    expect(body).toMatchObject({ rest: '22.5', fullCredit: '200.00', version: 1 });
    expect(body.points.map(({ point }) => point)).toEqual(['complete', 'assembled', 'cracks', 'holes', 'heat', 'weld']);
    expect(body.components).toMatchObject([
      { name: 'Worm set', share: '45' },
      { name: 'Carrier', share: '20' },
      { name: 'Half shaft', share: '12.5' },
    ]);
  });

  it.each<[string, Record<string, unknown>, RegExp]>([
    [
      'shares above a hundred',
      {
        shares: [
          { position: 1, share: '60' },
          { position: 2, share: '40.0001' },
        ],
      },
      /^The shares are 100\.0001 percent together/,
    ],
    ['a share of nought', { shares: [{ position: 1, share: '0' }] }, /^Worm set: a share is more than nought/],
    ['a share below nought', { shares: [{ position: 1, share: '-5' }] }, /^Worm set: a share is more than nought/],
    ['a share that is no number', { shares: [{ position: 2, share: 'half' }] }, /^Carrier: "half" is not a number/],
    [
      'a component twice',
      {
        shares: [
          { position: 2, share: '5' },
          { position: 2, share: '5' },
        ],
      },
      /^Carrier has a share already/,
    ],
    ['a component that the type does not have', { shares: [{ position: 40, share: '5' }] }, /no component 40/],
    ['a credit below nought', { fullCredit: '-1' }, /less than nought/],
    ['a credit finer than a penny', { fullCredit: '1.005' }, /too fine/],
  ])('is refused with %s, and stays as it was', async (_, more, words) => {
    const answer = await desk.write(desk.terms(more), 1);
    expect(answer.status).toBe(422);
    expect(answer.body.detail).toMatch(words);
    expect((await owner.get<AcceptanceTerms>(desk.termsPath)).body).toMatchObject({ version: 1, rest: '22.5' });
  });

  it('may be a hundred percent of components, and may name no credit', async () => {
    const other = await AcceptanceDesk.open(owner, stock);
    const shares = [
      { position: 1, share: '60' },
      { position: 2, share: '40' },
    ];
    expect((await other.write(other.terms({ shares, fullCredit: '' }), 1)).body).toMatchObject({
      rest: '0',
      fullCredit: null,
      version: 2,
    });
  });

  it('is not overwritten unsaid: of two who write at once one is told, whether it was there before or not', async () => {
    const other = await AcceptanceDesk.open(owner, stock);
    const both = await Promise.all([
      other.write(other.terms({ fullCredit: '1' }), 1),
      other.write(other.terms({ fullCredit: '2' }), 1),
    ]);
    expect(both.map(({ status }) => status).sort()).toEqual([200, 412]);
    expect((await other.write(other.terms())).status).toBe(428);
    const path = `/api/unit-types/${await unitTypeOf(stock, [{ name: 'Cross' }])}/acceptance`;
    const first = await Promise.all(
      ['1', '2'].map((fullCredit) => owner.put(path, other.terms({ shares: [], fullCredit }), { ifMatch: 0 })),
    );
    expect(first.map(({ status }) => status).sort()).toEqual([200, 412]);
  });

  it('is written by those who keep the books; the bench reads all of it but the credit', async () => {
    expect((await desk.under(bench).write(desk.terms(), 1)).status).toBe(403);
    const { body } = await bench.get<AcceptanceTerms>(desk.termsPath);
    expect(body).toMatchObject({ fullCredit: null, rest: '22.5' });
    expect(await owner.get(`/api/unit-types/${newId()}/acceptance`)).toMatchObject({ status: 404 });
  });
});

describe('a sheet that is filled in', () => {
  it('with nothing amiss suggests the best grade and the full credit', async () => {
    const { suggested, decision, superseded } = await desk.filled((await desk.unit()).id);
    expect(suggested.least).toEqual({ kept: '100', grade: 'A', credit: '200.00' });
    expect(suggested).toMatchObject({ most: suggested.least, notLookedAt: 0 });
    expect([decision, superseded]).toEqual([null, false]);
  });

  it('takes away what hangs on each fault, and gives a range for what was not looked at, which is never counted as good', async () => {
    const { suggested } = await desk.filled((await desk.unit()).id, { 3: 'no', heat: 'not looked at' });
    expect(suggested).toEqual({
      least: { kept: '65', grade: 'C', credit: '130.00' },
      most: { kept: '87.5', grade: 'B', credit: '175.00' },
      notLookedAt: 1,
    });
    const none = await desk.fillIn((await desk.unit()).id, { id: newId(), termsVersion: 1, points: [], components: [] });
    expect(none.body.suggested).toMatchObject({
      least: { grade: 'D', credit: '0.00' },
      most: { grade: 'A', credit: '200.00' },
      notLookedAt: 9,
    });
  });

  it('keeps what it was judged by, whatever is asked later, and asks to be looked at again where that changed meanwhile', async () => {
    const other = await AcceptanceDesk.open(owner, stock);
    const unit = await other.unit();
    const before = await other.filled(unit.id, { 1: 'no' });
    await other.write(other.terms({ fullCredit: '900', shares: [] }), 1);
    const late = await other.fillIn(unit.id, other.sheet());
    expect(late).toMatchObject({ status: 412, body: { code: 'asked-otherwise', values: { version: 2 } } });
    const { acceptances } = await other.ofUnit(unit.id);
    expect(acceptances).toEqual([before]);
    expect(before).toMatchObject({
      fullCredit: '200.00',
      suggested: { least: { credit: '110.00' } },
      grades: ['A', 'B', 'C', 'D'],
    });
  });

  it('takes the place of the one before, which stays on record', async () => {
    const unit = await desk.unit();
    const first = await desk.filled(unit.id, { cracks: 'no' }, {});
    const second = await desk.filled(unit.id);
    const { acceptances } = await desk.ofUnit(unit.id);
    expect(acceptances.map(({ id, superseded }) => [id, superseded])).toEqual([
      [second.id, false],
      [first.id, true],
    ]);
  });

  it('leaves one standing when two fill one in at once', async () => {
    const unit = await desk.unit();
    await Promise.all([desk.filled(unit.id), desk.filled(unit.id, { weld: 'no' })]);
    const { acceptances } = await desk.ofUnit(unit.id);
    expect(acceptances.map(({ superseded }) => superseded)).toEqual([false, true]);
  });

  it('may be filled in at the bench, where nothing is told of money', async () => {
    const unit = await desk.unit();
    const filled = await desk.under(bench).filled(unit.id, { 1: 'no' });
    expect(filled).toMatchObject({
      by: 'Tom Hasleby',
      fullCredit: null,
      suggested: { least: { grade: 'C', credit: null }, most: { credit: null } },
    });
    await desk.decide(filled.id, 'C', '110');
    const seen = JSON.stringify(await desk.under(bench).ofUnit(unit.id));
    expect(seen).not.toMatch(/110|200\.00/);
    expect((await desk.under(bench).decide(filled.id, 'C', '110')).status).toBe(403);
    expect((await desk.ofUnit(unit.id)).acceptances[0]?.decision).toMatchObject({ grade: 'C', credit: '110.00' });
  });

  it.each<[string, () => Promise<{ id: string }>, string]>([
    ['a unit that was stripped', async () => inStage('stripped'), 'stripped-already'],
    ['a unit that was rebuilt', async () => inStage('rebuilt'), 'not-a-core'],
    ['a unit that was sold', async () => sold(), 'unit-not-here'],
    ['a unit without a type', async () => stock.unit(), 'not-identified'],
    [
      'a unit of a type of which nothing is asked',
      async () => stock.unit({ unitTypeId: await unitTypeOf(stock, []) }),
      'nothing-asked',
    ],
  ])('is refused for %s, and says what to do next', async (_, make, code) => {
    const unit = await make();
    const answer = await desk.fillIn(unit.id, desk.sheet());
    expect(answer).toMatchObject({ status: 409, body: { code } });
    const { cannot, acceptances } = await desk.ofUnit(unit.id);
    expect(`${cannot} Nothing was changed.`).toBe(answer.body.detail);
    expect(acceptances).toEqual([]);
  });

  it('is refused for what is no unit, with an answer twice, and for a component that is not asked for', async () => {
    const lot = await stock.lot(null);
    expect((await desk.fillIn(lot.id, desk.sheet())).status).toBe(404);
    const unit = await desk.unit();
    const twice = [
      { point: 'weld', answer: 'yes' },
      { point: 'weld', answer: 'no' },
    ];
    expect((await desk.fillIn(unit.id, desk.sheet({}, { points: twice }))).body.detail).toMatch(/answered twice/);
    const shims = [{ position: 4, answer: 'yes' }];
    expect((await desk.fillIn(unit.id, desk.sheet({}, { components: shims }))).body.detail).toMatch(
      /^Component 4 is not asked for/,
    );
    expect((await desk.ofUnit(unit.id)).acceptances).toEqual([]);
  });
});

async function inStage(stage: string): Promise<{ id: string }> {
  const unit = await desk.unit();
  await stock.query('UPDATE units SET stage = $2 WHERE thing_id = $1', [unit.id, stage]);
  return unit;
}

async function sold(unit?: { id: string }): Promise<{ id: string }> {
  const gone = unit ?? (await desk.unit());
  const customer = await stock.customer();
  await stock.query("INSERT INTO holders (id, kind) VALUES ($1, 'customer')", [customer]);
  await stock.query(
    `INSERT INTO movements (id, command_key, thing_id, quantity, from_holder_id, to_holder_id, reason, occurred_at)
     SELECT $1, (SELECT key FROM commands LIMIT 1), $2, 1, $3, $4, 'sold', now()`,
    [newId(), gone.id, stock.placeId, customer],
  );
  return gone;
}

describe('a decision', () => {
  it('as suggested needs no reason, and the unit’s grade follows it', async () => {
    const unit = await desk.unit();
    const { id } = await desk.filled(unit.id, { 3: 'no' });
    const decided = await desk.decide(id, 'b', '175');
    expect(decided.body.decision).toMatchObject({ grade: 'B', credit: '175.00', why: '', by: 'Edie Marrack' });
    expect(await gradeOf(unit.id)).toBe('B');
  });

  it.each<[string, string, string, string]>([
    ['the grade', 'A', '175', 'the grade is A and not B'],
    ['the credit', 'B', '180', 'the credit is not the one'],
    ['no credit where one is suggested', 'B', '', 'the credit is not the one'],
  ])('that differs in %s is refused without a reason, and kept with one', async (_, grade, credit, words) => {
    const unit = await desk.unit();
    const { id } = await desk.filled(unit.id, { 3: 'no' });
    const refused = await desk.decide(id, grade, credit);
    expect(refused).toMatchObject({ status: 409, body: { code: 'needs-reason' } });
    expect(refused.body.detail).toContain(words);
    expect(await gradeOf(unit.id)).toBe('');
    const kept = await desk.decide(id, grade, credit, 'the other shaft is spare in the rack');
    expect(kept.body.decision).toMatchObject({ grade, why: 'the other shaft is spare in the rack' });
    expect(kept.body.suggested.least).toMatchObject({ grade: 'B', credit: '175.00' });
  });

  it('better than what was seen to be good needs a reason, though it lies within the range', async () => {
    const { id } = await desk.filled((await desk.unit()).id, { 3: 'not looked at' });
    expect((await desk.decide(id, 'A', '200')).body).toMatchObject({ code: 'needs-reason' });
    expect((await desk.decide(id, 'B', '175')).status).toBe(200);
  });

  it('is made once, by whoever was first of two', async () => {
    const unit = await desk.unit();
    const { id } = await desk.filled(unit.id);
    const stores = await addPerson(server, owner, 'stores', `joan${newId().slice(-4)}`, 'Joan Mellish');
    const both = await Promise.all([desk.decide(id, 'A', '200'), desk.under(stores).decide(id, 'D', '0', 'rotten')]);
    expect(both.map(({ status }) => status).sort()).toEqual([200, 409]);
    const [kept, other] = both[0].status === 200 ? both : [both[1], both[0]];
    expect(other.body.code).toBe('decided-already');
    expect(other.body.detail).toContain(`${kept.body.decision?.by} has decided grade ${kept.body.decision?.grade}`);
    expect(await gradeOf(unit.id)).toBe(kept.body.decision?.grade);
  });

  it('is refused by a sheet that another has taken the place of, by one for another type, and for a unit that is gone', async () => {
    const unit = await desk.unit();
    const first = await desk.filled(unit.id);
    const second = await desk.filled(unit.id);
    expect((await desk.decide(first.id, 'A', '200')).body.code).toBe('superseded');
    await stock.query('UPDATE units SET unit_type_id = $2 WHERE thing_id = $1', [unit.id, await unitTypeOf(stock, [])]);
    expect((await desk.decide(second.id, 'A', '200')).body.code).toBe('another-type-now');
    await sold(unit);
    expect((await desk.decide(second.id, 'A', '200')).body.code).toBe('unit-not-here');
    expect((await desk.decide(newId(), 'A', '200')).status).toBe(404);
  });

  it('is refused with a letter that is not offered, a credit that cannot be read, and leaves the unit as it was', async () => {
    const unit = await desk.unit();
    const { id } = await desk.filled(unit.id);
    expect((await desk.decide(id, 'Z', '200')).body.detail).toBe('“Z” is not on the scale for cores. Key A, B, C, D.');
    expect((await desk.decide(id, 'A', '2,00')).status).toBe(422);
    expect((await desk.decide(id, '', '200')).status).toBe(422);
    expect(await gradeOf(unit.id)).toBe('');
  });

  it('stands against a row of goods-in that says another grade, until another sheet decides otherwise', async () => {
    const load = await openLoad(owner);
    const row = (await keyRow(owner, load.id, unitRow({ unitTypeId: desk.typeId, grade: 'C' }))).body;
    await desk.decide((await desk.filled(row.id)).id, 'A', '200');
    const path = `/api/loads/${load.id}/rows/${row.id}`;
    const keyed = (grade: string) =>
      owner.put<{ detail: string }>(path, unitRow({ unitTypeId: desk.typeId, grade }), { ifMatch: row.version });
    expect(await keyed('C')).toMatchObject({
      status: 422,
      body: { detail: expect.stringMatching(/^Edie Marrack decided grade A/) as string },
    });
    expect((await keyed('A')).status).toBe(200);
    await desk.decide((await desk.filled(row.id, { 1: 'no' })).id, 'C', '110');
    expect(await gradeOf(row.id)).toBe('C');
  });

  it('and its sheet cannot be changed or removed, not even by the owner of the tables', async () => {
    await expect(stock.query("UPDATE acceptance_decisions SET grade = 'A'")).rejects.toThrow();
    await expect(stock.query('DELETE FROM acceptances')).rejects.toThrow();
    await expect(server.database.rows("UPDATE acceptances SET answers = '{}'")).rejects.toThrow(/permission denied/);
  });
});
