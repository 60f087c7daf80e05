import type { DifferentNumbers, NumbersDiffer } from '@corewright/contracts/kept-sets';
import { done, type Refusal, type Result, refused } from '../../platform/refusal.js';
import { keyOfMark, marksPattern } from '../marks.js';

/** What was read on one part of a set; empty where nothing was. */
export interface Reading {
  name: string;
  stamped: string;
}

/** What is to be done with parts whose numbers were read. */
export interface Bound {
  /** false: each is odd, for they are of different sets */
  together: boolean;
  /** why they belong together though their numbers differ; empty where they agree */
  mismatchReason: string;
  /** the number that the set goes by, as it was best read */
  number: string;
}

/**
 * Whether parts are one set by the numbers stamped on them. What was not read agrees with anything. Where two readings cannot be of one number nothing is
 * decided for the person: they say which it is.
 */
export function decideNumbers(readings: readonly Reading[], different: DifferentNumbers | undefined): Result<Bound> {
  const number = bestRead(readings);
  if (agree(readings)) return done({ together: true, mismatchReason: '', number });
  if (different === undefined) return refused(numbersDiffer(readings));
  if (different.say === 'they are of two sets') return done({ together: false, mismatchReason: '', number });
  return done({ together: true, mismatchReason: different.why, number });
}

/** Whether no two of them say different numbers. */
export function agree(readings: readonly Reading[]): boolean {
  const keys = readings.map(({ stamped }) => keyOfMark(stamped)).filter((key) => key !== '');
  return keys.every((one, index) => keys.slice(index + 1).every((other) => mayBeOneNumber(one, other)));
}

function mayBeOneNumber(one: string, other: string): boolean {
  return new RegExp(`^${marksPattern(one)}$`).test(other);
}

/** The reading with the fewest characters in doubt; the first of such. */
function bestRead(readings: readonly Reading[]): string {
  const read = readings.map(({ stamped }) => stamped.trim()).filter((stamped) => stamped !== '');
  return read.toSorted((one, other) => doubts(one) - doubts(other))[0] ?? '';
}

function doubts(stamped: string): number {
  return stamped.split('?').length - 1;
}

function numbersDiffer(readings: readonly Reading[]): Refusal {
  const read = readings.filter(({ stamped }) => stamped.trim() !== '');
  const values: NumbersDiffer = {
    readings: read,
    choices: [
      { say: 'they are of two sets', words: 'They are of two sets: each is kept as an odd one' },
      { say: 'they belong together', words: 'They belong together all the same, in my name' },
    ],
  };
  const said = read.map(({ name, stamped }) => `${name} says ${stamped}`).join(', ');
  return {
    status: 409,
    code: 'set-numbers-differ',
    title: 'The set numbers differ',
    detail: `${said}. Look at both again and key what is stamped; or say that they are of two sets, or why they belong together. Nothing was changed.`,
    values,
  };
}
