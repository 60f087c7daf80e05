import { done, type Result, refused } from '../../platform/refusal.js';

/** A hold as it stands, and what else keeps the thing from use. */
export interface HoldStanding {
  heldBackReason: string | null;
  condemned: boolean;
  keptForOwner: boolean;
  /** who alone may lift it; null: whoever keeps the books */
  lifter: { id: string; name: string; active: boolean } | null;
}

export interface Lifting {
  id: string;
  role: 'owner' | 'stores' | 'bench' | 'viewer';
}

/**
 * Whether a hold may be put on, lifted, or kept on after a look. Holding back what is held back, or lifting what is not, means that somebody
 * looked at an old page; a hold that names who lifts it waits for that person.
 */
export function decideHold(standing: HoldStanding, act: 'hold' | 'lift' | 'hold on', by: Lifting): Result<null> {
  const { heldBackReason, condemned, keptForOwner } = standing;
  if (condemned)
    return stopped(
      'condemned',
      'Condemned',
      'This was condemned: no hold bears on it any more. Say on its page what becomes of it.',
    );
  if (act === 'hold' && heldBackReason !== null)
    return stopped(
      'held-already',
      'Held back already',
      `This is held back already: ${heldBackReason}. Lift that hold first if the reason has changed.`,
      { reason: heldBackReason },
    );
  if (act !== 'hold' && heldBackReason === null)
    return stopped('not-held', 'Not held back', 'This is not held back, so there is nothing to lift.');
  if (act !== 'lift') return done(null);
  if (keptForOwner)
    return stopped(
      'kept-for-owner',
      'Kept for its owner',
      'This is kept for its owner, and is held back as long as that lasts. End that on its page: say that it was collected, claimed or what else became of it.',
    );
  return mayLift(standing, by);
}

/** Who may lift the hold; the refusal names whom to ask. */
export function mayLift({ lifter }: Pick<HoldStanding, 'lifter'>, { id, role }: Lifting): Result<null> {
  if (lifter === null)
    return role === 'owner' || role === 'stores'
      ? done(null)
      : stopped('not-yours-to-lift', 'Not yours to lift', 'Whoever keeps the books may lift this hold. Ask one of them.');
  if (lifter.id === id) return done(null);
  if (lifter.active)
    return stopped(
      'not-yours-to-lift',
      'Not yours to lift',
      `${lifter.name} is to lift this hold, and nobody else. Ask ${lifter.name}.`,
      { mayLift: lifter.name },
    );
  return role === 'owner'
    ? done(null)
    : stopped(
        'not-yours-to-lift',
        'Not yours to lift',
        `${lifter.name} was to lift this hold and is no longer here, so an owner of the workshop may. Ask one.`,
        { mayLift: lifter.name },
      );
}

function stopped(code: string, title: string, words: string, values: Record<string, unknown> = {}) {
  return refused({ status: 409, code, title, detail: `${words} Nothing was changed.`, values });
}
