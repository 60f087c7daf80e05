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
