import type { RowShare } from '@corewright/contracts/costs';
import type { Shares } from '@corewright/costing/share-cost';
import { type Money, moneyFrom, parseMoney } from '@corewright/quantities/money';
import { badInput, done, type Refusal, type Result, refused } from '../../platform/refusal.js';

/** Shares as they came. Two for one row are a mistake of who sent them. */
export function namedShares(shares: readonly RowShare[], currency: string): Result<Shares> {
  const named = new Map<string, Money>();
  for (const [index, { rowId, amount }] of shares.entries()) {
    const isBelow = amount.startsWith('-');
    const read = parseMoney(isBelow ? amount.slice(1) : amount, currency);
    if (!read.ok) return refused(badInput(`shares.${index}.amount`, read.error.sentence));
    if (named.has(rowId)) return refused(badInput(`shares.${index}.rowId`, 'This row has two shares. Name one.'));
    named.set(rowId, moneyFrom(amount, currency));
  }
  return done(named);
}

/** Whether two sharings give each the same. */
export function sameShares(one: Shares, other: Shares): boolean {
  return one.size === other.size && [...one].every(([id, share]) => other.get(id) === share);
}

export const sharedSoAlready: Refusal = {
  status: 409,
  code: 'shared-so-already',
  title: 'Shared so already',
  detail: 'It is shared in just this way already. Nothing was written.',
};
