import type { SaleLinePlan } from '../decide-sale.js';

/** What the receipt calls it: "Oil seal, HS 204". */
export function wordsOf({ goods: { thing } }: SaleLinePlan): string {
  return [thing.name, thing.partNumber ?? '']
    .filter((each) => each !== '')
    .join(', ')
    .slice(0, 400);
}

/** What the receipt says of it: how it was come by, its packet, its set, and why it was let go. */
export function saidOf({ goods: { thing, boundWith }, stops, letGo }: SaleLinePlan & { letGo: string }): string {
  return [
    thing.source === 'unknown' || thing.kind === 'U' ? '' : thing.source,
    thing.make === 'unknown' || thing.kind !== 'L' ? '' : thing.make,
    thing.condition === '' ? '' : thing.condition,
    thing.packetRead === '' ? '' : `packet ${thing.packetRead}`,
    boundWith.length === 0 ? '' : 'part of a set that stays together',
    ...stops.map(({ words }) => words),
    stops.length === 0 ? '' : `Sold all the same: ${letGo}`,
  ]
    .filter((each) => each !== '')
    .join('; ');
}
