export const rounds = 5;

/** @param sorted smallest first */
export function quantile(sorted: ArrayLike<number>, share: number): number {
  const value = sorted[Math.min(sorted.length - 1, Math.floor(sorted.length * share))];
  if (value === undefined) throw new Error('There is nothing to take a quantile of');
  return value;
}

export function median(values: readonly number[]): number {
  return quantile(
    values.toSorted((one, other) => one - other),
    0.5,
  );
}

/**
 * Measures two sides in turn, five times. Whoever comes second finds a warmer machine, so they change places each round.
 */
export async function interleave<T>(
  ours: (round: number) => Promise<T>,
  floor: (round: number) => Promise<T>,
): Promise<{ ours: T; floor: T }[]> {
  const pairs: { ours: T; floor: T }[] = [];
  for (let round = 0; round < rounds; round += 1) {
    const isOursFirst = round % 2 === 0;
    const early = isOursFirst ? await ours(round) : await floor(round);
    const late = isOursFirst ? await floor(round) : await ours(round);
    pairs.push(isOursFirst ? { ours: early, floor: late } : { ours: late, floor: early });
  }
  return pairs;
}

/** To three places: more would be noise. */
export function rounded(value: number): number {
  return Math.round(value * 1000) / 1000;
}
