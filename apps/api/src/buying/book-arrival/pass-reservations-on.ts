import type { Arrival } from '@corewright/contracts/buying';
import {
  addDecimals,
  type Decimal,
  decimalFrom,
  formatDecimal,
  lesserDecimal,
  notBelowZero,
  subtractDecimals,
  zero,
} from '@corewright/quantities/decimal';
import type * as z from 'zod';
import { whyNotAccepted } from '../../catalogue/build-standards/accepts.js';
import { type LineAccepts, lineAccepts, lineAcceptsFrom } from '../../catalogue/build-standards/line-accepts.js';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { logClaimChange } from '../../stores/claim-changes.js';
import { claimOn } from '../../stores/ledger.js';
import { claimExpectedLess, type ExpectedClaim } from '../expected-claims.js';
import { endBeyond, endSome } from '../fit-reservations.js';
import { lackingOf } from '../lacking.js';
import type { ReceiptFacts } from '../receipt.queries.js';

interface Arriving extends Pick<z.infer<typeof Arrival>, 'lotId' | 'source' | 'make' | 'condition'> {
  receipt: ReceiptFacts;
  quantity: Decimal;
  /** what came is fit to be used at all */
  serves: boolean;
  /** after this arrival */
  outstanding: Decimal;
}

/** So much of a reservation becomes a claim on the lot that came. */
export interface PassedOn {
  claim: ExpectedClaim;
  quantity: Decimal;
}

interface LineToServe extends LineAccepts, Record<string, unknown> {
  id: string;
  lineNo: number;
  lacking: string;
}

const linesToServe = `
  SELECT job_lines.id, line_no AS "lineNo", greatest(${lackingOf('job_lines')}, 0) AS lacking, ${lineAccepts}
    FROM job_lines ${lineAcceptsFrom} WHERE job_lines.id = ANY ($1::uuid[])`;
const rankOfGrade = "SELECT rank FROM grades WHERE scale = 'part' AND letter = $1";

/**
 * What was reserved of an order goes on to what comes of it, the oldest first, as far as it goes and never more for a line than it lacks; what
 * then no longer fits what is still to come ends. The order and the jobs are locked, and this is done before the order counts as come.
 * @returns what is to be claimed of the lot when it is there
 */
export async function passReservationsOn(
  transaction: Transaction,
  reserved: readonly ExpectedClaim[],
  arriving: Arriving,
): Promise<PassedOn[]> {
  if (reserved.length === 0) return [];
  const [lines, grade] = await Promise.all([
    transaction.rows<LineToServe>(linesToServe, [reserved.map(({ lineId }) => lineId)]),
    transaction.row<{ rank: number }>(rankOfGrade, [arriving.condition]),
  ]);
  const offered = { ...arriving, gradeRank: grade?.rank ?? null };
  const lacking = new Map(lines.map((line) => [line.id, decimalFrom(line.lacking)]));
  const { orderReference } = arriving.receipt;
  const passed: PassedOn[] = [];
  const waiting: ExpectedClaim[] = [];
  let left = arriving.quantity;
  for (const claim of reserved) {
    const line = lines.find(({ id }) => id === claim.lineId);
    const lacks = lacking.get(claim.lineId) ?? zero;
    const claimed = decimalFrom(claim.quantity);
    const isServed = arriving.serves && line !== undefined && whyNotAccepted(offered, line) === null;
    const taken = isServed ? lesserDecimal(left, lesserDecimal(claimed, lacks)) : zero;
    if (taken > zero) {
      claimExpectedLess(transaction, claim.id, formatDecimal(taken));
      passed.push({ claim, quantity: taken });
    }
    const rest = subtractDecimals(claimed, taken);
    const needed = lesserDecimal(rest, subtractDecimals(lacks, taken));
    const noMore = { kind: 'released', reason: `The line needs no more of order ${orderReference}.` } as const;
    endSome(transaction, claim, subtractDecimals(rest, needed), noMore);
    if (needed > zero) waiting.push({ ...claim, quantity: formatDecimal(needed) });
    lacking.set(claim.lineId, subtractDecimals(lacks, addDecimals(taken, needed)));
    left = subtractDecimals(left, taken);
  }
  const what = arriving.serves ? 'and not all that came serves the line' : 'and what came may not be fitted';
  const reason = `${formatDecimal(arriving.outstanding)} are still to come on order ${orderReference}, ${what}.`;
  endBeyond(transaction, waiting, arriving.outstanding, { kind: 'fewer expected', reason });
  return passed;
}

/** Claims of the lot, which is there by now, what was passed on. @returns how many of it are still free */
export function claimPassedOn(transaction: Transaction, lotId: string, passed: readonly PassedOn[], quantity: Decimal): Decimal {
  let left = quantity;
  for (const { claim, quantity: taken } of passed) {
    const { jobId, lineId, until, madeById, receiptId } = claim;
    const amount = formatDecimal(taken);
    claimOn(transaction, lotId, { claimantId: jobId, purposeId: lineId, quantity: amount, until, madeById });
    const reason = 'What was reserved of the order came.';
    logClaimChange(transaction, { on: { receiptId }, jobId, lineId, quantity: `-${amount}`, kind: 'came in', reason });
    logClaimChange(transaction, { on: { thingId: lotId }, jobId, lineId, quantity: amount, kind: 'came in', until, reason });
    transaction.news(`job:${jobId}`, 'jobs', 'today');
    left = notBelowZero(subtractDecimals(left, taken));
  }
  return left;
}
