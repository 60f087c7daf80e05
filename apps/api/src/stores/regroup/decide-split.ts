import { addDecimals, type Decimal, formatDecimal, subtractDecimals } from '@corewright/quantities/decimal';
import { done, type Result, refused } from '../../platform/refusal.js';

/** A lot of which so many are to become a lot of their own. */
export interface ToSplit {
  kind: 'U' | 'L' | 'C' | 'X';
  isMissing: boolean;
  isOfKeptSet: boolean;
  /** found property, or what waits for its owner */
  isKeptForOwner: boolean;
  /** what lies in the place that was named; null where that is no place of the stores, or has none of it */
  there: { words: string; quantity: Decimal } | null;
  held: Decimal;
  /** at outworkers, from whom it comes back */
  awaited: Decimal;
  claimed: Decimal;
  /** whose claims these are: "2 for Overhead-worm axle" */
  claims: readonly string[];
  quantity: Decimal;
}

/** Whether so many may become a lot of their own. What is promised stays with the lot that it is promised of, which must be able to bear it. */
export function decideSplit(lot: ToSplit): Result<null> {
  const { there, quantity } = lot;
  if (lot.kind !== 'L')
    return stopped(
      'not-a-lot',
      'It is one thing',
      'A unit, a component and a box each have an identity of their own. Only a lot is split; out of a box things are named on its page.',
    );
  if (lot.isOfKeptSet)
    return stopped(
      'of-a-kept-set',
      'It belongs to a set',
      'It stays together with others for good. Break that set first, by name.',
    );
  if (lot.isMissing)
    return stopped('missing', 'It is missing', 'Somebody looked for it in vain. Say where it is first, then split it.');
  if (lot.isKeptForOwner)
    return stopped(
      'kept-for-owner',
      'It is kept for its owner',
      'What is kept for its owner stays under one label until that is ended on its page.',
    );
  if (there === null)
    return stopped(
      'not-in-stores',
      'None of it lies there',
      'By the books none of it lies in that place. What is in a tray, in a unit or with a firm stays under the label that it has.',
    );
  if (quantity > there.quantity)
    return stopped(
      'not-enough',
      'Not so many',
      `${formatDecimal(there.quantity)} of it lie in ${there.words} by the books, and ${formatDecimal(quantity)} were keyed.`,
    );
  const ours = addDecimals(lot.held, lot.awaited);
  if (quantity >= ours)
    return stopped(
      'all-of-it',
      'That is all of it',
      'Nothing would be left of it. To give all of it another label, replace its label.',
    );
  const left = subtractDecimals(ours, quantity);
  if (lot.claimed > left)
    return stopped(
      'claimed-for-another-job',
      'Promised to jobs',
      `${formatDecimal(left)} would be left, and ${formatDecimal(lot.claimed)} are promised: ${lot.claims.join('; ')}. Split off fewer, or release some first.`,
    );
  return done(null);
}

function stopped(code: string, title: string, words: string): { ok: false; error: Parameters<typeof refused>[0] } {
  return refused({ status: 409, code, title, detail: `${words} Nothing was changed.` });
}
