import { type Advice, type CoveredLine, type CoverShare, coverStates } from '@corewright/contracts/coverage';
import type { LineStanding, Turn, WhatIfLine } from '@corewright/contracts/what-if';
import { type Decimal, decimalFrom, sumDecimals } from '@corewright/quantities/decimal';

/** The lines whose cover would be different. Both lists are of the same lines. */
export function linesThatDiffer(before: readonly CoveredLine[], after: readonly CoveredLine[]): WhatIfLine[] {
  const afterwards = new Map(after.map((line) => [line.id, line]));
  return before.flatMap((line): WhatIfLine[] => {
    const then = afterwards.get(line.id);
    if (then === undefined || sameShares(line.shares, then.shares)) return [];
    const { id, lineNo, part, needed, critical } = line;
    const turn = turnOfLine(line.shares, then.shares);
    return [{ id, lineNo, part, needed, critical, turn, before: standing(line), after: standing(then) }];
  });
}

function standing({ state, shares, stops, elsewhere }: CoveredLine): LineStanding {
  return { state, shares, stops, elsewhere };
}

function sameShares(one: readonly CoverShare[], other: readonly CoverShare[]): boolean {
  const key = ({ state, quantity, on, receiptId, dueOn, instead }: CoverShare) =>
    `${state} ${quantity} ${on?.id} ${receiptId} ${dueOn} ${instead?.part.id} ${instead?.isAccepted}`;
  return one.length === other.length && one.every((share, index) => key(share) === key(other[index] as CoverShare));
}

/**
 * Which of two ways to cover a line is nearer to the unit: the one that has less in the last state of the order of comfort, else in the one
 * before it, and so on; then the one that leaves less to be accepted by somebody; then the one that is whole sooner.
 */
export function turnOfLine(before: readonly CoverShare[], after: readonly CoverShare[]): Turn {
  for (const state of coverStates.toReversed()) {
    const inState = (share: CoverShare) => share.state === state;
    const turn = lessIsBetter(quantityOf(before.filter(inState)), quantityOf(after.filter(inState)));
    if (turn !== null) return turn;
  }
  const unaccepted = ({ instead }: CoverShare) => instead !== null && !instead.isAccepted;
  return (
    lessIsBetter(quantityOf(before.filter(unaccepted)), quantityOf(after.filter(unaccepted))) ??
    lessIsBetter(lastDay(before), lastDay(after)) ??
    'otherwise'
  );
}

function quantityOf(shares: readonly CoverShare[]): Decimal {
  return sumDecimals(shares.map(({ quantity }) => decimalFrom(quantity)));
}

const noDay = '9999-12-31';

function lastDay(shares: readonly CoverShare[]): string {
  const days = shares.filter(({ state }) => state === 'on order').map(({ dueOn }) => dueOn ?? noDay);
  return days.toSorted().at(-1) ?? '';
}

function lessIsBetter<Value extends bigint | string | number>(before: Value, after: Value): 'better' | 'worse' | null {
  if (before === after) return null;
  return after < before ? 'better' : 'worse';
}

const surest: Readonly<Record<Advice['kind'], number>> = { done: 0, firm: 1, if: 2, none: 3 };

/** Whether a date would be better: firm before "if" before none, and the sooner; null where it stays as it is. */
export function turnOfDate(before: Advice, after: Advice): Turn | null {
  const bySureness = lessIsBetter(surest[before.kind], surest[after.kind]);
  const days = [before.date, after.date];
  const byDay = days.includes(null) ? null : lessIsBetter(before.date ?? '', after.date ?? '');
  if (bySureness !== null && byDay !== null && bySureness !== byDay) return 'both';
  return bySureness ?? byDay ?? lessIsBetter(before.toFind.length, after.toFind.length);
}

/** Several turns as one. */
export function turnOfAll(turns: readonly (Turn | null)[]): Turn {
  const [isBetter, isWorse] = [turns.includes('better'), turns.includes('worse')];
  if (turns.includes('both') || (isBetter && isWorse)) return 'both';
  if (isBetter) return 'better';
  return isWorse ? 'worse' : 'otherwise';
}
