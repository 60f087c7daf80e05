import { badInput, type Refusal } from '../platform/refusal.js';

/** What is dated before this was misread or mistyped. */
export const earliestYear = 1880;

export interface Years {
  yearFirst: number | null;
  yearLast: number | null;
}

/** Which of two years, either of which may be unknown, cannot be, and why; null where both can. */
export function whyNotYears({ yearFirst, yearLast }: Years, today: string): { year: keyof Years; sentence: string } | null {
  const thisYear = Number(today.slice(0, 4));
  for (const [year, keyed] of [['yearFirst', yearFirst] as const, ['yearLast', yearLast] as const])
    if (keyed !== null && (keyed < earliestYear || keyed > thisYear))
      return { year, sentence: `Key a year from ${earliestYear} to ${thisYear}, or leave it empty.` };
  return yearFirst !== null && yearLast !== null && yearFirst > yearLast
    ? { year: 'yearLast', sentence: 'The last year is before the first. Turn them round.' }
    : null;
}

/**
 * Why something cannot have been on a day: it is still to come, or so long ago that the date was misread; null where it can.
 * @param day `YYYY-MM-DD`, or its beginning where only the year or the month is known
 */
export function whyNotYet(path: string, day: string, today: string): Refusal | null {
  if (Number(day.slice(0, 4)) < earliestYear) return badInput(path, `${day} is before ${earliestYear}. Look at the date again.`);
  return day > today.slice(0, day.length) ? badInput(path, `${day} is still to come. Look at the date again.`) : null;
}
