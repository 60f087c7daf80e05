import { newId } from '../../apps/api/src/platform/new-id.js';
import { AcceptanceDesk } from './acceptance-desk.js';
import { accepted, fresh, type MakeReady } from './write-making.js';

const newGrade = (): Record<string, unknown> => ({
  scale: 'core',
  letter: fresh('G'),
  rank: 99,
  meaning: 'Seized, whole.',
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
    const { id } = await desk.filled((await desk.unit()).id);
    return { path: `/api/acceptances/${id}/decision`, body: { grade: 'A', credit: '200', why: 'as it stands' } };
  },
};
