import { jest } from '@jest/globals';
import { newId } from '../../apps/api/src/platform/new-id.js';
import type { UsualFateGiven } from '../../libs/contracts/src/cores.js';
import type { BareServer, Visitor } from '../support/bare-server.js';
import type { Stock } from '../support/stock.js';
import type { Problem } from '../support/strip-bench.js';
import { StripScene } from '../support/strip-scene.js';

jest.setTimeout(60_000);

let scene: StripScene;
let server: BareServer;
let owner: Visitor;
let tom: Visitor;
let stock: Stock;
let bin: string;

beforeAll(async () => {
  scene = await StripScene.open('strip');
  ({ server, owner, tom, stock, bin } = scene);
});
afterAll(() => scene.close());

describe('a strip-down', () => {
  it('shows what the type expects, which somebody must look at, and what the unit is called', async () => {
    const { unit, bench } = await scene.opened([
      { name: 'Worm', mustBeLookedAt: true },
      { name: 'Hubs', quantity: '2' },
    ]);
    const shown = await bench.shown();
    expect(shown).toMatchObject({ unit: { id: unit.id, code: unit.code }, begunBy: 'Edie Marrack', closedAt: null, job: null });
    expect(shown.components).toMatchObject([
      { position: 1, name: 'Worm', mustBeLookedAt: true, undecided: '1', toLookAt: '1', findings: [] },
      { position: 2, name: 'Hubs', quantity: '2', undecided: '2', toLookAt: '0', usualFate: 'left in place' },
    ]);
    expect((await scene.thing(unit.id)) as { stage?: string }).toMatchObject({ stage: 'in work' });
  });

  it('is begun once: sent twice it is one, raced by two it is one, and the second is told to go on with it', async () => {
    const unit = await stock.unit();
    const path = `/api/units/${unit.id}/strip-downs`;
    const answers = await Promise.all([owner, tom].map((hands) => hands.post<Problem>(path, { id: newId() })));
    expect(answers.map((answer) => answer.status).sort()).toEqual([200, 409]);
    expect(answers.find((answer) => answer.status === 409)!.body).toMatchObject({ code: 'strip-down-begun' });
    expect(await stock.query('SELECT count(*)::int AS n FROM strip_downs WHERE unit_id = $1', [unit.id])).toEqual([{ n: 1 }]);
  });

  it('of a unit that is sold, away, laid by for another job or stripped already is refused, each in its words', async () => {
    const begin = (id: string, forJobId?: string) =>
      owner.post<Problem>(`/api/units/${id}/strip-downs`, { id: newId(), ...(forJobId && { forJobId }) });
    const customer = await stock.customer('R. Sandiman of the rings');
    const sold = await stock.unit();
    await stock.query("INSERT INTO holders (id, kind) VALUES ($1, 'customer')", [customer]);
    await stock.query(
      `INSERT INTO movements (id, command_key, thing_id, quantity, from_holder_id, to_holder_id, reason, occurred_at)
       SELECT $1, command_key, thing_id, 1, to_holder_id, $3, 'sold', now() FROM movements WHERE thing_id = $2`,
      [newId(), sold.id, customer],
    );
    expect((await begin(sold.id)).body).toMatchObject({
      code: 'unit-sold',
      detail: expect.stringContaining('R. Sandiman of the rings'),
    });
    expect(await scene.ofUnit(sold.id)).toMatchObject({ stripDown: null, cannotBegin: expect.stringContaining('R. Sandiman') });

    const laidBy = await stock.unit();
    const job = await stock.job([{ partId: await stock.part() }]);
    expect((await owner.post('/api/picks', { code: laidBy.code, jobId: job.id })).status).toBe(200);
    expect((await begin(laidBy.id)).body).toMatchObject({
      code: 'claimed-for-another-job',
      detail: expect.stringContaining('Overhead-worm axle'),
    });
    expect((await begin(laidBy.id, job.id)).status).toBe(200);

    const { unit, bench } = await scene.opened([{ name: 'Cross' }]);
    expect((await bench.rest(null)).status).toBe(200);
    expect((await bench.finish()).status).toBe(200);
    expect((await begin(unit.id)).body).toMatchObject({ code: 'stripped-already' });
    expect(await bench.refused(1, 'left in place')).toMatchObject({ code: 'strip-down-finished' });

    const customers = await stock.unit({ ownerId: await stock.customer() });
    expect((await begin(customers.id, job.id)).body).toMatchObject({ code: 'goods-of-another-customer' });
    expect((await begin(newId())).status).toBe(404);
  });

  it('is gone on with by another person, and the record says who saw what', async () => {
    const { bench } = await scene.opened([{ name: 'Worm' }, { name: 'Cross' }]);
    await bench.recorded(1, 'left in place', { finding: 'good' });
    await bench.under(tom).recorded(2, 'hold', { finding: 'cracked', placeId: bin });
    const shown = await bench.shown();
    expect(shown.people).toEqual(['Edie Marrack', 'Tom Hasleby']);
    expect(shown.components[1]!.findings[0]).toMatchObject({ by: 'Tom Hasleby', finding: 'cracked' });
  });
});

describe('what becomes of a component', () => {
  it('to stores: a lot with a label, out of another unit, with its donor, its owner, no work done, and its cost said to be unknown', async () => {
    const partId = await stock.part();
    const { unit, bench } = await scene.opened([{ name: 'Thrust bearing', partId, quantity: '2' }]);
    const done = await bench.recorded(1, 'to stores', { quantity: '2', placeId: bin, finding: 'good', condition: 'B' });
    expect(done.cost).toBe('Its share of the unit’s cost is not known.');
    const lot = await scene.thing(done.thing!.id);
    expect(lot).toMatchObject({ kind: 'lot', source: 'harvested', part: { id: partId }, held: '2', condition: 'B', owner: null });
    expect(lot).toMatchObject({ donor: { id: unit.id, code: unit.code }, thickness: null });
    expect(lot.note).toContain(`Out of U ${unit.code.slice(1, -2)}`);
    const run = { id: newId(), codes: [done.thing!.code], stock: 'bag label', dotsPerInch: 203 };
    expect((await owner.post('/api/label-runs', run)).status).toBe(200);
    const moves = await stock.query<{ reason: string }>('SELECT reason FROM movements WHERE thing_id = $1 ORDER BY sequence', [
      lot.id,
    ]);
    expect(moves.map(({ reason }) => reason)).toEqual(['came in its unit', 'taken off into stores']);
    const [facts] = await stock.query('SELECT donor_unit_id AS unit, donor_position AS position FROM lots WHERE thing_id = $1', [
      lot.id,
    ]);
    expect(facts).toEqual({ unit: unit.id, position: 1 });
  });

  it('shims are measured: each thickness is a lot of its own, with its position', async () => {
    const { bench } = await scene.opened([{ name: 'Shims, thrust housing', quantity: '6', keepsThickness: true }]);
    expect(await bench.refused(1, 'to stores', { placeId: bin, quantity: '2' })).toMatchObject({
      code: 'bad-input',
      detail: expect.stringContaining('Measure Shims'),
    });
    const thin = await bench.recorded(1, 'to stores', { placeId: bin, quantity: '2', thickness: '0.1' });
    const thick = await bench.recorded(1, 'to stores', { placeId: bin, quantity: '4', thickness: '0.25' });
    const rows = await stock.query(
      'SELECT trim_scale(thickness_mm)::text AS thickness, donor_position AS position FROM lots WHERE thing_id = ANY ($1) ORDER BY thickness_mm',
      [[thin.thing!.id, thick.thing!.id]],
    );
    expect(rows).toEqual([
      { thickness: '0.1', position: 1 },
      { thickness: '0.25', position: 1 },
    ]);
    expect((await scene.thing(thin.thing!.id)) as { thickness?: string }).toMatchObject({ thickness: '0.1' });
    const label = (await owner.get<{ labels: unknown }>(`/api/labels/${thin.thing!.code}`)).body;
    expect(JSON.stringify(label)).toContain('0.1 mm');
    expect(await bench.refused(1, 'to stores', { placeId: bin, quantity: '1', thickness: '0' })).toMatchObject({
      code: 'bad-input',
    });
  });

  it('re-used here: it has its tag, lies in the job’s tray, covers the line of its part, and no other job gets it', async () => {
    const partId = await stock.part();
    const { job, bench } = await scene.openedForJob(partId, [{ name: 'Worm carrier', partId }, { name: 'Cross' }]);
    expect((await scene.lineOf(job.id)).state).toBe('not yet looked at');
    const done = await bench.recorded(1, 're-use here', { finding: 'good' });
    expect(done.cover).toBe('Line 1 of the job says so.');
    expect(await scene.thing(done.thing!.id)).toMatchObject({
      kind: 'component',
      position: 1,
      of: 2,
      claims: [{ claimant: { id: job.id } }],
    });
    const line = await scene.lineOf(job.id);
    expect(line.shares.map((share) => share.state)).toEqual(['re-used']);
    const other = await stock.job([{ partId }]);
    expect((await owner.post<Problem>('/api/picks', { code: done.thing!.code, jobId: other.id })).body.code).toBe(
      'claimed-for-another-job',
    );
    expect((await owner.post('/api/fits', { code: done.thing!.code, jobId: job.id })).status).toBe(200);
    expect((await scene.lineOf(job.id)).shares.map((share) => share.state)).toEqual(['fitted']);
  });

  it('what the job always replaces is not re-used', async () => {
    const partId = await stock.part();
    const { bench } = await scene.openedForJob(partId, [{ name: 'Seal', partId, usualFate: 're-use here' }], false);
    expect(await bench.refused(1, 're-use here')).toMatchObject({
      code: 'always-replaced',
      detail: expect.stringContaining('line 1'),
    });
    const rest = await bench.rest<Problem>(null);
    expect(rest.body).toMatchObject({ code: 'nothing-left', detail: expect.stringContaining('always replaces') });
  });

  it('scrap goes to scrap, hold is held back with its reason, replaced lacks for the job', async () => {
    const partId = await stock.part();
    const { job, bench } = await scene.openedForJob(partId, [{ name: 'Wheel', partId }, { name: 'Cross' }]);
    const scrap = await bench.recorded(1, 'scrap', { finding: 'chipped' });
    expect((await scene.thing(scrap.thing!.id)).holdings).toMatchObject([{ words: 'scrap' }]);
    expect((await scene.lineOf(job.id)).state).toBe('lacking');
    const held = await bench.recorded(2, 'hold', { finding: 'stepped', placeId: bin });
    expect((await scene.thing(held.thing!.id)).heldBack).toMatchObject({ reason: 'to be decided: stepped' });
  });

  it('sent out: one piece goes to a firm with its tag, and not to a firm that does no such work', async () => {
    const { bench } = await scene.opened([{ name: 'Half shafts', quantity: '2' }]);
    const [firm, seller] = [newId(), newId()];
    const facts = { isCustomer: false, isSupplier: false, isOutworker: true };
    await owner.post('/api/firms', { id: firm, name: `Strake Grinding ${firm}`, ...facts });
    await owner.post('/api/firms', { id: seller, name: `Dunmarrow ${seller}`, ...facts, isOutworker: false, isSupplier: true });
    expect(await bench.refused(1, 'send out')).toMatchObject({ code: 'bad-input' });
    expect(await bench.refused(1, 'send out', { firmId: seller })).toMatchObject({ code: 'bad-input' });
    const out = await bench.recorded(1, 'send out', { firmId: firm });
    expect(await scene.thing(out.thing!.id)).toMatchObject({
      name: 'Half shafts, piece 1',
      held: '0',
      holdings: [{ words: `Strake Grinding ${firm}` }],
    });
    const second = await bench.recorded(1, 're-use here', { placeId: bin });
    expect(second.thing!.name).toBe('Half shafts, piece 2');
    expect(await bench.refused(1, 'scrap')).toMatchObject({ code: 'more-than-there' });
  });

  it('a customer’s goods stay theirs: scrapped on their word alone, and old parts are kept until they have spoken', async () => {
    const ownerId = await stock.customer();
    const { bench } = await scene.opened([{ name: 'Wheel' }, { name: 'Seal', usualFate: 'replace' }, { name: 'Bearing' }], {
      ownerId,
    });
    expect(await bench.refused(1, 'scrap', { finding: 'cracked' })).toMatchObject({ code: 'owners-word-missing' });
    const scrapped = await bench.recorded(1, 'scrap', { finding: 'cracked', ownersWord: 'Mr Sandiman by telephone' });
    expect(scrapped.finding).toMatchObject({ ownersWord: 'Mr Sandiman by telephone' });
    const lot = await bench.recorded(3, 'to stores', { placeId: bin });
    expect(await scene.thing(lot.thing!.id)).toMatchObject({ owner: { id: ownerId } });
    const rest = await bench.rest<UsualFateGiven>(bin);
    const [seal] = rest.body.given;
    expect(await scene.thing(seal!.thing!.id)).toMatchObject({
      heldBack: { reason: expect.stringContaining('the owner has not said') },
      held: '1',
    });
  });

  it('missing, wrong and extra things are on the record', async () => {
    const { bench } = await scene.opened([{ name: 'Caps', quantity: '2', mustBeLookedAt: true }, { name: 'Cross' }]);
    await bench.recorded(1, null, { kind: 'missing', words: 'never in the crate' });
    await bench.recorded(1, 'left in place', { kind: 'wrong', words: 'a cap of the 5-ton' });
    const extra = await bench.recorded(null, 'to stores', { kind: 'extra', name: 'A brass ring', placeId: bin });
    expect(extra.finding).toMatchObject({ position: 3, kind: 'extra' });
    expect(await scene.thing(extra.thing!.id)).toMatchObject({ kind: 'lot', part: null, name: 'A brass ring' });
    expect(await bench.refused(null, 'to stores', { kind: 'extra', placeId: bin })).toMatchObject({ code: 'bad-input' });
    expect(await bench.refused(2, 'scrap', { kind: 'missing' })).toMatchObject({ code: 'bad-input' });
    expect(await bench.refused(2, null)).toMatchObject({ code: 'bad-input' });
    expect((await bench.shown()).components.map((each) => each.undecided)).toEqual(['0', '1', '0']);
  });

  it('a component claimed by two units is refused, and one that was taken off before goes on with its tag', async () => {
    const one = await scene.opened([{ name: 'Cage' }, { name: 'Cross' }]);
    const other = await scene.opened([{ name: 'Cage' }]);
    const off = await owner.post<{ code: string; id: string }>(`/api/units/${one.unit.id}/components`, {
      id: newId(),
      position: 1,
      name: 'Cage',
      partId: null,
      placeId: bin,
    });
    expect(await other.bench.refused(1, 'hold', { code: off.body.code, placeId: bin })).toMatchObject({
      code: 'component-of-another-unit',
      detail: expect.stringContaining(one.unit.code),
    });
    expect((await one.bench.shown()).components[0]).toMatchObject({ undecided: '0', takenBefore: [{ code: off.body.code }] });
    expect(await one.bench.refused(2, 'hold', { code: off.body.code, placeId: bin })).toMatchObject({
      code: 'another-component',
    });
    await expect(
      server.database.rows('UPDATE components SET unit_id = $2 WHERE thing_id = $1', [off.body.id, other.unit.id]),
    ).rejects.toMatchObject({ constraint: 'component_of_one_unit' });
  });
});

describe('one act for the rest', () => {
  it('gives each its type’s usual fate but for those that must be looked at, and says which remain', async () => {
    const { bench } = await scene.opened([
      { name: 'Worm', mustBeLookedAt: true, usualFate: 're-use here' },
      { name: 'Seal', usualFate: 'replace' },
      { name: 'Hubs', quantity: '2', usualFate: 're-use here' },
      { name: 'Casing' },
      { name: 'Plate', usualFate: null },
    ]);
    expect((await bench.rest<Problem>(null)).body).toMatchObject({
      code: 'bad-input',
      detail: expect.stringContaining('where Hubs'),
    });
    const rest = await bench.rest<UsualFateGiven>(bin);
    expect(rest.body.given.map(({ name, disposition }) => [name, disposition])).toEqual([
      ['Seal', 'replace'],
      ['Hubs', 're-use here'],
      ['Casing', 'left in place'],
    ]);
    expect(rest.body.given[1]!.thing!.name).toBe('Hubs, 2 together');
    expect(rest.body.remaining).toEqual([
      { position: 1, name: 'Worm', why: 'somebody must look at it' },
      { position: 5, name: 'Plate', why: 'its type says no usual fate' },
    ]);
    expect((await bench.finish<Problem>()).body).toMatchObject({
      code: 'not-looked-at',
      detail: expect.stringContaining('Worm'),
    });
    await bench.recorded(1, 'left in place', { finding: 'good' });
    expect((await bench.finish<Problem>()).body).toMatchObject({ code: 'undecided', detail: expect.stringContaining('Plate') });
    await bench.recorded(5, 'scrap');
    expect((await bench.finish()).status).toBe(200);
    // what was never looked at counts in no yield: the record tells the two apart
    const looked = (await bench.shown()).components.flatMap((each) =>
      each.findings.map((finding) => [finding.name, finding.lookedAt]),
    );
    expect(looked).toEqual([
      ['Worm', true],
      ['Seal', false],
      ['Hubs', false],
      ['Casing', false],
      ['Plate', true],
    ]);
  });

  it('pressed by two at once gives each component one fate', async () => {
    const { bench, unit } = await scene.opened([
      { name: 'Seal', usualFate: 'replace' },
      { name: 'Hub', usualFate: 're-use here' },
    ]);
    const answers = await Promise.all([bench.rest(bin), bench.under(tom).rest(bin)]);
    expect(answers.map((answer) => answer.status).sort()).toEqual([200, 409]);
    expect(await stock.query('SELECT count(*)::int AS n FROM components WHERE unit_id = $1', [unit.id])).toEqual([{ n: 2 }]);
  });
});
