import { badInput, type Refusal } from '../platform/refusal.js';

/** What is dated before this was misread or mistyped. */
export const earliestYear = 1880;

/**
 * Why something cannot have been on a day: it is still to come, or so long ago that the date was misread; null where it can.
 * @param day `YYYY-MM-DD`, or its beginning where only the year or the month is known
 */
export function whyNotYet(path: string, day: string, today: string): Refusal | null {
  if (Number(day.slice(0, 4)) < earliestYear) return badInput(path, `${day} is before ${earliestYear}. Look at the date again.`);
  return day > today.slice(0, day.length) ? badInput(path, `${day} is still to come. Look at the date again.`) : null;
}
