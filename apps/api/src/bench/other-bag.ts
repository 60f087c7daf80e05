import { decimalFrom, formatDecimal, notBelowZero, subtractDecimals, sumDecimals } from '@corewright/quantities/decimal';
import { giveBackForBag } from '../jobs/give-back-surplus.js';
import { idleClaimsOf } from '../jobs/idle-claims.js';
import { spoken } from '../jobs/job.queries.js';
import type { Transaction } from '../platform/commands/unit-of-work.js';
import { codeOf } from '../stores/place-words.js';
import type { LockOrder } from './lock-order.js';
import type { LineForScan } from './scan-facts.js';
import type { ScanPlan, ScanState, ScanStop } from './scan-state.js';

/** A line as it was before the scan. */
type Line = Pick<LineForScan, 'id' | 'lineNo' | 'needed' | 'fitted' | 'reused' | 'picked'>;

/**
 * A line is full of what the job has reserved of other bags: another one may be picked in their stead.
 * @returns the state with room for it; null where the scan is stopped for another reason
 */
export async function roomOfOwn(transaction: Transaction, state: ScanState, { code }: ScanStop): Promise<ScanState | null> {
  if (code !== 'line-is-full' || state.mode !== 'pick') return null;
  const elsewhere = (await idleClaimsOf(transaction, state.job.id)).filter(({ thingId }) => thingId !== state.thing.id);
  if (elsewhere.length === 0) return null;
  const withRoom = <Each extends Line>(line: Each): Each => {
    const reserved = sumDecimals(elsewhere.filter(({ lineId }) => lineId === line.id).map(({ idle }) => decimalFrom(idle)));
    return { ...line, picked: formatDecimal(notBelowZero(subtractDecimals(decimalFrom(line.picked), reserved))) };
  };
  const lines = state.lines.map(withRoom);
  const instead = state.instead.map((each) => ({ ...each, line: withRoom(each.line) }));
  return { ...state, lines, instead };
}

/** Whether a line may have more than it needs after a scan; for nearly all this is known without asking. */
export function mayHaveSurplus(line: Line, plan: ScanPlan, { mode, claims }: Pick<ScanState, 'mode' | 'claims'>): boolean {
  if (mode === 'pick') return false;
  const isOfLine = (claimId: string) => claims.some(({ id, purposeId }) => id === claimId && purposeId === line.id);
  const used = sumDecimals(plan.claimsLess.filter(({ claimId }) => isOfLine(claimId)).map(({ quantity }) => quantity));
  const has = sumDecimals([line.fitted, line.reused, line.picked].map(decimalFrom)) + plan.quantity - used;
  return has > decimalFrom(line.needed);
}

const selectCode = `SELECT ${codeOf('$1::uuid')} AS code`;

/** What the line had reserved of other bags beyond what it needs is free again. @returns what is to be said of it */
export async function freedForBag(
  transaction: Transaction,
  { job, thing }: ScanState,
  line: Line,
  order: LockOrder | undefined,
): Promise<string[]> {
  const reason = `${spoken(thing.code)} was scanned for the line in its stead.`;
  const freed = await giveBackForBag(transaction, { jobId: job.id, lineId: line.id, reason }, (ids) =>
    order?.follow(thing.id, ids),
  );
  const words: string[] = [];
  for (const { thingId, quantity } of freed) {
    const row = await transaction.row<{ code: string }>(selectCode, [thingId]);
    words.push(
      `${formatDecimal(quantity)} of ${spoken(row?.code ?? '')}, reserved for line ${line.lineNo}, ${quantity === decimalFrom('1') ? 'is' : 'are'} free again.`,
    );
  }
  return words;
}
