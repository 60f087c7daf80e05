import type { CoreAnswer, CorePoint } from '@corewright/contracts/acceptance';

/** What is looked at, so named that yes is good. */
export const pointWords: Readonly<Record<CorePoint, string>> = {
  complete: 'Complete',
  assembled: 'Assembled',
  cracks: 'No cracks',
  holes: 'No holes',
  heat: 'No heat damage',
  weld: 'No weld',
};

/** What is amiss where the answer is no. */
export const amissWords: Readonly<Record<CorePoint, string>> = {
  complete: 'not complete',
  assembled: 'not assembled',
  cracks: 'cracks',
  holes: 'holes',
  heat: 'heat damage',
  weld: 'weld',
};

export const ANSWERS: readonly CoreAnswer[] = ['yes', 'no', 'not looked at'];

/** The rule by which a grade and a credit are suggested, for the grades that are offered, the best first. */
export function sayRule(grades: readonly string[]): string {
  const credit =
    'A component that can be used again counts with its share; the casing and the rest count where each of the six points is yes. ' +
    'The credit is so much of the full one as counts.';
  const [best, ...others] = grades;
  if (best === undefined) return `${credit} No grade is offered for cores yet.`;
  const steps = others.length;
  const further = others.map((letter, index) =>
    index === steps - 1 ? `${letter} where more is` : `${letter} where up to ${index + 1}/${steps} of it is lost`,
  );
  return `${credit} Grade: ${[`${best} where nothing is amiss`, ...further].join(', ')}. What was not looked at is not counted as good.`;
}
