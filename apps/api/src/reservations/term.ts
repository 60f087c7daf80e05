import { addDays, formatPlainDate } from '@corewright/quantities/plain-date';
import { badInput, done, type Result, refused } from '../platform/refusal.js';

/** So long an estimate's reservation holds where nobody says otherwise. */
const estimateDays = 14;

export interface Term {
  until: string | null;
  /** to be put after "Reserved" */
  words: string;
}

/** Until when a reservation holds: an estimate's always has an end, another's where somebody gives one. */
export function termOf(jobState: string, asked: string | null, today: string): Result<Term> {
  if (asked !== null && asked < today)
    return refused(badInput('until', `${formatPlainDate(asked)} is past. Give a day to come, or leave it firm.`));
  if (asked !== null) return done({ until: asked, words: ` until ${formatPlainDate(asked)}.` });
  if (jobState !== 'estimate') return done({ until: null, words: '.' });
  const until = addDays(today, estimateDays);
  return done({
    until,
    words: ` until ${formatPlainDate(until)}: what an estimate reserves has an end, ${estimateDays} days ahead where nobody gives one.`,
  });
}
