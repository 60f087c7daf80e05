import { spoken } from '../../jobs/job.queries.js';
import type { Watch } from './watch.js';

/** Another job took what this one had reserved. It stays until somebody has seen to it. */
export const takenByAnother: Watch = {
  kind: 'taken by another job',
  causes: ({ takings }) =>
    takings.map((each) => ({
      kind: 'taken by another job',
      subjectKey: `taken ${each.changeId}`,
      jobId: each.jobId,
      lineId: each.lineId,
      otherJobId: each.otherJobId,
      words: `${each.name}: ${each.quantity} reserved for ${each.lineNo === null ? 'this job' : `line ${each.lineNo}`} went to job ${spoken(each.otherCode)}`,
      why: `${each.by} took ${each.quantity === '1' ? 'it' : 'them'}: ${each.reason}`,
      facts: {},
      since: 'stands',
    })),
  sees: ({ jobId }, { touched }) => touched.has(jobId),
  gone: () => 'The job is closed.',
};
