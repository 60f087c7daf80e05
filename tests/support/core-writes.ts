import { newId } from '../../apps/api/src/platform/new-id.js';
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
};
