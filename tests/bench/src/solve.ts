/** What goes where in a generated workshop: all of it from cold, after one event, against an exact solver, and with more jobs. */
import { createRequire } from 'node:module';
import { allocate, type Given } from '@corewright/allocation/allocate';
import type { AllocationChange } from '@corewright/allocation/allocation-change';
import type { AllocationProblem } from '@corewright/allocation/allocation-problem';
import { connectedParts } from '@corewright/allocation/connected-parts';
import { StandingAllocation } from '@corewright/allocation/standing-allocation';
import type { Highs } from 'highs';
import type { BenchRow } from './bench-row.js';
import { interleave, median, rounded, rounds } from './figures.js';
import { Dice, type GeneratedSize, generateWorkshop } from './generated-workshop.js';
import { byPrograms, reachedBy } from './lexicographic-programs.js';
import { problemOf } from './workshop-links.js';

const loadHighs = createRequire(import.meta.url)('highs') as () => Promise<Highs>;

const seed = 7;
const warmUpPasses = 3;
const eventsPerRound = 60;
const large: GeneratedSize = { jobs: 500, linesPerJob: 60, parts: 40_000, lots: 100_000, relations: 50_000, unitTypes: 25 };
const tenth: GeneratedSize = { ...large, jobs: 50 };
const exact: GeneratedSize = { jobs: 20, linesPerJob: 20, parts: 300, lots: 500, relations: 400, unitTypes: 2 };
const reach = { coldMilliseconds: 1000, eventMilliseconds: 20, shareOfSolver: 0.02, growth: 14 };

export function solveCold(): BenchRow[] {
  const workshop = generateWorkshop(large, seed);
  const problem = problemOf(workshop);
  warmUp(problem);
  const before = process.cpuUsage();
  const value = repeated(() => allocate(problem));
  const processors = onProcessors(before, rounds);
  const linking = repeated(() => problemOf(workshop));
  return [
    {
      id: 'solve-cold',
      what: `what goes where from cold, ${sizeOf(problem)}, median; ${processors} ms of the processors; ${Math.round(linking)} ms before that for its links, from parts, lots and relations`,
      value: rounded(value),
      unit: 'ms',
      reach: `at most ${reach.coldMilliseconds}`,
      holds: value <= reach.coldMilliseconds,
    },
  ];
}

export function solveEvent(): BenchRow[] {
  const problem = problemOf(generateWorkshop(large, seed));
  const dice = new Dice(seed);
  const fitted = new Set<string>();
  let standing = StandingAllocation.of(problem);
  const times: number[] = [];
  for (let event = 0; event < (rounds + 1) * eventsPerRound; event += 1) {
    const change = eventOf(event, problem, dice, fitted);
    const milliseconds = timed(() => {
      standing = standing.with(change).allocation;
    });
    // the first round warms up
    if (event >= eventsPerRound) times.push(milliseconds);
  }
  const value = median(times);
  return [
    {
      id: 'solve-event',
      what: `what goes where after one event (a lot counted anew, a lot received, a line fitted), ${sizeOf(problem)}, median; the slowest of ${times.length} took ${Math.round(Math.max(...times))} ms`,
      value: rounded(value),
      unit: 'ms',
      reach: `at most ${reach.eventMilliseconds}`,
      holds: value <= reach.eventMilliseconds,
    },
  ];
}

export async function solveExact(): Promise<BenchRow[]> {
  const highs = await loadHighs();
  const problem = problemOf(generateWorkshop(exact, seed));
  warmUp(problem);
  let [given, solved]: [readonly Given[], ReturnType<typeof byPrograms> | null] = [[], null];
  const pairs = await interleave(
    async () => timed(() => (given = allocate(problem))),
    async () => timed(() => (solved = byPrograms(problem, highs))),
  );
  const isSame = JSON.stringify(reachedBy(problem, given)) === JSON.stringify(solved);
  const value = median(pairs.map(({ ours, floor }) => ours / floor));
  const programs = median(pairs.map(({ floor }) => floor));
  return [
    {
      id: 'solve-exact',
      what: `what goes where against an exact solver (HiGHS, ${Math.round(programs)} ms), ${sizeOf(problem)}: ${isSame ? 'the same' : 'NOT THE SAME'} at each level and figure`,
      value: rounded(value),
      unit: 'of its time',
      reach: `at most ${reach.shareOfSolver}, and the same`,
      holds: isSame && value <= reach.shareOfSolver,
    },
  ];
}

export async function solveGrowth(): Promise<BenchRow[]> {
  const [many, few] = [large, tenth].map((size) => linkedAlone(problemOf(generateWorkshop(size, seed)))) as [
    AllocationProblem,
    AllocationProblem,
  ];
  warmUp(few);
  warmUp(many);
  const pairs = await interleave(
    async () => timed(() => allocate(many)),
    async () => repeated(() => allocate(few)),
  );
  const value = median(pairs.map(({ ours, floor }) => ours / floor));
  return [
    {
      id: 'solve-growth',
      what: `the same from cold with ten times the jobs: ${sizeOf(few)} before, ${sizeOf(many)} then; lots that serve nothing left out`,
      value: rounded(value),
      unit: 'times',
      reach: `at most ${reach.growth}`,
      holds: value <= reach.growth,
    },
  ];
}

/** By turns a lot of another quantity, a lot like one that is there, and a line that wants no more. */
function eventOf(event: number, { demands, links }: AllocationProblem, dice: Dice, fitted: Set<string>): AllocationChange {
  const { supplyId } = links[dice.below(links.length)]!;
  if (event % 3 === 0) return { set: { supplies: [{ id: supplyId, quantity: dice.below(10) }] } };
  if (event % 3 === 1) {
    const received = { id: `received ${event}`, quantity: 1 + dice.below(10) };
    const like = links.filter((each) => each.supplyId === supplyId && !fitted.has(each.demandId));
    return { set: { supplies: [received], links: like.map((each) => ({ ...each, supplyId: received.id })) } };
  }
  const open = demands.filter(({ id }) => !fitted.has(id));
  const { id } = open[dice.below(open.length)]!;
  fitted.add(id);
  return { removed: { demandIds: [id] } };
}

/** Lots that serve nothing cost the same at any number of jobs; a growth would be hidden behind them. */
function linkedAlone({ supplies, demands, links }: AllocationProblem): AllocationProblem {
  const linked = new Set(links.map(({ supplyId }) => supplyId));
  return { supplies: supplies.filter(({ id }) => linked.has(id)), demands, links };
}

function sizeOf(problem: AllocationProblem): string {
  const largest = connectedParts(problem).reduce((one, other) => (one.links.length < other.links.length ? other : one));
  return `${problem.demands.length} lines, ${problem.supplies.length} lots, ${problem.links.length} links, the largest connected part ${largest.demands.length} × ${largest.supplies.length}`;
}

function warmUp(problem: AllocationProblem): void {
  for (let pass = 0; pass < warmUpPasses; pass += 1) allocate(problem);
}

/** What each run took of the processors: hardly more on a busy machine, where a run waits for its turn. */
function onProcessors(before: NodeJS.CpuUsage, runs: number): number {
  const { user, system } = process.cpuUsage(before);
  return Math.round((user + system) / 1000 / runs);
}

function repeated(what: () => unknown): number {
  return median(Array.from({ length: rounds }, () => timed(what)));
}

function timed(what: () => unknown): number {
  const began = performance.now();
  what();
  return performance.now() - began;
}
