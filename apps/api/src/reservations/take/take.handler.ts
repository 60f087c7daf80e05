import type { Taken, TakeReservation } from '@corewright/contracts/reservations';
import {
  compareDecimals,
  type Decimal,
  decimalFrom,
  formatDecimal,
  lesserDecimal,
  subtractDecimals,
  sumDecimals,
  zero,
} from '@corewright/quantities/decimal';
import { checkQuantity } from '@corewright/quantities/unit-of-measure';
import { Injectable } from '@nestjs/common';
import { type JobForScan, lockJobForScan } from '../../bench/scan-facts.js';
import { claimExpected, claimExpectedLess, expectedClaimsOn } from '../../buying/expected-claims.js';
import { idleClaimsOf } from '../../jobs/idle-claims.js';
import { WorkshopClock } from '../../people/workshop.js';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { badInput, done, notFound, type Result, refused } from '../../platform/refusal.js';
import { logClaimChange } from '../../stores/claim-changes.js';
import { claimLess, claimOn, locksOf } from '../../stores/ledger.js';
import { decideReserve, type ReserveState } from '../decide-reserve.js';
import { linesToServe, lockGoods, lockOrders, servingOf } from '../goods.queries.js';
import { refusalOfProblems } from '../reservation-refusal.js';
import { termOf } from '../term.js';
import { boundWith, lineForMember } from './kept-together.js';

/** A reservation of the one who gives, and how much of it may be taken. */
interface Giving {
  id: string;
  on: { thingId: string } | { receiptId: string };
  lineId: string | null;
  idle: string;
}

/** What goes over: to which line of the other job. */
interface Going {
  giving: Giving;
  quantity: Decimal;
  toLineId: string | null;
}

interface Jobs {
  from: JobForScan;
  to: JobForScan;
}

/** Takes from a job what it has reserved, for a line of another, with a reason that stays on the record of both. */
@Injectable()
export class TakeHandler {
  constructor(private readonly clock: WorkshopClock) {}

  async handle(transaction: Transaction, input: TakeReservation): Promise<Result<Taken>> {
    if (input.fromJobId === input.toJobId)
      return refused(badInput('toJobId', 'A job takes nothing from itself. Choose the other job.'));
    const orders = await lockOrders(transaction, 'receiptId' in input ? [input.receiptId] : []);
    const jobs = await lockBoth(transaction, input);
    if (!jobs.ok) return jobs;
    const together = 'thingId' in input ? await boundWith(transaction, input.thingId) : [];
    if (together.length > 0) await locksOf(transaction, [...together, 'thingId' in input ? input.thingId : '']);
    const goods = 'thingId' in input ? await lockGoods(transaction, [input.thingId], input.toJobId) : [];
    const today = await this.clock.today(transaction);
    const lines = await linesToServe(transaction, input.toJobId, input.lineId === null ? [] : [input.lineId]);
    const givings = await givingsOf(transaction, input, together);
    const state = { job: jobs.value.to, lines, goods, orders, today };
    const decided = await this.decide(transaction, input, state, { givings, together, jobs: jobs.value });
    if (!decided.ok) return decided;
    const term = termOf(jobs.value.to.state, null, today);
    if (!term.ok) return term;
    const { until } = term.value;
    this.write(transaction, decided.value, { jobs: jobs.value, reason: input.reason, until });
    const quantity = formatDecimal(sumDecimals(decided.value.filter(isAskedFor(input)).map((going) => going.quantity)));
    return done({
      fromJobId: input.fromJobId,
      toJobId: input.toJobId,
      quantity,
      until,
      words: wordsOf(jobs.value, quantity, decided.value, term.value.words),
    });
  }

  private async decide(
    transaction: Transaction,
    input: TakeReservation,
    state: Omit<ReserveState, 'serving'>,
    { givings, together, jobs }: { givings: readonly Giving[]; together: readonly string[]; jobs: Jobs },
  ): Promise<Result<Going[]>> {
    const asked =
      'thingId' in input
        ? { lineId: input.lineId, quantity: input.quantity, thingId: input.thingId }
        : { lineId: input.lineId, quantity: input.quantity, receiptId: input.receiptId };
    const own = givings.filter((giving) =>
      'thingId' in giving.on ? giving.on.thingId === ('thingId' in asked ? asked.thingId : '') : true,
    );
    const there = sumDecimals(own.map(({ idle }) => decimalFrom(idle)));
    const serving = await servingOf(transaction, input.toJobId, state.lines, [{ lineId: input.lineId, partId: partOf(state) }]);
    const { planned, problems } = decideReserve({ ...asGiven(state, there, jobs.from.id), serving }, [asked]);
    const [plan] = planned;
    if (plan === undefined) {
      const given = decimalOf(input.quantity, state);
      if (given !== null && compareDecimals(given, there) > 0 && problems.every(isShort))
        return refused(notSoMany(jobs.from, there, input.quantity));
      return refused(await refusalOfProblems(transaction, input.toJobId, problems));
    }
    if (compareDecimals(plan.quantity, there) > 0) return refused(notSoMany(jobs.from, there, input.quantity));
    const goings = takenFrom(own, plan.quantity, input.lineId);
    if (together.length === 0) return done(goings);
    return this.withSet(transaction, input, goings, { givings, together, jobs });
  }

  /** A set that stays together goes over whole: what of it the other job has lies idle, or nothing of it is taken. */
  private async withSet(
    transaction: Transaction,
    input: TakeReservation,
    goings: Going[],
    { givings, together, jobs }: { givings: readonly Giving[]; together: readonly string[]; jobs: Jobs },
  ): Promise<Result<Going[]>> {
    const taken = await transaction.rows<{ thingId: string }>(membersHeld, [together, jobs.from.id, jobs.from.trayId]);
    if (taken.length > 0)
      return refused({
        status: 409,
        code: 'kept-set-elsewhere',
        title: 'It belongs to a set',
        detail: `Other parts of its kept set lie in the tray of “${jobs.from.title}” or are fitted there, and a set goes to one job only. Put them back first, or break the set with a name and a reason. Nothing was changed.`,
      });
    const others = givings.filter(({ on }) => 'thingId' in on && together.includes(on.thingId));
    for (const giving of others) {
      const toLineId = await lineForMember(transaction, input.toJobId, 'thingId' in giving.on ? giving.on.thingId : '');
      goings.push({ giving, quantity: decimalFrom(giving.idle), toLineId });
    }
    return done(goings);
  }

  /** All that is given up goes first: a set may not be with two jobs even for a moment. */
  private write(
    transaction: Transaction,
    goings: readonly Going[],
    { jobs, reason, until }: { jobs: Jobs; reason: string; until: string | null },
  ): void {
    const { from, to } = jobs;
    const madeById = transaction.command.person.id;
    for (const { giving, quantity } of goings) {
      const amount = formatDecimal(quantity);
      if ('thingId' in giving.on) claimLess(transaction, giving.id, amount);
      else claimExpectedLess(transaction, giving.id, amount);
    }
    for (const { giving, quantity, toLineId } of goings) {
      const amount = formatDecimal(quantity);
      const { on } = giving;
      const terms = { claimantId: to.id, quantity: amount, until, madeById };
      if ('thingId' in on) {
        claimOn(transaction, on.thingId, { ...terms, purposeId: toLineId });
        transaction.news(`thing:${on.thingId}`, 'stores');
      } else if (toLineId !== null) {
        claimExpected(transaction, on.receiptId, { ...terms, purposeId: toLineId });
        transaction.news('receipts');
      }
      logClaimChange(transaction, {
        on,
        jobId: from.id,
        lineId: giving.lineId,
        quantity: `-${amount}`,
        kind: 'taken by another job',
        reason,
        otherJobId: to.id,
      });
      logClaimChange(transaction, {
        on,
        jobId: to.id,
        lineId: toLineId,
        quantity: amount,
        kind: 'taken from another job',
        until,
        reason,
        otherJobId: from.id,
      });
    }
    transaction.news(`job:${from.id}`, `job:${to.id}`, 'jobs', 'today');
  }
}

const membersHeld = `
  SELECT thing_id AS "thingId" FROM balances WHERE thing_id = ANY ($1::uuid[]) AND holder_id = $3 AND quantity > 0
  UNION
  SELECT fittings.thing_id FROM fittings JOIN job_lines ON job_lines.id = job_line_id
   WHERE fittings.thing_id = ANY ($1::uuid[]) AND job_id = $2
     AND fittings.quantity > coalesce((SELECT sum(quantity) FROM fitting_endings WHERE fitting_id = fittings.id), 0)`;

/** Two jobs in the order of their ids, so that two that take from each other wait and do not block. */
async function lockBoth(transaction: Transaction, { fromJobId, toJobId }: TakeReservation): Promise<Result<Jobs>> {
  const locked: JobForScan[] = [];
  for (const id of [fromJobId, toJobId].toSorted()) {
    const job = await lockJobForScan(transaction, id);
    if (job === null) return refused(notFound('This job'));
    locked.push(job);
  }
  const of = (id: string) => locked.find((job) => job.id === id) as JobForScan;
  return done({ from: of(fromJobId), to: of(toJobId) });
}

async function givingsOf(transaction: Transaction, input: TakeReservation, together: readonly string[]): Promise<Giving[]> {
  if ('receiptId' in input) {
    const claims = await expectedClaimsOn(transaction, [input.receiptId]);
    return claims
      .filter(({ jobId }) => jobId === input.fromJobId)
      .map(({ id, receiptId, lineId, quantity }) => ({ id, on: { receiptId }, lineId, idle: quantity }));
  }
  const wanted = [input.thingId, ...together];
  return (await idleClaimsOf(transaction, input.fromJobId))
    .filter(({ thingId }) => wanted.includes(thingId))
    .map(({ id, thingId, lineId, idle }) => ({ id, on: { thingId }, lineId, idle }));
}

/** The state as it is once the other job has given up what may be taken: what then stands in the way, stands in the way of taking. */
function asGiven(state: Omit<ReserveState, 'serving'>, there: Decimal, fromJobId: string): Omit<ReserveState, 'serving'> {
  const givenUp = (claimed: string) =>
    formatDecimal(subtractDecimals(decimalFrom(claimed), lesserDecimal(decimalFrom(claimed), there)));
  return {
    ...state,
    goods: state.goods.map((goods) => ({
      ...goods,
      locked: { ...goods.locked, claimed: givenUp(goods.locked.claimed) },
      setTakenBy: goods.setTakenBy.filter((taker) => taker !== fromJobId),
    })),
    orders: state.orders.map((order) => ({ ...order, claimed: givenUp(order.claimed) })),
  };
}

function takenFrom(givings: readonly Giving[], quantity: Decimal, toLineId: string | null): Going[] {
  const goings: Going[] = [];
  let left = quantity;
  // what was reserved last goes first
  for (const giving of givings.toReversed()) {
    const part = lesserDecimal(left, decimalFrom(giving.idle));
    if (part > zero) goings.push({ giving, quantity: part, toLineId });
    left = subtractDecimals(left, part);
  }
  return goings;
}

function partOf({ goods, orders }: Pick<ReserveState, 'goods' | 'orders'>): string | null {
  return goods[0]?.thing.partId ?? orders[0]?.partId ?? null;
}

function decimalOf(keyed: string, { goods, orders }: Pick<ReserveState, 'goods' | 'orders'>): Decimal | null {
  const unit = goods[0]?.thing.unitOfMeasure ?? orders[0]?.unitOfMeasure;
  const quantity = unit === undefined ? null : checkQuantity(keyed, unit);
  return quantity?.ok ? quantity.value : null;
}

const isShort = ({ code }: { code: string }): boolean => ['claimed-for-another-job', 'none-left', 'not-enough'].includes(code);

const isAskedFor =
  (input: TakeReservation) =>
  ({ giving: { on } }: Going): boolean =>
    !('thingId' in on) || !('thingId' in input) || on.thingId === input.thingId;

function notSoMany(from: JobForScan, there: Decimal, keyed: string) {
  const has =
    there === zero ? 'has reserved none of it that may be taken' : `has reserved ${formatDecimal(there)} of it that may be taken`;
  return {
    status: 409,
    code: 'not-enough',
    title: 'Not so many',
    detail: `“${from.title}” ${has}, and ${keyed} were asked for. What lies in its tray is not taken so: put it back at the bench first. Nothing was changed.`,
  };
}

function wordsOf({ from, to }: Jobs, quantity: string, goings: readonly Going[], term: string): string {
  const set = goings.length > 1 ? ', and what belongs to the same set with it' : '';
  return `${quantity} taken from “${from.title}” for “${to.title}”${set}${term}`;
}
