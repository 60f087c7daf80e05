import type { AllocationProblem, Link } from './allocation-problem.js';

/** What is no longer there goes first, its links with it; then what is set is added, or takes the place of what has the same id or joins the same two. */
export interface AllocationChange {
  readonly removed?: {
    readonly supplyIds?: readonly string[];
    readonly demandIds?: readonly string[];
    readonly links?: readonly Joins[];
  };
  readonly set?: Partial<AllocationProblem>;
}

type Joins = Pick<Link, 'supplyId' | 'demandId'>;

/** Whatever a change names. */
export function idsIn({ removed, set }: AllocationChange): { supplyIds: ReadonlySet<string>; demandIds: ReadonlySet<string> } {
  const links = [...(removed?.links ?? []), ...(set?.links ?? [])];
  return {
    supplyIds: new Set([
      ...(removed?.supplyIds ?? []),
      ...(set?.supplies ?? []).map(({ id }) => id),
      ...links.map(({ supplyId }) => supplyId),
    ]),
    demandIds: new Set([
      ...(removed?.demandIds ?? []),
      ...(set?.demands ?? []).map(({ id }) => id),
      ...links.map(({ demandId }) => demandId),
    ]),
  };
}

/** @throws RangeError where what is to be removed is not there */
export function changedProblem(asked: AllocationProblem, { removed, set }: AllocationChange): AllocationProblem {
  const supplies = without(asked.supplies, removed?.supplyIds);
  const demands = without(asked.demands, removed?.demandIds);
  const [goneSupplies, goneDemands] = [new Set(removed?.supplyIds), new Set(removed?.demandIds)];
  const goneLinks = new Pairs(removed?.links ?? []);
  const links = asked.links.filter((link) => !goneLinks.has(link));
  if (links.length !== asked.links.length - goneLinks.size) throw new RangeError('What is to be removed is not there.');
  const replaced = new Pairs(set?.links ?? []);
  return {
    supplies: replacedBy(supplies, set?.supplies ?? []),
    demands: replacedBy(demands, set?.demands ?? []),
    links: [
      ...links.filter((link) => !goneSupplies.has(link.supplyId) && !goneDemands.has(link.demandId) && !replaced.has(link)),
      ...(set?.links ?? []),
    ],
  };
}

function without<T extends { readonly id: string }>(all: readonly T[], removed: readonly string[] = []): readonly T[] {
  const gone = new Set(removed);
  const left = all.filter(({ id }) => !gone.has(id));
  if (left.length !== all.length - gone.size) throw new RangeError('What is to be removed is not there.');
  return left;
}

function replacedBy<T extends { readonly id: string }>(all: readonly T[], set: readonly T[]): readonly T[] {
  const ids = new Set(set.map(({ id }) => id));
  return [...all.filter(({ id }) => !ids.has(id)), ...set];
}

/** Which supply goes with which demand. */
class Pairs {
  private readonly supplies = new Map<string, Set<string>>();
  readonly size: number;

  constructor(links: readonly Joins[]) {
    for (const { supplyId, demandId } of links)
      this.supplies.set(demandId, (this.supplies.get(demandId) ?? new Set()).add(supplyId));
    this.size = [...this.supplies.values()].reduce((sum, { size }) => sum + size, 0);
  }

  has({ supplyId, demandId }: Joins): boolean {
    return this.supplies.get(demandId)?.has(supplyId) ?? false;
  }
}
