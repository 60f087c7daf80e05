import { jest } from '@jest/globals';
import { newId } from '../../apps/api/src/platform/new-id.js';
import type { BuildStandardRules } from '../../libs/contracts/src/build-standards.js';
import type { MayServe } from '../../libs/contracts/src/relations.js';
import { evidence, SubstituteDesk } from '../support/substitute-desk.js';

jest.setTimeout(60_000);

const desk = await SubstituteDesk.open('covered');
const { accept, coverageOf, lineAndOther, owner, relate, scan, stock } = desk;
afterAll(() => desk.close());

describe('what another part covers', () => {
  it('covers a line with what is the same, and says as what', async () => {
    const { wanted, other, held, job } = await lineAndOther();
    await relate(other, 'same as', wanted);
    const { lines, advice } = await coverageOf(job.id);
    expect(lines[0]).toMatchObject({ state: 'free in stores', stops: false });
    expect(lines[0]!.shares).toMatchObject([
      { quantity: '2', on: { code: held.code }, instead: { part: { id: other }, as: 'same as', isAccepted: true } },
    ]);
    expect(advice.kind).toBe('firm');
  });

  it('makes the date an "if" date where it rests on a will-serve-for that nobody has accepted for the line', async () => {
    const { wanted, other, job, lineId } = await lineAndOther();
    await relate(other, 'will serve for', wanted, 'with the wider spacer');
    const before = await coverageOf(job.id);
    expect(before.lines[0]!.shares).toMatchObject([
      { state: 'free in stores', instead: { as: 'will serve for', conditions: 'with the wider spacer', isAccepted: false } },
    ]);
    expect(before.advice.kind).toBe('if');
    expect(before.advice.conditions.join(' ')).toMatch(/^Line 1, hub bearing: T-.* is accepted in its place\.$/);
    expect((await accept(job.id, lineId, other)).status).toBe(200);
    const after = await coverageOf(job.id);
    expect(after.lines[0]!.shares).toMatchObject([{ instead: { isAccepted: true } }]);
    expect(after.advice.kind).toBe('firm');
  });

  it('takes the part itself before its like, and its like before what will serve', async () => {
    const { wanted, other, job } = await lineAndOther();
    const serving = await stock.part();
    await stock.lot(serving, { quantity: '9' });
    const own = await stock.lot(wanted, { quantity: '1' });
    await stock.query('UPDATE job_lines SET quantity = 4 WHERE id = $1', [job.lineIds[0]]);
    await relate(serving, 'will serve for', wanted);
    await relate(wanted, 'same as', other);
    const { lines } = await coverageOf(job.id);
    expect(lines[0]!.shares.map(({ quantity, instead }) => [quantity, instead?.as ?? 'itself'])).toEqual([
      ['1', 'itself'],
      ['2', 'same as'],
      ['1', 'will serve for'],
    ]);
    expect(lines[0]!.shares[0]!.on?.code).toBe(own.code);
  });

  it('leaves a part to the line that asks for it, unless the other line is critical and that one is not', async () => {
    const [wanted, other] = [await stock.part(), await stock.part()];
    await stock.lot(other, { quantity: '1' });
    await relate(wanted, 'same as', other);
    const equal = await stock.job([{ partId: wanted }, { partId: other }]);
    const states = async (jobId: string) => (await coverageOf(jobId)).lines.map((line) => line.state);
    expect(await states(equal.id)).toEqual(['lacking', 'free in stores']);
    await stock.query("UPDATE jobs SET state = 'called off' WHERE id = $1", [equal.id]);
    const unequal = await stock.job([{ partId: wanted, critical: true }, { partId: other }]);
    expect(await states(unequal.id)).toEqual(['free in stores', 'lacking']);
  });

  it('counts what is on order of its like, after what is held of either', async () => {
    const { wanted, other, job } = await lineAndOther({}, { quantity: '1' });
    await stock.query(
      "INSERT INTO parties (id, name, is_supplier) VALUES ($1, 'Veldrow Bearings', true) ON CONFLICT DO NOTHING",
      [newId()],
    );
    await relate(wanted, 'same as', other);
    const receipt = {
      id: newId(),
      orderReference: `order ${newId()}`,
      supplierName: 'Veldrow Bearings',
      partId: other,
      quantity: '5',
      dueOn: null,
      confirmed: false,
      forJobId: null,
    };
    expect((await owner.post('/api/receipts', receipt)).status).toBe(200);
    const { lines } = await coverageOf(job.id);
    expect(lines[0]!.shares.map(({ state, quantity, instead }) => [state, quantity, instead?.part.id])).toEqual([
      ['free in stores', '1', other],
      ['on order', '1', other],
    ]);
  });

  it('does not count a withdrawn relation, nor two will-serve-for in a row, nor a piece of a kit', async () => {
    const { wanted, other, job } = await lineAndOther();
    const relation = await relate(other, 'will serve for', wanted);
    await owner.post(`/api/relations/${relation.id}/withdrawal`, { why: 'the page was misread' });
    expect((await coverageOf(job.id)).lines[0]!.state).toBe('lacking');
    const between = await stock.part();
    await relate(between, 'will serve for', wanted);
    await relate(other, 'will serve for', between);
    expect((await coverageOf(job.id)).lines[0]!.state).toBe('lacking');
    const kit = await owner.post(`/api/parts/${wanted}/relations`, {
      kind: 'supersession',
      toPartIds: [other, await stock.part()],
      evidence,
    });
    expect(kit.status).toBe(200);
    expect((await coverageOf(job.id)).lines[0]!.state).toBe('lacking');
  });
});

describe('a build standard', () => {
  const standardNamed = async (name: string) =>
    (await owner.get<{ standards: BuildStandardRules[] }>('/api/build-standards')).body.standards.find(
      (each) => each.name === name,
    )!;

  it('as original takes no pattern part once the workshop says so', async () => {
    const { id, version, ways } = await standardNamed('as original');
    const rules = { ways, sources: [], makes: ['genuine', 'original supplier'], gradeLeast: '' };
    expect((await owner.patch(`/api/build-standards/${id}`, rules, { ifMatch: version })).status).toBe(200);
  });

  it('keeps a will-serve-for out of a job as original, with the reason, unless somebody accepts it for the line', async () => {
    const { wanted, other, job, lineId } = await lineAndOther({ buildStandard: 'as original' });
    await relate(other, 'will serve for', wanted);
    const { lines } = await coverageOf(job.id);
    expect(lines[0]).toMatchObject({ state: 'lacking', stops: true });
    expect(lines[0]!.looked.join(' ')).toMatch(/will serve for .* A job built as original does not take that unless somebody/);
    expect((await accept(job.id, lineId, other)).status).toBe(200);
    expect((await coverageOf(job.id)).lines[0]!.state).toBe('free in stores');
  });

  it('keeps a pattern part out of a job as original, whatever way leads to it; a line that says otherwise has its way', async () => {
    const { wanted, other, held, job, lineId } = await lineAndOther({ buildStandard: 'as original' }, { make: 'pattern' });
    await relate(other, 'same as', wanted);
    const { lines } = await coverageOf(job.id);
    expect(lines[0]!.state).toBe('lacking');
    expect(lines[0]!.looked.join(' ')).toMatch(/accepts a make that is genuine or original supplier; this is pattern/);
    expect((await scan('fits', held.code, job.id)).body.code).toBe('not-accepted-by-line');
    await stock.query("UPDATE job_lines SET makes = '{pattern}' WHERE id = $1", [lineId]);
    expect((await coverageOf(job.id)).lines[0]!.state).toBe('free in stores');
  });

  it('answers what may be fitted in place of a part when built so: paths, accepted stock, and what it refuses with the reason', async () => {
    const { wanted, other } = await lineAndOther({}, { make: 'pattern' });
    const serving = await stock.part();
    await relate(other, 'same as', wanted);
    await relate(serving, 'will serve for', wanted);
    const asked = async (query: string) => (await owner.get<MayServe>(`/api/parts/${wanted}/may-serve${query}`)).body;
    const any = await asked('');
    expect(any.standard).toBeNull();
    expect(any.candidates.map(({ part, free }) => [part.id, free])).toEqual([
      [wanted, '0'],
      [other, '2'],
      [serving, '0'],
    ]);
    const original = await asked('?standard=as%20original');
    expect(original.candidates.map(({ part, free }) => [part.id, free])).toEqual([
      [wanted, '0'],
      [other, '0'],
    ]);
    expect(original.candidates[1]!.declined).toMatchObject([
      expect.stringMatching(/^L .*, 2: the build standard accepts a make/),
    ]);
    expect(original.refused[0]).toMatchObject({ part: { id: serving }, why: 'not by this standard' });
    expect((await owner.get(`/api/parts/${wanted}/may-serve?standard=shiny`)).status).toBe(422);
  });

  it('looks at every step of the way, not at the last one alone', async () => {
    const { wanted, job } = await lineAndOther();
    const [newer, serving] = [await stock.part(), await stock.part()];
    await stock.lot(serving, { quantity: '2' });
    await relate(wanted, 'supersession', newer);
    await relate(serving, 'will serve for', newer);
    expect((await coverageOf(job.id)).lines[0]!.state).toBe('free in stores');
    const { id, version, ways: _ways, name: _name, id: _id, version: _version, ...rules } = await standardNamed('serviceable');
    const set = (ways: string[], seen: number) =>
      owner.patch<BuildStandardRules>(`/api/build-standards/${id}`, { ...rules, ways }, { ifMatch: seen });
    expect((await set(['same as', 'will serve for'], version)).status).toBe(200);
    expect((await coverageOf(job.id)).lines[0]!.state).toBe('lacking');
    const { body } = await owner.get<MayServe>(`/api/parts/${wanted}/may-serve?standard=serviceable`);
    expect(body.candidates).toHaveLength(1);
    expect((await set(['same as', 'superseding', 'will serve for'], version + 1)).status).toBe(200);
  });

  it('is edited by the version that was seen, and holds for the open jobs at once', async () => {
    const { wanted, other, job } = await lineAndOther({ buildStandard: "customer's choice" });
    await relate(wanted, 'same as', other);
    const { id, version } = await standardNamed("customer's choice");
    const edit = (rules: object, seen?: number) =>
      owner.patch(
        `/api/build-standards/${id}`,
        { ways: [], sources: [], makes: [], gradeLeast: '', ...rules },
        { ifMatch: seen },
      );
    expect((await edit({})).status).toBe(428);
    expect((await edit({}, version + 1)).status).toBe(412);
    expect((await edit({ gradeLeast: 'Q' }, version)).status).toBe(422);
    expect((await coverageOf(job.id)).lines[0]!.state).toBe('free in stores');
    expect((await edit({}, version)).status).toBe(200);
    expect((await coverageOf(job.id)).lines[0]!.state).toBe('lacking');
  });
});

describe('two parts that are called the same and differ', () => {
  it('are said to differ with the relation, and do not stand for one another without a word', async () => {
    const [one, other] = [await stock.part({ number: '6204' }), await stock.part({ number: '6304' })];
    const relation = await relate(one, 'same as', other);
    expect(relation.doubt).toMatch(/47.*52|52.*47/);
    await stock.lot(other, { quantity: '1' });
    const job = await stock.job([{ partId: one }]);
    const [line] = (await coverageOf(job.id)).lines;
    expect(line!.shares).toMatchObject([{ instead: { isAccepted: false, words: expect.stringContaining('But: ') } }]);
    const alike = await relate(await stock.part({ number: '6004-2RS' }), 'same as', await stock.part({ number: '6004DDU' }));
    expect(alike.doubt).toBe('');
  });
});
