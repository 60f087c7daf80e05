import { jest } from '@jest/globals';
import { newId } from '../../apps/api/src/platform/new-id.js';
import type { BareServer, Visitor } from '../support/bare-server.js';
import type { Stock } from '../support/stock.js';
import { type Problem, unitTypeOf } from '../support/strip-bench.js';
import { StripScene } from '../support/strip-scene.js';

jest.setTimeout(60_000);

let scene: StripScene;
let server: BareServer;
let owner: Visitor;
let tom: Visitor;
let stock: Stock;
let bin: string;

beforeAll(async () => {
  scene = await StripScene.open('putright');
  ({ server, owner, tom, stock, bin } = scene);
});
afterAll(() => scene.close());

describe('a finding that is put right', () => {
  it('takes the place of the first, both stay, and the lot goes back with its label void', async () => {
    const partId = await stock.part();
    const { job, bench } = await scene.openedForJob(partId, [{ name: 'Worm', partId }]);
    const first = await bench.recorded(1, 'to stores', { placeId: bin, finding: 'good' });
    expect((await scene.lineOf(job.id)).state).toBe('free in stores');
    const second = await bench.recorded(1, 're-use here', { supersedesId: first.finding.id, finding: 'good' });
    expect((await scene.lineOf(job.id)).shares.map((share) => share.state)).toEqual(['re-used']);
    expect(await scene.thing(first.thing!.id)).toMatchObject({ held: '0', holdings: [] });
    expect((await owner.get<Problem>(`/api/scan/${first.thing!.code}`)).body).toMatchObject({ code: 'code-void' });
    const findings = (await bench.shown()).components[0]!.findings;
    expect(findings.map((finding) => [finding.disposition, finding.superseded])).toEqual([
      ['re-use here', false],
      ['to stores', true],
    ]);
    expect(await bench.refused(1, 'scrap', { supersedesId: first.finding.id })).toMatchObject({ code: 'finding-not-standing' });
    // held: neither there nor lacking, so the job hears that nothing is seen
    const third = await bench.recorded(1, 'hold', { supersedesId: second.finding.id, placeId: bin });
    expect(third.thing!.code).toBe(second.thing!.code);
    expect((await scene.lineOf(job.id)).shares).toMatchObject([
      { state: 'not yet looked at', words: 'this unit’s own: held until somebody decides' },
    ]);
  });

  it('is refused where the lot is promised or has been used since', async () => {
    const partId = await stock.part();
    const { bench } = await scene.opened([{ name: 'Bearing', partId, quantity: '2' }]);
    const first = await bench.recorded(1, 'to stores', { placeId: bin, quantity: '2' });
    const job = await stock.job([{ partId, quantity: '2' }]);
    expect((await owner.post('/api/picks', { code: first.thing!.code, jobId: job.id, quantity: '1' })).status).toBe(200);
    expect(await bench.refused(1, 'scrap', { supersedesId: first.finding.id, quantity: '2' })).toMatchObject({
      code: 'claimed-for-another-job',
    });
    expect((await owner.post('/api/fits', { code: first.thing!.code, jobId: job.id, quantity: '1' })).status).toBe(200);
    expect(await bench.refused(1, 'scrap', { supersedesId: first.finding.id, quantity: '2' })).toMatchObject({
      code: 'moved-on',
    });
  });

  it('sends a component out that its job has: it stays promised to the job, and comes back so', async () => {
    const partId = await stock.part();
    const { job, bench } = await scene.openedForJob(partId, [{ name: 'Worm', partId }]);
    const firmId = newId();
    const facts = { isCustomer: false, isSupplier: false, isOutworker: true };
    await owner.post('/api/firms', { id: firmId, name: `Strake Grinding ${firmId}`, ...facts });
    const first = await bench.recorded(1, 're-use here', { finding: 'good' });
    const out = await bench.recorded(1, 'send out', { supersedesId: first.finding.id, firmId });
    const kept = () =>
      owner.get<{ reservations: unknown[] }>(`/api/jobs/${job.id}/reservations`).then(({ body }) => body.reservations);
    expect(await kept()).toMatchObject([{ thing: { id: first.thing!.id }, quantity: '1', where: `Strake Grinding ${firmId}` }]);
    await bench.recorded(1, 're-use here', { supersedesId: out.finding.id, placeId: bin });
    expect(await kept()).toMatchObject([{ thing: { id: first.thing!.id }, quantity: '1' }]);
  });

  it('cannot be written over: the database keeps every finding', async () => {
    const { bench } = await scene.opened([{ name: 'Worm' }]);
    await bench.recorded(1, 'left in place');
    await expect(server.database.rows("UPDATE strip_findings SET words = 'never'")).rejects.toMatchObject({ code: '42501' });
    await expect(stock.query("UPDATE strip_findings SET words = 'never'")).rejects.toMatchObject({ code: 'CW001' });
    await expect(stock.query('DELETE FROM strip_downs')).rejects.toMatchObject({ code: 'CW001' });
  });
});

describe('a replaced casing', () => {
  it('links two units, and neither takes over what is stamped on the other', async () => {
    const [from, to] = [await stock.unit(), await stock.unit()];
    await stock.query("UPDATE units SET marks = 'WD7 3306', marks_key = 'WD73306' WHERE thing_id = $1", [from.id]);
    const path = `/api/units/${from.id}/casing-replacement`;
    const body = { id: newId(), unitCode: to.code, why: 'cracked at the spring seat' };
    expect((await owner.post(path, body)).status).toBe(200);
    expect((await scene.ofUnit(from.id)).links).toMatchObject([
      { direction: 'its insides went into', unit: { id: to.id }, marks: '' },
    ]);
    expect((await scene.ofUnit(to.id)).links).toMatchObject([{ direction: 'has the insides of', marks: 'WD7 3306' }]);
    expect((await scene.thing(to.id)) as { marks?: string }).toMatchObject({ marks: '' });
    expect((await owner.post<Problem>(path, { ...body, id: newId() })).body.code).toBe('casing-replaced-already');
    const back = { id: newId(), unitCode: from.code, why: 'the other way' };
    expect((await owner.post<Problem>(`/api/units/${to.id}/casing-replacement`, back)).body.code).toBe('casing-in-a-ring');
    expect((await owner.post<Problem>(`/api/units/${to.id}/casing-replacement`, { ...back, unitCode: to.code })).status).toBe(
      422,
    );
    const customers = await stock.unit({ ownerId: await stock.customer() });
    const theirs = { id: newId(), unitCode: customers.code, why: 'cracked' };
    expect((await owner.post<Problem>(`/api/units/${to.id}/casing-replacement`, theirs)).body.code).toBe(
      'goods-of-another-customer',
    );
  });
});

describe('what the workshop says of findings and of its unit types', () => {
  it('words are added, changed and no longer offered; twice the same is refused', async () => {
    const id = newId();
    expect((await owner.put(`/api/finding-words/${id}`, { word: 'glazed' })).status).toBe(200);
    expect((await owner.put<Problem>(`/api/finding-words/${newId()}`, { word: 'Glazed' })).status).toBe(422);
    expect((await owner.put(`/api/finding-words/${id}`, { word: 'glazed', retired: true })).status).toBe(428);
    expect((await owner.put(`/api/finding-words/${id}`, { word: 'glazed', retired: true }, { ifMatch: 1 })).status).toBe(200);
    const { words } = (await owner.get<{ words: { word: string; retired: boolean }[] }>('/api/finding-words')).body;
    expect(words.at(-1)).toMatchObject({ word: 'glazed', retired: true });
    expect(words.map(({ word }) => word)).toEqual(
      expect.arrayContaining(['pitted', 'brinelled', 'spun bore', 'stripped thread']),
    );
    expect((await tom.put(`/api/finding-words/${newId()}`, { word: 'rough' })).status).toBe(403);
  });

  it('a component gets its usual fate and its part; a unit has one main casing', async () => {
    const typeId = await unitTypeOf(stock, [{ name: 'Casing' }, { name: 'Lid' }]);
    const partId = await stock.part({ name: 'Lid' });
    const path = `/api/unit-types/${typeId}/components`;
    const fate = {
      partId,
      mustBeLookedAt: true,
      usualFate: 'to stores',
      keptSet: '',
      isMainCasing: false,
      keepsThickness: false,
    };
    expect((await owner.patch(`${path}/2`, fate, { ifMatch: 1 })).body).toMatchObject({
      part: { id: partId },
      usualFate: 'to stores',
      version: 2,
    });
    expect((await owner.patch(`${path}/2`, fate, { ifMatch: 1 })).status).toBe(412);
    expect((await owner.patch(`${path}/2`, fate)).status).toBe(428);
    const casing = { ...fate, partId: null, isMainCasing: true };
    expect((await owner.patch(`${path}/1`, casing, { ifMatch: 1 })).status).toBe(200);
    expect((await owner.patch<Problem>(`${path}/2`, casing, { ifMatch: 2 })).body.detail).toContain('Casing is the main casing');
    expect((await owner.get<{ components: unknown[] }>(path)).body.components).toHaveLength(2);
  });
});
