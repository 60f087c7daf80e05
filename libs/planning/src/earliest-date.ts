import type { PlainDate } from '@corewright/quantities/plain-date';
import { accept, type Result } from '@corewright/quantities/result';
import { type NetworkRefusal, type Operation, type Schedule, scheduleNetwork } from './job-network.js';
import type { OrderedOperation } from './operation-order.js';
import { type Moment, nextWorkingDay, type WorkingCalendar } from './working-calendar.js';

export interface RemainingOperation extends OrderedOperation {
  /** null: nobody has estimated it. It counts as no time, and the date becomes an "if" date. */
  readonly remainingMinutes: number | null;
  readonly notBefore?: PlainDate;
  /** Who is to do it: carried into the chain. Nobody's time is rationed here. */
  readonly person?: string;
}

/** One portion of a line, by where it stands. Quantities are exact decimals as text and are only carried through. */
export type Need =
  | {
      readonly kind: 'in-hand';
      readonly quantity: string;
      /** another part than the line asks for, and nobody has accepted it yet */
      readonly unaccepted: boolean;
    }
  | { readonly kind: 'not-yet-looked-at'; readonly quantity: string }
  /** to be had from a core that nobody has stripped yet */
  | { readonly kind: 'from-a-core'; readonly quantity: string }
  | { readonly kind: 'lacking'; readonly quantity: string }
  | {
      readonly kind: 'on-order';
      readonly quantity: string;
      readonly receiptId: string;
      /** null: the supplier gave no date. */
      readonly dueDate: PlainDate | null;
      readonly confirmed: boolean;
      readonly unaccepted: boolean;
    };

export interface NeededLine {
  readonly id: string;
  readonly lineNo: number;
  readonly name: string;
  readonly critical: boolean;
  /** Where the part is needed. When null or not among the operations, it is held to be needed at the first of them. */
  readonly operationId: string | null;
  readonly needs: readonly Need[];
}

interface LineFacts {
  readonly lineId: string;
  readonly lineNo: number;
  readonly name: string;
  readonly critical: boolean;
  readonly quantity: string;
  /** The operation that waits for it. */
  readonly operationId: string;
  /** The last day on which it may turn up, before opening, without the finish going to a later day. */
  readonly neededBy: PlainDate;
}

/** What must turn out well for an "if" date to hold. */
export type Condition =
  | (LineFacts & { readonly kind: 'not-yet-looked-at' | 'from-a-core' | 'lacking' | 'substitute-unaccepted' })
  | (LineFacts & { readonly kind: 'order-undated'; readonly receiptId: string })
  | (LineFacts & {
      readonly kind: 'order-unconfirmed' | 'order-overdue';
      readonly receiptId: string;
      readonly dueDate: PlainDate;
      /** The day that the date reckons with: the due date, or the next working day where that has passed. */
      readonly expectedOn: PlainDate;
    })
  | { readonly kind: 'work-not-estimated'; readonly operationId: string; readonly name: string };

export interface AwaitedReceipt {
  readonly receiptId: string;
  readonly lineId: string;
  readonly lineNo: number;
  readonly name: string;
  readonly expectedOn: PlainDate;
  /** True where the day is assumed: not confirmed, or overdue. */
  readonly assumed: boolean;
}

/** One cause of the date. A link whose `assumes` is not empty, or whose receipts are assumed, is drawn as assumed. */
export type DecidingLink =
  | {
      readonly kind: 'waits-for-receipt';
      readonly operationId: string;
      readonly until: Moment;
      readonly minutes: number;
      readonly receipts: readonly AwaitedReceipt[];
    }
  | { readonly kind: 'waits-for-day'; readonly operationId: string; readonly until: Moment; readonly minutes: number }
  | {
      readonly kind: 'work';
      readonly operationId: string;
      readonly name: string;
      readonly person: string | null;
      readonly start: Moment;
      readonly finish: Moment;
      readonly minutes: number;
      /** Ids of lines that this operation needs and that are not certain. */
      readonly assumes: readonly string[];
    };

interface Answer {
  /** First link first; their working minutes add up to the time from the first working moment to the finish. */
  readonly chain: readonly DecidingLink[];
  readonly conditions: readonly Condition[];
}

/**
 * firm: nothing is assumed but that confirmed orders come on their day.
 * if: the date holds when every condition turns out well.
 * none: something critical is lacking and has no source. `ifDate` is what would hold if each of `toFind` were found by its day.
 */
export type EarliestDate =
  | (Answer & { readonly kind: 'firm'; readonly date: PlainDate; readonly conditions: readonly []; readonly toFind: readonly [] })
  | (Answer & { readonly kind: 'if'; readonly date: PlainDate; readonly toFind: readonly [] })
  | (Answer & {
      readonly kind: 'none';
      readonly date: null;
      readonly ifDate: PlainDate;
      readonly ifFoundBy: PlainDate;
      readonly toFind: readonly LineFacts[];
    });

export type { LineFacts as PartToFind };

export interface EarliestDateQuestion {
  readonly today: PlainDate;
  readonly minuteOfDay: number;
  readonly calendar: WorkingCalendar;
  readonly operations: readonly RemainingOperation[];
  readonly lines: readonly NeededLine[];
}

/** Stands for the job itself where no operation is left, so that a part that is still to come has something to hold up. */
const finishing: RemainingOperation = { id: 'finish', name: 'Finish', remainingMinutes: 0, predecessors: [] };

/**
 * The earliest date that the order dates, the hours left and the working calendar allow, with the chain that decides it.
 * A part on order is there at the opening of its due day. An overdue one is not believed: it counts as unconfirmed, and as coming on
 * the next working day at the earliest. (So an earlier due date never makes the date later, unless it makes the order overdue.)
 */
export function earliestDate(question: EarliestDateQuestion): Result<EarliestDate, NetworkRefusal> {
  const operations = question.operations.length === 0 ? [finishing] : question.operations;
  const awaited = awaitedReceipts(question, operations);
  const scheduled = scheduleNetwork(
    question.calendar,
    { date: question.today, minuteOfDay: question.minuteOfDay },
    operations.map((operation) => heldUp(operation, awaited)),
  );
  if (!scheduled.ok) return scheduled;
  const schedule = scheduled.value;
  const uncertain = uncertainties(question, operations, schedule);
  const toFind = uncertain.flatMap((each) => (each.kind === 'lacking' && each.critical ? [factsOnly(each)] : []));
  const conditions = [
    ...uncertain.filter((each) => !(each.kind === 'lacking' && each.critical)),
    ...notEstimated(question.operations),
  ];
  const chain = decidingChain(schedule, operations, awaited, uncertain);
  return accept(answer(schedule.finish.date, chain, conditions, toFind));
}

function answer(
  date: PlainDate,
  chain: readonly DecidingLink[],
  conditions: readonly Condition[],
  toFind: readonly LineFacts[],
): EarliestDate {
  if (toFind.length > 0) {
    const ifFoundBy = toFind.map((each) => each.neededBy).toSorted()[0] ?? date;
    return { kind: 'none', date: null, ifDate: date, ifFoundBy, chain, conditions, toFind };
  }
  if (conditions.length > 0) return { kind: 'if', date, chain, conditions, toFind: [] };
  return { kind: 'firm', date, chain, conditions: [], toFind: [] };
}

type LineCondition = Exclude<Condition, { kind: 'work-not-estimated' }>;
type Order = Extract<Need, { kind: 'on-order' }>;
type Awaited = AwaitedReceipt & { readonly operationId: string };

function operationOf(line: NeededLine, operations: readonly RemainingOperation[]): string {
  const named = operations.find(({ id }) => id === line.operationId) ?? operations[0] ?? finishing;
  return named.id;
}

function isOverdue(dueDate: PlainDate, today: PlainDate): boolean {
  return dueDate < today;
}

function expectedDay(dueDate: PlainDate, question: EarliestDateQuestion): PlainDate {
  return isOverdue(dueDate, question.today) ? nextWorkingDay(question.calendar, question.today) : dueDate;
}

function awaitedReceipts(question: EarliestDateQuestion, operations: readonly RemainingOperation[]): Awaited[] {
  return question.lines.flatMap((line) =>
    line.needs.flatMap((need): Awaited[] => {
      if (need.kind !== 'on-order' || need.dueDate === null) return [];
      const assumed = !need.confirmed || isOverdue(need.dueDate, question.today);
      const expectedOn = expectedDay(need.dueDate, question);
      const operationId = operationOf(line, operations);
      return [
        { receiptId: need.receiptId, lineId: line.id, lineNo: line.lineNo, name: line.name, expectedOn, assumed, operationId },
      ];
    }),
  );
}

function heldUp(operation: RemainingOperation, awaited: readonly Awaited[]): Operation {
  const days = awaited.filter(({ operationId }) => operationId === operation.id).map(({ expectedOn }) => expectedOn);
  if (operation.notBefore !== undefined) days.push(operation.notBefore);
  const notBefore = days.toSorted().at(-1);
  const { id, name, predecessors, remainingMinutes } = operation;
  return {
    id,
    name,
    remainingMinutes: remainingMinutes ?? 0,
    ...(predecessors && { predecessors }),
    ...(notBefore && { notBefore }),
  };
}

/** Everything about the lines that is not certain, critical lines first, then as listed. */
function uncertainties(
  question: EarliestDateQuestion,
  operations: readonly RemainingOperation[],
  schedule: Schedule,
): LineCondition[] {
  const latestStarts = new Map(schedule.operations.map(({ id, latestStart }) => [id, latestStart.date]));
  const all = question.lines.flatMap((line) => {
    const operationId = operationOf(line, operations);
    const facts = { lineId: line.id, lineNo: line.lineNo, name: line.name, critical: line.critical, operationId };
    const neededBy = latestStarts.get(operationId) ?? schedule.finish.date;
    return line.needs.flatMap((need) => uncertainty({ ...facts, quantity: need.quantity, neededBy }, need, question));
  });
  return [...all.filter((each) => each.critical), ...all.filter((each) => !each.critical)];
}

function uncertainty(facts: LineFacts, need: Need, question: EarliestDateQuestion): LineCondition[] {
  switch (need.kind) {
    case 'in-hand':
      return unacceptedUncertainty(facts, need.unaccepted);
    case 'lacking':
    case 'from-a-core':
    case 'not-yet-looked-at':
      return [{ ...facts, kind: need.kind }];
    case 'on-order':
      return [...unacceptedUncertainty(facts, need.unaccepted), ...orderUncertainty(facts, need, question)];
  }
}

function unacceptedUncertainty(facts: LineFacts, unaccepted: boolean): LineCondition[] {
  return unaccepted ? [{ ...facts, kind: 'substitute-unaccepted' }] : [];
}

function orderUncertainty(facts: LineFacts, order: Order, question: EarliestDateQuestion): LineCondition[] {
  const { receiptId, dueDate, confirmed } = order;
  if (dueDate === null) return [{ ...facts, kind: 'order-undated', receiptId }];
  const overdue = isOverdue(dueDate, question.today);
  if (confirmed && !overdue) return [];
  const kind = overdue ? 'order-overdue' : 'order-unconfirmed';
  return [{ ...facts, kind, receiptId, dueDate, expectedOn: expectedDay(dueDate, question) }];
}

function notEstimated(operations: readonly RemainingOperation[]): Condition[] {
  return operations
    .filter(({ remainingMinutes }) => remainingMinutes === null)
    .map(({ id, name }) => ({ kind: 'work-not-estimated', operationId: id, name }));
}

function factsOnly({ lineId, lineNo, name, critical, quantity, operationId, neededBy }: LineFacts): LineFacts {
  return { lineId, lineNo, name, critical, quantity, operationId, neededBy };
}

function decidingChain(
  schedule: Schedule,
  operations: readonly RemainingOperation[],
  awaited: readonly Awaited[],
  uncertain: readonly LineCondition[],
): DecidingLink[] {
  const byId = new Map(operations.map((operation) => [operation.id, operation]));
  return schedule.chain.flatMap((link): DecidingLink[] => {
    const operation = byId.get(link.operationId) ?? finishing;
    if (link.kind === 'waits') return [waitingLink(link, operation, awaited)];
    if (operation === finishing) return [];
    const assumes = uncertain
      .filter((each) => (each.operationId ?? operations[0]?.id) === operation.id)
      .map(({ lineId }) => lineId);
    const { operationId, start, finish, minutes } = link;
    return [
      {
        kind: 'work',
        operationId,
        name: operation.name,
        person: operation.person ?? null,
        start,
        finish,
        minutes,
        assumes: [...new Set(assumes)],
      },
    ];
  });
}

function waitingLink(
  link: Extract<Schedule['chain'][number], { kind: 'waits' }>,
  operation: RemainingOperation,
  awaited: readonly Awaited[],
): DecidingLink {
  const { operationId, until, minutes } = link;
  const here = awaited.filter((each) => each.operationId === operation.id);
  const lastDay = here
    .map(({ expectedOn }) => expectedOn)
    .toSorted()
    .at(-1);
  const ownDay = operation.notBefore ?? '';
  if (lastDay === undefined || ownDay > lastDay) return { kind: 'waits-for-day', operationId, until, minutes };
  const receipts = here.filter(({ expectedOn }) => expectedOn === lastDay).map(({ operationId: _at, ...receipt }) => receipt);
  return { kind: 'waits-for-receipt', operationId, until, minutes, receipts };
}
