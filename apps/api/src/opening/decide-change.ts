import { decimalFrom, formatDecimal, zero } from '@corewright/quantities/decimal';
import type { Refusal } from '../platform/refusal.js';
import { type OpeningRowState, stopped, whyClosed } from './row-state.js';

type Facts = Pick<OpeningRowState, 'standing' | 'jobId' | 'elsewhere' | 'here' | 'quantity'> & { thing: { claimed: string } };

/** Why a row can no longer be put right or struck out at the shelf; null where it can: all of it lies where it was keyed and nobody relies on it. */
export function whyPosted({ standing, jobId, elsewhere, here, quantity, thing }: Facts): Refusal | null {
  const closed = whyClosed({ standing });
  if (closed !== null) return closed;
  if (jobId !== null)
    return stopped('in-use', 'It went onto a job', 'It was taken onto a job at once. Take it back there, and put it away.');
  if (decimalFrom(thing.claimed) > zero)
    return stopped('in-use', 'Promised to a job', 'Some of it is promised to a job. Release that first, or name it at the desk.');
  if (elsewhere.length > 0)
    return stopped(
      'in-use',
      'Some of it has gone on',
      'Some of it was moved, used or sold since it was keyed, so the row stays. What it is called and what it cost is put right at the desk.',
    );
  // What a count wrote off or found, or another lot brought in, is no part of the row: to correct by the row would take or bring it twice.
  if (here !== decimalFrom(quantity))
    return stopped(
      'counted-since',
      'Counted otherwise since',
      `${formatDecimal(decimalFrom(quantity))} stand in the row, and by the books ${formatDecimal(here)} lie there by now: a count, or a lot that was joined to it, has changed that since it was keyed. Count the place again and post what is there.`,
    );
  return null;
}
