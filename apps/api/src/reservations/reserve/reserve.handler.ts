import type { LineToReserve, Reserve, Reserved } from '@corewright/contracts/reservations';
import { formatDecimal } from '@corewright/quantities/decimal';
import { Injectable } from '@nestjs/common';
import { lockJobForScan } from '../../bench/scan-facts.js';
import { claimExpected } from '../../buying/expected-claims.js';
import { WorkshopClock } from '../../people/workshop.js';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { done, notFound, type Result, refused } from '../../platform/refusal.js';
import { logClaimChange } from '../../stores/claim-changes.js';
import { claimOn } from '../../stores/ledger.js';
import { decideReserve, type Planned } from '../decide-reserve.js';
import { linesToServe, lockGoods, lockOrders, servingOf } from '../goods.queries.js';
import { refusalOfProblems } from '../reservation-refusal.js';
import { termOf } from '../term.js';

/** Reserves things and what is on order for lines of a job: all of it, or none. */
@Injectable()
export class ReserveHandler {
  constructor(private readonly clock: WorkshopClock) {}

  async handle(transaction: Transaction, jobId: string, input: Reserve): Promise<Result<Reserved>> {
    const thingIds = idsOf(input.lines, (line) => ('thingId' in line ? line.thingId : null));
    const receiptIds = idsOf(input.lines, (line) => ('receiptId' in line ? line.receiptId : null));
    const lineIds = idsOf(input.lines, (line) => line.lineId);
    // Orders before the job, the job before things; what is read after a lock is asked for after it.
    const [orders, job, goods, lines, today] = await Promise.all([
      lockOrders(transaction, receiptIds),
      lockJobForScan(transaction, jobId),
      lockGoods(transaction, thingIds, jobId),
      linesToServe(transaction, jobId, lineIds),
      this.clock.today(transaction),
    ]);
    if (!job) return refused(notFound('This job'));
    const term = termOf(job.state, input.until, today);
    if (!term.ok) return term;
    const pairs = input.lines.map((line) => ({ lineId: line.lineId, partId: partOf(line, goods, orders) }));
    const serving = await servingOf(transaction, jobId, lines, pairs);
    const { planned, problems } = decideReserve({ job, lines, goods, orders, serving, today }, input.lines);
    if (problems.length > 0) return refused(await refusalOfProblems(transaction, jobId, problems));
    for (const each of planned) this.write(transaction, jobId, each, term.value.until);
    transaction.news(`job:${jobId}`, 'jobs', 'today');
    const { until, words } = term.value;
    return done({
      jobId,
      until,
      words: `${planned.length === 1 ? 'Reserved' : `Reserved for ${planned.length} lines`}${words}`,
      lines: planned.map(shown),
    });
  }

  private write(transaction: Transaction, jobId: string, { asked, quantity, word }: Planned, until: string | null): void {
    const amount = formatDecimal(quantity);
    const madeById = transaction.command.person.id;
    const change = { jobId, lineId: asked.lineId, quantity: amount, kind: 'reserved', until, reason: word } as const;
    if ('thingId' in asked) {
      const { thingId, lineId } = asked;
      claimOn(transaction, thingId, { claimantId: jobId, purposeId: lineId, quantity: amount, until, madeById });
      logClaimChange(transaction, { ...change, on: { thingId } });
      transaction.news(`thing:${thingId}`, 'stores');
    } else {
      const { receiptId, lineId } = asked;
      claimExpected(transaction, receiptId, { claimantId: jobId, purposeId: lineId, quantity: amount, until, madeById });
      logClaimChange(transaction, { ...change, on: { receiptId } });
      transaction.news('receipts');
    }
  }
}

function idsOf(lines: readonly LineToReserve[], idOf: (line: LineToReserve) => string | null): string[] {
  return [...new Set(lines.map(idOf))].filter((id) => id !== null);
}

function partOf(
  line: LineToReserve,
  goods: Awaited<ReturnType<typeof lockGoods>>,
  orders: Awaited<ReturnType<typeof lockOrders>>,
): string | null {
  if ('thingId' in line) return goods.find(({ thing }) => thing.id === line.thingId)?.thing.partId ?? null;
  return orders.find(({ id }) => id === line.receiptId)?.partId ?? null;
}

function shown({ asked, line, quantity }: Planned): Reserved['lines'][number] {
  return {
    lineId: asked.lineId,
    lineNo: line?.lineNo ?? null,
    thingId: 'thingId' in asked ? asked.thingId : null,
    receiptId: 'receiptId' in asked ? asked.receiptId : null,
    quantity: formatDecimal(quantity),
  };
}
