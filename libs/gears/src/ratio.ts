/**
 * Ratios from counted teeth. A ratio is turns of the driver for one of the driven: driven teeth over driver teeth, as axles and gearboxes are
 * named (common practice). Counts are whole; a worm's count is its starts.
 */

export interface Mesh {
  /** teeth of the one that drives: pinion, worm's starts, layshaft's input gear */
  driver: number;
  driven: number;
}

/** A ratio as two whole numbers without a common factor, so that nothing is lost to decimals. */
export interface Ratio {
  numerator: number;
  denominator: number;
}

/**
 * How often the same teeth meet. Hunting: each tooth meets every one of the other gear before it meets the same again, which is when the
 * numbers of teeth have no common factor. Not hunting: one number divides the other, so that a tooth always meets the same few.
 */
export type Hunting = 'hunting' | 'partly hunting' | 'not hunting';

const teethMax = 1000;

/** @returns why these are no numbers of teeth; null where they are */
export function whyNoTeeth({ driver, driven }: Mesh): string | null {
  for (const teeth of [driver, driven]) {
    if (!Number.isInteger(teeth) || teeth < 1) return 'Count the teeth: a whole number, one at least; of a worm, its starts.';
    if (teeth > teethMax) return `More than ${teethMax} teeth is no gear of a drivetrain. Count again.`;
  }
  return null;
}

export function greatestCommonDivisor(one: number, other: number): number {
  let [larger, smaller] = [one, other];
  while (smaller !== 0) [larger, smaller] = [smaller, larger % smaller];
  return larger;
}

/** The ratio of one mesh, or of several that drive one another in turn. @throws RangeError where a count is no number of teeth */
export function ratioOf(meshes: readonly Mesh[]): Ratio {
  let [numerator, denominator] = [1, 1];
  for (const mesh of meshes) {
    const why = whyNoTeeth(mesh);
    if (why !== null) throw new RangeError(why);
    const [over, under] = [numerator * mesh.driven, denominator * mesh.driver];
    const common = greatestCommonDivisor(over, under);
    [numerator, denominator] = [over / common, under / common];
  }
  return { numerator, denominator };
}

export function huntingOf({ driver, driven }: Mesh): Hunting {
  const common = greatestCommonDivisor(driver, driven);
  if (common === 1) return 'hunting';
  return common === Math.min(driver, driven) ? 'not hunting' : 'partly hunting';
}

/** After how many turns of the driver a pair of teeth meets again. */
export function turnsUntilSameTeeth({ driver, driven }: Mesh): number {
  return driven / greatestCommonDivisor(driver, driven);
}

/** "4.875": so many places that two ratios in use differ, without trailing zeros. */
export function sayRatio({ numerator, denominator }: Ratio, places = 3): string {
  const scaled = (BigInt(numerator) * 10n ** BigInt(places + 1)) / BigInt(denominator);
  const rounded = (scaled + 5n) / 10n;
  const digits = String(rounded).padStart(places + 1, '0');
  const whole = digits.slice(0, digits.length - places);
  const decimals = digits.slice(digits.length - places).replace(/0+$/, '');
  return decimals === '' ? whole : `${whole}.${decimals}`;
}
