/**
 * How often a component is serviceable, from what was looked at. Before anything was looked at every share is possible: Jeffreys' prior,
 * Beta(1/2, 1/2) (H. Jeffreys, Theory of Probability). After s of n were serviceable the share is Beta(1/2 + s, 1/2 + n - s), exactly, however few they are.
 */
import { betaQuantile, logBeta } from './beta.js';

export const prior = { serviceable: 0.5, not: 0.5 } as const;

/** So sure is an interval, and the number of cores to buy. */
export const confidence = 0.9;

export interface LookedAt {
  serviceable: number;
  /** with the serviceable; what was never looked at counts in neither */
  looked: number;
}

export interface ComponentYield extends LookedAt {
  /** what is to be expected of the next one */
  mean: number;
  /** with the confidence in the middle, as much left out below as above */
  interval: { least: number; most: number };
}

/** @throws RangeError where the counts are none */
export function yieldOf({ serviceable, looked }: LookedAt): ComponentYield {
  const [a, b] = shareAfter({ serviceable, looked });
  const outside = (1 - confidence) / 2;
  return {
    serviceable,
    looked,
    mean: a / (a + b),
    interval: { least: betaQuantile(outside, a, b), most: betaQuantile(1 - outside, a, b) },
  };
}

function shareAfter({ serviceable, looked }: LookedAt): [a: number, b: number] {
  if (!Number.isInteger(serviceable) || !Number.isInteger(looked) || serviceable < 0 || serviceable > looked)
    throw new RangeError(`${serviceable} of ${looked} is no count of what was serviceable.`);
  return [prior.serviceable + serviceable, prior.not + looked - serviceable];
}

/** Below so many the range is so wide that it says next to nothing. */
export const enoughToSay = 5;

/** The same in whole hundredths, the range rounded outward: it never claims more than was reckoned. */
export function inHundred({ mean, interval }: ComponentYield): { least: number; mean: number; most: number } {
  return { least: Math.floor(interval.least * 100), mean: Math.round(mean * 100), most: Math.ceil(interval.most * 100) };
}

/** How many good ones so many cores give at the least, with the confidence. Whole pieces, so that they can stand in a plan. */
export function surelyGood(seen: LookedAt, cores: number, eachHas = 1): number {
  const [a, b] = shareAfter(seen);
  const pieces = cores * eachHas;
  let good = 0;
  while (good < pieces && chanceOfAtLeast(good + 1, pieces, a, b) >= confidence) good += 1;
  return good;
}

/** More than anybody buys in search of one part. */
export const coresMax = 1000;

/**
 * How many cores to buy to have so many good ones with the confidence, each core with so many of the component. What the next ones give is
 * reckoned with what is not known of the share (beta-binomial), not by its mean. @returns null where even `coresMax` would not do
 */
export function coresToBuy(seen: LookedAt, wanted: number, eachHas = 1): number | null {
  if (wanted <= 0) return 0;
  const [a, b] = shareAfter(seen);
  const does = (cores: number) => chanceOfAtLeast(wanted, cores * eachHas, a, b) >= confidence;
  if (!does(coresMax)) return null;
  let [tooFew, enough] = [Math.ceil(wanted / eachHas) - 1, coresMax];
  while (enough - tooFew > 1) {
    const middle = Math.floor((tooFew + enough) / 2);
    if (does(middle)) enough = middle;
    else tooFew = middle;
  }
  return enough;
}

/** The chance that of `pieces` at least `wanted` are serviceable, where the share is Beta(a, b). */
export function chanceOfAtLeast(wanted: number, pieces: number, a: number, b: number): number {
  if (wanted > pieces) return 0;
  // P(0), then each from the one before it
  let here = Math.exp(logBeta(a, b + pieces) - logBeta(a, b));
  let fewer = 0;
  for (let good = 0; good < wanted; good += 1) {
    fewer += here;
    here *= ((pieces - good) * (a + good)) / ((good + 1) * (b + pieces - good - 1));
  }
  return Math.max(0, 1 - fewer);
}
