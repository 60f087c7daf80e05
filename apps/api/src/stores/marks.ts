/**
 * Marks are what is stamped, cast or painted on a thing, keyed as read, with `?` for each character that cannot be read. One from
 * another is set off by `·`, a comma or a semicolon: "WD7 4?18 · 48 B 6".
 */

/** So many characters must be legible on both before two readings can be called the same mark. */
const legibleInCommonMin = 4;

/**
 * The marks as they are looked for: each as letters, digits and `?` only, upper case, set off by a space. The one that tells this unit from
 * its fellows, the first that is no casting number, stands first; where there is none the key begins with a space.
 */
export function marksKey(marks: string): string {
  const each = marks.split(/[·,;|\n]+/).map(keyOfMark);
  const identity = each.find((mark) => mark !== '' && !isCasting(mark)) ?? '';
  const others = each.filter((mark) => mark !== '' && mark !== identity);
  if (identity === '' && others.length === 0) return '';
  return [identity, ...others].join(' ');
}

/** The mark that tells a unit from its fellows, out of its key; empty where it has none. */
export function identityOf(key: string): string {
  return key.split(' ')[0] ?? '';
}

/** One mark as letters, digits and `?`. */
export function keyOfMark(mark: string): string {
  return mark
    .normalize('NFKC')
    .toUpperCase()
    .replace(/[^\p{L}\p{N}?]/gu, '');
}

/**
 * A regular expression that finds a mark in keys, whichever of the two has a `?` where the other was read.
 * @param mark a key of letters, digits and `?` only
 */
export function marksPattern(mark: string): string {
  return Array.from(mark, (character) => (character === '?' ? '[^ ]' : `[${character}?]`)).join('');
}

/** Whether two readings may be of one mark: as long as each other, nowhere against each other, and enough of it read on both. */
export function mayBeSameMark(one: string, other: string): boolean {
  return legibleInCommon(one, other) >= legibleInCommonMin;
}

/** How many characters were read on both and agree; -1 where the two cannot be the same. */
function legibleInCommon(one: string, other: string): number {
  const left = Array.from(one);
  const right = Array.from(other);
  if (left.length !== right.length) return -1;
  let legible = 0;
  for (const [index, character] of left.entries()) {
    if (character === '?' || right[index] === '?') continue;
    if (character !== right[index]) return -1;
    legible += 1;
  }
  return legible;
}

/** A casting number is shared by every unit cast from that pattern, so it says nothing of which one this is. */
function isCasting(mark: string): boolean {
  return mark.startsWith('CAST');
}
