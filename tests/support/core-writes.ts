import { newId } from '../../apps/api/src/platform/new-id.js';
import { dayAhead, type MakeReady } from './write-making.js';

/** Each route of cores in the yard that writes, with a change that it accepts. */
export const coreWrites: Record<string, MakeReady> = {
  'POST /api/units/:id/core-reviews': async ({ stock }) => ({
    path: `/api/units/${(await stock.unit()).id}/core-reviews`,
    body: { id: newId(), decided: 'keep', note: 'dry, turns freely', nextOn: dayAhead() },
  }),
  'PUT /api/core-review-marks': async ({ owner }) => {
    const { marks } = (await owner.get<{ marks: { firstMonths: number; version: number } }>('/api/core-ages')).body;
    const firstMonths = (marks.firstMonths % 60) + 1;
    return { path: '/api/core-review-marks', body: { firstMonths, secondMonths: firstMonths + 6 }, ifMatch: marks.version };
  },
};
