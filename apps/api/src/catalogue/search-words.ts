/** A text as a LIKE pattern that finds it anywhere. */
export function anywhere(text: string): string {
  return `%${text.replace(/[\\%_]/g, '\\$&')}%`;
}

/** Each word of what was keyed as a pattern of its own: all must be there, in any order. */
export function patternsOfWords(keyed: string): string[] {
  return keyed
    .trim()
    .split(/\s+/)
    .filter((word) => word !== '')
    .slice(0, 10)
    .map(anywhere);
}

/** The pattern that an index narrows most; empty where there is none. */
export function longestOf(patterns: readonly string[]): string {
  return patterns.reduce((longest, pattern) => (pattern.length > longest.length ? pattern : longest), '');
}
