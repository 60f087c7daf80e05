import { newId } from '../../apps/api/src/platform/new-id.js';
import { AcceptanceDesk } from './acceptance-desk.js';
import { unitTypeOf } from './strip-bench.js';
import { accepted, dayAhead, fresh, type MakeReady } from './write-making.js';

const newGrade = (): Record<string, unknown> => ({
  scale: 'core',
  letter: fresh('G'),
  rank: 99,
  meaning: 'Seized, whole.',
});

const newSign = (): Record<string, unknown> => ({
  kind: 'casting',
  position: 'on the carrier',
  pattern: '48 B 6',
  yearFirst: 1938,
  yearLast: 1946,
  words: '',
  weight: 'good',
});

/** Each route that writes what cores are judged by, with a change that it accepts. */
export const coreWrites: Record<string, MakeReady> = {
  'PUT /api/grades/:id': async () => ({ path: `/api/grades/${newId()}`, body: newGrade() }),
  'PUT /api/grades/:id, put right': async ({ owner }) => {
    const path = `/api/grades/${newId()}`;
    const grade = newGrade();
    await accepted(owner.put(path, grade));
    return { path, body: { ...grade, meaning: 'Seized, and water in it.', retired: true }, ifMatch: 1 };
  },
  'PUT /api/unit-types/:id/signs/:signId': async ({ stock }) => ({
    path: `/api/unit-types/${await unitTypeOf(stock, [])}/signs/${newId()}`,
    body: newSign(),
  }),
  'PUT /api/unit-types/:id/signs/:signId, put right': async ({ owner, stock }) => {
    const path = `/api/unit-types/${await unitTypeOf(stock, [])}/signs/${newId()}`;
    await accepted(owner.put(path, newSign()));
    return { path, body: { ...newSign(), yearLast: 1950, withdrawn: true }, ifMatch: 1 };
  },
  'PUT /api/unit-types/:id/numbers': async ({ stock }) => ({
    path: `/api/unit-types/${await unitTypeOf(stock, [])}/numbers`,
    body: {
      serials: [{ prefix: 'WD7', first: 1, last: 6990 }],
      gears: [{ gear: '', meshes: [{ driver: 4, driven: 31 }] }],
    },
    ifMatch: 1,
  }),
  'PUT /api/unit-types/:id/acceptance': async ({ owner, stock }) => {
    const desk = await AcceptanceDesk.open(owner, stock);
    return { path: desk.termsPath, body: desk.terms({ fullCredit: '180' }), ifMatch: 1 };
  },
  'POST /api/units/:id/acceptances': async ({ owner, stock }) => {
    const desk = await AcceptanceDesk.open(owner, stock);
    return { path: `/api/units/${(await desk.unit()).id}/acceptances`, body: desk.sheet() };
  },
  'POST /api/acceptances/:id/decision': async ({ owner, stock }) => {
    const desk = await AcceptanceDesk.open(owner, stock);
    const grade = newGrade();
    await accepted(owner.put(`/api/grades/${newId()}`, grade));
    const { id } = await desk.filled((await desk.unit()).id);
    return { path: `/api/acceptances/${id}/decision`, body: { grade: grade.letter, credit: '200', why: 'as it stands' } };
  },
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
