import type { Holding } from '@corewright/contracts/stores';
import { type Decimal, decimalFrom, formatDecimal, sumDecimals, zero } from '@corewright/quantities/decimal';
import { done, type Refusal, type Result, refused } from '../../platform/refusal.js';
import type { Balance } from '../ledger.js';

export interface ToPutAway {
  /** what lies with us in other places and trays */
  elsewhere: readonly Balance[];
  /** null: all of it */
  wanted: Decimal | null;
}

/** How many are put away: what was keyed, or all that lies elsewhere with us. Null where nothing of it does. */
export function decideAmount({ elsewhere, wanted }: ToPutAway): Result<Decimal | null> {
  const there = sumDecimals(elsewhere.map(({ quantity }) => decimalFrom(quantity)));
  if (there === zero) return done(null);
  if (wanted === null || wanted <= there) return done(wanted ?? there);
  return refused({
    status: 409,
    code: 'not-enough',
    title: 'Not so many',
    detail: `${formatDecimal(there)} of this lie elsewhere by the books, and ${formatDecimal(wanted)} were keyed. Nothing was changed.`,
  });
}

/**
 * Why nothing of a thing can be put away: where it is by the books, and what to do first.
 * @param holdings where it is, ours first
 */
export function nothingToPutAway(path: string, holdings: readonly Pick<Holding, 'holderKind' | 'words'>[]): Refusal {
  const ways = holdings.map((holding) => wayOn(path, holding));
  const words = ways.length === 0 ? `By the books none of this is held any more, in ${path} or elsewhere.` : ways.join(' ');
  return {
    status: 409,
    code: 'nothing-to-put-away',
    title: 'Nothing to put away',
    detail: `${words} Nothing was changed.`,
  };
}

function wayOn(path: string, { holderKind, words }: Pick<Holding, 'holderKind' | 'words'>): string {
  switch (holderKind) {
    case 'place':
    case 'tray':
      return `By the books it lies in ${words === path ? path : words} already.`;
    case 'unit':
      return `By the books it is fitted: it is in ${words}. Take it out there first; then it can be put away.`;
    case 'box':
      return `By the books it is still in ${words}. Name it out of the box first, on the page of the box.`;
    case 'outworker':
      return `By the books it is at ${words}. Write down first that it has come back; then it can be put away.`;
    case 'customer':
      return `By the books it was sold, and ${words} has it. If it has come back, take it in by Goods-in.`;
    case 'supplier':
      return `By the books it went back to ${words}. If it has come again, take it in by Goods-in.`;
    case 'scrap':
      return 'By the books it was scrapped. If it is in your hand after all, tell whoever keeps the books, and take it in by Goods-in.';
    default:
      return 'By the books it left us at a count, or was given up as lost. A scan onto a job says “I have it here” and books it as found; else take it in by Goods-in.';
  }
}
