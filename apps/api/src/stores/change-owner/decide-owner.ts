import type { ChangeOwner } from '@corewright/contracts/goods-apart';
import { badInput, done, type Refusal, type Result, refused } from '../../platform/refusal.js';
import { unknownOwnerId } from '../ledger.js';

export interface OwnerStanding {
  ownerId: string | null;
  ownerName: string | null;
  condemned: boolean;
  keptForOwner: boolean;
  claimed: string;
  /** the open job on the unit, by name */
  job: string | null;
  isBound: boolean;
  /** some of it is in a unit or a tray */
  isInUse: boolean;
  /** the customer of the name that was keyed; null where none has it */
  named: { id: string; name: string } | null;
}

/** Whose the thing becomes. Null is the workshop. Pure. */
export function decideOwner(
  standing: OwnerStanding,
  { how, ownerName }: Pick<ChangeOwner, 'how' | 'ownerName'>,
): Result<string | null> {
  const barred = whyOwnerStays(standing, how);
  if (barred !== null) return refused(barred);
  if (how === 'bought' || how === 'given to us')
    return ownerName === '' ? done(null) : refused(badInput('ownerName', 'It becomes ours by this. Leave the owner empty.'));
  if (ownerName === '') return refused(badInput('ownerName', 'Say whose it is: choose a customer.'));
  if (standing.named === null)
    return refused(badInput('ownerName', `No customer called “${ownerName}” is in the books. Add the customer first.`));
  if (standing.named.id === standing.ownerId)
    return refused(badInput('ownerName', `It is ${standing.named.name}’s by the books already.`));
  return done(standing.named.id);
}

function whyOwnerStays(standing: OwnerStanding, how: ChangeOwner['how']): Refusal | null {
  const { ownerId, ownerName, condemned, keptForOwner, claimed, job, isBound, isInUse } = standing;
  const becomesOurs = how === 'bought' || how === 'given to us';
  if (becomesOurs && ownerId === null) return stopped('ours-already', 'It is ours', 'By the books this is ours already.');
  if (becomesOurs && ownerId === unknownOwnerId)
    return stopped(
      'owner-not-known',
      'Nobody knows whose it is',
      'Nobody who could sell or give it is known. Where its owner is found, end its keeping with “claimed” first.',
    );
  if (keptForOwner)
    return stopped(
      'kept-for-owner',
      'Kept for its owner',
      `This is kept for ${ownerName ?? 'its owner'}. End that on its page: it was collected, claimed, bought, or what else became of it.`,
    );
  if (condemned) return stopped('condemned', 'Condemned', 'This was condemned. Say on its page what becomes of it.');
  if (job !== null) return stopped('in-use', 'A job is on it', `There is a job on it: ${job}. Finish it or call it off first.`);
  if (isBound)
    return stopped(
      'in-use',
      'It belongs to a set',
      'It is kept together with another, and a set has one owner. Break that set first.',
    );
  if (!becomesOurs && (Number(claimed) > 0 || isInUse))
    return stopped('in-use', 'In use for a job', 'It is reserved, picked or fitted for a job. Give that up first.');
  return null;
}

function stopped(code: string, title: string, words: string): Refusal {
  return { status: 409, code, title, detail: `${words} Nothing was changed.` };
}
