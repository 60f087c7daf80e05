import type { DisposeOf } from '@corewright/contracts/goods-apart';
import { badInput, done, type Refusal, type Result, refused } from '../../platform/refusal.js';
import { unknownOwnerId } from '../ledger.js';

export interface DisposalStanding {
  condemned: boolean;
  ownerId: string | null;
  keptForOwner: boolean;
  /** how much of it is in places of ours */
  hasHere: boolean;
  /** some of it is elsewhere: at an outworker, in a tray */
  isElsewhere: boolean;
}

/** Where what is condemned may go. What is not ours is neither scrapped nor kept without its owner's word. Pure. */
export function decideDisposal(
  standing: DisposalStanding,
  { how, ownersWord }: Pick<DisposeOf, 'how' | 'ownersWord'>,
): Result<null> {
  const { condemned, ownerId, keptForOwner, hasHere, isElsewhere } = standing;
  if (!condemned)
    return stopped('not-condemned', 'Not condemned', 'This was not condemned. Only what is condemned is disposed of here.');
  if (keptForOwner)
    return stopped('kept-for-owner', 'Kept for its owner', 'This is kept for its owner. Say at its keeping what becomes of it.');
  if (!hasHere) return stopped('not-here', 'Nothing of it is here', 'By the books none of it lies in a place of the stores.');
  if (isElsewhere)
    return stopped('not-here', 'Some of it is elsewhere', 'Some of it is not in stores. Put it away first, then dispose of it.');
  if (how === 'given back') {
    if (ownerId === null) return stopped('ours', 'It is ours', 'This is ours: there is nobody to give it back to.');
    if (ownerId === unknownOwnerId)
      return stopped('owner-not-known', 'Nobody knows whose it is', 'Nobody knows whose it is, so it cannot be given back.');
    return done(null);
  }
  if (ownerId !== null && ownersWord === '')
    return refused(
      badInput('ownersWord', 'It is not ours. Say who of its owner’s agreed, when and how; without that word it is kept.'),
    );
  return done(null);
}

function stopped(code: string, title: string, words: string): { ok: false; error: Refusal } {
  return refused({ status: 409, code, title, detail: `${words} Nothing was changed.` });
}
