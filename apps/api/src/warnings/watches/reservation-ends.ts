import { formatPlainDate } from '@corewright/quantities/plain-date';
import type { EndingReservations } from '../reservations.queries.js';
import type { Watch } from './watch.js';

/** So many days before reservations end somebody is told. */
export const noticeDays = 3;

/** What an estimate has reserved is soon free for others: told once for all that ends on one day. */
export const reservationEnds: Watch = {
  kind: 'reservation ends',
  causes: ({ ending }) =>
    ending.map((each) => ({
      kind: 'reservation ends',
      subjectKey: `ends ${each.jobId} ${each.until}`,
      jobId: each.jobId,
      lineId: null,
      otherJobId: null,
      words: `${each.count === 1 ? '1 reservation ends' : `${each.count} reservations end`} on ${formatPlainDate(each.until)}`,
      why: whyOf(each),
      facts: {},
      since: 'stands',
    })),
  sees: ({ jobId }, { touched }) => touched.has(jobId),
  gone: () => 'Nothing of this job ends on that day any more: it was fitted, released, kept on or has ended.',
};

function whyOf({ named, count }: EndingReservations): string {
  const rest = count - named.length;
  return `${named.join('; ')}${rest > 0 ? `; and ${rest} more` : ''}. Then they are free for other jobs: ask the customer, or reserve them anew.`;
}
