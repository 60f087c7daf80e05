import type { CoveredLine, CoverShare, Elsewhere } from '@corewright/contracts/coverage';
import type { LineToReserve } from '@corewright/contracts/reservations';
import type { CountedOn } from '@corewright/contracts/to-reserve';

export type ReservedShare = NonNullable<CoverShare['reservation']>;

/** What a line counts on and can reserve: in stores, at an outworker, on order. */
export function toReserve({ id, shares }: CoveredLine): LineToReserve[] {
  return shares
    .filter(({ canReserve }) => canReserve)
    .flatMap(({ quantity, on, receiptId }) => lineToReserve({ lineId: id, quantity, thing: on, receiptId }));
}

/** As it is asked for. */
export function lineToReserve({
  lineId,
  quantity,
  thing,
  receiptId,
}: Pick<CountedOn, 'lineId' | 'quantity' | 'thing' | 'receiptId'>): LineToReserve[] {
  if (thing !== null) return [{ lineId, quantity, thingId: thing.id }];
  return receiptId === null ? [] : [{ lineId, quantity, receiptId }];
}

/** Of what another job has reserved and does not have in its tray, what it is taken by; null for everything else. */
export function takenBy({ how, thing, receiptId }: Elsewhere): { thingId: string } | { receiptId: string } | null {
  if (how !== 'reserved') return null;
  if (thing !== null) return { thingId: thing.id };
  return receiptId === null ? null : { receiptId };
}
