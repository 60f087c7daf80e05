import { addDecimals, type Decimal, decimalFrom, subtractDecimals, sumDecimals, zero } from '@corewright/quantities/decimal';
import { type Money, sumMoney } from '@corewright/quantities/money';
import { shareByLargestRemainder } from './largest-remainder.js';

/** What is looked at on a core before it is taken for a good one; each is answered so that yes is good. */
export const corePoints = ['complete', 'assembled', 'cracks', 'holes', 'heat', 'weld'] as const;
export type CorePoint = (typeof corePoints)[number];

/** Whether something is as it is asked for. What nobody looked at is never good. */
export const coreAnswers = ['yes', 'no', 'not looked at'] as const;
export type CoreAnswer = (typeof coreAnswers)[number];

export interface CoreTerms {
  /** percent of a good core's worth that hangs on each component; together at most a hundred */
  readonly shares: readonly Decimal[];
  /** what a full acceptable core is credited with; null where nobody has said */
  readonly fullCredit: Money | null;
  /** the letters that are offered, the best first */
  readonly grades: readonly string[];
}

export interface CoreLookedAt {
  readonly points: readonly CoreAnswer[];
  /** whether each component can be used again, in the order of the shares */
  readonly components: readonly CoreAnswer[];
}

export interface CoreJudged {
  /** percent of a good core's worth that counts */
  readonly kept: Decimal;
  /** null where the workshop has no scale */
  readonly grade: string | null;
  /** null where nobody has said what a full one is credited with */
  readonly credit: Money | null;
}

export interface CoreSuggestion {
  /** by what was seen to be good alone: this is what is suggested */
  readonly least: CoreJudged;
  /** if all that was not looked at should turn out to be good */
  readonly most: CoreJudged;
  readonly notLookedAt: number;
}

const whole = decimalFrom('100');

/** Percent of a good core's worth that is the casing and the rest: what no component has. Below nought where the shares are too many. */
export function restOfShares(shares: readonly Decimal[]): Decimal {
  return subtractDecimals(whole, sumDecimals(shares));
}

/**
 * What a core may be graded and credited with, by a rule of ours. A component that can be used again counts with its share; the casing and the rest
 * count where each of the points is as it is asked for. The credit is shared over them to the last minor unit by the largest remainder, and what
 * counts of it is added up, so that a core with nothing amiss has all of it. Of n grades the best is for a core of which nothing is amiss; each further one
 * takes 100 / (n − 1) percent of what does not count, and where anything is amiss at all it is not the best.
 *
 * @throws RangeError where the shares are more than a hundred, or an answer is missing
 */
export function judgeCore(terms: CoreTerms, looked: CoreLookedAt): CoreSuggestion {
  if (restOfShares(terms.shares) < zero) throw new RangeError('The shares of the components are more than a hundred percent');
  if (looked.components.length !== terms.shares.length || looked.points.length === 0)
    throw new RangeError('Each point and each component has an answer');
  const answers = [...looked.points, ...looked.components];
  return {
    least: judged(terms, looked, (answer) => answer === 'yes'),
    most: judged(terms, looked, (answer) => answer !== 'no'),
    notLookedAt: answers.filter((answer) => answer === 'not looked at').length,
  };
}

function judged(
  { shares, fullCredit, grades }: CoreTerms,
  looked: CoreLookedAt,
  isGood: (answer: CoreAnswer) => boolean,
): CoreJudged {
  const weights = [...shares, restOfShares(shares)];
  const counts = [...looked.components.map(isGood), looked.points.every(isGood)];
  const kept = weights.reduce((sum, weight, index) => (counts[index] === true ? addDecimals(sum, weight) : sum), zero);
  const pieces = fullCredit === null ? null : (shareByLargestRemainder(fullCredit, weights) as Money[]);
  const credit = pieces === null ? null : sumMoney(pieces.filter((_, index) => counts[index] === true));
  return { kept, credit, grade: gradeOf(grades, subtractDecimals(whole, kept), counts.includes(false)) };
}

function gradeOf(grades: readonly string[], lost: Decimal, isAmiss: boolean): string | null {
  const last = grades.length - 1;
  const steps = Number((lost * BigInt(Math.max(last, 0)) + whole - 1n) / whole);
  return grades[Math.min(Math.max(steps, isAmiss ? 1 : 0), Math.max(last, 0))] ?? null;
}
