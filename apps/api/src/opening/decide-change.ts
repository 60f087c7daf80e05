import { decimalFrom, zero } from '@corewright/quantities/decimal';
import type { Refusal } from '../platform/refusal.js';
import { type OpeningRowState, stopped, whyClosed } from './row-state.js';

type Facts = Pick<OpeningRowState, 'standing' | 'jobId' | 'elsewhere'> & { thing: { claimed: string } };

/** Why a row can no longer be put right or struck out at the shelf; null where it can: all of it lies where it was keyed and nobody relies on it. */
export function whyPosted({ standing, jobId, elsewhere, thing }: Facts): Refusal | null {
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
  return null;
}
