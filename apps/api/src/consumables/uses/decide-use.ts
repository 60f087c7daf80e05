import type { Charging, UseBy } from '@corewright/contracts/consumables';
import { closedStates } from '../../jobs/job.queries.js';
import type { Refusal } from '../../platform/refusal.js';

/** What stands in the way of a use; `answer`: what a person may say to it. */
export interface UseStop extends Refusal {
  answer: 'open one' | 'override' | null;
}

export interface UseToDecide {
  job: { state: string; customerId: string | null };
  consumable: { name: string; container: string; charged: Charging };
  /** the open container that it comes out of; null where none is open */
  container: {
    words: string;
    useBy: UseBy;
    ownerId: string | null;
    heldBackReason: string | null;
    condemned: boolean;
  } | null;
  hasFull: boolean;
  hasReason: boolean;
}

/** Whether something may be used of a consumable on a job. Past use-by and what is held back go over somebody's name; what is condemned never. Pure. */
export function decideUse({
  job,
  consumable,
  container,
  hasFull,
  hasReason,
}: UseToDecide): { ok: true } | { ok: false; error: UseStop } {
  const { name } = consumable;
  if (closedStates.includes(job.state))
    return stop('job-closed', 'The job is closed', `The job is ${job.state}: nothing more is charged to it.`, null);
  if (consumable.charged !== 'by use')
    return stop(
      'not-charged-by-use',
      'Not charged by use',
      consumable.charged === 'flat'
        ? `${name} is charged flat: it stands on the job by itself, and no use is counted.`
        : `${name} is not charged to jobs, and no use is counted.`,
      null,
    );
  if (container === null)
    return hasFull
      ? stop(
          'none-open',
          'None is open',
          `No ${consumable.container} of ${name} is open. Open one of the full ones, or say which is open.`,
          'open one',
        )
      : stop(
          'none-left',
          'None is left',
          `By the books no ${consumable.container} of ${name} is open, and none is full that may be used. Book in what is here.`,
          null,
        );
  if (container.condemned) return stop('condemned', 'Condemned', `${container.words} is condemned and only disposed of.`, null);
  if (container.ownerId !== null && container.ownerId !== job.customerId)
    return stop(
      'goods-of-another-customer',
      'Another customer’s',
      `${container.words} belongs to a customer and serves that customer's jobs only.`,
      null,
    );
  if (hasReason) return { ok: true };
  if (container.heldBackReason !== null)
    return stop(
      'held-back',
      'Held back',
      `${container.words} is held back: ${container.heldBackReason}. Take another, or put your name and a reason to it.`,
      'override',
    );
  if (container.useBy.past)
    return stop(
      'past-use-by',
      'Past use-by',
      `${container.words}. ${container.useBy.words} Take another, or put your name and a reason to it.`,
      'override',
    );
  return { ok: true };
}

function stop(code: string, title: string, words: string, answer: UseStop['answer']): { ok: false; error: UseStop } {
  return { ok: false, error: { status: 409, code, title, detail: `${words} Nothing was changed.`, answer } };
}
