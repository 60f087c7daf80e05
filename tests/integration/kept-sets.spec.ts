import { jest } from '@jest/globals';
import { newId } from '../../apps/api/src/platform/new-id.js';
import { verifyBooks } from '../../apps/api/src/stores/verify/verify-books.js';
import type { JobCard } from '../../libs/contracts/src/jobs.js';
import type { KeptSet } from '../../libs/contracts/src/kept-sets.js';
import type { SearchHit } from '../../libs/contracts/src/stores.js';
import { type BareServer, startBareServer, type Visitor } from '../support/bare-server.js';
import { type Made, Stock } from '../support/stock.js';
import { type Expected, type Problem, StripBench, unitTypeOf } from '../support/strip-bench.js';

jest.setTimeout(60_000);

let server: BareServer;
let owner: Visitor;
let stock: Stock;
let bin: string;

beforeAll(async () => {
  server = await startBareServer('keptsets');
  owner = await server.setUp();
  stock = await Stock.open(server.testDatabase.ownerUrl);
  bin = (await stock.place()).id;
});
afterAll(async () => {
  expect(await verifyBooks(server.database)).toEqual([]);
  await stock.close();
  await server.stop();
});

const wormSet: readonly Expected[] = [
  { name: 'Worm', keptSet: 'worm set', mustBeLookedAt: true },
  { name: 'Worm wheel', keptSet: 'worm set', mustBeLookedAt: true },
  { name: 'Cross' },
];

async function opened(facts: { ownerId?: string } = {}) {
  const unit = await stock.unit({ unitTypeId: await unitTypeOf(stock, wormSet), ...facts });
  return { unit, bench: await StripBench.open(owner, unit) };
}

const setsOf = async (thingId: string): Promise<KeptSet[]> =>
  (await owner.get<{ sets: KeptSet[] }>(`/api/things/${thingId}/kept-sets`)).body.sets;
const found = async (q: string): Promise<SearchHitRow[]> =>
  (await owner.get<{ hits: SearchHitRow[] }>(`/api/search?q=${encodeURIComponent(q)}`)).body.hits;
type SearchHitRow = (typeof SearchHit)['_output'];

/** A pair of lots of one, bound by hand, and the parts that they are of. */
async function boundPair(number = '1342') {
  const parts = [await stock.part({ name: 'Crown wheel' }), await stock.part({ name: 'Pinion' })] as const;
  const [wheel, pinion] = [await stock.lot(parts[0]), await stock.lot(parts[1])];
  const set = await bind([wheel, pinion], [number, number]);
  if (set.status !== 200) throw new Error(JSON.stringify(set.body));
  return { parts, wheel, pinion, setId: set.body.sets[0]!.id };
}

const bind = (members: readonly Made[], stamped: readonly string[], more: Record<string, unknown> = {}) =>
  owner.post<{ sets: KeptSet[] }>('/api/kept-sets', {
    id: newId(),
    words: 'wheel and pinion',
    members: members.map(({ code }, index) => ({ code, stamped: stamped[index] ?? '' })),
    ...more,
  });

describe('a set recorded at the strip-down', () => {
  it('is bound across places, and its number is found', async () => {
    const { bench, unit } = await opened();
    const worm = await bench.recorded(1, 'to stores', { placeId: bin, stamped: '1342' });
    expect(worm.keptSet).toBe('Kept together as “worm set”, number 1342: for one job only.');
    const wheel = await bench.recorded(2, 're-use here', { placeId: (await stock.place()).id, stamped: '13?2' });
    const [set] = await setsOf(wheel.thing!.id);
    expect(set).toMatchObject({ number: '1342', words: 'worm set', unit: { id: unit.id }, broken: null, job: null });
    expect(set!.members.map((member) => [member.thing.id, member.stamped, member.bound])).toEqual([
      [worm.thing!.id, '1342', true],
      [wheel.thing!.id, '13?2', true],
    ]);
    expect((await bench.shown()).keptSets).toHaveLength(1);
    expect((await found('1342')).map((hit) => hit.id)).toEqual(expect.arrayContaining([worm.thing!.id, wheel.thing!.id]));
  });

  it('whose numbers do not match stops at once, with the choice; nothing is written', async () => {
    const { bench } = await opened();
    await bench.recorded(1, 'to stores', { placeId: bin, stamped: '1342', finding: 'good' });
    const stopped = await bench.refused(2, 'to stores', { placeId: bin, stamped: '1324' });
    expect(stopped).toMatchObject({
      code: 'set-numbers-differ',
      detail: expect.stringContaining('Worm says 1342, Worm wheel says 1324'),
      values: { choices: [{ say: 'they are of two sets' }, { say: 'they belong together' }] },
    });
    expect((await bench.shown()).components[1]).toMatchObject({ undecided: '1', findings: [] });
    const odd = await bench.recorded(2, 'to stores', {
      placeId: bin,
      stamped: '1324',
      different: { say: 'they are of two sets' },
    });
    expect(odd.keptSet).toContain('odd');
    expect(await found('1324')).toMatchObject([{ id: odd.thing!.id, detail: expect.stringContaining('odd') }]);
    expect((await found('1342')).filter((hit) => hit.detail.includes('odd'))).toHaveLength(1);
  });

  it('whose numbers do not match belongs together all the same in somebody’s name', async () => {
    const { bench } = await opened();
    await bench.recorded(1, 're-use here', { placeId: bin, stamped: '77' });
    const different = { say: 'they belong together' as const, why: 'lapped together since, his own words' };
    const wheel = await bench.recorded(2, 're-use here', { placeId: bin, stamped: '78', different });
    expect(await setsOf(wheel.thing!.id)).toMatchObject([{ mismatchReason: different.why, boundBy: 'Edie Marrack' }]);
  });

  it('loses a part to scrap only with a reason: what is left is odd, found by its number', async () => {
    const { bench } = await opened();
    const worm = await bench.recorded(1, 'to stores', { placeId: bin, stamped: '604' });
    expect(await bench.refused(2, 'scrap', { stamped: '604' })).toMatchObject({
      code: 'bad-input',
      detail: expect.stringContaining('stays together'),
    });
    const gone = await bench.recorded(2, 'scrap', { stamped: '604', finding: 'scored' });
    expect(gone.keptSet).toContain('is broken');
    expect(await setsOf(worm.thing!.id)).toMatchObject([
      { broken: { why: 'Worm wheel: scrap, scored', onWordOf: 'Edie Marrack' } },
    ]);
    expect(await found('604')).toMatchObject([{ id: worm.thing!.id, detail: expect.stringContaining('odd. Worm wheel: scrap') }]);
  });

  it('of which a part is gone before the other comes out leaves an odd one', async () => {
    const { bench } = await opened();
    await bench.recorded(2, null, { kind: 'missing' });
    const worm = await bench.recorded(1, 'to stores', { placeId: bin, stamped: '551' });
    expect(worm.keptSet).toContain('Worm is odd');
    expect((await setsOf(worm.thing!.id))[0]).toMatchObject({ number: '551', broken: { why: 'Worm wheel: missing.' } });
  });

  it('goes on with the right part when a finding is put right', async () => {
    const { bench } = await opened();
    const worm = await bench.recorded(1, 'to stores', { placeId: bin, stamped: '88' });
    await bench.recorded(2, 'to stores', { placeId: bin, stamped: '88' });
    const right = await bench.recorded(1, 'hold', { placeId: bin, stamped: '88', supersedesId: worm.finding.id });
    const [set] = await setsOf(right.thing!.id);
    expect(set!.members.filter((member) => member.bound)).toHaveLength(2);
    expect(set!.members.find((member) => member.thing.id === worm.thing!.id)).toMatchObject({ bound: false });
  });
});

describe('a set bound by hand', () => {
  it('is refused of what is several, in another set, of two owners, or of a number that differs', async () => {
    const { wheel } = await boundPair();
    const single = await stock.lot(await stock.part());
    const several = await stock.lot(await stock.part(), { quantity: '2' });
    const theirs = await stock.lot(await stock.part(), { ownerId: await stock.customer() });
    expect((await bind([single, several], [])).body).toMatchObject({ code: 'not-one' });
    expect((await bind([single, wheel], [])).body).toMatchObject({ code: 'in-another-set' });
    expect((await bind([single, theirs], [])).body).toMatchObject({ code: 'bad-input' });
    expect((await bind([single, single], [])).body).toMatchObject({ code: 'bad-input' });
    const fellow = await stock.lot(await stock.part());
    expect((await bind([single, fellow], ['1342', '1324'])).body).toMatchObject({ code: 'set-numbers-differ' });
    expect(
      (await bind([single, fellow], ['1342', '1324'], { different: { say: 'they are of two sets' } })).body.sets,
    ).toHaveLength(2);
  });

  it('sent twice is bound once; raced by two sets over one part, one is bound', async () => {
    const [one, two, three] = [
      await stock.lot(await stock.part()),
      await stock.lot(await stock.part()),
      await stock.lot(await stock.part()),
    ];
    const answers = await Promise.all([bind([one, two], []), bind([two, three], [])]);
    expect(answers.map((answer) => answer.status).sort()).toEqual([200, 409]);
  });

  it('goes to one job only: the other part is refused elsewhere, whoever asks first, and by the database too', async () => {
    const { parts, wheel, pinion } = await boundPair();
    const job = await stock.job([{ partId: parts[0] }, { partId: parts[1] }]);
    const other = await stock.job([{ partId: parts[0] }, { partId: parts[1] }]);
    expect((await owner.post('/api/picks', { code: wheel.code, jobId: job.id })).status).toBe(200);
    for (const act of ['picks', 'fits'])
      expect((await owner.post<Problem>(`/api/${act}`, { code: pinion.code, jobId: other.id })).body).toMatchObject({
        code: 'kept-set-elsewhere',
        detail: expect.stringContaining('Overhead-worm axle'),
      });
    await expect(
      server.database.rows('INSERT INTO claims (id, thing_id, claimant_id, quantity) VALUES ($1, $2, $3, 1)', [
        newId(),
        pinion.id,
        other.id,
      ]),
    ).rejects.toMatchObject({ constraint: 'kept_set_one_job' });
    // nor is it offered there
    const { lines } = (await owner.get<JobCard>(`/api/jobs/${other.id}`)).body.coverage;
    expect(lines[1]).toMatchObject({ state: 'lacking' });
    expect(lines[1]!.looked.join(' ')).toMatch(
      /it belongs to the set “wheel and pinion” 1342, and another job has the rest of it/,
    );
    expect((await owner.post('/api/fits', { code: pinion.code, jobId: job.id })).status).toBe(200);
  });

  it('raced for by two jobs, a part each: one job has it', async () => {
    for (let round = 0; round < 5; round += 1) {
      const { parts, wheel, pinion } = await boundPair(`R${round}`);
      const [one, other] = [await stock.job([{ partId: parts[0] }]), await stock.job([{ partId: parts[1] }])];
      const answers = await Promise.all([
        owner.post('/api/picks', { code: wheel.code, jobId: one.id }),
        owner.post('/api/picks', { code: pinion.code, jobId: other.id }),
      ]);
      expect(answers.map((answer) => answer.status).sort()).toEqual([200, 409]);
    }
  });

  it('is whole when its job is released, or broken by somebody with a name and a reason', async () => {
    const { parts, wheel, setId } = await boundPair();
    const job = await stock.job([{ partId: parts[0] }]);
    expect((await owner.post('/api/fits', { code: wheel.code, jobId: job.id })).status).toBe(200);
    const released = { title: 'Axle', wanted: '', buildStandard: 'serviceable', priority: 3, state: 'released' };
    expect((await owner.patch<Problem>(`/api/jobs/${job.id}`, released, { ifMatch: 1 })).body).toMatchObject({
      code: 'kept-set-incomplete',
      detail: expect.stringContaining('Pinion'),
    });
    const path = `/api/kept-sets/${setId}/breaking`;
    expect((await owner.post(path, { why: 'no other' })).status).toBe(422);
    expect((await owner.post(path, { onWordOf: '  ', why: 'no other' })).status).toBe(422);
    expect((await owner.post(path, { onWordOf: 'Mary Pellister', why: '' })).status).toBe(422);
    const broken = await owner.post<KeptSet>(path, {
      onWordOf: 'Mary Pellister',
      why: 'the wheel runs with a new pinion, lapped',
    });
    expect(broken.body).toMatchObject({ broken: { onWordOf: 'Mary Pellister', by: 'Edie Marrack' } });
    expect(broken.body.members.every((member) => !member.bound)).toBe(true);
    expect((await owner.post<Problem>(path, { onWordOf: 'Mary', why: 'again' })).body.code).toBe('set-broken-already');
    expect((await owner.patch(`/api/jobs/${job.id}`, released, { ifMatch: 1 })).status).toBe(200);
    await expect(stock.query("UPDATE kept_sets SET broken_why = 'never' WHERE id = $1", [setId])).rejects.toMatchObject({
      code: 'CW001',
    });
    await expect(stock.query('DELETE FROM kept_set_members')).rejects.toMatchObject({ code: 'CW001' });
  });

  it('is no set any more once it is taken back: its claims fall and another job may have the whole', async () => {
    const { parts, wheel, pinion } = await boundPair();
    const one = await stock.job([{ partId: parts[0] }]);
    const other = await stock.job([{ partId: parts[1] }]);
    const picked = await owner.post<{ actId: string }>('/api/picks', { code: wheel.code, jobId: one.id });
    expect((await owner.post(`/api/acts/${picked.body.actId}/take-back`, {})).status).toBe(200);
    expect((await owner.post('/api/picks', { code: pinion.code, jobId: other.id })).status).toBe(200);
  });
});
