import type { LineToReserve } from '@corewright/contracts/reservations';
import {
  addDecimals,
  type Decimal,
  decimalFrom,
  formatDecimal,
  notBelowZero,
  one,
  subtractDecimals,
  zero,
} from '@corewright/quantities/decimal';
import { checkQuantity } from '@corewright/quantities/unit-of-measure';
import { roomForOwn, roomOf } from '../bench/choose-line.js';
import { barOf, setElsewhere } from '../bench/decide-job-scan.js';
import { mayServe } from '../bench/may-serve.js';
import type { JobForScan } from '../bench/scan-facts.js';
import { closedStates, spoken } from '../jobs/job.queries.js';
import { offersFor } from '../jobs/offers-for-line.js';
import type { LineToServe, LockedGoods, LockedOrder, Serving } from './goods.queries.js';

/** Everything that a reservation rests on, read under the locks of the orders, the job and the things. */
export interface ReserveState {
  job: JobForScan;
  lines: readonly LineToServe[];
  goods: readonly LockedGoods[];
  orders: readonly LockedOrder[];
  serving: Serving;
  today: string;
}

/** One reservation that may be made; nothing has been written yet. */
export interface Planned {
  asked: LineToReserve;
  line: LineToServe | null;
  quantity: Decimal;
  /** on what word another part serves the line; empty for the very part */
  word: string;
}

export interface Problem {
  asked: LineToReserve;
  line: LineToServe | null;
  code: string;
  words: string;
  /** others that have it are to be named */
  isClaimed: boolean;
  claimants: readonly string[];
}

type Check = { ok: true; value: Planned } | { ok: false; error: Problem };

interface Offer {
  code: string;
  words: string;
  isClaimed?: boolean;
  claimants?: readonly string[];
}

/** Checks all that is asked for together: what one takes is not there for the next. Pure: the same state gives the same answer. */
export function decideReserve(state: ReserveState, asked: readonly LineToReserve[]): { planned: Planned[]; problems: Problem[] } {
  const used = new Used();
  const checks = asked.map((each): Check => {
    const checked = check(state, each, used);
    if (checked.ok) used.take(each, checked.value.quantity);
    return checked;
  });
  return {
    planned: checks.flatMap((each) => (each.ok ? [each.value] : [])),
    problems: checks.flatMap((each) => (each.ok ? [] : [each.error])),
  };
}

/** What the reservations before this one have taken of a line, a thing or an order. */
class Used {
  private readonly by = new Map<string, Decimal>();

  of(id: string): Decimal {
    return this.by.get(id) ?? zero;
  }

  take(asked: LineToReserve, quantity: Decimal): void {
    const ids = [asked.lineId, 'thingId' in asked ? asked.thingId : asked.receiptId];
    for (const id of ids) if (id !== null) this.by.set(id, addDecimals(this.of(id), quantity));
  }
}

function check(state: ReserveState, asked: LineToReserve, used: Used): Check {
  const line = asked.lineId === null ? null : (state.lines.find(({ id }) => id === asked.lineId) ?? null);
  const problem = ({ code, words, isClaimed = false, claimants = [] }: Offer): Check => ({
    ok: false,
    error: { asked, line, code, words, isClaimed, claimants },
  });
  if (asked.lineId !== null && line === null) return problem({ code: 'not-on-this-job', words: 'It is not a line of this job.' });
  if (line?.waived) return problem({ code: 'line-is-waived', words: 'The job does without this line.' });
  const found = 'thingId' in asked ? goodsOf(state, asked.thingId, line) : orderOf(state, asked.receiptId, line);
  if (!found.ok) return problem(found.error);
  const { unitOfMeasure, free, called, word, countedFor, id } = found.value;
  const quantity = checkQuantity(asked.quantity, unitOfMeasure);
  if (!quantity.ok) return problem({ code: 'bad-quantity', words: quantity.error.sentence });
  if (line !== null && countedFor !== null) {
    const room = notBelowZero(subtractDecimals(roomLeft(countedFor), used.of(line.id)));
    if (quantity.value > room) return problem({ code: 'line-is-full', words: fullWords(room, quantity.value) });
  }
  const left = notBelowZero(subtractDecimals(free, used.of(id)));
  if (quantity.value > left)
    return problem({
      code: found.value.isClaimed ? 'claimed-for-another-job' : left === zero ? 'none-left' : 'not-enough',
      words: `${formatDecimal(left)} of ${called} ${left === one ? 'is' : 'are'} free, and ${formatDecimal(quantity.value)} were asked for.`,
      isClaimed: found.value.isClaimed,
    });
  return { ok: true, value: { asked, line, quantity: quantity.value, word } };
}

/** What a line still takes: never more than it needs less what is in the unit and what is claimed for it, here or on order. */
function roomLeft(line: LineToServe): Decimal {
  return notBelowZero(subtractDecimals(roomOf(line, 'pick'), decimalFrom(line.expected)));
}

function fullWords(room: Decimal, quantity: Decimal): string {
  return room === zero
    ? 'It has all that it needs, fitted, picked or reserved.'
    : `It still takes ${formatDecimal(room)}, and ${formatDecimal(quantity)} were asked for.`;
}

interface Source {
  id: string;
  unitOfMeasure: LineToServe['unitOfMeasure'];
  free: Decimal;
  isClaimed: boolean;
  called: string;
  word: string;
  /** the line as it counts for this source; null for a whole unit */
  countedFor: LineToServe | null;
}

type Found = { ok: true; value: Source } | { ok: false; error: Offer };

const no = (code: string, words: string, more: Partial<Offer> = {}): { ok: false; error: Offer } => ({
  ok: false,
  error: { code, words, ...more },
});

function goodsOf(state: ReserveState, thingId: string, line: LineToServe | null): Found {
  const goods = state.goods.find(({ thing }) => thing.id === thingId);
  if (goods === undefined) return no('not-found', 'That is not a thing of the books.');
  const { thing, locked } = goods;
  const called = `${spoken(thing.code)}, ${thing.name}`;
  const said = ({ code, detail }: { code: string; detail: string }) => no(code, `${called}: ${withoutEnd(detail)}`);
  const barred = barOf({ job: state.job, thing, locked, mode: 'pick' });
  if (barred) return said(barred);
  if (goods.setTakenBy.length > 0)
    return no(setElsewhere.code, `${called}: ${withoutEnd(setElsewhere.detail)}`, { claimants: goods.setTakenBy });
  if (locked.missingSince !== null) return no('none-left', `${called} was looked for and not found. Find it first.`);
  const serves = thing.kind === 'U' ? wholeUnit(called, line) : servesLine(state, { ...thing, called }, line);
  if (!serves.ok) return serves;
  const held = mayServe({ thing, locked, today: state.today }, line);
  if (held) return said(held);
  const ours = addDecimals(decimalFrom(locked.held), decimalFrom(locked.awaited));
  return {
    ok: true,
    value: {
      id: thing.id,
      unitOfMeasure: thing.unitOfMeasure,
      free: notBelowZero(subtractDecimals(ours, decimalFrom(locked.claimed))),
      isClaimed: decimalFrom(locked.claimed) > zero,
      called,
      word: serves.value,
      countedFor: line === null ? null : (roomForOwn([line], thing, state.job)[0] ?? line),
    },
  };
}

function orderOf(state: ReserveState, receiptId: string, line: LineToServe | null): Found {
  const order = state.orders.find(({ id }) => id === receiptId);
  if (order === undefined) return no('not-found', 'That is not an order of the books.');
  const called = `order ${order.orderReference} of ${order.supplier}, ${order.partName},`;
  if (closedStates.includes(state.job.state)) return no('job-closed', `This job is ${state.job.state}.`);
  if (order.calledOff) return no('called-off', `${capital(called)} was called off.`);
  if (order.forJobId !== null && order.forJobId !== state.job.id)
    return no('claimed-for-another-job', `${capital(called)} was ordered for another job.`, { claimants: [order.forJobId] });
  const thing = { ...order, name: order.partName, called };
  const serves = servesLine(state, thing, line);
  if (!serves.ok) return serves;
  return {
    ok: true,
    value: {
      id: order.id,
      unitOfMeasure: order.unitOfMeasure,
      free: notBelowZero(subtractDecimals(decimalFrom(order.outstanding), decimalFrom(order.claimed))),
      isClaimed: decimalFrom(order.claimed) > zero,
      called: `what is to come of ${called}`.replace(/,$/, ''),
      word: serves.value,
      countedFor: line,
    },
  };
}

type Word = { ok: true; value: string } | { ok: false; error: Offer };

/** A whole unit is laid by for the job, to give it parts; it fills no line. */
function wholeUnit(called: string, line: LineToServe | null): Word {
  if (line === null) return { ok: true, value: '' };
  return no('cannot-be-fitted', `${called} is a whole unit: reserve it for the job and no line, to take parts from it.`);
}

/** Whether it is of the part that the line asks for, or of one that serves it without a further word. */
function servesLine(
  { serving }: ReserveState,
  goods: { partId: string | null; unitOfMeasure: string; called: string },
  line: LineToServe | null,
): Word {
  const { partId, called } = goods;
  if (line === null) return no('line-wanted', `Say for which line ${called} is to be reserved.`);
  if (partId === null) return no('unnamed', `${called} has no part number in the books. Name it in Stores first.`);
  if (goods.unitOfMeasure !== line.unitOfMeasure)
    return no(
      'counted-otherwise',
      `${called} is counted in ${goods.unitOfMeasure}, and the line in ${line.unitOfMeasure}: one cannot stand for the other.`,
    );
  if (partId === line.partId) return { ok: true, value: '' };
  const { offers } = offersFor(line, serving.servers.get(line.partId) ?? [], serving.substitutes);
  const instead = offers.find((offer) => offer.partId === partId)?.instead ?? null;
  if (instead === null) return no('not-on-this-job', `Nothing says that ${called} serves in place of ${line.name}.`);
  if (!instead.isAccepted)
    return no('not-accepted-yet', `${instead.words} Nobody has accepted it for this job: accept it on the job’s card first.`);
  return { ok: true, value: instead.words };
}

/** The sentences that a scan says, as one of several. */
export function withoutEnd(detail: string): string {
  return detail.replace(/\s*Nothing was changed\.$/, '');
}

function capital(words: string): string {
  return words.slice(0, 1).toUpperCase() + words.slice(1);
}
