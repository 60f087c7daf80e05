import type { CoreStanding } from '@corewright/contracts/core-ages';
import { addMonths } from '@corewright/quantities/plain-date';

export interface MarksKept {
  firstMonths: number;
  secondMonths: number;
}

export interface StandingOfCore {
  standing: CoreStanding;
  dueOn: string;
}

/** How a core stands to its marks on a day. Once somebody has looked it through, the day that they named stands in place of the marks. Pure. */
export function standingOf(since: string, nextOn: string | null, marks: MarksKept, today: string): StandingOfCore {
  if (nextOn !== null) return { standing: nextOn <= today ? 'due again' : 'looked through', dueOn: nextOn };
  const [first, second] = [addMonths(since, marks.firstMonths), addMonths(since, marks.secondMonths)];
  if (second <= today) return { standing: 'past the second mark', dueOn: second };
  return { standing: first <= today ? 'past the first mark' : 'not yet', dueOn: first };
}

/** Whether somebody is to look it through now. */
export function isDue(standing: CoreStanding): boolean {
  return standing !== 'not yet' && standing !== 'looked through';
}

/** Whole months of the calendar from one day to another. */
export function monthsBetween(since: string, today: string): number {
  const [from, to] = [since, today].map((day) => Number(day.slice(0, 4)) * 12 + Number(day.slice(5, 7))) as [number, number];
  const months = to - from;
  return Math.max(0, addMonths(since, months) > today ? months - 1 : months);
}
