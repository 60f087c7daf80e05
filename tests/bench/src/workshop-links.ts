/** What may serve what in a generated workshop, and at what cost. */
import type { AllocationProblem, Link } from '@corewright/allocation/allocation-problem';
import type { GeneratedLine, GeneratedLot, GeneratedWorkshop } from './generated-workshop.js';

/** A relation of a relation of a relation is as far as anybody would go. */
const stepsMost = 3;

/** What stands for a part, with the most that is against it on the best way there. */
type Serving = ReadonlyMap<number, number>;

/** The figures of a cost: one for the comfort of each job, by its rank; then relation, source, versatility, age and code. */
export function problemOf({ relations, lots, jobs }: GeneratedWorkshop): AllocationProblem {
  const servingOf = servers(relations, new Set(jobs.flatMap((lines) => lines.map(({ part }) => part))));
  const lotsOf = groupedBy(lots, ({ part }) => part);
  const versatility = countsOf([...servingOf.values()].flatMap((serving) => [...serving.keys()]));
  const links: Link[] = [];
  for (const [job, lines] of jobs.entries())
    for (const line of lines)
      for (const [part, kind] of servingOf.get(line.part)!)
        for (const lot of lotsOf.get(part) ?? []) {
          if (isRefused(lot, line)) continue;
          const others = [kind, lot.source, versatility.get(part)!, 9000 - lot.ageDays, lot.number];
          const cost = new Map(others.map((figure, index) => [jobs.length + index, figure]));
          const discomfort = discomfortOf(lot, kind);
          if (discomfort > 0) cost.set(job, discomfort);
          links.push({ supplyId: lot.id, demandId: line.id, cost });
        }
  return {
    supplies: lots.map(({ id, quantity }) => ({ id, quantity })),
    demands: jobs.flatMap((lines, job) =>
      lines.map(({ id, isCritical, quantity }) => ({ id, level: 2 * job + (isCritical ? 0 : 1), quantity })),
    ),
    links,
  };
}

function servers(relations: GeneratedWorkshop['relations'], wanted: ReadonlySet<number>): ReadonlyMap<number, Serving> {
  const relationsOf = groupedBy(relations, ({ part }) => part);
  return new Map(
    [...wanted].map((part) => {
      const serving = new Map([[part, 0]]);
      let last = [part];
      for (let step = 0; step < stepsMost; step += 1) {
        const next = last.flatMap((from) => (relationsOf.get(from) ?? []).map((relation) => ({ from, ...relation })));
        last = [];
        for (const { from, serves, kind } of next) {
          const against = Math.max(kind, serving.get(from)!);
          if (against >= (serving.get(serves) ?? Number.POSITIVE_INFINITY)) continue;
          serving.set(serves, against);
          last.push(serves);
        }
      }
      return [part, serving];
    }),
  );
}

function isRefused(lot: GeneratedLot, line: GeneratedLine): boolean {
  return lot.grade > line.leastGrade || lot.ageDays > line.oldestDays || lot.source > line.lastSource;
}

function discomfortOf({ grade, isDated, ageDays }: GeneratedLot, kind: number): number {
  if (!isDated) return 4;
  if (ageDays > 7000) return 3;
  if (kind === 3) return 2;
  return grade > 1 ? 1 : 0;
}

function groupedBy<T>(all: readonly T[], keyOf: (each: T) => number): ReadonlyMap<number, readonly T[]> {
  const groups = new Map<number, T[]>();
  for (const each of all) {
    const group = groups.get(keyOf(each));
    if (group === undefined) groups.set(keyOf(each), [each]);
    else group.push(each);
  }
  return groups;
}

function countsOf(all: readonly number[]): ReadonlyMap<number, number> {
  const counts = new Map<number, number>();
  for (const each of all) counts.set(each, (counts.get(each) ?? 0) + 1);
  return counts;
}
