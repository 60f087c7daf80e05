import fc from 'fast-check';
import type {
  ClaimFact,
  LineFacts,
  ReceiptFact,
  StockFact,
  WantingJob,
  WorkshopFacts,
} from '../../apps/api/src/coverage/coverage-facts.js';

const today = '2026-06-01';

const parts = ['a', 'b', 'c', 'd'];
const partOf = fc.constantFrom(...parts);
const jobsMax = 4;

const anyLine = fc.record({
  partId: partOf,
  needed: fc.integer({ min: 1, max: 4 }),
  critical: fc.boolean(),
  reusable: fc.boolean(),
  lookedAt: fc.integer({ min: 0, max: 2 }),
  reused: fc.integer({ min: 0, max: 1 }),
  fitted: fc.integer({ min: 0, max: 1 }),
  isWaived: fc.integer({ min: 0, max: 9 }).map((figure) => figure === 0),
});
const anyJob = fc.record({
  customerId: fc.constantFrom(null, 'ann', 'bob'),
  ways: fc.constantFrom([], ['same as'], ['same as', 'superseding', 'will serve for']),
  sources: fc.constantFrom([], ['new', 'old stock']),
  makes: fc.constantFrom([], ['genuine']),
  gradeLeastRank: fc.constantFrom(null, 2),
  lines: fc.array(anyLine, { minLength: 1, maxLength: 3 }),
});
const anyLot = fc.record({
  partId: partOf,
  free: fc.integer({ min: 0, max: 4 }),
  ownerId: fc.constantFrom(null, null, 'ann'),
  held: fc.constantFrom(null, null, null, 'cracked'),
  condemned: fc.integer({ min: 0, max: 7 }).map((figure) => figure === 0),
  source: fc.constantFrom('new', 'old stock', 'bought used'),
  make: fc.constantFrom('genuine', 'pattern'),
  gradeRank: fc.constantFrom(null, 1, 3),
  // metal; rubber of last year; rubber of 1990; rubber without a date
  age: fc.constantFrom('metal', 'metal', 'fresh', 'old', 'undated'),
  set: fc.constantFrom(null, null, null, 'set'),
});
/** A small workshop in which every rule has something to do. */
const drawnWorkshop = fc.record({
  jobs: fc.array(anyJob, { minLength: 1, maxLength: jobsMax }),
  lots: fc.array(anyLot, { maxLength: 8 }),
  claims: fc.array(
    fc.record({
      lot: fc.nat(),
      job: fc.nat(),
      line: fc.option(fc.nat()),
      quantity: fc.integer({ min: 1, max: 2 }),
      inTray: fc.boolean(),
    }),
    { maxLength: 3 },
  ),
  receipts: fc.array(
    fc.record({
      partId: partOf,
      outstanding: fc.integer({ min: 1, max: 3 }),
      dueOn: fc.constantFrom(null, '2026-06-10', '2026-07-01'),
      confirmed: fc.boolean(),
      job: fc.option(fc.nat()),
    }),
    { maxLength: 3 },
  ),
  away: fc.array(partOf, { maxLength: 2 }),
  donors: fc.array(
    fc.record({
      partId: partOf,
      eachHas: fc.integer({ min: 1, max: 3 }),
      serviceable: fc.nat({ max: 8 }),
      looked: fc.integer({ min: 0, max: 8 }),
    }),
    { maxLength: 2 },
  ),
  // b is the same as a, c supersedes b, d will serve for c; on some days
  relations: fc.array(
    fc.record({ wanted: partOf, server: partOf, as: fc.constantFrom('same as', 'superseding', 'will serve for') }),
    { maxLength: 4 },
  ),
  accepted: fc.array(fc.record({ job: fc.nat(), line: fc.nat(), partId: partOf }), { maxLength: 2 }),
});
type Drawn = typeof drawnWorkshop extends fc.Arbitrary<infer Value> ? Value : never;

function factsOf(drawn: Drawn): WorkshopFacts {
  const jobs = drawn.jobs.map(
    ({ customerId }, index): WantingJob => ({
      id: `job ${index}`,
      code: `J${index}`,
      title: `Job ${index}`,
      customerId,
      state: 'building',
      priority: 3,
      dateGiven: null,
    }),
  );
  const lines = drawn.jobs.flatMap(({ lines: ofJob, ways, sources, makes, gradeLeastRank }, job) =>
    ofJob.map((line, index) => {
      const looked = Math.min(line.lookedAt, line.needed);
      return {
        id: `line ${job}.${index}`,
        jobId: `job ${job}`,
        lineNo: index + 1,
        partId: line.partId,
        name: line.partId,
        number: line.partId,
        unitOfMeasure: 'each',
        needed: String(line.needed),
        critical: line.critical,
        reusable: line.reusable,
        lookedAt: String(looked),
        reused: String(line.reusable ? Math.min(line.reused, looked) : 0),
        fitted: String(Math.min(line.fitted, line.needed)),
        findingWords: '',
        ownAway: '',
        waived: line.isWaived ? 'not wanted' : null,
        ways,
        sources,
        makes,
        gradeLeast: gradeLeastRank === null ? '' : 'B',
        gradeLeastRank,
        buildStandard: 'serviceable',
        operationId: 'operation',
        operationNumber: 10,
        further: false,
        version: 1,
      } as unknown as LineFacts;
    }),
  );
  const lineAt = (job: number, line: number) => {
    const ofJob = lines.filter(({ jobId }) => jobId === `job ${job % jobs.length}`);
    return ofJob[line % ofJob.length]!;
  };
  // a job claims a thing for a line once
  const claimed = drawn.claims.flatMap(({ lot, job, line, quantity, inTray }, index): ClaimFact[] => {
    if (drawn.lots.length === 0) return [];
    const from = drawn.lots[lot % drawn.lots.length]!;
    if (from.set !== null) return [];
    return [
      {
        jobId: `job ${job % jobs.length}`,
        lineId: line === null ? null : lineAt(job, line).id,
        thingId: `lot ${lot % drawn.lots.length}`,
        code: `L${lot % drawn.lots.length}`,
        name: from.partId,
        partId: from.partId,
        quantity: String(quantity),
        inTray,
        where: `shelf ${index}`,
      },
    ];
  });
  const claims = [...new Map(claimed.map((claim) => [`${claim.thingId} ${claim.jobId} ${claim.lineId}`, claim])).values()];
  const stock = drawn.lots.map((lot, index) => {
    const isRubber = lot.age !== 'metal';
    const packed = { metal: null, fresh: '2025-05-01', old: '1990-01-01', undated: null }[lot.age];
    const ofLot = claims.filter(({ thingId }) => thingId === `lot ${index}`);
    return {
      partId: lot.partId,
      thingId: `lot ${index}`,
      code: `L${index}`,
      name: lot.partId,
      free: String(lot.free),
      claimed: String(ofLot.reduce((sum, claim) => sum + Number(claim.quantity), 0)),
      heldBackReason: lot.held,
      condemned: lot.condemned,
      setId: lot.set,
      ownerId: lot.ownerId,
      source: lot.source,
      make: lot.make,
      condition: lot.gradeRank === null ? '' : 'ABC'[lot.gradeRank - 1],
      gradeRank: lot.gradeRank,
      material: isRubber ? 'rubber' : 'metal',
      polymer: isRubber ? 'NBR' : '',
      packetRead: packed ?? '',
      packetEarliest: packed,
      packetLatest: packed,
      packetCondition: 'sealed',
      inspectedOn: null,
      bearingPacking: null,
      bearingStore: null,
    } as unknown as StockFact;
  });
  const members = stock.filter(({ setId }) => setId !== null).map(({ thingId }) => thingId);
  const servers = new Map<
    string,
    { part: { id: string; name: string; number: string; maker: string }; as: string; ways: string[] }[]
  >();
  for (const { wanted, server, as } of drawn.relations) {
    const known = servers.get(wanted) ?? [];
    if (wanted === server || known.some(({ part }) => part.id === server)) continue;
    servers.set(wanted, [...known, { part: { id: server, name: server, number: server, maker: 'Halloran' }, as, ways: [as] }]);
  }
  const told = [...servers].map(
    ([wanted, known]) => [wanted, known.map((each) => ({ ...each, words: '', conditions: '', doubt: '' }))] as const,
  );
  const accepted = new Map(
    drawn.accepted.map(({ job, line, partId }) => {
      const { id: lineId, partId: wanted } = lineAt(job, line);
      return [`${lineId} ${partId}`, { lineId, wanted, partId }];
    }),
  );
  return {
    today,
    jobs,
    lines,
    fitted: [],
    claims,
    stock,
    sets: members.length === 0 ? [] : [{ id: 'set', number: '7', words: 'wheel and worm', memberIds: members, takers: [] }],
    receipts: drawn.receipts.map(
      ({ partId, outstanding, dueOn, confirmed, job }, index): ReceiptFact => ({
        id: `order ${index}`,
        partId,
        orderReference: `${index}`,
        supplier: 'Veldrow Bearings',
        outstanding: String(outstanding),
        dueOn,
        confirmed: confirmed && dueOn !== null,
        forJobId: job === null ? null : `job ${job % jobs.length}`,
      }),
    ),
    away: drawn.away.map((partId, index) => ({
      partId,
      thingId: `away ${index}`,
      code: `C${index}`,
      name: partId,
      firm: 'a plater',
      free: '1',
    })),
    donors: drawn.donors.map(({ partId, eachHas, serviceable, looked }, index) => ({
      unitId: `core ${index}`,
      code: `U${index}`,
      name: 'Axle',
      partId,
      position: 1,
      eachHas,
      serviceable: Math.min(serviceable, looked),
      looked,
    })),
    servers: new Map(told) as unknown as WorkshopFacts['servers'],
    substitutes: [...accepted.values()]
      .filter(({ wanted, partId }) => wanted !== partId)
      .map(({ lineId, partId }) => ({
        lineId,
        part: { id: partId, name: partId, number: partId, maker: 'Halloran' },
        evidence: { kind: 'measured', words: 'all of it' },
        acceptedBy: 'Edie Marrack',
        deviation: '',
      })) as unknown as WorkshopFacts['substitutes'],
  };
}

export const anyWorkshop = drawnWorkshop.map(factsOf);
