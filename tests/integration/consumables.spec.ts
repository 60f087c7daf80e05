import { newId } from '../../apps/api/src/platform/new-id.js';
import { countDifferenceId, usedUpId } from '../../apps/api/src/stores/ledger.js';
import { verifyBooks } from '../../apps/api/src/stores/verify/verify-books.js';
import type { ScanRefusal } from '../../libs/contracts/src/bench.js';
import type { ConsumableOfPart, ContainerOpened, ContainerPage, JobConsumables } from '../../libs/contracts/src/consumables.js';
import type { CoveredLine } from '../../libs/contracts/src/coverage.js';
import type { Regroupings } from '../../libs/contracts/src/regrouping.js';
import type { Thing } from '../../libs/contracts/src/stores.js';
import { addDays } from '../../libs/quantities/src/plain-date.js';
import { addPerson, type BareServer, startBareServer, type Visitor } from '../support/bare-server.js';
import { Stock } from '../support/stock.js';

let server: BareServer;
let owner: Visitor;
let bench: Visitor;
let stock: Stock;
let today: string;

type Refused = { code: string; detail: string; values: ScanRefusal & { answer: string | null } };

beforeAll(async () => {
  server = await startBareServer('consumables');
  owner = await server.setUp();
  bench = await addPerson(server, owner, 'bench', 'tom', 'Tom Hasleby');
  stock = await Stock.open(server.testDatabase.ownerUrl);
  today = (await owner.get<{ today: string }>('/api/workshop')).body.today;
});
afterAll(async () => {
  expect(await verifyBooks(server.database)).toEqual([]);
  await stock.close();
  await server.stop();
});

const bySharesOf = (usesPerContainer: number) => ({ charged: 'by use', useAmount: '', usesPerContainer });

async function consumable(facts: Record<string, unknown> = {}, quantity = '3') {
  const partId = await stock.part({ name: 'Sealant', material: 'other' });
  const settings = { container: 'cartridge', keepsDays: 90, oneAtATime: true, ...bySharesOf(20), ...facts };
  const kept = await owner.put<ConsumableOfPart>(`/api/parts/${partId}/consumable`, settings);
  expect(kept.status).toBe(200);
  return { partId, lot: await stock.lot(partId, { quantity }) };
}

const open = (thingId: string, body: object = {}, options = {}) =>
  bench.post<ContainerOpened & Refused>(`/api/things/${thingId}/opening`, { openedOn: today, ...body }, options);
const end = (thingId: string, how = 'empty') =>
  bench.post<ContainerPage & Refused>(`/api/things/${thingId}/container-end`, { how, words: '' });
const use = (jobId: string, body: object, options = {}) =>
  bench.post<JobConsumables & Refused>(`/api/jobs/${jobId}/consumable-uses`, { uses: 1, ...body }, options);
const ofPart = async (partId: string) => (await owner.get<ConsumableOfPart>(`/api/parts/${partId}/consumable`)).body.consumable!;
const ofJob = async (jobId: string, visitor = owner) =>
  (await visitor.get<JobConsumables>(`/api/jobs/${jobId}/consumables`)).body;
const thing = async (id: string) => (await owner.get<Thing>(`/api/things/${id}`)).body;

/** So much as the lot cost, without a load: an entry by hand. */
async function costs(thingId: string, minor: number): Promise<void> {
  const [command] = await stock.query<{ key: string; person: string }>(
    'SELECT key, person_id AS person FROM commands WHERE person_id IS NOT NULL LIMIT 1',
  );
  await stock.query(
    `INSERT INTO cost_entries (id, command_key, thing_id, amount_minor, currency, kind, person_id)
     VALUES ($1, $2, $3, $4, (SELECT currency FROM workshop), 'adjustment', $5)`,
    [newId(), command!.key, thingId, minor, command!.person],
  );
}

describe('a container', () => {
  it('that is opened is a lot of one with its part of the cost, and both lots add up', async () => {
    const { partId, lot } = await consumable();
    await costs(lot.id, 1000);
    const key = newId();
    const [first, again] = [await open(lot.id, {}, { key }), await open(lot.id, {}, { key })];
    expect(first.status).toBe(200);
    expect(again.body).toEqual(first.body);
    expect(first.body.words).toMatch(/^Write on it: L .*, opened .*, use by /);
    expect(first.body.useBy).toMatchObject({ on: addDays(today, 90), past: false });
    const [opened, left] = [await thing(first.body.thing.id), await thing(lot.id)];
    expect(opened).toMatchObject({ held: '1', holdings: [{ holderId: stock.placeId, quantity: '1' }] });
    expect(left).toMatchObject({ held: '2' });
    const shares = [
      await owner.get<{ amount: string }>(`/api/things/${opened.id}/cost`),
      await owner.get<{ parts: { amount: string }[] }>(`/api/things/${lot.id}/cost`),
    ] as const;
    expect(shares[0].body.amount).toMatch(/^3\.3[34]$/);
    expect(shares[1].body.parts.map(({ amount }) => Number(amount.replace('.', ''))).reduce((a, b) => a + b)).toBe(1000);
    expect(await ofPart(partId)).toMatchObject({ open: [{ thing: { id: opened.id }, openedBy: 'Tom Hasleby' }], fullCount: '2' });
    const { changes } = (await owner.get<Regroupings>(`/api/things/${lot.id}/regroupings`)).body;
    expect(changes).toMatchObject([{ kind: 'split', quantity: '1', why: 'opened', from: { id: lot.id }, to: { id: opened.id } }]);
    // nothing was found or lost at a count
    expect(
      await stock.query('SELECT 1 FROM movements WHERE thing_id = ANY ($1) AND $2 IN (from_holder_id, to_holder_id)', [
        [opened.id],
        countDifferenceId,
      ]),
    ).toEqual([]);
  });

  it('is opened one at a time where the workshop says so, and several where it does not', async () => {
    const { lot } = await consumable();
    expect((await open(lot.id)).status).toBe(200);
    const second = await open(lot.id);
    expect(second).toMatchObject({ status: 409, body: { code: 'one-open' } });
    expect(second.body.detail).toMatch(/one container at a time is open: L .*Nothing was changed/);
    const rags = await consumable({ oneAtATime: false, keepsDays: null });
    expect([(await open(rags.lot.id)).status, (await open(rags.lot.id)).status]).toEqual([200, 200]);
    expect((await ofPart(rags.partId)).open).toHaveLength(2);
    const changed = await owner.put<Refused>(
      `/api/parts/${rags.partId}/consumable`,
      { container: 'pack', keepsDays: null, oneAtATime: true, ...bySharesOf(50) },
      { ifMatch: 1 },
    );
    expect(changed.status).toBe(422);
  });

  it('of which the last is opened at once by six people is opened once', async () => {
    for (const oneAtATime of [true, false]) {
      const { partId, lot } = await consumable({ oneAtATime }, '1');
      const answers = await Promise.all(Array.from({ length: 6 }, () => open(lot.id)));
      expect(answers.map(({ status }) => status).toSorted()).toEqual([200, 409, 409, 409, 409, 409]);
      expect(answers.find(({ status }) => status === 200)!.body.thing.id).toBe(lot.id);
      expect(await ofPart(partId)).toMatchObject({ open: [{ thing: { id: lot.id } }], full: [], fullCount: '0' });
    }
  });

  it('of several is opened no more often than there are, however many ask at once', async () => {
    const { partId, lot } = await consumable({ oneAtATime: false }, '3');
    const answers = await Promise.all(Array.from({ length: 7 }, () => open(lot.id)));
    expect(answers.filter(({ status }) => status === 200)).toHaveLength(3);
    expect((await ofPart(partId)).open).toHaveLength(3);
  });

  it('that is empty has gone to what is used up, is found again half full, and is thrown away in the end', async () => {
    const { lot } = await consumable({}, '1');
    await open(lot.id);
    expect((await end(lot.id)).body).toMatchObject({
      state: 'gone',
      events: [{ kind: 'empty', by: 'Tom Hasleby' }, { kind: 'opened' }],
    });
    expect(await thing(lot.id)).toMatchObject({ held: '0', holdings: [{ holderId: usedUpId, words: 'used up' }] });
    expect((await end(lot.id)).body.code).toBe('not-open');
    const place = await stock.place();
    const found = await bench.post<ContainerPage>(`/api/things/${lot.id}/container-found`, {
      placeId: place.id,
      words: 'half full',
    });
    expect(found.body).toMatchObject({ state: 'open', events: [{ kind: 'found again', words: 'half full' }, {}, {}] });
    expect(await thing(lot.id)).toMatchObject({ holdings: [{ holderId: place.id, quantity: '1' }] });
    expect((await end(lot.id, 'thrown away')).body.state).toBe('gone');
  });

  it('that was opened by mistake is full again, and can be opened another time', async () => {
    const { partId, lot } = await consumable();
    const { id } = (await open(lot.id)).body.thing;
    const undo = () => bench.post<ContainerPage & Refused>(`/api/things/${id}/not-opened`, { why: 'pressed the wrong one' });
    expect((await undo()).body.state).toBe('full');
    expect((await undo()).body.code).toBe('not-open');
    expect((await ofPart(partId)).fullCount).toBe('3');
    expect((await open(id)).body.thing.id).toBe(id);
    await use((await stock.job([])).id, { partId });
    expect((await undo()).body.code).toBe('was-used');
  });

  it('is not opened where it is reserved, held back, elsewhere, or no consumable', async () => {
    const { partId, lot } = await consumable({}, '1');
    expect((await open(lot.id, { placeId: (await stock.place()).id })).body.code).toBe('none-left');
    expect((await open(lot.id, { openedOn: addDays(today, 1) })).status).toBe(422);
    await owner.post(`/api/things/${lot.id}/hold`, { reason: 'the cap leaks' });
    expect((await open(lot.id)).body.code).toBe('held-back');
    expect((await open((await stock.lot(await stock.part())).id)).body.code).toBe('no-consumable');
    const claimed = await stock.lot(partId);
    await stock.query('INSERT INTO claims (id, thing_id, claimant_id, quantity) VALUES ($1, $2, $3, 1)', [
      newId(),
      claimed.id,
      (await stock.job([])).id,
    ]);
    expect((await open(claimed.id)).body.code).toBe('claimed-for-another-job');
  });

  it('is used by the earlier of what the packet says and so many days after it was opened', async () => {
    const { lot } = await consumable({ keepsDays: 10 });
    const packet = (useBy: string | null) => bench.post<ContainerPage>(`/api/things/${lot.id}/use-by`, { useBy });
    expect((await packet(addDays(today, 4))).body.useBy).toMatchObject({
      on: addDays(today, 4),
      words: expect.stringContaining('by the packet'),
    });
    const opened = (await open(lot.id)).body;
    expect(opened.useBy.on).toBe(addDays(today, 4));
    await bench.post(`/api/things/${opened.thing.id}/use-by`, { useBy: null });
    const page = (await bench.get<ContainerPage>(`/api/things/${opened.thing.id}/container`)).body;
    expect(page.useBy).toMatchObject({ on: addDays(today, 10), past: false });
  });

  it('takes a blank label that is put on it', async () => {
    const { lot } = await consumable();
    const block = await owner.post<{ free: string[] }>('/api/code-blocks', { id: newId(), kind: 'lot', count: 2 });
    expect(block.status).toBe(200);
    const label = block.body.free[0]!;
    expect((await open(lot.id, { label })).body.thing.code).toBe(label);
  });
});

describe('the use of a consumable on a job', () => {
  it('is charged as a share of what the container cost, never more than that, and a second row puts it right', async () => {
    const { partId, lot } = await consumable(bySharesOf(3), '1');
    await costs(lot.id, 1000);
    await open(lot.id);
    const [job, other] = [await stock.job([]), await stock.job([])];
    await use(job.id, { partId, uses: 2 });
    await use(other.id, { partId, uses: 2 });
    expect(await ofJob(job.id)).toMatchObject({ sum: '6.66', unknown: 0, rows: [{ kind: 'use', uses: 2, amount: '6.66' }] });
    expect((await ofJob(other.id)).sum).toBe('3.34');
    expect((await ofJob(other.id, bench)).sum).toBeNull();
    const [row] = (await ofJob(job.id)).rows;
    const right = await bench.post<JobConsumables>(`/api/consumable-uses/${row!.id}/putting-right`, { why: 'the other job' });
    expect(right.body.rows).toMatchObject([{ amount: null, putRight: { why: 'the other job', by: 'Tom Hasleby' } }]);
    expect([(await ofJob(job.id)).sum, (await ofJob(other.id)).sum]).toEqual(['0.00', '6.66']);
    expect((await bench.post<Refused>(`/api/consumable-uses/${row!.id}/putting-right`, { why: 'again' })).body.code).toBe(
      'put-right-already',
    );
  });

  it('says where nobody knows what the container cost, and is so much money where the workshop says so', async () => {
    const { partId, lot } = await consumable();
    await open(lot.id);
    const job = await stock.job([]);
    await use(job.id, { partId });
    expect(await ofJob(job.id)).toMatchObject({ sum: '0.00', unknown: 1, rows: [{ amount: null, unknown: true }] });
    const grease = await consumable({ charged: 'by use', useAmount: '1.25', usesPerContainer: null });
    await open(grease.lot.id);
    await use(job.id, { partId: grease.partId, uses: 3 });
    expect(await ofJob(job.id)).toMatchObject({ sum: '3.75', unknown: 1 });
  });

  it('is flat by the unit type or for all, for jobs opened from a day on, and a job may be spared it', async () => {
    const typeId = newId();
    const [maker] = await stock.query<{ id: string }>('SELECT id FROM makers LIMIT 1');
    await stock.query("INSERT INTO unit_types (id, reference, maker_id, kind, model) VALUES ($1, $2, $3, 'Axle', 'WD7')", [
      typeId,
      `WD7 ${typeId}`,
      maker!.id,
    ]);
    const flat = [
      { unitTypeId: null, amount: '4.00' },
      { unitTypeId: typeId, amount: '9.00' },
    ];
    const { partId } = await consumable({ charged: 'flat', useAmount: '', usesPerContainer: null, flat });
    const [job, ofType, old] = [await stock.job([]), await stock.job([]), await stock.job([])];
    await stock.query('UPDATE units SET unit_type_id = $1 WHERE thing_id = $2', [typeId, ofType.unit.id]);
    await stock.query('UPDATE jobs SET opened_on = opened_on - 2 WHERE id = $1', [old.id]);
    const rowsOf = async (id: string) => (await ofJob(id)).rows.filter((row) => row.part.id === partId);
    expect(await rowsOf(job.id)).toMatchObject([{ kind: 'flat', amount: '4.00' }]);
    expect(await rowsOf(ofType.id)).toMatchObject([{ amount: '9.00', words: expect.stringContaining('WD7') }]);
    expect(await rowsOf(old.id)).toEqual([]);
    const [charge] = await rowsOf(job.id);
    const spared = () =>
      owner.post<JobConsumables & Refused>(`/api/jobs/${job.id}/flat-charges/${charge!.id}/dropping`, { why: 'his own' });
    expect((await spared()).status).toBe(200);
    expect((await spared()).body.code).toBe('put-right-already');
    const [gone] = await rowsOf(job.id);
    expect(gone).toMatchObject({ amount: null, putRight: { why: 'his own' } });
    await owner.post(`/api/consumable-uses/${gone!.putRight!.id}/putting-right`, { why: 'it was ours' });
    expect(await rowsOf(job.id)).toMatchObject([{ amount: '4.00', putRight: null }]);
    expect((await use(job.id, { partId })).body.code).toBe('not-charged-by-use');
    const ended = {
      container: 'cartridge',
      keepsDays: 90,
      oneAtATime: true,
      charged: 'not at all',
      useAmount: '',
      usesPerContainer: null,
    };
    expect((await owner.put(`/api/parts/${partId}/consumable`, ended, { ifMatch: 1 })).status).toBe(200);
    expect(await rowsOf((await stock.job([])).id)).toEqual([]);
  });

  it('past its use-by date goes over a name with a reason', async () => {
    const { partId, lot } = await consumable({ keepsDays: 2 });
    await open(lot.id, { openedOn: addDays(today, -3) });
    const job = await stock.job([]);
    const stopped = await use(job.id, { partId });
    expect(stopped).toMatchObject({ status: 409, body: { code: 'past-use-by', values: { answer: 'override' } } });
    expect((await ofJob(job.id)).rows).toEqual([]);
    await use(job.id, { partId, override: { reason: 'for the rig alone' } });
    expect((await ofJob(job.id)).rows).toMatchObject([{ override: 'for the rig alone', by: 'Tom Hasleby' }]);
    const today0 = (await owner.get<{ items: { id: string; reason: string }[] }>('/api/today')).body.items;
    expect(today0.find(({ id }) => id === 'past-use-by')?.reason).toContain('Sealant');
  });

  it('that was found open counts as past where it keeps for some days, and does not where it keeps', async () => {
    const { partId, lot } = await consumable({ keepsDays: 2 });
    await open(lot.id, { openedOn: null });
    expect((await use((await stock.job([])).id, { partId })).body.code).toBe('past-use-by');
    const keeps = await consumable({ keepsDays: null });
    await open(keeps.lot.id, { openedOn: null });
    expect((await use((await stock.job([])).id, { partId: keeps.partId })).status).toBe(200);
  });

  it('is refused on a closed job, and opens one where the person says so', async () => {
    const { partId } = await consumable();
    expect((await use((await stock.job([], { state: 'released' })).id, { partId })).body.code).toBe('job-closed');
    const job = await stock.job([]);
    expect(await use(job.id, { partId })).toMatchObject({
      status: 409,
      body: { code: 'none-open', values: { answer: 'open one' } },
    });
    expect((await ofPart(partId)).open).toEqual([]);
    expect((await use(job.id, { partId, openOne: true })).body.rows).toHaveLength(1);
    expect(await ofPart(partId)).toMatchObject({ open: [{ uses: 1 }], fullCount: '2' });
  });
});

describe('a part that is a consumable no longer', () => {
  it('is charged by rule to no job that is opened from then on, and stays on those that were', async () => {
    const flat = [{ unitTypeId: null, amount: '4.00' }];
    const { partId } = await consumable({
      charged: 'flat',
      useAmount: '',
      usesPerContainer: null,
      flat,
      flatFrom: addDays(today, -9),
    });
    const [old, later] = [await stock.job([]), await stock.job([])];
    await stock.query('UPDATE jobs SET opened_on = opened_on - 2 WHERE id = $1', [old.id]);
    await owner.post(`/api/parts/${partId}/consumable/withdrawal`, { why: 'no longer' }, { ifMatch: 1 });
    const amounts = async (id: string) =>
      (await ofJob(id)).rows.filter((row) => row.part.id === partId).map(({ amount }) => amount);
    expect([await amounts(old.id), await amounts(later.id)]).toEqual([['4.00'], []]);
  });
});

describe('a scan of a consumable at the bench', () => {
  type Done = { act: string; actId: string; quantity: string; notice: string } & Refused;
  const scan = (mode: string, code: string, jobId: string, body: object = {}) =>
    bench.post<Done>(`/api/${mode}`, { code, jobId, ...body });

  it('charges a use of the open one, by the label of the full ones too, and is taken back', async () => {
    const { lot } = await consumable();
    const job = await stock.job([]);
    expect((await scan('picks', lot.code, job.id)).body.code).toBe('not-picked');
    const none = await scan('fits', lot.code, job.id);
    expect(none.body).toMatchObject({ code: 'none-open', values: { choices: [{ kind: 'open-one' }] } });
    const done = await scan('fits', lot.code, job.id, { openOne: true });
    expect(done.body).toMatchObject({ act: 'used', quantity: '1' });
    const twice = await scan('fits', lot.code, job.id, { quantity: '2' });
    expect(twice.body.notice).toMatch(/^2 uses are charged to the job\. Use by /);
    const { acts } = (
      await bench.get<{ acts: { id: string; act: string; canBeTakenBack: boolean }[] }>(`/api/jobs/${job.id}/acts`)
    ).body;
    expect(acts.map(({ act }) => act)).toEqual(['used', 'used', 'refused', 'refused']);
    const back = await bench.post(`/api/acts/${twice.body.actId}/take-back`, {});
    expect(back.body).toMatchObject({ act: 'taken back', quantity: '2' });
    expect((await ofJob(job.id)).rows.map(({ putRight }) => putRight === null)).toEqual([true, false]);
    expect((await scan('fits', lot.code, job.id, { quantity: '0.5' })).status).toBe(422);
  });
});

describe('a line of a job that asks for a consumable', () => {
  it('is waited for by nobody: it is neither critical nor lacking, and the job is released without it', async () => {
    const { partId } = await consumable({}, '0');
    const job = await stock.job([{ partId, critical: true, quantity: '4' }]);
    const { lines, advice } = (
      await owner.get<{ lines: CoveredLine[]; advice: { kind: string } }>(`/api/jobs/${job.id}/coverage`)
    ).body;
    expect(lines[0]).toMatchObject({ consumable: true, critical: false, stops: false, shares: [] });
    expect(advice.kind).not.toBe('none');
    const card = (await owner.get<{ version: number; title: string }>(`/api/jobs/${job.id}`)).body;
    const edit = { title: card.title, wanted: '', buildStandard: 'serviceable', priority: 3, state: 'released' };
    expect((await owner.patch(`/api/jobs/${job.id}`, edit, { ifMatch: card.version })).status).toBe(200);
  });
});

describe('who says what is a consumable', () => {
  it('keeps the books, overwrites nobody, and takes it back only when none is open', async () => {
    const { partId, lot } = await consumable();
    const path = `/api/parts/${partId}/consumable`;
    const settings = { container: 'tube', keepsDays: null, oneAtATime: true, ...bySharesOf(12) };
    expect((await bench.put(path, settings)).status).toBe(403);
    expect((await owner.put(path, settings)).status).toBe(428);
    expect((await owner.put(path, settings, { ifMatch: 9 })).status).toBe(412);
    expect((await owner.put(path, { ...settings, useAmount: '1.00' }, { ifMatch: 1 })).status).toBe(422);
    await open(lot.id);
    const withdraw = () => owner.post<Refused & ConsumableOfPart>(`${path}/withdrawal`, { why: 'no longer' }, { ifMatch: 1 });
    expect((await withdraw()).body.code).toBe('still-open');
    const { open: opened } = await ofPart(partId);
    await end(opened[0]!.thing.id);
    expect((await withdraw()).body.consumable).toBeNull();
    expect((await owner.put(`/api/parts/${await stock.part({ unit: 'mm' })}/consumable`, settings)).status).toBe(422);
  });
});
