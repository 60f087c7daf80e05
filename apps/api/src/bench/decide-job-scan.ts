import type { InsteadOfPart } from '@corewright/contracts/substitutes';
import { closedStates } from '../jobs/job.queries.js';
import { chooseLine } from './choose-line.js';
import { mayServe, type Stop } from './may-serve.js';
import { amountOf, claimChanges } from './scan-amount.js';
import type { LineForScan } from './scan-facts.js';
import { type ScanDecision, type ScanPlan, type ScanState, stop } from './scan-state.js';

/** Whether a scan may do what its mode says, and what is then to be written. Pure: the same state gives the same answer. */
export function decideJobScan(state: ScanState): ScanDecision {
  const barred = barOf(state);
  if (barred) return stop(barred);
  if (state.setTakenBy.length > 0) return stop({ ...setElsewhere, claimants: [...state.setTakenBy] });
  if (state.thing.kind === 'U') return planUnit(state);
  const chosen = chooseLine(state);
  if (!chosen.ok) return chosen;
  const { line, instead } = chosen.value;
  const served = mayServe(state, line === 'further' ? null : line);
  const overridden = served !== null && state.mode === 'fit' && state.input.override !== undefined;
  if (served && !overridden) return stop(served);
  const amount = amountOf(state, line);
  if (!amount.ok) return amount;
  return {
    ok: true,
    value: {
      line,
      ...amount.value,
      ...claimChanges(state, line, amount.value),
      reused: state.mode === 'fit' && state.thing.componentOf === state.job.unitId,
      inPlaceOf: inPlaceOf(state, line, instead),
      overrideReason: overridden ? (state.input.override?.reason ?? null) : null,
    },
  };
}

/** Other parts of its kept set are with another job. */
export const setElsewhere = {
  code: 'kept-set-elsewhere',
  title: 'It belongs to a set',
  detail:
    'Other parts of its kept set are with another job, and a set goes to one job only. Take the whole set, or break it with a name and a reason on its page. Nothing was changed.',
} as const;

/** What no choice of the person's can open. */
export function barOf({ job, thing, locked, mode }: Pick<ScanState, 'job' | 'thing' | 'locked' | 'mode'>): Stop | null {
  if (closedStates.includes(job.state))
    return {
      code: 'job-closed',
      title: 'The job is closed',
      detail: `This job is ${job.state}. Nothing can be scanned onto it; set it to building again first.`,
    };
  if (thing.kind === 'X')
    return {
      code: 'unnamed',
      title: 'Nobody has named it',
      detail:
        'This is an unsorted box. Scan it without a job: on its page what you take out of it is named and gets a label of its own. Scan that one here.',
    };
  if (locked.condemned)
    return {
      code: 'condemned',
      title: 'Condemned',
      detail: 'This was condemned and cannot be used, whatever the reason. Say on its page what becomes of it.',
    };
  if (locked.keptForOwner)
    return {
      code: 'kept-for-owner',
      title: 'Kept for its owner',
      detail: `This is kept for ${thing.ownerName ?? 'its owner'} and serves no job, whatever the reason. Say on its page what became of it first.`,
    };
  if (locked.ownerId !== null && locked.ownerId !== job.customerId)
    return {
      code: 'goods-of-another-customer',
      title: 'Not ours to use',
      detail: `This belongs to ${thing.ownerName ?? 'a customer'}. A customer's goods serve that customer's jobs only.`,
    };
  if (thing.id === job.unitId)
    return {
      code: 'cannot-be-fitted',
      title: 'The unit itself',
      detail: 'This is the unit that the job is about. Scan the parts that go into it.',
    };
  if (thing.kind === 'U' && mode === 'fit')
    return {
      code: 'cannot-be-fitted',
      title: 'A whole unit',
      detail:
        'A whole unit is not fitted into another. Pick it for the job, or take off the component that you need and scan its own tag.',
    };
  return null;
}

/** A whole unit can be laid by for a job, to give it parts. */
function planUnit(state: ScanState): ScanDecision {
  const held = mayServe(state, null);
  if (held) return stop(held);
  const amount = amountOf(state, null);
  if (!amount.ok) return amount;
  return {
    ok: true,
    value: {
      line: null,
      ...amount.value,
      ...claimChanges(state, null, amount.value),
      reused: false,
      inPlaceOf: null,
      overrideReason: null,
    },
  };
}

/** What a person said of a part that goes in place of another; where nobody needed to, what is on the record. */
function inPlaceOf(
  { input, thing }: ScanState,
  line: LineForScan | 'further',
  instead: InsteadOfPart | null,
): ScanPlan['inPlaceOf'] {
  if (line === 'further' || line.partId === thing.partId) return null;
  if (input.inPlaceOf) return { why: input.inPlaceOf.why, evidence: input.inPlaceOf.evidence };
  return instead && { why: instead.as, evidence: [instead.words, instead.conditions].filter((words) => words !== '').join(' ') };
}
