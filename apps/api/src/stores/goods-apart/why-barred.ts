import type { Refusal } from '../../platform/refusal.js';
import type { LockedThing } from '../ledger.js';

type Standing = Pick<LockedThing, 'condemned' | 'keptForOwner' | 'heldBackReason'>;

/** Why nothing whatever is made of a thing: it was condemned, or waits for its owner. No reason and no name opens that. */
export function whyOfNoUse({ condemned, keptForOwner }: Omit<Standing, 'heldBackReason'>): Refusal | null {
  if (condemned)
    return stopped(
      'condemned',
      'Condemned',
      'This was condemned and cannot be used, whatever the reason. Say on its page what becomes of it.',
    );
  if (keptForOwner)
    return stopped(
      'kept-for-owner',
      'Kept for its owner',
      'This is kept for its owner and serves no job. Where its owner has decided, say so on its page first.',
    );
  return null;
}

/** Why a unit or a box is not opened: the same, or it is held back. */
export function whyNotOpened(thing: Standing): Refusal | null {
  const barred = whyOfNoUse(thing);
  if (barred !== null || thing.heldBackReason === null) return barred;
  return stopped(
    'held-back',
    'Held back',
    `This is held back: ${thing.heldBackReason}. Lift the hold on its page first; there it says who may.`,
  );
}

function stopped(code: string, title: string, words: string): Refusal {
  return { status: 409, code, title, detail: `${words} Nothing was changed.` };
}
