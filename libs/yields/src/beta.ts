/**
 * The beta distribution, by the formulas of the NIST Digital Library of Mathematical Functions: 5.11.1 (logarithm of the gamma function),
 * 8.17.22 (continued fraction of the incomplete beta function), 8.17.4 (its symmetry).
 */

/** Coefficients of 1/z, 1/z³ … in Stirling's series: B(2k) / (2k (2k - 1)). */
const stirling = [1 / 12, -1 / 360, 1 / 1260, -1 / 1680, 1 / 1188, -691 / 360360];
/** From here on the series is exact to the last figure of a double. */
const stirlingFrom = 12;

/** @param z above 0 */
export function logGamma(z: number): number {
  let shift = 0;
  let at = z;
  // gamma(z) = gamma(z + 1) / z, until the series serves
  while (at < stirlingFrom) {
    shift += Math.log(at);
    at += 1;
  }
  let series = 0;
  for (const coefficient of stirling.toReversed()) series = series / (at * at) + coefficient;
  return (at - 0.5) * Math.log(at) - at + 0.5 * Math.log(2 * Math.PI) + series / at - shift;
}

export function logBeta(a: number, b: number): number {
  return logGamma(a) + logGamma(b) - logGamma(a + b);
}

/** Terms of the continued fraction; some tens do, but for a and b of millions. */
const termsMax = 10_000;
const enough = 1e-16;
const tiny = 1e-300;

/** The chance that a share drawn from Beta(a, b) is at most x. @param x between 0 and 1 @param a above 0 @param b above 0 */
export function betaUpTo(x: number, a: number, b: number): number {
  if (x <= 0) return 0;
  if (x >= 1) return 1;
  // the fraction ends soon only on this side of the middle
  if (x > (a + 1) / (a + b + 2)) return 1 - betaUpTo(1 - x, b, a);
  const front = Math.exp(a * Math.log(x) + b * Math.log1p(-x) - logBeta(a, b)) / a;
  return front / fraction(x, a, b);
}

/** By Lentz's way of going forward: each step multiplies by a ratio of two continuants. */
function fraction(x: number, a: number, b: number): number {
  let [value, over, under] = [1, 1, 0];
  for (let term = 1; term <= termsMax; term += 1) {
    const coefficient = coefficientOf(term, x, a, b);
    under = 1 / awayFromZero(1 + coefficient * under);
    over = awayFromZero(1 + coefficient / over);
    value *= over * under;
    if (Math.abs(over * under - 1) < enough) break;
  }
  return value;
}

function coefficientOf(term: number, x: number, a: number, b: number): number {
  const m = Math.floor(term / 2);
  if (term % 2 === 0) return (m * (b - m) * x) / ((a + 2 * m - 1) * (a + 2 * m));
  return (-(a + m) * (a + b + m) * x) / ((a + 2 * m) * (a + 2 * m + 1));
}

function awayFromZero(value: number): number {
  return Math.abs(value) < tiny ? tiny : value;
}

/** Halvings alone would come to neighbouring doubles in so many steps. */
const stepsMax = 1100;
/** Nearer than this a further step changes nothing that a double can show. */
const nearEnough = 2 ** -52;

/**
 * The share below which Beta(a, b) lies with this chance: by Newton's way, and by halves wherever that would leave what is known to hold it.
 * @param chance between 0 and 1
 */
export function betaQuantile(chance: number, a: number, b: number): number {
  let [least, most] = [0, 1];
  let at = a / (a + b);
  const scale = logBeta(a, b);
  for (let step = 0; step < stepsMax; step += 1) {
    const beyond = betaUpTo(at, a, b) - chance;
    if (beyond < 0) least = at;
    else most = at;
    const density = Math.exp((a - 1) * Math.log(at) + (b - 1) * Math.log1p(-at) - scale);
    const next = at - beyond / density;
    const isWithin = next > least && next < most;
    const following = isWithin ? next : (least + most) / 2;
    if (following === least || following === most || Math.abs(following - at) <= nearEnough * following) return following;
    at = following;
  }
  return at;
}
