import type { SharingOffer, SharingWay } from '@corewright/contracts/costs';
import {
  type BearingRow,
  type Shared,
  type ShareObstacle,
  type Shares,
  shareByHand,
  shareCost,
  sharingWays,
} from '@corewright/costing/share-cost';
import { decimalFrom } from '@corewright/quantities/decimal';
import { formatMoney, type Money, noMoney } from '@corewright/quantities/money';
import { done, type Refusal, type Result, refused } from '../../platform/refusal.js';

/** A row that bears a share, with the line on which it stands. */
export interface LineThatBears extends BearingRow {
  position: number;
}

/** A row as the database tells it: in minor units, and by its own weight or that of its type. */
export interface RowThatBears {
  id: string;
  position: number;
  worth: string | null;
  weightKg: string | null;
  typeWeightKg: string | null;
}

export function lineThatBears(row: RowThatBears): LineThatBears {
  const weight = row.weightKg ?? row.typeWeightKg;
  return {
    id: row.id,
    position: row.position,
    worth: row.worth === null ? null : (BigInt(row.worth) as Money),
    weight: weight === null ? null : decimalFrom(weight),
  };
}

/** What is said where a cost cannot be shared over the rows of just this list. */
export interface SharingWords {
  /** nobody knows the cost */
  costNotKnown: string;
  /** there is nothing that bears a share */
  noRows: string;
  /** a share is named for something that bears none */
  stranger: string;
}

export interface ToShare {
  words: SharingWords;
  /** null while it is not known */
  cost: Money | null;
  currency: string;
  rows: readonly LineThatBears[];
}

/** What each row would bear by a way, or why it cannot be shared so. @param named the shares by hand; for other ways not looked at */
export function decideSharing({ cost, currency, rows, words: said }: ToShare, way: SharingWay, named: Shares): Result<Shares> {
  if (cost === null) return refused(refusal(409, 'price-not-known', said.costNotKnown));
  const shared = sharedBy(cost, way, rows, named);
  if (shared.ok) return done(shared.shares);
  const { obstacle } = shared;
  const words = obstacleWords(obstacle, { way, rows, currency, said });
  const values = { rowIds: obstacle.rowIds, left: formatMoney(obstacle.left, currency) };
  return refused({ ...refusal(way === 'by hand' ? 422 : 409, codeOf(obstacle), words), values });
}

/** What the cost would come to by each way; nothing is written. */
export function offersOf(toShare: ToShare): SharingOffer[] {
  return sharingWays.map((way) => {
    if (way === 'by hand' && toShare.cost !== null && toShare.rows.length > 0)
      return { way, shares: null, obstacle: null, rowIds: [] };
    const decided = decideSharing(toShare, way, new Map());
    if (decided.ok) return { way, shares: sharesShown(decided.value, toShare.currency), obstacle: null, rowIds: [] };
    const rowIds = (decided.error.values?.rowIds as string[] | undefined) ?? [];
    return { way, shares: null, obstacle: decided.error.detail, rowIds };
  });
}

export function sharesShown(shares: Shares, currency: string): { rowId: string; amount: string }[] {
  return [...shares].map(([rowId, amount]) => ({ rowId, amount: formatMoney(amount, currency) }));
}

function sharedBy(cost: Money, way: SharingWay, rows: readonly LineThatBears[], named: Shares): Shared {
  if (way !== 'by hand') return shareCost(cost, way, rows);
  return shareByHand(
    cost,
    rows.map((row) => row.id),
    named,
  );
}

function codeOf({ code }: ShareObstacle): string {
  return code === 'does-not-add-up' ? 'shares-do-not-add-up' : `share-${code}`;
}

function refusal(status: number, code: string, detail: string): Refusal {
  return { status, code, title: 'Not shared', detail };
}

function obstacleWords(
  { code, rowIds, left }: ShareObstacle,
  { way, rows, currency, said }: { way: SharingWay; rows: readonly LineThatBears[]; currency: string; said: SharingWords },
): string {
  const lines = linesInWords(rows.filter((row) => rowIds.includes(row.id)).map((row) => row.position));
  const amount = `${formatMoney(left < noMoney ? (-left as Money) : left, currency)} ${currency}`;
  switch (code) {
    case 'no-rows':
      return said.noRows;
    case 'not-known':
      return `Nobody has said what ${lines} ${verbOf(way, rowIds.length)}, and that is not nought. Key it, or share another way.`;
    case 'all-nought':
      return 'All of it is worth nought, so nothing can be shared by worth. Key what something is worth, or share another way.';
    case 'not-named':
      return `No share is named for ${lines}. Key one, nought where it is to bear nothing; ${amount} ${left < noMoney ? 'too much is named already' : 'is left'}.`;
    case 'not-a-row':
      return said.stranger;
    case 'below-nought':
      return `The share of ${lines} is less than nought. Key nought or more.`;
    case 'does-not-add-up':
      return `The shares do not add up to the cost: ${amount} ${left < noMoney ? 'too much is named' : 'is left to be named'}.`;
  }
}

function verbOf(way: SharingWay, count: number): string {
  if (way === 'weight') return count === 1 ? 'weighs' : 'weigh';
  return count === 1 ? 'is worth' : 'are worth';
}

/** "row 3", "rows 3, 7 and 9"; after a dozen "and 40 more". */
export function linesInWords(positions: readonly number[]): string {
  const shown = positions.slice(0, 12).map(String);
  const more = positions.length - shown.length;
  if (positions.length === 1) return `row ${shown[0]}`;
  const all = more > 0 ? [...shown, `${more} more`] : shown;
  return `rows ${all.slice(0, -1).join(', ')} and ${all.at(-1)}`;
}
