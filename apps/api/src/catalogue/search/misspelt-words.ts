import type { Reader } from '../../platform/database/database.js';

/** In a shorter word too much is one letter away; a longer one is looked for as it is. */
const lettersOf = { min: 4, max: 16 };
const letters = [...'abcdefghijklmnopqrstuvwxyz'];

const selectWords = 'SELECT sought_words($1) AS words';

/** What was keyed as the words that the indexes know. The same as in the statements, which read them for themselves. */
export async function wordsOf(reader: Reader, keyed: string): Promise<readonly string[]> {
  const row = await reader.row<{ words: string[] }>(selectWords, [keyed]);
  return row?.words ?? [];
}

/**
 * All of these words, each at least begun so, as a query of the database; but each may have one letter wrong, missing, too many, or two beside each other swapped. Null where no word is such that it could be misspelt.
 * @param words as `sought_words` gives them: nothing in them that a query would read as its own
 */
export function queryMeant(words: readonly string[]): string | null {
  if (!words.some(mayBeMisspelt)) return null;
  return words
    .map(
      (word) =>
        `(${[`'${word}':*`, ...(mayBeMisspelt(word) ? oneLetterFrom(word) : []).map((meant) => `'${meant}'`)].join('|')})`,
    )
    .join('&');
}

function mayBeMisspelt(word: string): boolean {
  return /^[a-z]+$/.test(word) && word.length >= lettersOf.min && word.length <= lettersOf.max;
}

/** All that a word of small letters can have been meant for if one of them is wrong, missing, one too many, or two beside each other are swapped. */
export function oneLetterFrom(word: string): string[] {
  const meant = new Set<string>();
  for (let at = 0; at <= word.length; at += 1) {
    const [before, here, next] = [word.slice(0, at), word[at], word[at + 1]];
    for (const letter of letters) {
      meant.add(before + letter + word.slice(at));
      if (here !== undefined) meant.add(before + letter + word.slice(at + 1));
    }
    if (here !== undefined) meant.add(before + word.slice(at + 1));
    if (here !== undefined && next !== undefined) meant.add(before + next + here + word.slice(at + 2));
  }
  meant.delete(word);
  return [...meant];
}
