import { jest } from '@jest/globals';
import { newId } from '../../apps/api/src/platform/new-id.js';
import type { AskingLines } from '../../libs/contracts/src/substitutes.js';
import { SubstituteDesk } from '../support/substitute-desk.js';

jest.setTimeout(60_000);

const desk = await SubstituteDesk.open('substitutes');
const { accept, cardOf, coverageOf, lineAndOther, owner, relate, scan, stock } = desk;
afterAll(() => desk.close());

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
    // the first job is served first
    await stock.query('UPDATE job_lines SET quantity = 2 WHERE id = $1', [lineId]);
    await stock.lot(other, { quantity: '9' });
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
