import { newId } from '../../apps/api/src/platform/new-id.js';
import type { CoreWorths } from '../../libs/contracts/src/core-ages.js';
import type { Coverage } from '../../libs/contracts/src/coverage.js';
import type { JobCard } from '../../libs/contracts/src/jobs.js';
import { addDays } from '../../libs/quantities/src/plain-date.js';
import { type BareServer, startBareServer, type Visitor } from '../support/bare-server.js';
import { Stock } from '../support/stock.js';

let server: BareServer;
let owner: Visitor;
let stock: Stock;
let today: string;

beforeAll(async () => {
  server = await startBareServer('all_jobs');
  owner = await server.setUp();
  stock = await Stock.open(server.testDatabase.ownerUrl);
  today = (await owner.get<{ today: string }>('/api/workshop')).body.today;
  await stock.query("INSERT INTO parties (id, name, is_supplier) VALUES ($1, 'Veldrow Bearings', true)", [newId()]);
});
afterAll(async () => {
  await stock.close();
  await server.stop();
});

const coverageOf = async (jobId: string): Promise<Coverage> => (await owner.get<Coverage>(`/api/jobs/${jobId}/coverage`)).body;
const statesOf = async (jobId: string, line = 0): Promise<string[]> =>
  (await coverageOf(jobId)).lines[line]!.shares.map(({ state, quantity }) => `${quantity} ${state}`);
const priority = (jobId: string, figure: number) => stock.query('UPDATE jobs SET priority = $2 WHERE id = $1', [jobId, figure]);

async function order(partId: string, facts: { quantity: string; dueOn: string; forJobId?: string }): Promise<void> {
  const answer = await owner.post('/api/receipts', {
    id: newId(),
    orderReference: `order ${newId()}`,
    supplierName: 'Veldrow Bearings',
    partId,
    confirmed: true,
    forJobId: null,
    ...facts,
  });
  expect(answer.status).toBe(200);
}

describe('several jobs that want the same', () => {
  it('are served by priority; whoever goes without is told who has it and why', async () => {
    const partId = await stock.part({ name: 'Worm' });
    const worm = await stock.lot(partId, { quantity: '1' });
    const first = await stock.job([{ partId, critical: true }]);
    const second = await stock.job([{ partId, critical: true }]);
    expect([await statesOf(first.id), await statesOf(second.id)]).toEqual([['1 free in stores'], ['1 lacking']]);
    await priority(second.id, 1);
    expect([await statesOf(first.id), await statesOf(second.id)]).toEqual([['1 lacking'], ['1 free in stores']]);
    const [line] = (await coverageOf(first.id)).lines;
    expect(line!.elsewhere).toEqual([
      {
        job: { id: second.id, code: second.code, name: 'Overhead-worm axle' },
        thing: { id: worm.id, code: worm.code, name: 'Worm' },
        receiptId: null,
        quantity: '1',
        how: 'goes to it first',
        words: expect.stringContaining('goes to it first: priority 1 comes before 3'),
      },
    ]);
    expect((await coverageOf(first.id)).advice).toMatchObject({ kind: 'none', toFind: [{ name: 'Worm' }] });
    expect((await coverageOf(second.id)).lines[0]!.elsewhere).toEqual([]);
  });

  it('at one priority by the date that was given, then by age', async () => {
    const partId = await stock.part();
    await stock.lot(partId, { quantity: '1' });
    const [older, dated] = [await stock.job([{ partId }]), await stock.job([{ partId }])];
    await stock.query('UPDATE jobs SET opened_on = current_date - 30 WHERE id = $1', [older.id]);
    expect(await statesOf(older.id)).toEqual(['1 free in stores']);
    const given = addDays(today, 90);
    const answer = await owner.post(`/api/jobs/${dated.id}/dates`, { given, reason: 'he was here before' });
    expect(answer.status).toBe(200);
    expect([await statesOf(older.id), await statesOf(dated.id)]).toEqual([['1 lacking'], ['1 free in stores']]);
    expect((await coverageOf(older.id)).lines[0]!.elsewhere[0]!.words).toContain('a date was given for it that comes before');
  });

  it('each have their critical lines served before their own others, but not before an earlier job’s others', async () => {
    const partId = await stock.part();
    await stock.lot(partId, { quantity: '2' });
    const early = await stock.job([{ partId }, { partId, critical: true }]);
    const late = await stock.job([{ partId, critical: true }]);
    expect([await statesOf(early.id, 0), await statesOf(early.id, 1), await statesOf(late.id)]).toEqual([
      ['1 free in stores'],
      ['1 free in stores'],
      ['1 lacking'],
    ]);
    await stock.query('UPDATE job_lines SET quantity = 2 WHERE id = $1', [early.lineIds[1]]);
    expect([await statesOf(early.id, 0), await statesOf(early.id, 1)]).toEqual([['1 lacking'], ['2 free in stores']]);
  });

  it('leave to a later job what only it can use, where the earlier one loses nothing', async () => {
    const [wanted, other] = [await stock.part(), await stock.part()];
    await stock.lot(wanted, { quantity: '1', source: 'bought used', condition: 'A' });
    await stock.lot(wanted, { quantity: '1', source: 'new' });
    const easy = await stock.job([{ partId: wanted }]);
    const strict = await stock.job([{ partId: wanted, sources: ['new'] }, { partId: other }]);
    expect([await statesOf(easy.id), await statesOf(strict.id)]).toEqual([['1 free in stores'], ['1 free in stores']]);
  });

  it('wait for orders in the order in which they are served: the first for the first that comes', async () => {
    const partId = await stock.part();
    const [first, second, third] = [await stock.job([{ partId }]), await stock.job([{ partId }]), await stock.job([{ partId }])];
    await order(partId, { quantity: '1', dueOn: addDays(today, 40) });
    await order(partId, { quantity: '1', dueOn: addDays(today, 10) });
    const dueFor = async (jobId: string) => (await coverageOf(jobId)).lines[0]!.shares.map(({ dueOn }) => dueOn);
    expect(await dueFor(first.id)).toEqual([addDays(today, 10)]);
    expect(await dueFor(second.id)).toEqual([addDays(today, 40)]);
    expect(await statesOf(third.id)).toEqual(['1 lacking']);
    await order(partId, { quantity: '1', dueOn: addDays(today, 5), forJobId: third.id });
    expect(await dueFor(third.id)).toEqual([addDays(today, 5)]);
  });

  it('need more than exists anywhere: the first has what there is, and nobody has a piece twice', async () => {
    const partId = await stock.part();
    await stock.lot(partId, { quantity: '5' });
    const jobs = [];
    for (let index = 0; index < 3; index += 1) jobs.push(await stock.job([{ partId, quantity: '4' }]));
    const states = [];
    for (const job of jobs) states.push(await statesOf(job.id));
    expect(states).toEqual([['4 free in stores'], ['1 free in stores', '3 lacking'], ['4 lacking']]);
  });

  it('want in a ring what the other has, and are answered', async () => {
    const [wheel, worm] = [await stock.part({ name: 'Worm wheel' }), await stock.part({ name: 'Worm' })];
    const [wheelLot, wormLot] = [await stock.lot(wheel, { quantity: '1' }), await stock.lot(worm, { quantity: '1' })];
    const lines = [
      { partId: wheel, critical: true },
      { partId: worm, critical: true },
    ];
    const [one, two] = [await stock.job(lines), await stock.job(lines)];
    expect((await owner.post('/api/picks', { code: wheelLot.code, jobId: one.id })).status).toBe(200);
    expect((await owner.post('/api/picks', { code: wormLot.code, jobId: two.id })).status).toBe(200);
    const [ofOne, ofTwo] = [await coverageOf(one.id), await coverageOf(two.id)];
    expect(ofOne.lines.map(({ state }) => state)).toEqual(['picked', 'lacking']);
    expect(ofTwo.lines.map(({ state }) => state)).toEqual(['lacking', 'picked']);
    expect(ofOne.lines[1]!.elsewhere).toMatchObject([{ job: { id: two.id }, how: 'in its tray', thing: { id: wormLot.id } }]);
    expect(ofTwo.lines[0]!.elsewhere).toMatchObject([{ job: { id: one.id }, how: 'in its tray', thing: { id: wheelLot.id } }]);
  });

  it('of different customers never share what belongs to one of them', async () => {
    const partId = await stock.part();
    const customerId = await stock.customer();
    await stock.lot(partId, { quantity: '1', ownerId: customerId });
    const ours = await stock.job([{ partId }]);
    const theirs = await stock.job([{ partId }], { customerId });
    expect([await statesOf(ours.id), await statesOf(theirs.id)]).toEqual([['1 lacking'], ['1 free in stores']]);
    expect((await coverageOf(ours.id)).lines[0]!.elsewhere).toEqual([]);
  });

  it('bear on one another through what serves in place of a part, over any number of jobs', async () => {
    const [a, b, c] = [await stock.part(), await stock.part(), await stock.part()];
    const relate = async (from: string, to: string) =>
      expect(
        (
          await owner.post(`/api/parts/${from}/relations`, {
            kind: 'same as',
            toPartIds: [to],
            evidence: { kind: 'catalogue', words: 'third edition, page 41' },
            conditions: '',
          })
        ).status,
      ).toBe(200);
    await relate(a, b);
    await relate(b, c);
    await stock.lot(a, { quantity: '1' });
    await stock.lot(c, { quantity: '1' });
    const jobs = [await stock.job([{ partId: b }]), await stock.job([{ partId: c }]), await stock.job([{ partId: a }])];
    const instead = async (jobId: string) =>
      (await coverageOf(jobId)).lines[0]!.shares.map((share) => share.instead?.as ?? share.state);
    // two are covered, and the last in order goes without
    expect(await Promise.all(jobs.map(({ id }) => instead(id)))).toEqual([['same as'], ['free in stores'], ['lacking']]);
  });
});

describe('a build standard that is changed under a half-built job', () => {
  it('leaves what is fitted and reserved, and shares out anew what is not', async () => {
    const partId = await stock.part({ name: 'Gasket' });
    const [pattern, genuine] = [
      await stock.lot(partId, { quantity: '3', make: 'pattern' }),
      await stock.lot(partId, { quantity: '1', make: 'genuine' }),
    ];
    const job = await stock.job([{ partId, quantity: '4' }]);
    const later = await stock.job([{ partId }]);
    expect((await owner.post('/api/fits', { code: pattern.code, jobId: job.id, quantity: '1' })).status).toBe(200);
    expect([await statesOf(job.id), await statesOf(later.id)]).toEqual([
      ['1 fitted', '2 free in stores', '1 free in stores'],
      ['1 lacking'],
    ]);
    const rules = (
      await owner.get<{ standards: { id: string; name: string; ways: string[]; sources: string[]; version: number }[] }>(
        '/api/build-standards',
      )
    ).body;
    const original = rules.standards.find(({ name }) => name === 'as original')!;
    const { ways, sources } = original;
    const edited = await owner.patch(
      `/api/build-standards/${original.id}`,
      { ways, sources, makes: ['genuine'], gradeLeast: '' },
      { ifMatch: original.version },
    );
    expect(edited.status).toBe(200);
    const card = (await owner.get<JobCard>(`/api/jobs/${job.id}`)).body;
    const { title, wanted, priority: before, state, version } = card;
    const changed = await owner.patch(
      `/api/jobs/${job.id}`,
      { title, wanted, buildStandard: 'as original', priority: before, state },
      { ifMatch: version },
    );
    expect(changed.status).toBe(200);
    const [line] = (await coverageOf(job.id)).lines;
    expect(line!.shares.map(({ state, quantity, on }) => [state, quantity, on?.id ?? null])).toEqual([
      ['fitted', '1', null],
      ['free in stores', '1', genuine.id],
      ['lacking', '2', null],
    ]);
    expect(line!.looked.join(' ')).toContain('accepts a make that is genuine; this is pattern');
    // what the one no longer takes, the other may have
    expect(await statesOf(later.id)).toEqual(['1 free in stores']);
  });
});

describe('a job that is closed', () => {
  it('keeps nothing from the others', async () => {
    const partId = await stock.part();
    await stock.lot(partId, { quantity: '1' });
    const first = await stock.job([{ partId }]);
    const second = await stock.job([{ partId }]);
    await stock.query("UPDATE jobs SET state = 'called off' WHERE id = $1", [first.id]);
    expect(await statesOf(second.id)).toEqual(['1 free in stores']);
  });
});

describe('a core in the yard', () => {
  it('counts for a line where enough like it gave the part, after everything else, and makes the date an “if”', async () => {
    const partId = await stock.part({ name: 'Layshaft' });
    const [typeId, makerId] = [newId(), newId()];
    await stock.query('INSERT INTO makers (id, name) VALUES ($1, $2)', [makerId, `Tressick ${makerId}`]);
    await stock.query("INSERT INTO unit_types (id, reference, maker_id, kind, model) VALUES ($1, 'D4', $2, 'gearbox', 'D4')", [
      typeId,
      makerId,
    ]);
    await stock.query(
      "INSERT INTO unit_type_components (unit_type_id, position, name, part_id, quantity) VALUES ($1, 1, 'Layshaft', $2, 1)",
      [typeId, partId],
    );
    const core = await stock.unit({ unitTypeId: typeId });
    const job = await stock.job([{ partId, critical: true }]);
    expect(await statesOf(job.id)).toEqual(['1 lacking']);
    expect((await coverageOf(job.id)).lines[0]!.looked.join(' ')).toContain('nobody has looked at one');
    await stock.query(
      "INSERT INTO component_yields (unit_type_id, position, grade, looked, serviceable) VALUES ($1, 1, '', 9, 7)",
      [typeId],
    );
    const { lines, advice } = await coverageOf(job.id);
    expect(lines[0]!.shares).toMatchObject([{ state: 'from a core', quantity: '1', on: { id: core.id } }]);
    expect(lines[0]!.shares[0]!.words).toMatch(/^not stripped yet; 7 of 9 looked at were serviceable, \d+ to \d+ in a hundred$/);
    expect(advice).toMatchObject({ kind: 'if' });
    expect(advice.conditions.join(' ')).toMatch(/Line 1, layshaft: 1 come out of core U .* fit to be used\./);
    // it is one layshaft, and one core
    const other = await stock.job([{ partId, critical: true }]);
    expect(await statesOf(other.id)).toEqual(['1 lacking']);
    const worths = (await owner.get<CoreWorths>('/api/core-worths')).body;
    expect(worths.cores.find(({ id }) => id === core.id)!.wanted).toMatchObject([{ jobs: [{ id: job.id }, { id: other.id }] }]);
    await stock.lot(partId, { quantity: '1' });
    expect([await statesOf(job.id), await statesOf(other.id)]).toEqual([['1 free in stores'], ['1 from a core']]);
  });
});

describe('a kept set', () => {
  it('serves the first job in order that asks for all of it, and no line that asks for a part of it', async () => {
    const [wheel, worm] = [await stock.part({ name: 'Crown wheel' }), await stock.part({ name: 'Pinion' })];
    const lots = [await stock.lot(wheel, { quantity: '1' }), await stock.lot(worm, { quantity: '1' })];
    const bound = await owner.post('/api/kept-sets', {
      id: newId(),
      words: 'wheel and pinion',
      members: lots.map(({ code }) => ({ code, stamped: '1342' })),
    });
    expect(bound.status).toBe(200);
    const half = await stock.job([{ partId: worm, critical: true }]);
    const both = await stock.job([{ partId: wheel }, { partId: worm }]);
    expect(await statesOf(half.id)).toEqual(['1 lacking']);
    expect((await coverageOf(half.id)).lines[0]!.looked.join(' ')).toContain('goes to a job that asks for all of it');
    expect([await statesOf(both.id, 0), await statesOf(both.id, 1)]).toEqual([['1 free in stores'], ['1 free in stores']]);
    // whoever has the set leaves a loose pinion to the others, also to those who do not ask for the wheel
    await stock.lot(worm, { quantity: '1' });
    expect(await statesOf(half.id)).toEqual(['1 free in stores']);
    await priority(both.id, 1);
    expect(await statesOf(half.id)).toEqual(['1 free in stores']);
  });
});

describe('an empty workshop', () => {
  it('has nothing to share out', async () => {
    const empty = await startBareServer('no_jobs');
    const visitor = await empty.setUp();
    expect((await visitor.get('/api/today')).status).toBe(200);
    expect((await visitor.get<CoreWorths>('/api/core-worths')).body.cores).toEqual([]);
    await empty.stop();
  });
});
