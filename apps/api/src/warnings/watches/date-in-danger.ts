import { formatPlainDate } from '@corewright/quantities/plain-date';
import type { LookedDate } from '../look.js';
import type { Cause } from '../warning.js';
import type { Watch } from './watch.js';

/** A date that was given held, and cannot be held any more. */
export const dateInDanger: Watch = {
  kind: 'date in danger',
  causes: ({ dates }) => [...dates.values()].filter(({ holds }) => !holds).map(causeOf),
  sees: ({ jobId }, { whole }) => whole.has(jobId),
  gone: ({ jobId, facts }, { dates }) => {
    const looked = dates.get(jobId);
    if (looked !== undefined && looked.given !== facts.given)
      return `Another date was given since: ${formatPlainDate(looked.given)}.`;
    return looked?.earliest == null
      ? 'The date holds again.'
      : `The date holds again: ${formatPlainDate(looked.earliest)} at the earliest.`;
  },
};

function causeOf({ job, given, earliest, why, customer, held }: LookedDate): Cause {
  const day = formatPlainDate(given);
  return {
    kind: 'date in danger',
    subjectKey: `date ${job.id} ${given}`,
    jobId: job.id,
    lineId: null,
    otherJobId: null,
    words:
      earliest === null
        ? `${day} can no longer be held: something critical is lacking`
        : `${day} can no longer be held: ${formatPlainDate(earliest)} at the earliest`,
    why: `Told to ${customer ?? 'the shop'}. ${why}`,
    facts: { given },
    since: held === true ? 'arose' : 'known',
  };
}
