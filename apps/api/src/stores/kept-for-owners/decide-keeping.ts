import { formatPlainDate } from '@corewright/quantities/plain-date';
import { badInput, type Refusal } from '../../platform/refusal.js';

export interface KeepingStanding {
  ownerId: string | null;
  keptForOwner: boolean;
  condemned: boolean;
  claimed: string;
  /** some of it lies in a place of the stores */
  isHere: boolean;
  /** some of it is picked or fitted */
  isInUse: boolean;
}

/** Why a thing cannot be kept for its owner now; null where it can. Pure. */
export function whyNotKept(standing: KeepingStanding): Refusal | null {
  const { ownerId, keptForOwner, condemned, claimed, isHere, isInUse } = standing;
  if (keptForOwner)
    return stopped('kept-already', 'Kept already', 'This is kept for its owner already. Write what was said on its record.');
  if (ownerId === null)
    return stopped(
      'ours',
      'It is ours',
      'By the books this is ours, so nobody else collects it. Where it is somebody’s after all, say whose on its page first.',
    );
  if (condemned) return stopped('condemned', 'Condemned', 'This was condemned. Say on its page what becomes of it.');
  if (Number(claimed) > 0 || isInUse)
    return stopped('in-use', 'In use for a job', 'It is reserved, picked or fitted for a job. Give that up first.');
  if (!isHere) return stopped('not-here', 'It is not here', 'By the books it lies in no place of the stores. Put it away first.');
  return null;
}

/** A day to look again is to come: today at the earliest. */
export function whyNotThatDay(lookAgainOn: string, today: string): Refusal | null {
  return lookAgainOn < today
    ? badInput('lookAgainOn', `${formatPlainDate(lookAgainOn)} is past. Key the next day on which somebody is to look again.`)
    : null;
}

function stopped(code: string, title: string, words: string): Refusal {
  return { status: 409, code, title, detail: `${words} Nothing was changed.` };
}
