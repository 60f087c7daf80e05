/**
 * Small random workshops with every rule at once: owners, holds, storage life, build standards, grades, kept sets, reservations, orders, cores,
 * what is at an outworker and what nobody has looked at. The rules are written here a second time, plainly, and what goes where is found by an
 * exact solver of linear programs (HiGHS), one goal after another.
 */
import fc from 'fast-check';
import loadHighs from 'highs';
import type { LineFacts, StockFact, WorkshopFacts } from '../../apps/api/src/coverage/coverage-facts.js';
import { type SharedOut, shareOut } from '../../apps/api/src/coverage/share-out.js';
import { anyWorkshop } from './any-workshop.js';

const highs = await loadHighs({});
const isLong = process.env.CW_LONG === '1';
interface Pair {
  source: string;
  line: LineFacts;
  rank: number;
  /** the class of comfort, to be compared as text */
  comfort: string;
}

interface Plain {
  demands: { line: LineFacts; rank: number; open: number }[];
  amounts: Map<string, number>;
  pairs: Pair[];
}

/** The rules once more, pair by pair. */
function plainly(facts: WorkshopFacts): Plain {
  const demands = facts.lines
    .map((line) => ({
      line,
      rank: facts.jobs.findIndex(({ id }) => id === line.jobId),
      open: line.waived === null ? Math.max(0, Number(line.needed) - Number(line.fitted) - Number(line.reused)) : 0,
    }))
    .filter(({ open }) => open > 0);
  const takes = (line: LineFacts, partId: string): boolean =>
    line.partId === partId ||
    facts.substitutes.some((each) => each.lineId === line.id && each.part.id === partId) ||
    (facts.servers.get(line.partId) ?? []).some((server) => server.part.id === partId && line.ways.includes(server.as));
  const isGood = (lot: StockFact, line: LineFacts): boolean => {
    const isOld = lot.material === 'rubber' && lot.packetEarliest !== '2025-05-01';
    const isAccepted =
      (line.sources.length === 0 || line.sources.includes(lot.source)) &&
      (line.makes.length === 0 || line.makes.includes(lot.make)) &&
      (line.gradeLeastRank === null || (lot.gradeRank !== null && lot.gradeRank <= line.gradeLeastRank));
    return lot.heldBackReason === null && !lot.condemned && !isOld && isAccepted;
  };
  const isOwners = (lot: StockFact, rank: number) => lot.ownerId === null || lot.ownerId === facts.jobs[rank]!.customerId;
  const members = facts.stock.filter(({ setId }) => setId !== null);
  const wantsAll = (rank: number): boolean => {
    const left = demands.filter((each) => each.rank === rank);
    return members.every((lot) => {
      const at = left.findIndex(({ line }) => isOwners(lot, rank) && takes(line, lot.partId) && isGood(lot, line));
      return at !== -1 && left.splice(at, 1).length === 1;
    });
  };
  const isWhole = members.every(({ free }) => Number(free) > 0);
  const takerOfSet = isWhole ? facts.jobs.findIndex((_, rank) => wantsAll(rank)) : -1;
  const amounts = new Map<string, number>();
  const pairs: Pair[] = [];
  for (const { line, rank, open } of demands) {
    const add = (source: string, amount: number, comfort: string) => {
      if (amount <= 0) return;
      amounts.set(source, amount);
      pairs.push({ source, line, rank, comfort });
    };
    for (const claim of facts.claims) {
      const forIt = claim.lineId === null ? takes(line, claim.partId ?? '') : claim.lineId === line.id;
      const lot = facts.stock.find(({ thingId }) => thingId === claim.thingId)!;
      if (claim.jobId !== line.jobId || !forIt || (!claim.inTray && !isGood(lot, line))) continue;
      add(`claim ${claim.thingId} ${claim.jobId} ${claim.lineId}`, Number(claim.quantity), claim.inTray ? '0' : '1');
    }
    if (line.reusable) add(`own ${line.id}`, Math.min(open, Number(line.needed) - Number(line.lookedAt)), '2');
    for (const lot of facts.stock)
      if (takes(line, lot.partId) && isGood(lot, line) && isOwners(lot, rank) && (lot.setId === null || takerOfSet === rank))
        add(lot.thingId, Number(lot.free), '3');
    for (const each of facts.away) if (takes(line, each.partId)) add(each.thingId, 1, '4');
    for (const receipt of facts.receipts)
      if (takes(line, receipt.partId) && (receipt.forJobId === null || receipt.forJobId === line.jobId))
        add(receipt.id, Number(receipt.outstanding), `5 ${receipt.dueOn ?? '9999'} ${receipt.confirmed ? 0 : 1}`);
    const takesUsed =
      (line.sources.length === 0 || line.sources.includes('harvested')) &&
      line.makes.length === 0 &&
      line.gradeLeastRank === null;
    for (const donor of facts.donors) {
      if (!takes(line, donor.partId) || !takesUsed || donor.looked < 5) continue;
      const mean = (0.5 + donor.serviceable) / (1 + donor.looked);
      add(`core ${donor.unitId} 1`, Math.max(Math.floor(donor.eachHas * mean), mean >= 0.5 ? 1 : 0), '6');
    }
  }
  return { demands, amounts, pairs };
}

/** What hangs together, by walking from pair to pair. */
function parted(pairs: readonly Pair[]): Pair[][] {
  const left = new Set(pairs);
  const found: Pair[][] = [];
  while (left.size > 0) {
    const [first] = left;
    const part = [first!];
    left.delete(first!);
    for (const at of part)
      for (const next of [...left])
        if (next.source === at.source || next.line.id === at.line.id) {
          part.push(next);
          left.delete(next);
        }
    found.push(part);
  }
  return found;
}

/** The greatest cover of each level, then the least discomfort of each job, by one linear program after another. */
function bySolver({ demands, amounts, pairs }: Plain): Map<string, number> {
  const reached = new Map<string, number>();
  const add = (goal: string, figure: number) => reached.set(goal, (reached.get(goal) ?? 0) + figure);
  for (const part of parted(pairs)) {
    const classes = [...new Set(part.map(({ comfort }) => comfort))].toSorted();
    const sum = (weights: readonly number[]) => weights.map((weight, index) => `+ ${weight} x${index}`).join(' ');
    const only = (is: (pair: Pair) => boolean) => sum(part.map((pair) => (is(pair) ? 1 : 0)));
    const rows = [
      ...new Set(part.map(({ source }) => `${only((pair) => pair.source === source)} <= ${amounts.get(source)}`)),
      ...new Set(
        part.map(({ line }) => `${only((pair) => pair.line === line)} <= ${demands.find((each) => each.line === line)!.open}`),
      ),
    ];
    const best = (goal: 'Maximize' | 'Minimize', of: string): number => {
      const answer = highs.solve(
        [goal, ` obj: ${of}`, 'Subject To', ...rows.map((row, index) => ` r${index}: ${row}`), 'End'].join('\n'),
      );
      if (answer.Status !== 'Optimal') throw new Error(answer.Status);
      const figure = Math.round(answer.ObjectiveValue);
      rows.push(`${of} = ${figure}`);
      return figure;
    };
    const ranks = [...new Set(part.map(({ rank }) => rank))].toSorted((one, other) => one - other);
    for (const rank of ranks)
      for (const critical of [true, false])
        if (part.some((pair) => pair.rank === rank && pair.line.critical === critical))
          add(
            `cover ${rank} ${critical}`,
            best(
              'Maximize',
              only((pair) => pair.rank === rank && pair.line.critical === critical),
            ),
          );
    for (const rank of ranks)
      add(
        `discomfort ${rank}`,
        best('Minimize', sum(part.map((pair) => (pair.rank === rank ? classes.indexOf(pair.comfort) : 0)))),
      );
  }
  return reached;
}

/** The same figures of what is really given. */
function byUs({ given }: SharedOut, { pairs }: Plain): Map<string, number> {
  const reached = new Map<string, number>();
  const add = (goal: string, figure: number) => reached.set(goal, (reached.get(goal) ?? 0) + figure);
  const shares = [...given.values()].flat();
  for (const part of parted(pairs)) {
    const classes = [...new Set(part.map(({ comfort }) => comfort))].toSorted();
    for (const { rank, line } of part) {
      add(`cover ${rank} ${line.critical}`, 0);
      add(`discomfort ${rank}`, 0);
    }
    for (const { source, asking, quantity } of shares) {
      const pair = part.find((each) => each.source === source.id && each.line.id === asking.line.id);
      if (pair === undefined) continue;
      add(`cover ${pair.rank} ${pair.line.critical}`, Number(quantity) / 10_000);
      add(`discomfort ${pair.rank}`, (classes.indexOf(pair.comfort) * Number(quantity)) / 10_000);
    }
  }
  return reached;
}

describe('what goes where with every rule at once', () => {
  it('gives nothing that the rules forbid, and no more than there is', () => {
    fc.assert(
      fc.property(anyWorkshop, (facts) => {
        const plain = plainly(facts);
        const shared = shareOut(facts);
        const allowed = new Set(plain.pairs.map(({ source, line }) => `${source} to ${line.id}`));
        expect(
          new Set([...shared.mayServe.values()].flat().map(({ source, asking }) => `${source.id} to ${asking.line.id}`)),
        ).toEqual(allowed);
        for (const [sourceId, takers] of shared.takers)
          expect(takers.reduce((sum, { quantity }) => sum + Number(quantity), 0)).toBeLessThanOrEqual(
            10_000 * plain.amounts.get(sourceId)!,
          );
      }),
      { numRuns: isLong ? 2000 : 200 },
    );
  });

  it('is, level by level and job by job, what an exact solver of linear programs finds (HiGHS)', () => {
    fc.assert(
      fc.property(anyWorkshop, (facts) => {
        const plain = plainly(facts);
        expect(byUs(shareOut(facts), plain)).toEqual(bySolver(plain));
      }),
      { numRuns: isLong ? 2000 : 200 },
    );
  });
});
