import type { CoveredLine, CoverShare, Elsewhere } from '@corewright/contracts/coverage';
import type { LineToReserve } from '@corewright/contracts/reservations';

export type ReservedShare = NonNullable<CoverShare['reservation']>;

/** What a line counts on and has not reserved: in stores, at an outworker, on order. What nobody has accepted yet is left out. */
export function toReserve({ id, shares, waived }: CoveredLine): LineToReserve[] {
  if (waived !== null) return [];
  return shares.flatMap(({ state, quantity, on, receiptId, reservation, instead }): LineToReserve[] => {
    if (reservation !== null || instead?.isAccepted === false) return [];
    if (state === 'on order') return receiptId === null ? [] : [{ lineId: id, quantity, receiptId }];
    const isThing = state === 'free in stores' || state === 'at an outworker';
    return isThing && on !== null ? [{ lineId: id, quantity, thingId: on.id }] : [];
  });
}

/** Of what another job has reserved and does not have in its tray, what it is taken by; null for everything else. */
export function takenBy({ how, thing, receiptId }: Elsewhere): { thingId: string } | { receiptId: string } | null {
  if (how !== 'reserved') return null;
  if (thing !== null) return { thingId: thing.id };
  return receiptId === null ? null : { receiptId };
}
