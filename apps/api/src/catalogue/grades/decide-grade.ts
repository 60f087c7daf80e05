import type { EditGrade, Grade } from '@corewright/contracts/catalogue';
import { badInput, done, type Result, refused } from '../../platform/refusal.js';

export interface GradeFacts {
  /** null where it is a new one */
  before: Grade | null;
  /** the others of its scale, the best first */
  others: readonly Grade[];
  /** what bears its letter, in words; empty where nothing does */
  borneBy: string;
  input: EditGrade;
}

/** A grade's rank after an edit, by its id. */
export interface Ranked {
  id: string;
  rank: number;
}

/**
 * What becomes of a scale when one grade of it is added or changed. The letter of a grade that is in use stays: it is printed on labels and
 * stands in records.
 * @param id of the grade that is written
 * @returns the ranks of the whole scale, without gaps
 */
export function decideGrade(id: string, { before, others, borneBy, input }: GradeFacts): Result<Ranked[]> {
  if (before !== null && before.scale !== input.scale)
    return refused(badInput('scale', 'A grade stays on its scale. Add another to the other scale.'));
  const namesake = others.find(({ letter }) => letter.toLowerCase() === input.letter.toLowerCase());
  if (namesake !== undefined)
    return refused(
      badInput(
        'letter',
        `Grade ${namesake.letter} is on this scale already${namesake.retired ? ', though it is no longer offered: offer it again' : ''}.`,
      ),
    );
  if (before !== null && before.letter !== input.letter && borneBy !== '')
    return refused({
      status: 409,
      code: 'grade-in-use',
      title: 'In use already',
      detail: `Grade ${before.letter} is borne by ${borneBy}, and may be printed on labels, so its letter stays. Change what it means, or no longer offer it and add another. Nothing was changed.`,
    });
  return done(placed(id, others, input.rank));
}

function placed(id: string, others: readonly Grade[], rank: number): Ranked[] {
  const ids = others.map((grade) => grade.id);
  const order = [...ids.slice(0, rank - 1), id, ...ids.slice(rank - 1)];
  return order.map((each, index) => ({ id: each, rank: index + 1 }));
}
