import { coverOfJobs } from '../cover-lines.js';
import type { DonorFact, LineFacts, ReceiptFact, StockFact, WantingJob, WorkshopFacts } from '../coverage-facts.js';
import { shareOut } from '../share-out.js';
import { coresBroken, jobsFirst, linesAccept, ordersCome, substitutesAccepted, supposing } from './suppositions.js';

const job = (id: string, priority = 3): WantingJob => ({
  id,
  code: `J0000${id.length}00`,
  title: id,
  customerId: null,
  state: 'building',
  priority,
  dateGiven: null,
});

const line = (id: string, jobId: string, partId: string, more: Partial<LineFacts> = {}): LineFacts => ({
  id,
  jobId,
  lineNo: 1,
  partId,
  name: partId,
  number: partId,
  unitOfMeasure: 'each',
  needed: '1',
  operationId: 'build',
  operationNumber: 10,
  critical: true,
  reusable: false,
  further: false,
  waived: null,
  consumable: false,
  version: 1,
  fitted: '0',
  reused: '0',
  lookedAt: '0',
  findingWords: '',
  ownAway: '',
  sources: [],
  makes: [],
  gradeLeast: '',
  gradeLeastRank: null,
  ways: ['same as', 'superseding', 'will serve for'],
  buildStandard: 'serviceable',
  ...more,
});

const lot = (thingId: string, partId: string, more: Partial<StockFact> = {}): StockFact => ({
  partId,
  thingId,
  code: `L0000${thingId.length}00`,
  name: partId,
  free: '1',
  claimed: '0',
  heldBackReason: null,
  condemned: false,
  missingSince: null,
  setId: null,
  ownerId: null,
  source: 'new',
  make: 'pattern',
  condition: '',
  gradeRank: null,
  material: 'metal',
  polymer: '',
  packetRead: '',
  packetEarliest: null,
  packetLatest: null,
  packetCondition: 'none',
  inspectedOn: null,
  bearingPacking: null,
  bearingStore: null,
  ...more,
});

const order = (id: string, partId: string, dueOn: string | null, confirmed = true): ReceiptFact => ({
  id,
  partId,
  orderReference: id,
  supplier: 'Veldrow Bearings',
  outstanding: '1',
  dueOn,
  confirmed,
  forJobId: null,
  reserved: null,
});

const donor = (unitId: string, position: number, partId: string, more: Partial<DonorFact> = {}): DonorFact => ({
  unitId,
  code: 'U00000190',
  name: 'Brantock WD7',
  partId,
  position,
  eachHas: 4,
  serviceable: 5,
  looked: 10,
  ...more,
});

const workshop = (facts: Partial<WorkshopFacts>): WorkshopFacts => ({
  today: '2026-11-27',
  jobs: [job('early', 1), job('late', 5)],
  lines: [line('a', 'early', 'wheel'), line('b', 'late', 'wheel')],
  fitted: [],
  claims: [],
  stock: [],
  sets: [],
  receipts: [],
  away: [],
  donors: [],
  servers: new Map(),
  substitutes: [],
  ...facts,
});

/** By the line: what it is covered with. */
function coverOf(facts: WorkshopFacts): Record<string, string> {
  const lines = [...coverOfJobs(shareOut(facts)).values()].flat();
  return Object.fromEntries(
    lines.map(({ id, shares }) => [id, shares.map(({ state, quantity }) => `${quantity} ${state}`).join(', ')]),
  );
}

describe('what is supposed', () => {
  it('is nothing where nothing is: the facts share out as before', () => {
    const facts = workshop({
      stock: [lot('one', 'wheel')],
      donors: [donor('core', 1, 'wheel')],
      receipts: [order('5', 'wheel', null)],
    });
    const nothing = { first: [], accepts: new Map(), broken: [], donorsLeft: [], orders: new Map(), substitutes: [] };
    expect(coverOf(supposing(facts, nothing))).toEqual(coverOf(facts));
  });

  it('of a job that comes first gives it the last one, and tells the other why', () => {
    const facts = workshop({ stock: [lot('one', 'wheel')] });
    expect(coverOf(facts)).toEqual({ a: '1 free in stores', b: '1 lacking' });
    const then = jobsFirst(facts, ['late']);
    expect(coverOf(then)).toEqual({ a: '1 lacking', b: '1 free in stores' });
    const [lost] = coverOfJobs(shareOut(then)).get('early') ?? [];
    expect(lost?.elsewhere.map(({ words }) => words).join()).toMatch(/it is supposed to come first$/);
  });

  it('of several jobs that come first keeps the order in which they were named', () => {
    const facts = workshop({ jobs: [job('one'), job('two'), job('three')] });
    expect(jobsFirst(facts, ['three', 'two']).jobs.map(({ id }) => id)).toEqual(['three', 'two', 'one']);
  });

  it('of a core that is broken puts into stores what is to be expected of it, or all that it has', () => {
    const facts = workshop({
      lines: [line('a', 'early', 'wheel', { needed: '5' }), line('b', 'late', 'pinion', { needed: '1' })],
      donors: [donor('core', 1, 'wheel'), donor('core', 2, 'pinion', { looked: 2, serviceable: 2, eachHas: 1 })],
    });
    expect(coverOf(facts)).toEqual({ a: '2 from a core, 3 lacking', b: '1 lacking' });
    const broken = (gives: 'expected' | 'all') =>
      coresBroken(
        facts,
        facts.donors.map((each) => ({ donor: each, gives })),
        [],
      );
    expect(coverOf(broken('expected'))).toEqual({ a: '2 free in stores, 3 lacking', b: '1 lacking' });
    // two components of one core are two lots, though they come out of one thing
    expect(coverOf(broken('all'))).toEqual({ a: '4 free in stores, 1 lacking', b: '1 free in stores' });
  });

  it('of a core that is broken leaves the other cores to be thought of, and gives nothing that the line would not take', () => {
    const facts = workshop({
      lines: [line('a', 'early', 'wheel', { needed: '3' }), line('b', 'late', 'wheel', { sources: ['new'] })],
      donors: [donor('core', 1, 'wheel'), donor('other', 1, 'wheel')],
    });
    const [first, second] = facts.donors as [DonorFact, DonorFact];
    expect(coverOf(coresBroken(facts, [{ donor: first, gives: 'expected' }], [second]))).toEqual({
      a: '2 free in stores, 1 from a core',
      b: '1 lacking',
    });
  });

  it('of an order moves its day, or takes it away', () => {
    const facts = workshop({ receipts: [order('5', 'wheel', '2026-12-04'), order('6', 'wheel', '2026-12-11')] });
    const onOrder = (then: WorkshopFacts) =>
      [...coverOfJobs(shareOut(then)).values()].flat().map(({ shares }) => shares.map(({ dueOn }) => dueOn));
    expect(onOrder(facts)).toEqual([['2026-12-04'], ['2026-12-11']]);
    // the job that is served first takes what comes first
    expect(onOrder(ordersCome(facts, new Map([['5', '2026-12-25']])))).toEqual([['2026-12-11'], ['2026-12-25']]);
    expect(coverOf(ordersCome(facts, new Map([['5', null]])))).toEqual({ a: '1 on order', b: '1 lacking' });
  });

  it('of a substitute covers the lines that it is accepted for and no other', () => {
    const facts = workshop({ stock: [lot('one', 'like', { free: '2' })] });
    const accepted = {
      id: 'a',
      lineId: 'b',
      part: { id: 'like', name: 'like', number: 'like', maker: '' },
      marking: '',
      measured: '',
      evidence: { kind: 'told' as const, words: 'supposed' },
      deviation: '',
      position: '',
      relationId: null,
      acceptedBy: 'nobody yet',
      acceptedAt: '',
    };
    expect(coverOf(substitutesAccepted(facts, [accepted]))).toEqual({ a: '1 lacking', b: '1 free in stores' });
  });

  it('of another build standard changes what the lines of that job take', () => {
    const facts = workshop({ stock: [lot('one', 'wheel'), lot('two', 'wheel')] });
    const { ways, buildStandard } = line('a', 'early', 'wheel');
    const genuine = { sources: [], makes: ['genuine' as const], gradeLeast: '', gradeLeastRank: null, ways, buildStandard };
    expect(coverOf(linesAccept(facts, new Map([['a', genuine]])))).toEqual({ a: '1 lacking', b: '1 free in stores' });
  });

  it('leaves the facts themselves as they were', () => {
    const facts = workshop({ stock: [lot('one', 'wheel')], receipts: [order('5', 'wheel', '2026-12-04')] });
    const before = structuredClone(facts);
    supposing(facts, {
      first: ['late'],
      accepts: new Map(),
      broken: [{ donor: donor('core', 1, 'wheel'), gives: 'all' }],
      donorsLeft: [],
      orders: new Map([['5', null]]),
      substitutes: [],
    });
    expect(facts).toEqual(before);
  });
});
