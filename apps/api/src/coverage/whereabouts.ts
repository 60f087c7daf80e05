import type { CoveredLine, CoverShare } from '@corewright/contracts/coverage';
import type { Reader } from '../platform/database/database.js';
import { placePath } from '../stores/place-words.js';

/** SQL: every place of ours where a thing lies, the one with the most first. Needs `things`. */
export const whereItLies = `
  coalesce((SELECT string_agg(${placePath('balances.holder_id')}, '; ' ORDER BY balances.quantity DESC)
              FROM balances WHERE balances.thing_id = things.id AND balances.quantity > 0 AND with_us), '')`;

const whereTheyLie = `SELECT things.id, ${whereItLies} AS where FROM things WHERE things.id = ANY($1::uuid[])`;

/**
 * The same lines with the places of the stock that covers them. A job's parts lie in many lots and few of them are
 * wanted, so the ways to their places are looked up when it is known which.
 */
export async function withWhereabouts<Line extends Pick<CoveredLine, 'shares'>>(
  reader: Reader,
  lines: readonly Line[],
): Promise<Line[]> {
  const ids = new Set(lines.flatMap((line) => line.shares.flatMap((share) => (isFromStock(share) ? [share.on.id] : []))));
  if (ids.size === 0) return [...lines];
  const found = await reader.rows<{ id: string; where: string }>(whereTheyLie, [[...ids]]);
  const places = new Map(found.map(({ id, where }) => [id, where]));
  const told = (share: CoverShare): CoverShare =>
    isFromStock(share) ? { ...share, words: places.get(share.on.id) ?? '' } : share;
  return lines.map((line) => ({ ...line, shares: line.shares.map(told) }));
}

function isFromStock(share: CoverShare): share is CoverShare & { on: NonNullable<CoverShare['on']> } {
  return share.state === 'free in stores' && share.on !== null && share.words === '';
}
