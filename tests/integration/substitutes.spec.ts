import { jest } from '@jest/globals';
import { newId } from '../../apps/api/src/platform/new-id.js';
import type { ScanRefusal } from '../../libs/contracts/src/bench.js';
import type { BuildStandardRules } from '../../libs/contracts/src/build-standards.js';
import type { Coverage } from '../../libs/contracts/src/coverage.js';
import type { JobCard } from '../../libs/contracts/src/jobs.js';
import type { MayServe, RelationShown } from '../../libs/contracts/src/relations.js';
import type { AskingLines, SubstituteAccepted } from '../../libs/contracts/src/substitutes.js';
import { type BareServer, startBareServer, type Visitor } from '../support/bare-server.js';
import { Stock } from '../support/stock.js';

jest.setTimeout(60_000);

let server: BareServer;
let owner: Visitor;
let stock: Stock;

beforeAll(async () => {
  server = await startBareServer('substitutes');
  owner = await server.setUp();
  stock = await Stock.open(server.testDatabase.ownerUrl);
});
afterAll(async () => {
  await stock.close();
  await server.stop();
});

const evidence = { kind: 'catalogue', words: 'third edition, page 41' };
const relate = async (from: string, kind: string, to: string, conditions = '') => {
  const answer = await owner.post<{ relations: RelationShown[] }>(`/api/parts/${from}/relations`, {
    kind,
    toPartIds: [to],
    evidence,
    conditions,
  });
  expect(answer.status).toBe(200);
  return answer.body.relations[0]!;
};
const coverageOf = async (jobId: string) => (await owner.get<Coverage>(`/api/jobs/${jobId}/coverage`)).body;
const cardOf = async (jobId: string) => (await owner.get<JobCard>(`/api/jobs/${jobId}`)).body;
const accept = (jobId: string, lineId: string, partId: string, more: Record<string, unknown> = {}) =>
  owner.post<SubstituteAccepted & { code: string; detail: string }>(`/api/jobs/${jobId}/lines/${lineId}/substitutes`, {
    id: newId(),
    partId,
    marking: 'HALLO.. 25 62',
    bore: '25',
    outside: '62',
    width: '17',
    evidence: { kind: 'measured', words: 'all three with the micrometer' },
    position: 'rear cover, off side',
    forEveryJob: false,
    ...more,
  });
const scan = (act: 'fits' | 'picks', code: string, jobId: string, more: object = {}) =>
  owner.post<{ code: string; detail: string; values: ScanRefusal; line: { lineNo: number } | null }>(`/api/${act}`, {
    code,
    jobId,
    ...more,
  });

/** A job whose one line asks for a part of which nothing is held, and another part of which two lie in stores. */
async function lineAndOther(facts: Parameters<Stock['job']>[1] = {}, lot: Parameters<Stock['lot']>[1] = {}) {
  const [wanted, other] = [await stock.part({ name: 'Hub bearing' }), await stock.part({ name: 'Hub bearing of another box' })];
  const held = await stock.lot(other, { quantity: '2', ...lot });
  const job = await stock.job([{ partId: wanted, quantity: '2', critical: true }], facts);
  return { wanted, other, held, job, lineId: job.lineIds[0]! };
}

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

describe('a substitute accepted for a line', () => {
  it('keeps the marking, the measurements, the evidence, the deviation, the position and the person, on the job’s record too', async () => {
    const { other, job, lineId } = await lineAndOther();
    const accepted = await accept(job.id, lineId, other, {
      bore: '0.9843 in',
      deviation: 'one sealed side; the seal is taken out',
    });
    expect(accepted.status).toBe(200);
    expect(accepted.body.relation).toBeNull();
    const card = await cardOf(job.id);
    expect(card.coverage.lines[0]!.substitutes).toMatchObject([
      {
        part: { id: other },
        marking: 'HALLO.. 25 62',
        measured: '25.0012 × 62 × 17 mm',
        evidence: { kind: 'measured', words: 'all three with the micrometer' },
        deviation: 'one sealed side; the seal is taken out',
        position: 'rear cover, off side',
        acceptedBy: 'Edie Marrack',
      },
    ]);
    expect(card.record[0]).toMatchObject({ kind: 'substitute', by: 'Edie Marrack' });
    expect(card.record[0]!.words).toMatch(
      /^accepted T-.* in place of line 1; old one marked HALLO\.\. 25 62 measured 0\.9843 in × 62 × 17; measured: all three with the micrometer; differs: one sealed side; the seal is taken out; goes to: rear cover, off side; for this job alone$/,
    );
  });

  it('becomes a relation for every job where that is said, once, and another job then finds it', async () => {
    const { wanted, other, job, lineId } = await lineAndOther();
    const { relation, substitute } = (await accept(job.id, lineId, other, { forEveryJob: true, deviation: 'two thou wider' }))
      .body;
    const said = { kind: 'will serve for', from: { id: other }, to: { id: wanted }, conditions: 'two thou wider' };
    expect(relation).toMatchObject(said);
    expect(substitute.relationId).toBe(relation!.id);
    const second = await stock.job([{ partId: wanted, quantity: '1' }]);
    expect((await coverageOf(second.id)).lines[0]!.shares).toMatchObject([
      { instead: { part: { id: other }, isAccepted: false } },
    ]);
    const again = await accept(second.id, second.lineIds[0]!, other, { forEveryJob: true });
    expect(again.body.relation?.id).toBe(relation!.id);
    expect(
      await stock.query('SELECT 1 FROM relations WHERE from_part_id = $1 AND to_part_id = $2', [other, wanted]),
    ).toHaveLength(1);
    // what is withdrawn for every job stands for its own job alone
    await owner.post(`/api/relations/${relation!.id}/withdrawal`, { why: 'it ran hot' });
    expect((await cardOf(job.id)).coverage.lines[0]!.substitutes).toMatchObject([{ relationId: null }]);
  });

  it('is refused where it says nothing, or what cannot be', async () => {
    const { wanted, other, job, lineId } = await lineAndOther();
    const refused = async (partId: string, more: object) => (await accept(job.id, lineId, partId, { ...more })).body.code;
    expect(await refused(wanted, {})).toBe('bad-input');
    expect(await refused(newId(), {})).toBe('bad-input');
    expect(await refused(other, { bore: 'wide' })).toBe('bad-input');
    expect(await refused(other, { bore: '', outside: '', width: '' })).toBe('bad-input');
    expect(await refused(other, { position: ' ' })).toBe('bad-input');
    expect(await refused(other, { evidence: { kind: 'told', words: '' } })).toBe('bad-input');
    expect(await refused(await stock.part({ unit: 'mm' }), {})).toBe('bad-input');
    expect((await accept(newId(), lineId, other)).status).toBe(404);
    expect((await accept(job.id, lineId, other)).status).toBe(200);
    expect(await refused(other, {})).toBe('accepted-already');
    await owner.post(`/api/jobs/${job.id}/lines/${lineId}/waive`, { reason: 'the customer keeps his own' });
    expect(await refused(await stock.part(), {})).toBe('line-waived');
    const closed = await stock.job([{ partId: wanted }], { state: 'done' });
    expect((await accept(closed.id, closed.lineIds[0]!, other)).body.code).toBe('job-closed');
  });

  it('asks in what it differs where the table of bearings, or the measurement, says that it does', async () => {
    const wanted = await stock.part({ number: '6305' });
    const [wider, same] = [await stock.part({ number: '62305' }), await stock.part({ number: '6305-2RS' })];
    const job = await stock.job([{ partId: wanted }, { partId: wanted }]);
    const differs = await accept(job.id, job.lineIds[0]!, wider);
    expect(differs.body).toMatchObject({ code: 'deviation-not-said', detail: expect.stringMatching(/17.*24|24.*17/) });
    expect((await accept(job.id, job.lineIds[0]!, wider, { deviation: '7 mm wider; the cap is bored out' })).status).toBe(200);
    const worn = await accept(job.id, job.lineIds[1]!, same, { outside: '61.2' });
    expect(worn.body).toMatchObject({ code: 'deviation-not-said', detail: expect.stringContaining('61.2') });
    expect((await accept(job.id, job.lineIds[1]!, same)).status).toBe(200);
  });

  it('is withdrawn with a reason and stays on the record; the line is then as before', async () => {
    const { other, job, lineId } = await lineAndOther();
    const { substitute } = (await accept(job.id, lineId, other)).body;
    expect((await coverageOf(job.id)).lines[0]!.state).toBe('free in stores');
    const withdraw = (why: string) => owner.post<{ code: string }>(`/api/substitutes/${substitute.id}/withdrawal`, { why });
    expect((await withdraw(' ')).status).toBe(422);
    expect((await withdraw('measured cold')).status).toBe(200);
    expect((await withdraw('again')).body.code).toBe('withdrawn-already');
    const card = await cardOf(job.id);
    expect(card.coverage.lines[0]).toMatchObject({ state: 'lacking', substitutes: [] });
    expect(card.record.map(({ words }) => words).slice(0, 2)).toEqual([
      expect.stringMatching(/^no longer accepts T-.* in place of line 1: measured cold$/),
      expect.stringMatching(/^accepted /),
    ]);
    await expect(stock.query('DELETE FROM substitutes WHERE id = $1', [substitute.id])).rejects.toThrow();
    await expect(stock.query("UPDATE substitutes SET marking = 'x' WHERE id = $1", [substitute.id])).rejects.toThrow();
  });

  it('is not withdrawn once its job is closed, nor while somebody else changes the job', async () => {
    const { other, job, lineId } = await lineAndOther();
    const { substitute } = (await accept(job.id, lineId, other)).body;
    const withdraw = () => owner.post<{ code: string }>(`/api/substitutes/${substitute.id}/withdrawal`, { why: 'measured cold' });
    await stock.query('BEGIN');
    await stock.query("UPDATE jobs SET state = 'done' WHERE id = $1", [job.id]);
    const waiting = withdraw();
    await new Promise((settle) => setTimeout(settle, 300));
    await stock.query('COMMIT');
    expect(await waiting).toMatchObject({ status: 409, body: { code: 'job-closed' } });
    await stock.query("UPDATE jobs SET state = 'building' WHERE id = $1", [job.id]);
    expect((await withdraw()).status).toBe(200);
  });

  it('is found by the lines of open jobs that ask for a part', async () => {
    const { wanted, job, lineId } = await lineAndOther();
    const asking = async () => (await owner.get<AskingLines>(`/api/parts/${wanted}/asking-lines`)).body.lines;
    expect(await asking()).toMatchObject([{ lineId, lineNo: 1, jobId: job.id, part: { id: wanted }, position: 'Build' }]);
    await owner.post(`/api/jobs/${job.id}/lines/${lineId}/waive`, { reason: 'the customer keeps his own' });
    expect(await asking()).toEqual([]);
  });
});

describe('a scan of another part than the line asks for', () => {
  it('is fitted in place of the line where it is the same, on the word that is on the record', async () => {
    const { wanted, other, held, job } = await lineAndOther();
    await relate(wanted, 'same as', other);
    const picked = await scan('picks', held.code, job.id, { quantity: '1' });
    expect(picked).toMatchObject({ status: 200, body: { line: { lineNo: 1 } } });
    expect((await coverageOf(job.id)).lines[0]!.shares[0]).toMatchObject({ state: 'picked', instead: { as: 'same as' } });
    expect((await scan('fits', held.code, job.id)).status).toBe(200);
    const [line] = (await coverageOf(job.id)).lines;
    expect(line!.state).toBe('fitted');
    expect(line!.fittedFrom).toMatchObject([
      { inPlaceOf: true, why: 'same as', evidence: expect.stringContaining('is the same as') },
      {},
    ]);
  });

  it('waits for somebody’s word where it will only serve, with what is on the record ready to be said', async () => {
    const { wanted, other, held, job, lineId } = await lineAndOther();
    await relate(other, 'will serve for', wanted, 'with the wider spacer');
    const stopped = await scan('fits', held.code, job.id);
    expect(stopped.body.code).toBe('not-accepted-yet');
    expect(stopped.body.values.suggested).toMatchObject({ lineId, evidence: 'with the wider spacer' });
    expect(stopped.body.values.choices[0]).toMatchObject({ kind: 'in-place-of' });
    expect((await scan('picks', held.code, job.id)).body.code).toBe('not-accepted-yet');
    expect((await accept(job.id, lineId, other)).status).toBe(200);
    expect((await scan('picks', held.code, job.id, { quantity: '1' })).status).toBe(200);
    expect((await scan('fits', held.code, job.id)).status).toBe(200);
    expect((await scan('fits', held.code, job.id)).body.code).toBe('line-is-full');
    expect((await coverageOf(job.id)).lines[0]!.fittedFrom[0]!.evidence).toMatch(/^Accepted for this line by Edie Marrack/);
  });

  it('goes where it serves when its own line is full, or when that line is named', async () => {
    const { wanted, other, held, job, lineId } = await lineAndOther();
    await relate(wanted, 'same as', other);
    const operation = await stock.query<{ id: string }>('SELECT operation_id AS id FROM job_lines WHERE id = $1', [lineId]);
    await owner.post(`/api/jobs/${job.id}/lines`, {
      id: newId(),
      partId: other,
      quantity: '1',
      operationId: operation[0]!.id,
      critical: false,
    });
    await stock.bring(held.id, '2', stock.placeId);
    const lineOf = async (more: object) => (await scan('fits', held.code, job.id, { quantity: '1', ...more })).body.line?.lineNo;
    expect(await lineOf({ lineId })).toBe(1);
    expect(await lineOf({})).toBe(2);
    expect(await lineOf({})).toBe(1);
    expect((await scan('fits', held.code, job.id, { quantity: '1' })).body.code).toBe('line-is-full');
  });

  it('does not count nor fit what is counted otherwise', async () => {
    const [wanted, length] = [await stock.part(), await stock.part({ unit: 'mm' })];
    const held = await stock.lot(length, { quantity: '900' });
    await relate(wanted, 'supersession', length);
    const job = await stock.job([{ partId: wanted }]);
    expect((await coverageOf(job.id)).lines[0]!.state).toBe('lacking');
    expect((await scan('fits', held.code, job.id)).body.code).toBe('not-on-this-job');
  });

  it('finds no line where nothing says that it serves', async () => {
    const { held, job } = await lineAndOther();
    expect((await scan('fits', held.code, job.id)).body).toMatchObject({ code: 'not-on-this-job', values: { suggested: null } });
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
