import type { Advice, CoveredLine, CoverShare } from '@corewright/contracts/coverage';
import type { Operation } from '@corewright/contracts/jobs';
import type { WorkingCalendar as CalendarShown } from '@corewright/contracts/planning';
import {
  type Condition,
  type DecidingLink,
  type EarliestDate,
  earliestDate,
  type Need,
  type NeededLine,
  type PartToFind,
} from '@corewright/planning/earliest-date';
import { type Moment, makeWorkingCalendar } from '@corewright/planning/working-calendar';
import { formatPlainDate } from '@corewright/quantities/plain-date';
import type * as z from 'zod';
import { spoken } from '../jobs/job.queries.js';

export interface AdviceQuestion {
  now: Moment;
  calendar: z.infer<typeof CalendarShown>;
  operations: readonly Operation[];
  lines: readonly CoveredLine[];
  state: string;
}

type ChainShown = Advice['chain'][number];

/** When a job can be promised, how surely, and why: the sentences around the reckoning of `@corewright/planning`. */
export function advise(question: AdviceQuestion): Advice {
  const reckonedOn = question.now.date;
  const empty = { conditions: [], chain: [], toFind: [], ifFound: null, reckonedOn };
  if (question.state === 'done' || question.state === 'released')
    return { kind: 'done', date: null, sentence: `The job is ${question.state}.`, ...empty };
  if (question.state === 'called off') return { kind: 'done', date: null, sentence: 'The job was called off.', ...empty };
  const calendar = makeWorkingCalendar({
    weekMinutes: question.calendar.weekMinutes,
    exceptions: question.calendar.closedDays.map(({ day, reason }) => ({ date: day, reason })),
  });
  if (!calendar.ok) return { kind: 'none', date: null, sentence: calendar.error.sentence, ...empty };
  const reckoned = earliestDate({
    today: question.now.date,
    minuteOfDay: question.now.minuteOfDay,
    calendar: calendar.value,
    operations: question.operations.map((operation) => operationOf(operation, question.operations)),
    lines: question.lines.filter((line) => line.waived === null).map(neededLine),
  });
  if (!reckoned.ok) return { kind: 'none', date: null, sentence: reckoned.error.sentence, ...empty };
  return shown(reckoned.value, question, reckonedOn);
}

/** An operation that names none before it follows the one listed before it: a small workshop's job has one bench. */
function operationOf(operation: Operation, all: readonly Operation[]) {
  const before = all.filter((other) => operation.after.includes(other.number)).map((other) => other.id);
  const core = { id: operation.id, name: operationName(operation), remainingMinutes: operation.minutesLeft };
  return before.length > 0 ? { ...core, predecessors: before } : core;
}

function operationName(operation: Operation): string {
  return `Operation ${operation.number}, ${operation.name.charAt(0).toLowerCase()}${operation.name.slice(1)}`;
}

function neededLine(line: CoveredLine): NeededLine {
  const needs = line.shares.map((share): Need => {
    const unaccepted = isUnaccepted(share);
    if (share.state === 'lacking') return { kind: 'lacking', quantity: share.quantity };
    if (share.state === 'not yet looked at') return { kind: 'not-yet-looked-at', quantity: share.quantity };
    if (share.state === 'from a core') return { kind: 'from-a-core', quantity: share.quantity };
    if (share.state === 'on order' || share.state === 'at an outworker')
      return {
        kind: 'on-order',
        quantity: share.quantity,
        receiptId: comesAs(share),
        dueDate: share.dueOn,
        confirmed: share.confirmed ?? false,
        unaccepted,
      };
    return { kind: 'in-hand', quantity: share.quantity, unaccepted };
  });
  return {
    id: line.id,
    lineNo: line.lineNo,
    name: line.part.name,
    critical: line.critical,
    operationId: line.operationId,
    needs,
  };
}

/** By what something that is still to come is known: the order, or the thing that is away. */
function comesAs({ receiptId, on }: CoverShare): string {
  return receiptId ?? on?.id ?? '';
}

/** Another part than the line asks for, which nobody has accepted for the line. */
function isUnaccepted(share: CoverShare): boolean {
  return share.instead !== null && !share.instead.isAccepted;
}

function shown(reckoned: EarliestDate, question: AdviceQuestion, reckonedOn: string): Advice {
  const words = new CoverWords(question.lines);
  const chain = reckoned.chain.map((link) => linkShown(link, words));
  const conditions = reckoned.conditions.map((condition) => conditionWords(condition, words));
  if (reckoned.kind !== 'none') {
    const sentence =
      reckoned.kind === 'firm'
        ? 'Everything is in hand or confirmed: this date can be promised.'
        : `If ${conditionsInShort(reckoned.conditions)}, this is the earliest date. It is not a promise.`;
    return { kind: reckoned.kind, date: reckoned.date, sentence, conditions, chain, toFind: [], ifFound: null, reckonedOn };
  }
  return {
    kind: 'none',
    date: null,
    sentence: noDateSentence(reckoned.toFind),
    conditions,
    chain,
    toFind: reckoned.toFind.map((part) => toFindOf(part, question.lines)),
    ifFound: { by: reckoned.ifFoundBy, date: reckoned.ifDate },
    reckonedOn,
  };
}

function noDateSentence(toFind: readonly PartToFind[]): string {
  const names = toFind.map((part) => `line ${part.lineNo}, ${decapitalise(part.name)}`);
  const one = toFind.length === 1;
  return `No date can be promised: ${names.join('; ')}, ${one ? 'is' : 'are'} critical and lacking, and nobody is known to have ${one ? 'one' : 'any'}.`;
}

function toFindOf(part: PartToFind, lines: readonly CoveredLine[]): Advice['toFind'][number] {
  const line = lines.find((each) => each.id === part.lineId);
  return { lineId: part.lineId, lineNo: part.lineNo, name: part.name, number: line?.part.number ?? '', quantity: part.quantity };
}

/** What the cover says of an order, found again by its receipt; and of what would serve in place of a line's part. */
class CoverWords {
  private readonly orders: Map<string, string>;
  private readonly cores: Map<string, string>;
  private readonly instead: Map<string, string>;

  constructor(lines: readonly CoveredLine[]) {
    const shares = lines.flatMap((line) => line.shares);
    this.orders = new Map(
      shares.flatMap((share) => {
        if (share.state === 'at an outworker')
          return [[comesAs(share), `${spoken(share.on?.code ?? '')}, ${share.words}`] as const];
        return share.receiptId ? [[share.receiptId, share.words] as const] : [];
      }),
    );
    this.cores = new Map(
      lines.map((line) => [
        line.id,
        line.shares.flatMap(({ state, on }) => (state === 'from a core' && on ? [spoken(on.code)] : [])).join(' and '),
      ]),
    );
    this.instead = new Map(
      lines.map((line) => [line.id, [...new Set(line.shares.filter(isUnaccepted).map(insteadName))].join(' and ')]),
    );
  }

  of(receiptId: string): string {
    return this.orders.get(receiptId) ?? 'an order';
  }

  coreFor(lineId: string): string {
    return this.cores.get(lineId) || 'a core';
  }

  insteadOf(lineId: string): string {
    return this.instead.get(lineId) || 'another part';
  }
}

function insteadName({ instead }: CoverShare): string {
  if (instead === null) return '';
  const { number, maker, name } = instead.part;
  return number === '' ? name : maker === '' ? number : `${number} of ${maker}`;
}

function linkShown(link: DecidingLink, words: CoverWords): ChainShown {
  if (link.kind === 'work') {
    const assumed = link.assumes.length > 0;
    return {
      kind: 'work',
      sentence: `${link.name}: ${duration(link.minutes)} of work${assumed ? ', with parts that are assumed' : ''}`,
      date: link.finish.date,
      assumed,
    };
  }
  if (link.kind === 'waits-for-receipt') {
    const receipts = link.receipts.map(
      (receipt) => `line ${receipt.lineNo}, ${decapitalise(receipt.name)} (${words.of(receipt.receiptId)})`,
    );
    return {
      kind: 'receipt',
      sentence: `Waits for ${receipts.join('; ')}`,
      date: link.until.date,
      assumed: link.receipts.some((receipt) => receipt.assumed),
    };
  }
  return { kind: 'calendar', sentence: `Waits for ${formatPlainDate(link.until.date)}`, date: link.until.date, assumed: false };
}

const listedMax = 4;

function conditionWords(condition: Condition, words: CoverWords): string {
  if (condition.kind === 'work-not-estimated') return `${condition.name} takes no time: nobody has estimated it.`;
  const line = `Line ${condition.lineNo}, ${decapitalise(condition.name)}`;
  if (condition.kind === 'order-undated')
    return `${line}: ${words.of(condition.receiptId)}, comes by ${formatPlainDate(condition.neededBy)}.`;
  if (condition.kind === 'order-unconfirmed' || condition.kind === 'order-overdue')
    return `${line}: ${words.of(condition.receiptId)}, comes by ${formatPlainDate(condition.expectedOn)}.`;
  if (condition.kind === 'substitute-unaccepted')
    return `${line}: ${words.insteadOf(condition.lineId)} is accepted in its place.`;
  if (condition.kind === 'from-a-core')
    return `${line}: ${condition.quantity} come out of core ${words.coreFor(condition.lineId)} fit to be used.`;
  return condition.kind === 'lacking'
    ? `${line}: ${condition.quantity} found by ${formatPlainDate(condition.neededBy)}.`
    : `${line}: ${condition.quantity} of this unit’s own, not yet looked at, can be used again.`;
}

function conditionsInShort(conditions: readonly Condition[]): string {
  const unseen = conditions.filter((each) => each.kind === 'not-yet-looked-at').length;
  const orders = conditions.filter((each) => each.kind.startsWith('order')).length;
  const lacking = conditions.filter((each) => each.kind === 'lacking').length;
  const instead = conditions.filter((each) => each.kind === 'substitute-unaccepted').length;
  const cores = conditions.filter((each) => each.kind === 'from-a-core').length;
  const unknown = conditions.filter((each) => each.kind === 'work-not-estimated').length;
  const parts = [
    unseen > 0 ? `the parts of ${plural(unseen, 'line')} not yet looked at turn out good` : '',
    orders > 0 ? `${plural(orders, 'order')} not confirmed or overdue ${orders === 1 ? 'comes' : 'come'} as assumed` : '',
    cores > 0 ? `cores give what ${plural(cores, 'line')} ${cores === 1 ? 'asks' : 'ask'} for` : '',
    instead > 0 ? `what would serve in place of ${plural(instead, 'line')} is accepted` : '',
    lacking > 0 ? `what ${plural(lacking, 'line')} ${lacking === 1 ? 'lacks' : 'lack'} is found` : '',
    unknown > 0 ? `${plural(unknown, 'operation')} without an estimate ${unknown === 1 ? 'takes' : 'take'} no time` : '',
  ].filter((part) => part !== '');
  return parts.slice(0, listedMax).join(', and ');
}

function plural(count: number, noun: string): string {
  return count === 1 ? `1 ${noun}` : `${count} ${noun}s`;
}

function duration(minutes: number): string {
  const hours = Math.floor(minutes / 60);
  const rest = Math.round(minutes % 60);
  if (hours === 0) return `${rest} min`;
  return rest === 0 ? `${hours} h` : `${hours} h ${rest} min`;
}

function decapitalise(words: string): string {
  return /^[A-Z][a-z]/.test(words) ? words.charAt(0).toLowerCase() + words.slice(1) : words;
}
