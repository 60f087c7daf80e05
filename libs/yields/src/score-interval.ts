/**
 * The score interval of a share (E. B. Wilson, Journal of the American Statistical Association 22, 1927): where a true share may lie of which so
 * many of so many were seen. It never leaves 0 to 1 and says something even where none or all were.
 */
export interface Share {
  /** how many were so */
  right: number;
  /** of how many */
  counted: number;
}

/** Standard deviations of the normal distribution that leave out as much on either side as the confidence of 90 % does. */
export const ninetyPercent = 1.6448536269514722;

/** @param z so many standard deviations wide @throws RangeError where the counts are none */
export function scoreInterval({ right, counted }: Share, z = ninetyPercent): { least: number; most: number } {
  if (!Number.isInteger(right) || !Number.isInteger(counted) || right < 0 || right > counted || counted === 0)
    throw new RangeError(`${right} of ${counted} is no share of anything.`);
  const share = right / counted;
  const square = z * z;
  const scale = 1 + square / counted;
  const middle = (share + square / (2 * counted)) / scale;
  const half = (z / scale) * Math.sqrt((share * (1 - share)) / counted + square / (4 * counted * counted));
  return { least: right === 0 ? 0 : Math.max(0, middle - half), most: right === counted ? 1 : Math.min(1, middle + half) };
}
