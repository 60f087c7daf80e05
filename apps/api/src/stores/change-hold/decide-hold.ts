import { done, type Result, refused } from '../../platform/refusal.js';

/** Holding back what is held back, or lifting what is not, means that somebody looked at an old page. */
export function decideHold(heldBackReason: string | null, act: 'hold' | 'lift'): Result<null> {
  if (act === 'hold' && heldBackReason !== null)
    return refused({
      status: 409,
      code: 'held-already',
      title: 'Held back already',
      detail: `This is held back already: ${heldBackReason}. Lift that hold first if the reason has changed.`,
      values: { reason: heldBackReason },
    });
  if (act === 'lift' && heldBackReason === null)
    return refused({
      status: 409,
      code: 'not-held',
      title: 'Not held back',
      detail: 'This is not held back, so there is nothing to lift. Nothing was changed.',
    });
  return done(null);
}
