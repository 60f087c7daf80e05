import { accept, type Result, refuse } from '@corewright/quantities/result';

/** One step of a job, as far as the order of work goes. */
export interface OrderedOperation {
  readonly id: string;
  readonly name: string;
  /** Ids of operations that must be done before. Left out: the operation listed before this one, as on one bench. Empty: none. */
  readonly predecessors?: readonly string[];
}

export type OrderRefusal = 'cycle' | 'unknown-operation' | 'listed-twice';

/** What comes before what, with predecessors that are left out filled in. */
export type PredecessorMap = ReadonlyMap<string, readonly string[]>;

export interface WorkingOrder {
  /** Every operation after all of its predecessors; otherwise as listed. */
  readonly ids: readonly string[];
  readonly predecessors: PredecessorMap;
}

/** Puts operations in an order in which they can be done. A circle is refused with its operations named, from one of them back to it. */
export function workingOrder(operations: readonly OrderedOperation[]): Result<WorkingOrder, OrderRefusal> {
  const names = new Map(operations.map(({ id, name }) => [id, name]));
  if (names.size < operations.length) return refuse('listed-twice', 'An operation is listed twice. Each needs an id of its own.');
  const predecessors = new Map(
    operations.map((operation, index) => [operation.id, predecessorsOf(operation, operations[index - 1])]),
  );
  for (const [id, before] of predecessors) {
    const unknown = before.find((each) => !names.has(each));
    if (unknown !== undefined)
      return refuse('unknown-operation', `${names.get(id)} comes after operation ${unknown}, which this job does not have.`);
  }
  const ids = orderedIds(predecessors);
  if (ids.length === operations.length) return accept({ ids, predecessors });
  const circle = circleAmong(predecessors, new Set(ids)).map((id) => names.get(id));
  return refuse('cycle', `These operations wait for one another: ${circle.join(', then ')}. Take one of them out of the circle.`);
}

function predecessorsOf(operation: OrderedOperation, listedBefore: OrderedOperation | undefined): readonly string[] {
  return operation.predecessors ?? (listedBefore === undefined ? [] : [listedBefore.id]);
}

/** All that can be ordered: what stands in a circle, or after one, is missing. */
function orderedIds(predecessors: PredecessorMap): string[] {
  const ordered = new Set<string>();
  let waiting = [...predecessors.keys()];
  for (;;) {
    const left = waiting.filter((id) => {
      if (!(predecessors.get(id) ?? []).every((before) => ordered.has(before))) return true;
      ordered.add(id);
      return false;
    });
    if (left.length === waiting.length) return [...ordered];
    waiting = left;
  }
}

/** Follows what is not ordered back until an operation comes up again; in the order of work, the first repeated at the end. */
function circleAmong(predecessors: PredecessorMap, ordered: ReadonlySet<string>): string[] {
  const path: string[] = [];
  let current = [...predecessors.keys()].find((id) => !ordered.has(id));
  while (current !== undefined && !path.includes(current)) {
    path.push(current);
    current = predecessors.get(current)?.find((id) => !ordered.has(id));
  }
  if (current === undefined) throw new Error('An operation was left out of the order without a circle');
  return [...path.slice(path.indexOf(current)), current].reverse();
}
