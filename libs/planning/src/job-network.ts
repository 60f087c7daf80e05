import { addYears, formatPlainDate, type PlainDate } from '@corewright/quantities/plain-date';
import { accept, type Result, refuse } from '@corewright/quantities/result';
import { type OrderedOperation, type OrderRefusal, type PredecessorMap, workingOrder } from './operation-order.js';
import {
  addWorkingMinutes,
  closingOf,
  compareMoments,
  laterMoment,
  type Moment,
  openingFrom,
  startOfWork,
  subtractWorkingMinutes,
  type WorkingCalendar,
  workingMinutesBetween,
} from './working-calendar.js';

export interface Operation extends OrderedOperation {
  readonly remainingMinutes: number;
  /** The day from whose opening it can begin, for parts that come on that day; none when left out. */
  readonly notBefore?: PlainDate;
}

/** Why an operation starts when it does, and not earlier. */
export type StartCause =
  | { readonly kind: 'begins' }
  | { readonly kind: 'work'; readonly operationId: string }
  | { readonly kind: 'waits'; readonly until: PlainDate };

export interface ScheduledOperation {
  readonly id: string;
  readonly start: Moment;
  readonly finish: Moment;
  /** The latest start with which the job is still finished on the same day. */
  readonly latestStart: Moment;
  readonly cause: StartCause;
}

/** One link of the chain that decides the finish; each begins where the one before it ended. */
export type ChainLink =
  | {
      readonly kind: 'waits';
      readonly operationId: string;
      readonly from: Moment;
      readonly until: Moment;
      readonly minutes: number;
    }
  | {
      readonly kind: 'work';
      readonly operationId: string;
      readonly start: Moment;
      readonly finish: Moment;
      readonly minutes: number;
    };

export interface Schedule {
  /** The first moment at which anything can be done. */
  readonly begins: Moment;
  readonly finish: Moment;
  /** In an order in which they can be done. */
  readonly operations: readonly ScheduledOperation[];
  /** First link first. Their working minutes add up to those from the beginning to the finish. */
  readonly chain: readonly ChainLink[];
}

export type NetworkRefusal = OrderRefusal | 'not-minutes' | 'too-far';

/** Beyond this nothing is a plan, and a slip of the keys is likelier. */
const horizonYears = 50;

interface Start {
  readonly start: Moment;
  readonly finish: Moment;
  readonly cause: StartCause;
}

/**
 * The critical path method (Kelley and Walker, 1959) on a working calendar: a forward pass for the earliest start and finish of each
 * operation, a backward pass for the latest start. Work goes on without people or benches running short: the finish is the earliest
 * that order, waiting and hours allow, and a later one is never earlier than this.
 */
export function scheduleNetwork(
  calendar: WorkingCalendar,
  from: Moment,
  operations: readonly Operation[],
): Result<Schedule, NetworkRefusal> {
  const order = workingOrder(operations);
  if (!order.ok) return order;
  const fault = faultIn(calendar, from, operations);
  if (fault !== null) return fault;
  const byId = new Map(operations.map((operation) => [operation.id, operation]));
  const ordered = order.value.ids.map((id) => known(byId, id));
  const begins = startOfWork(calendar, from);
  const starts = forwardPass(calendar, begins, ordered, order.value.predecessors);
  const last = latestFinished(order.value.ids, starts);
  const finish = last === null ? begins : known(starts, last).finish;
  const latest = backwardPass(calendar, closingOf(calendar, finish.date), ordered, order.value.predecessors);
  return accept({
    begins,
    finish,
    operations: ordered.map(({ id }) => ({ id, ...known(starts, id), latestStart: known(latest, id) })),
    chain: last === null ? [] : chainTo(last, calendar, begins, byId, starts),
  });
}

function forwardPass(
  calendar: WorkingCalendar,
  begins: Moment,
  ordered: readonly Operation[],
  predecessors: PredecessorMap,
): Map<string, Start> {
  const starts = new Map<string, Start>();
  for (const operation of ordered) {
    const driving = latestFinished(predecessors.get(operation.id) ?? [], starts);
    const ready = driving === null ? begins : known(starts, driving).finish;
    const cause: StartCause = driving === null ? { kind: 'begins' } : { kind: 'work', operationId: driving };
    starts.set(operation.id, startOf(calendar, operation, ready, cause));
  }
  return starts;
}

function startOf(calendar: WorkingCalendar, operation: Operation, ready: Moment, cause: StartCause): Start {
  const { notBefore, remainingMinutes } = operation;
  // without work there is nothing to put off to the next opening
  const able = remainingMinutes === 0 ? ready : startOfWork(calendar, ready);
  const released = notBefore === undefined ? able : laterMoment(able, openingFrom(calendar, notBefore));
  const waits = notBefore !== undefined && compareMoments(released, able) > 0;
  return {
    start: released,
    finish: addWorkingMinutes(calendar, released, remainingMinutes),
    cause: waits ? { kind: 'waits', until: notBefore } : cause,
  };
}

function backwardPass(
  calendar: WorkingCalendar,
  deadline: Moment,
  ordered: readonly Operation[],
  predecessors: PredecessorMap,
): Map<string, Moment> {
  const latestFinishes = new Map<string, Moment>();
  const latestStarts = new Map<string, Moment>();
  for (const { id, remainingMinutes } of ordered.toReversed()) {
    const latestStart = subtractWorkingMinutes(calendar, latestFinishes.get(id) ?? deadline, remainingMinutes);
    latestStarts.set(id, latestStart);
    for (const before of predecessors.get(id) ?? []) {
      const bound = latestFinishes.get(before);
      if (bound === undefined || compareMoments(latestStart, bound) < 0) latestFinishes.set(before, latestStart);
    }
  }
  return latestStarts;
}

/** Of operations that finish together the first listed, so that the same job always tells the same chain. */
function latestFinished(ids: readonly string[], starts: ReadonlyMap<string, Start>): string | null {
  let last: string | null = null;
  for (const id of ids) {
    if (last === null || compareMoments(known(starts, id).finish, known(starts, last).finish) > 0) last = id;
  }
  return last;
}

function chainTo(
  last: string,
  calendar: WorkingCalendar,
  begins: Moment,
  byId: ReadonlyMap<string, Operation>,
  starts: ReadonlyMap<string, Start>,
): ChainLink[] {
  const links: ChainLink[] = [];
  let id: string | null = last;
  while (id !== null) {
    const { start, finish, cause }: Start = known(starts, id);
    links.push({ kind: 'work', operationId: id, start, finish, minutes: known(byId, id).remainingMinutes });
    if (cause.kind === 'waits') {
      links.push({
        kind: 'waits',
        operationId: id,
        from: begins,
        until: start,
        minutes: workingMinutesBetween(calendar, begins, start),
      });
    }
    id = cause.kind === 'work' ? cause.operationId : null;
  }
  return links.reverse();
}

function faultIn(
  calendar: WorkingCalendar,
  from: Moment,
  operations: readonly Operation[],
): Result<never, NetworkRefusal> | null {
  const wrong = operations.find(({ remainingMinutes }) => !Number.isSafeInteger(remainingMinutes) || remainingMinutes < 0);
  if (wrong)
    return refuse(
      'not-minutes',
      `${wrong.name}: ${wrong.remainingMinutes} is not a time that can be left. Give whole minutes, 0 or more.`,
    );
  const horizon = addYears(from.date, horizonYears);
  const late = operations.find(({ notBefore }) => notBefore !== undefined && notBefore > horizon);
  if (late?.notBefore)
    return refuse('too-far', `${late.name} would wait until ${formatPlainDate(late.notBefore)}. Look at that date again.`);
  const minutesAWeek = calendar.weekMinutes.reduce((sum, minutes) => sum + minutes, 0);
  const weeks = operations.reduce((sum, { remainingMinutes }) => sum + remainingMinutes, 0) / minutesAWeek;
  if (weeks > horizonYears * 52)
    return refuse('too-far', `There is work for more than ${horizonYears} years. Look at the hours left again.`);
  return null;
}

function known<Value>(map: ReadonlyMap<string, Value>, id: string): Value {
  const value = map.get(id);
  if (value === undefined) throw new Error(`No operation ${id}`);
  return value;
}
