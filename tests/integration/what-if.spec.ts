import { jest } from '@jest/globals';
import { newId } from '../../apps/api/src/platform/new-id.js';
import type { Receipt } from '../../libs/contracts/src/buying.js';
import type { JobCard } from '../../libs/contracts/src/jobs.js';
import { addDays } from '../../libs/quantities/src/plain-date.js';
import { addPerson, type BareServer, startBareServer, type Visitor } from '../support/bare-server.js';
import { Stock } from '../support/stock.js';
import { StripBench, unitTypeOf } from '../support/strip-bench.js';
import { WhatIfDesk } from '../support/what-if-desk.js';

jest.setTimeout(60_000);

let server: BareServer;
let owner: Visitor;
let stock: Stock;
let desk: WhatIfDesk;
let today: string;

beforeEach(async () => {
  server = await startBareServer('supposed');
  owner = await server.setUp();
  stock = await Stock.open(server.testDatabase.ownerUrl);
  desk = new WhatIfDesk(owner);
  today = (await owner.get<{ today: string }>('/api/workshop')).body.today;
});
afterEach(async () => {
  await stock.close();
  await server.stop();
});

const card = async (id: string) => (await owner.get<JobCard>(`/api/jobs/${id}`)).body;

/** Says on the card what a person would say there. */
async function edit(jobId: string, changed: Partial<JobCard>): Promise<void> {
  const { title, wanted, buildStandard, priority, state, version } = await card(jobId);
  const body = { title, wanted, buildStandard, priority, state, ...changed };
  expect((await owner.patch(`/api/jobs/${jobId}`, body, { ifMatch: version })).status).toBe(200);
}

async function order(partId: string, facts: Partial<Receipt> = {}): Promise<Receipt> {
  const { status, body } = await owner.post<Receipt>('/api/receipts', {
    id: newId(),
    orderReference: '219',
    supplierName: 'Veldrow Bearings',
    partId,
    quantity: '1',
    dueOn: addDays(today, 14),
    confirmed: true,
    forJobId: null,
    ...facts,
  });
  expect(status).toBe(200);
  return body;
}

async function editOrder({ id, version, ...said }: Receipt, changed: Partial<Receipt>): Promise<void> {
  const { dueOn, confirmed, calledOff, note } = { ...said, ...changed };
  const body = { dueOn, confirmed, calledOff, note, forJobId: null };
  expect((await owner.patch(`/api/receipts/${id}`, body, { ifMatch: version })).status).toBe(200);
}

/** Two jobs that want the one that there is. */
async function twoForOne() {
  const partId = await stock.part({ name: 'Thrust bearing', number: '48-2217' });
  await stock.lot(partId);
  const [first, second] = [await stock.job([{ partId, critical: true }]), await stock.job([{ partId, critical: true }])];
  await stock.query('UPDATE jobs SET priority = 2 WHERE id = $1', [first.id]);
  return { partId, first, second };
}

describe('what is foretold is what then is', () => {
  it('of a job that comes first: who wins, who loses, why, and both dates', async () => {
    const { first, second } = await twoForOne();
    const now = await desk.standing();
    const { body } = await desk.ask({ kind: 'first', jobId: second.id });
    expect(body).toMatchObject({ openJobs: 2, counts: { better: 1, worse: 1, both: 0, otherwise: 0 } });
    expect(body.words).toBe('Of 2 open jobs, 1 would stand better; 1 would stand worse.');
    const [wins, loses] = body.jobs;
    expect(wins).toMatchObject({
      job: { id: second.id },
      place: { before: 2, after: 1 },
      turn: 'better',
      dateTurn: 'better',
      before: { stops: 1, advice: { kind: 'none' } },
      after: { stops: 0, advice: { kind: 'firm' } },
    });
    expect(loses).toMatchObject({
      job: { id: first.id },
      turn: 'worse',
      lines: [{ turn: 'worse', before: { state: 'free in stores' }, after: { state: 'lacking', stops: true } }],
    });
    expect(loses!.lines[0]!.after.elsewhere).toMatchObject([
      { job: { id: second.id }, words: expect.stringMatching(/it is supposed to come first$/) },
    ]);
    expect(await desk.standing()).toEqual(now);
    await edit(second.id, { priority: 1 });
    expect(await desk.standing()).toEqual(WhatIfDesk.foretold(now, body));
  });

  it('of an order that is late, that comes on a day, and that does not come at all', async () => {
    const partId = await stock.part();
    await stock.job([{ partId, critical: true }, { partId: await stock.part() }]);
    const receipt = await order(partId);
    const late = await desk.ask({ kind: 'order-late', receiptId: receipt.id, days: 21 });
    expect(late.body.supposed[0]!.words).toMatch(/^Order 219 of Veldrow Bearings, T-\S+, comes 21 days later, on /);
    const now = await desk.standing();
    const foretold = [
      late.body,
      (await desk.ask({ kind: 'order-on', receiptId: receipt.id, on: addDays(today, 2) })).body,
      (await desk.ask({ kind: 'order-never', receiptId: receipt.id })).body,
    ].map((body) => WhatIfDesk.foretold(now, body));
    expect(new Set(foretold.map((each) => JSON.stringify(each))).size).toBe(3);
    await editOrder(receipt, { dueOn: addDays(today, 35) });
    expect(await desk.standing()).toEqual(foretold[0]);
    await editOrder({ ...receipt, version: 2 }, { dueOn: addDays(today, 2) });
    expect(await desk.standing()).toEqual(foretold[1]);
    await editOrder({ ...receipt, version: 3 }, { calledOff: true });
    expect(await desk.standing()).toEqual(foretold[2]);
  });

  it('of a core that gives all that its type has, and of the cores that are left', async () => {
    const [wheel, pinion] = [await stock.part({ name: 'Worm wheel' }), await stock.part({ name: 'Pinion' })];
    const unitTypeId = await unitTypeOf(stock, [
      { name: 'Worm wheel', partId: wheel },
      { name: 'Pinion', partId: pinion, quantity: '2' },
    ]);
    const core = await stock.unit({ unitTypeId });
    await stock.job([
      { partId: wheel, critical: true },
      { partId: pinion, quantity: '3' },
    ]);
    const now = await desk.standing();
    const { body } = await desk.ask({ kind: 'core', unitId: core.id, gives: 'all' });
    expect(
      body.jobs[0]!.lines.map(({ after }) => after.shares.map(({ state, quantity, on }) => [state, quantity, on?.id])),
    ).toEqual([
      [['free in stores', '1', core.id]],
      [
        ['free in stores', '2', core.id],
        ['lacking', '1', undefined],
      ],
    ]);
    expect(body.jobs[0]!.lines[0]!.after.shares[0]!.words).toBe('out of this core, if it is broken');
    const bench = await StripBench.open(owner, core);
    await bench.recorded(1, 'to stores', { placeId: stock.placeId });
    await bench.recorded(2, 'to stores', { placeId: stock.placeId, quantity: '2' });
    expect(await desk.standing()).toEqual(WhatIfDesk.foretold(now, body));
  });

  it('of a core that gives what is to be expected, which is less than it has', async () => {
    const pinion = await stock.part({ name: 'Pinion' });
    const unitTypeId = await unitTypeOf(stock, [{ name: 'Pinion', partId: pinion, quantity: '4' }]);
    await stock.query(
      "INSERT INTO component_yields (unit_type_id, position, grade, looked, serviceable) VALUES ($1, 1, '', 10, 5)",
      [unitTypeId],
    );
    const core = await stock.unit({ unitTypeId });
    const job = await stock.job([{ partId: pinion, quantity: '4' }]);
    const now = await desk.standing();
    expect(now[job.id]!.lines[job.lineIds[0]!]).toBe('from a core 2; lacking 2');
    const { body } = await desk.ask({ kind: 'core', unitId: core.id, gives: 'expected' });
    expect(body.supposed[0]!.words).toMatch(/what is to be expected of it: 2 of T-/);
    const bench = await StripBench.open(owner, core);
    await bench.recorded(1, 'to stores', { placeId: stock.placeId, quantity: '2' });
    expect(await desk.standing()).toEqual(WhatIfDesk.foretold(now, body));
  });

  it('of a substitute for one line, and for every line that asks for the part', async () => {
    const [wanted, other] = [await stock.part({ name: 'Hub bearing' }), await stock.part({ name: 'Another hub bearing' })];
    await stock.lot(other, { quantity: '3' });
    const jobs = [await stock.job([{ partId: wanted, critical: true }]), await stock.job([{ partId: wanted, quantity: '2' }])];
    const accept = async ({ id, lineIds }: (typeof jobs)[number]) =>
      expect(
        await owner.post(`/api/jobs/${id}/lines/${lineIds[0]}/substitutes`, {
          id: newId(),
          partId: other,
          evidence: { kind: 'catalogue', words: 'page 41' },
          position: 'rear cover',
          forEveryJob: false,
        }),
      ).toMatchObject({ status: 200 });
    const now = await desk.standing();
    const forOne = (await desk.ask({ kind: 'instead', lineId: jobs[1]!.lineIds[0]!, partId: other })).body;
    const everywhere = (await desk.ask({ kind: 'instead-everywhere', forPartId: wanted, partId: other })).body;
    expect(forOne.jobs.map(({ job }) => job.id)).toEqual([jobs[1]!.id]);
    expect(everywhere.counts).toMatchObject({ better: 2 });
    await accept(jobs[1]!);
    expect(await desk.standing()).toEqual(WhatIfDesk.foretold(now, forOne));
    await accept(jobs[0]!);
    expect(await desk.standing()).toEqual(WhatIfDesk.foretold(now, everywhere));
  });

  it('of another build standard, which leaves alone what a line says of itself', async () => {
    const [wanted, same, own] = [await stock.part(), await stock.part(), await stock.part()];
    await stock.lot(same, { make: 'pattern' });
    await stock.lot(own, { make: 'pattern' });
    const relation = {
      kind: 'will serve for',
      toPartIds: [wanted],
      evidence: { kind: 'measured', words: 'all three' },
      conditions: '',
    };
    expect((await owner.post(`/api/parts/${same}/relations`, relation)).status).toBe(200);
    const job = await stock.job([{ partId: wanted }, { partId: own, makes: ['pattern'] }]);
    const now = await desk.standing();
    const { body } = await desk.ask({ kind: 'standard', jobId: job.id, standard: 'as original' });
    expect(body.jobs[0]!.lines.map(({ lineNo, turn }) => [lineNo, turn])).toEqual([[1, 'worse']]);
    await edit(job.id, { buildStandard: 'as original' });
    expect(await desk.standing()).toEqual(WhatIfDesk.foretold(now, body));
  });

  it('of several together, where jobs want each other’s parts in a circle', async () => {
    const parts = [await stock.part(), await stock.part(), await stock.part()] as [string, string, string];
    for (const partId of parts) await stock.lot(partId);
    const jobs = [];
    for (const [index, partId] of parts.entries())
      jobs.push(
        await stock.job([
          { partId, critical: true },
          { partId: parts[(index + 1) % 3]!, quantity: '2' },
        ]),
      );
    const receipt = await order(parts[0], { quantity: '2' });
    const now = await desk.standing();
    const { body } = await desk.ask(
      { kind: 'first', jobId: jobs[2]!.id },
      { kind: 'first', jobId: jobs[1]!.id },
      { kind: 'order-late', receiptId: receipt.id, days: 7 },
    );
    expect(body.supposed).toHaveLength(3);
    expect(body.jobs.length).toBeGreaterThan(1);
    await edit(jobs[2]!.id, { priority: 1 });
    await edit(jobs[1]!.id, { priority: 2 });
    await editOrder(receipt, { dueOn: addDays(today, 21) });
    expect(await desk.standing()).toEqual(WhatIfDesk.foretold(now, body));
  });
});

describe('nothing of it is written', () => {
  it('neither in the books nor in the record of commands', async () => {
    const { second, partId } = await twoForOne();
    const receipt = await order(partId);
    const tables = ['commands', 'movements', 'jobs', 'expected_receipts', 'substitutes', 'lots', 'strip_downs', 'codes'];
    const all = async () => {
      const sums: unknown[] = [];
      for (const table of tables)
        sums.push(
          await stock.query(
            `SELECT count(*)::int AS rows, md5(string_agg(t::text, '' ORDER BY t::text)) AS sum FROM ${table} AS t`,
          ),
        );
      return sums;
    };
    const unit = await stock.unit({ unitTypeId: await unitTypeOf(stock, [{ name: 'Thrust', partId }]) });
    const other = await stock.part();
    const before = await all();
    const ask = await desk.ask(
      { kind: 'first', jobId: second.id },
      { kind: 'core', unitId: unit.id, gives: 'all' },
      { kind: 'order-never', receiptId: receipt.id },
      { kind: 'instead-everywhere', forPartId: partId, partId: other },
      { kind: 'standard', jobId: second.id, standard: 'as original' },
    );
    expect(ask.status).toBe(200);
    expect(ask.body.jobs.length).toBeGreaterThan(0);
    expect(await all()).toEqual(before);
  });

  it('so somebody who only looks may ask', async () => {
    const { second } = await twoForOne();
    const viewer = await addPerson(server, owner, 'viewer', 'vera', 'Vera Lusk');
    expect((await new WhatIfDesk(viewer).ask({ kind: 'first', jobId: second.id })).status).toBe(200);
    expect((await new WhatIfDesk(server.visitor()).ask({ kind: 'first', jobId: second.id })).status).toBe(401);
  });
});

describe('nothing changes', () => {
  it('plainly, for a job that is first already, and for an order that nobody waits for', async () => {
    const { first } = await twoForOne();
    const receipt = await order(await stock.part());
    for (const supposition of [
      { kind: 'first' as const, jobId: first.id },
      { kind: 'order-never' as const, receiptId: receipt.id },
    ]) {
      const { body } = await desk.ask(supposition);
      expect(body.jobs).toEqual([]);
      expect(body.words).toBe(
        'Nothing changes for any of the 2 open jobs: every line is covered as it is now, and every date stays.',
      );
    }
  });

  it('for a job that needs more than there is anywhere, if it comes first and has all of it already', async () => {
    const partId = await stock.part();
    await stock.lot(partId, { quantity: '2' });
    const job = await stock.job([{ partId, quantity: '500', critical: true }]);
    const { body } = await desk.ask({ kind: 'first', jobId: job.id });
    expect(body).toMatchObject({ jobs: [], words: expect.stringMatching(/^Nothing changes for the one open job/) });
  });
});

describe('what is not there is not supposed', () => {
  it('a job that is closed, or is none', async () => {
    const job = await stock.job([{ partId: await stock.part() }], { state: 'released' });
    const closed = await desk.ask({ kind: 'first', jobId: job.id });
    expect(closed).toMatchObject({
      status: 409,
      body: { code: 'cannot-be-supposed', detail: expect.stringContaining('is released') },
    });
    expect((await desk.ask({ kind: 'first', jobId: newId() })).status).toBe(404);
    expect((await desk.ask({ kind: 'standard', jobId: job.id, standard: 'serviceable' })).status).toBe(409);
  });

  it('an order that came, that was called off, that has no date to be late from, or a day that has passed', async () => {
    const part = () => stock.part();
    const [came, off, undated] = [
      await order(await part()),
      await order(await part()),
      await order(await part(), { dueOn: null, confirmed: false }),
    ];
    const arrival = {
      lotId: newId(),
      quantity: '1',
      placeId: stock.placeId,
      source: 'new',
      make: 'genuine',
      condition: 'as new',
    };
    expect((await owner.post(`/api/receipts/${came.id}/arrivals`, arrival)).status).toBe(200);
    await editOrder(off, { calledOff: true });
    const said = async (...asked: Parameters<WhatIfDesk['ask']>) => {
      const { status, body } = await desk.ask(...asked);
      expect(status).toBe(409);
      return body.detail;
    };
    expect(await said({ kind: 'order-late', receiptId: came.id, days: 3 })).toContain('has come in full');
    expect(await said({ kind: 'order-never', receiptId: off.id })).toContain('was called off');
    expect(await said({ kind: 'order-late', receiptId: undated.id, days: 3 })).toContain('no date');
    expect(await said({ kind: 'order-on', receiptId: undated.id, on: addDays(today, -1) })).toContain('has passed');
    expect((await desk.ask({ kind: 'order-on', receiptId: undated.id, on: addDays(today, 1) })).status).toBe(200);
    expect((await desk.ask({ kind: 'order-never', receiptId: newId() })).status).toBe(404);
  });

  it('a core that is on a job, that was opened, that nobody has identified, or that is none', async () => {
    const partId = await stock.part();
    const unitTypeId = await unitTypeOf(stock, [{ name: 'Worm wheel', partId }]);
    const job = await stock.job([{ partId }]);
    const [opened, unknown] = [await stock.unit({ unitTypeId }), await stock.unit()];
    const bench = await StripBench.open(owner, opened);
    await bench.recorded(1, 'to stores', { placeId: stock.placeId });
    for (const [unitId, words] of [
      [job.unit.id, 'no free core'],
      [opened.id, 'opened already'],
      [unknown.id, 'not been identified'],
    ] as const)
      expect(await desk.ask({ kind: 'core', unitId, gives: 'all' })).toMatchObject({
        status: 409,
        body: { detail: expect.stringContaining(words) },
      });
    expect((await desk.ask({ kind: 'core', unitId: newId(), gives: 'all' })).status).toBe(404);
  });

  it('a substitute for a line that is none, for the part itself, or counted otherwise', async () => {
    const [wanted, other, cloth] = [await stock.part(), await stock.part(), await stock.part({ unit: 'm' })];
    const { lineIds } = await stock.job([{ partId: wanted }]);
    const lineId = lineIds[0]!;
    for (const [supposition, words] of [
      [{ kind: 'instead', lineId: newId(), partId: other }, 'not one of an open job'],
      [{ kind: 'instead', lineId, partId: wanted }, 'itself'],
      [{ kind: 'instead', lineId, partId: cloth }, 'counted in'],
      [{ kind: 'instead-everywhere', forPartId: other, partId: wanted }, 'No open job asks for'],
    ] as const)
      expect(await desk.ask(supposition)).toMatchObject({ status: 409, body: { detail: expect.stringContaining(words) } });
    expect((await desk.ask({ kind: 'instead', lineId, partId: newId() })).status).toBe(404);
  });

  it('two things of the same order', async () => {
    const receipt = await order(await stock.part());
    const { status, body } = await desk.ask(
      { kind: 'order-never', receiptId: receipt.id },
      { kind: 'order-late', receiptId: receipt.id, days: 7 },
    );
    expect(status).toBe(409);
    expect(body.detail).toContain('the same thing');
    expect((await owner.get('/api/what-if?suppose=nonsense')).status).toBe(422);
    expect((await owner.get('/api/what-if')).status).toBe(422);
  });

  it('in a workshop in which no job is open', async () => {
    const receipt = await order(await stock.part());
    expect((await desk.ask({ kind: 'order-never', receiptId: receipt.id })).body).toMatchObject({
      openJobs: 0,
      jobs: [],
      words: 'No job is open, so nothing changes.',
    });
  });
});
