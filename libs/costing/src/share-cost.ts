import type { Decimal } from '@corewright/quantities/decimal';
import { type Money, noMoney, subtractMoney, sumMoney } from '@corewright/quantities/money';
import { shareByLargestRemainder } from './largest-remainder.js';

/** The ways in which what a load cost is shared over what came with it. */
export const sharingWays = ['relative value', 'weight', 'equally', 'by hand'] as const;
export type SharingWay = (typeof sharingWays)[number];
export type ReckonedWay = Exclude<SharingWay, 'by hand'>;

/** A row that bears a share: what all of it is thought to be worth, and what all of it weighs. Null is unknown, which is not nought. */
export interface BearingRow {
  readonly id: string;
  readonly worth: Money | null;
  readonly weight: Decimal | null;
}

/** Each row's share by its id, in the order of the rows. */
export type Shares = ReadonlyMap<string, Money>;

/** Why a cost cannot be shared so, and the rows on which that rests. */
export interface ShareObstacle {
  readonly code: 'no-rows' | 'not-known' | 'all-nought' | 'not-named' | 'not-a-row' | 'below-nought' | 'does-not-add-up';
  readonly rowIds: readonly string[];
  /** what is still to be named; below nought where too much was. Nought but by hand. */
  readonly left: Money;
}

export type Shared = { readonly ok: true; readonly shares: Shares } | { readonly ok: false; readonly obstacle: ShareObstacle };

/**
 * Shares a cost over rows by a way that can be reckoned, to the last minor unit (see `shareByLargestRemainder`); rows that stand
 * earlier have the odd unit where remainders are equal. A worth or weight that is unknown stops it: it is never taken for nought.
 */
export function shareCost(cost: Money, way: ReckonedWay, rows: readonly BearingRow[]): Shared {
  if (rows.length === 0) return stopped('no-rows', []);
  const weights = rows.map((row) => weightOf(row, way));
  const unknown = rows.filter((_, index) => weights[index] === null);
  if (unknown.length > 0)
    return stopped(
      'not-known',
      unknown.map((row) => row.id),
    );
  const known = weights.filter((weight) => weight !== null);
  if (known.every((weight) => weight === 0n))
    return stopped(
      'all-nought',
      rows.map((row) => row.id),
    );
  const shares = shareByLargestRemainder(cost, known);
  return { ok: true, shares: new Map(rows.map((row, index) => [row.id, (shares[index] ?? 0n) as Money])) };
}

function weightOf(row: BearingRow, way: ReckonedWay): bigint | null {
  switch (way) {
    case 'relative value':
      return row.worth;
    case 'weight':
      return row.weight;
    case 'equally':
      return 1n;
  }
}

/** Takes shares that somebody named for each row. They must add up to the cost: what is over or short is said, never spread. */
export function shareByHand(cost: Money, rowIds: readonly string[], named: Shares): Shared {
  if (rowIds.length === 0) return stopped('no-rows', []);
  const strangers = [...named.keys()].filter((id) => !rowIds.includes(id));
  if (strangers.length > 0) return stopped('not-a-row', strangers);
  const below = [...named].filter(([, amount]) => amount < noMoney).map(([id]) => id);
  const left = subtractMoney(cost, sumMoney(named.values()));
  if (below.length > 0) return stopped('below-nought', below, left);
  const unnamed = rowIds.filter((id) => !named.has(id));
  if (unnamed.length > 0) return stopped('not-named', unnamed, left);
  if (left !== noMoney) return stopped('does-not-add-up', [], left);
  return { ok: true, shares: new Map(rowIds.map((id) => [id, named.get(id) ?? noMoney])) };
}

function stopped(code: ShareObstacle['code'], rowIds: readonly string[], left: Money = noMoney): Shared {
  return { ok: false, obstacle: { code, rowIds, left } };
}

/**
 * What each row's cost changes by when shares take the place of earlier ones. A row that never bore one is named even where its
 * share is nought, for that is known from then on; one that bears none any more gives all of it back.
 */
export function changesOfShares(before: Shares, after: Shares): Shares {
  const changes = new Map<string, Money>();
  for (const [id, share] of after) {
    const earlier = before.get(id);
    const change = subtractMoney(share, earlier ?? noMoney);
    if (earlier === undefined || change !== noMoney) changes.set(id, change);
  }
  for (const [id, share] of before) if (!after.has(id) && share !== noMoney) changes.set(id, subtractMoney(noMoney, share));
  return changes;
}

/**
 * What parts of a quantity cost where all of it has one cost: what lies here, what was fitted there, what was sold. They come
 * to the whole cost, to the last minor unit, whatever the quantities.
 * @returns one cost for each quantity, in their order
 */
export function costsOfParts(cost: Money, quantities: readonly Decimal[]): Money[] {
  return quantities.length === 0 ? [] : (shareByLargestRemainder(cost, quantities) as Money[]);
}
