/** A text as a LIKE pattern that finds it anywhere. */
export function anywhere(text: string): string {
  return `%${text.replace(/[\\%_]/g, '\\$&')}%`;
}

/** Words that say nothing of what is looked for. The same list stands in the database's own reading of words, `sought_words`. */
export const wordsThatSayNothing: ReadonlySet<string> = new Set(
  'the that this those these a an of for with and or one ones some from off on in to it its is my our thing s'.split(' '),
);

/** Each word of what was keyed as a pattern of its own: all must be there, in any order. Words that say nothing are left out, unless there are no others. */
export function patternsOfWords(keyed: string): string[] {
  const words = keyed
    .trim()
    .split(/\s+/)
    .filter((word) => word !== '');
  const telling = words.filter((word) => !wordsThatSayNothing.has(word.toLowerCase()));
  return (telling.length > 0 ? telling : words).slice(0, 10).map(anywhere);
}

/** The pattern that an index narrows most; empty where there is none. */
export function longestOf(patterns: readonly string[]): string {
  return patterns.reduce((longest, pattern) => (pattern.length > longest.length ? pattern : longest), '');
}
