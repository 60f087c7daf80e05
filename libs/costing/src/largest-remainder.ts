/**
 * Shares a whole number of smallest units over parts in proportion to their weights, exactly. Each part first has the whole units
 * of its quota; those left over go one each to the parts with the largest remainders, and among equal remainders to the one
 * that stands first. (The method of the largest remainder, also Hamilton's.)
 *
 * An amount below nought is shared as its opposite is.
 * @returns one share for each weight, in their order; together they are the amount
 * @throws RangeError where a weight is below nought, or all are nought and something is to be shared
 */
export function shareByLargestRemainder(amount: bigint, weights: readonly bigint[]): bigint[] {
  if (amount < 0n) return shareByLargestRemainder(-amount, weights).map((share) => -share);
  if (weights.some((weight) => weight < 0n)) throw new RangeError('A weight is never below nought');
  const all = weights.reduce((sum, weight) => sum + weight, 0n);
  if (all === 0n) {
    if (amount !== 0n) throw new RangeError('Something is to be shared over parts that weigh nothing');
    return weights.map(() => 0n);
  }
  const shares = weights.map((weight) => (amount * weight) / all);
  let left = amount - shares.reduce((sum, share) => sum + share, 0n);
  for (const { index } of byRemainder(amount, weights, all)) {
    if (left === 0n) break;
    shares[index] = (shares[index] ?? 0n) + 1n;
    left -= 1n;
  }
  return shares;
}

function byRemainder(amount: bigint, weights: readonly bigint[], all: bigint): { index: number; remainder: bigint }[] {
  return weights
    .map((weight, index) => ({ index, remainder: (amount * weight) % all }))
    .sort((one, other) => {
      if (one.remainder === other.remainder) return one.index - other.index;
      return one.remainder > other.remainder ? -1 : 1;
    });
}
