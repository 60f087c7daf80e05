/**
 * Whether a mark on a unit may be one that the books describe. In the books `?` stands for any one character and `*` for any number of
 * them; in what was read `?` stands for one character that nobody could read. Spaces, points and strokes do not count.
 */

/** One mark as letters, digits, `?` and, in the books, `*`; upper case. */
export function keyOfPattern(text: string): string {
  return text
    .normalize('NFKC')
    .toUpperCase()
    .replace(/[^\p{L}\p{N}?*]/gu, '');
}

/** One mark as it was read: letters, digits and `?`. */
export function keyOfReading(text: string): string {
  return keyOfPattern(text).replaceAll('*', '');
}

export interface MarkMatch {
  /** characters that the books give and that were read so */
  legible: number;
  /** characters that the books give */
  given: number;
}

/** Of so many given characters all must have been read, of more at least these: less than that says nothing. */
const legibleMin = 2;

/** @returns null where the two cannot be the same, or where too little was read to say so */
export function matchMark(pattern: string, reading: string): MarkMatch | null {
  const [described, read] = [Array.from(keyOfPattern(pattern)), Array.from(keyOfReading(reading))];
  const legible = mostLegible(described, read);
  const given = described.filter((character) => character !== '?' && character !== '*').length;
  return given === 0 || legible < Math.min(legibleMin, given) ? null : { legible, given };
}

/** Over all ways to lay the reading on the pattern: the most characters that agree; -1 where there is no way. */
function mostLegible(described: readonly string[], read: readonly string[]): number {
  // best[n]: of the described so far laid on the first n that were read
  let best = read.map(() => -1);
  best = [0, ...best];
  for (const character of described) {
    const next = new Array<number>(best.length).fill(-1);
    for (const [length, before] of best.entries()) {
      if (character === '*') {
        const skipped = length === 0 ? -1 : (next[length - 1] ?? -1);
        next[length] = Math.max(before, skipped);
        continue;
      }
      const at = read[length];
      if (before < 0 || at === undefined) continue;
      if (character === '?' || at === '?') next[length + 1] = Math.max(next[length + 1] ?? -1, before);
      else if (character === at) next[length + 1] = Math.max(next[length + 1] ?? -1, before + 1);
    }
    best = next;
  }
  return best.at(-1) ?? -1;
}
