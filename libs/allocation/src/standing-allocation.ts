import { allocateConnected, type Given, inOrder } from './allocate.js';
import { type AllocationChange, changedProblem, idsIn } from './allocation-change.js';
import { type AllocationProblem, compareIds, type Demand, type Supply } from './allocation-problem.js';
import { checkFigures } from './check-figures.js';
import { connectedParts } from './connected-parts.js';
import { SharedMap } from './shared-map.js';

/** What hangs together, and what is given in it. */
export interface AnsweredPart {
  readonly problem: AllocationProblem;
  readonly givenTo: ReadonlyMap<string, readonly Given[]>;
}

/** A supply or a demand, and the part in which it stands; none without a link. */
interface Standing<T> {
  readonly asked: T;
  readonly part: AnsweredPart | null;
}

const nothing: readonly Given[] = [];

/**
 * The best use of the supplies (allocate.ts), kept while what is asked changes: only the connected parts that a change touches are answered
 * anew, and the answer is the one from cold. It never changes itself; a change gives another one that shares all else, so that what would be
 * can be asked beside what is.
 */
export class StandingAllocation {
  private constructor(
    private readonly supplies: SharedMap<Standing<Supply>>,
    private readonly demands: SharedMap<Standing<Demand>>,
    readonly parts: ReadonlySet<AnsweredPart>,
  ) {}

  /** @throws RangeError as `allocate` */
  static of(problem: AllocationProblem): StandingAllocation {
    checkFigures(problem);
    const parts = connectedParts(problem).map(answered);
    return new StandingAllocation(
      SharedMap.of([...standingIn(problem.supplies, parts, ({ supplies }) => supplies)]),
      SharedMap.of([...standingIn(problem.demands, parts, ({ demands }) => demands)]),
      new Set(parts),
    );
  }

  /** What a demand has, by supply. */
  givenTo(demandId: string): readonly Given[] {
    return this.demands.get(demandId)?.part?.givenTo.get(demandId) ?? nothing;
  }

  /** All that is given, by demand and supply. */
  get given(): readonly Given[] {
    return inOrder([...this.parts].flatMap(({ givenTo }) => [...givenTo.values()].flat()));
  }

  /**
   * What would stand after a change.
   * @returns `changed`: the ids of the demands that get something else than before; a demand that is no longer there gets nothing
   * @throws RangeError as `allocate`, and where what is to be removed is not there
   */
  with(change: AllocationChange): { readonly allocation: StandingAllocation; readonly changed: readonly string[] } {
    const touched = this.partsTouchedBy(change);
    const problem = changedProblem(this.askedIn(touched, change), change);
    checkFigures(problem);
    const parts = connectedParts(problem).map(answered);
    const allocation = new StandingAllocation(
      this.supplies.with(
        entriesOf(
          change.removed?.supplyIds,
          standingIn(problem.supplies, parts, ({ supplies }) => supplies),
        ),
      ),
      this.demands.with(
        entriesOf(
          change.removed?.demandIds,
          standingIn(problem.demands, parts, ({ demands }) => demands),
        ),
      ),
      new Set([...[...this.parts].filter((part) => !touched.has(part)), ...parts]),
    );
    const changed = new Set(
      [...touched, ...parts]
        .flatMap(({ givenTo }) => [...givenTo.keys()])
        .filter((id) => !isSame(this.givenTo(id), allocation.givenTo(id))),
    );
    return { allocation, changed: [...changed].toSorted(compareIds) };
  }

  private partsTouchedBy(change: AllocationChange): ReadonlySet<AnsweredPart> {
    const { supplyIds, demandIds } = idsIn(change);
    const standing = [...[...supplyIds].map((id) => this.supplies.get(id)), ...[...demandIds].map((id) => this.demands.get(id))];
    return new Set(standing.flatMap((each) => each?.part ?? []));
  }

  /** What is asked in these parts, with what the change names and stands in none. */
  private askedIn(parts: ReadonlySet<AnsweredPart>, change: AllocationChange): AllocationProblem {
    const { supplyIds, demandIds } = idsIn(change);
    const problems = [...parts].map(({ problem }) => problem);
    return {
      supplies: [...problems.flatMap(({ supplies }) => supplies), ...outsideParts(supplyIds, this.supplies)],
      demands: [...problems.flatMap(({ demands }) => demands), ...outsideParts(demandIds, this.demands)],
      links: problems.flatMap(({ links }) => links),
    };
  }
}

function answered(problem: AllocationProblem): AnsweredPart {
  const givenTo = new Map<string, Given[]>();
  for (const given of allocateConnected(problem)) {
    const before = givenTo.get(given.demandId);
    if (before === undefined) givenTo.set(given.demandId, [given]);
    else before.push(given);
  }
  return { problem, givenTo };
}

function* standingIn<T extends Supply | Demand>(
  all: readonly T[],
  parts: readonly AnsweredPart[],
  asked: (problem: AllocationProblem) => readonly T[],
): Iterable<[id: string, standing: Standing<T>]> {
  const partOf = new Map(parts.flatMap((part) => asked(part.problem).map(({ id }) => [id, part] as const)));
  for (const each of all) yield [each.id, { asked: each, part: partOf.get(each.id) ?? null }];
}

function entriesOf<T>(removed: readonly string[] = [], standing: Iterable<[id: string, value: T]>): Map<string, T | undefined> {
  return new Map<string, T | undefined>([...removed.map((id) => [id, undefined] as const), ...standing]);
}

function outsideParts<T>(ids: ReadonlySet<string>, all: SharedMap<Standing<T>>): T[] {
  return [...ids].flatMap((id) => {
    const standing = all.get(id);
    return standing === undefined || standing.part !== null ? [] : [standing.asked];
  });
}

function isSame(before: readonly Given[], after: readonly Given[]): boolean {
  return (
    before.length === after.length &&
    before.every(({ supplyId, quantity }, index) => supplyId === after[index]!.supplyId && quantity === after[index]!.quantity)
  );
}
