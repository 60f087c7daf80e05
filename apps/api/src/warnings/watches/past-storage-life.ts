import { spoken } from '../../jobs/job.queries.js';
import type { Watch } from './watch.js';

/** Something that is set aside for a job has come to the end of its storage life there. */
export const pastStorageLife: Watch = {
  kind: 'past its storage life',
  causes: ({ aged }) =>
    [...new Map(aged.map((claim) => [`aged ${claim.thingId} ${claim.jobId}`, claim]))].map(([subjectKey, claim]) => ({
      kind: 'past its storage life',
      subjectKey,
      jobId: claim.jobId,
      lineId: claim.lineId,
      otherJobId: null,
      words: `${claim.name}, ${spoken(claim.code)}, is past its storage life and set aside for this job`,
      why: claim.reasons,
      facts: { code: claim.code },
      since: 'stands',
    })),
  sees: ({ jobId }, { touched }) => touched.has(jobId),
  gone: ({ facts }) => `${spoken(String(facts.code))} is no longer set aside for it, or was inspected since.`,
};
