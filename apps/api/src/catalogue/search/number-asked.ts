import { partNumberKey } from '../part-number-key.js';

/** One way in which what was keyed can be a number. */
export interface NumberAsked {
  /** as it was keyed, for zeros are told from what stands between them */
  text: string;
  key: string;
  /** LIKE pattern of the upper-case names of makers whose number it would be; null where no maker was keyed before it */
  makerLike: string | null;
}

const makerWordsMax = 4;
const makerLettersMin = 2;
/** Of a shorter one too much is one error away; a longer one is no number. */
const errorLength = { min: 4, max: 24 };
const characters = [...'ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789'];

/**
 * As it stands, and with a maker's name or its abbreviation before the number: "Brantock 12-345", "BRN12345". Whether a maker is called so is for
 * the books to say.
 */
export function numbersAsked(keyed: string): NumberAsked[] {
  const text = keyed.normalize('NFKC').trim();
  const key = partNumberKey(text);
  if (key === '') return [];
  const ways: NumberAsked[] = [{ text, key, makerLike: null }];
  for (const [end, rest] of endsOfMaker(text)) {
    const maker = partNumberKey(text.slice(0, end));
    const restKey = partNumberKey(rest);
    if (maker.length >= makerLettersMin && ways.at(-1)?.key !== restKey && /\d/.test(restKey))
      ways.push({ text: rest, key: restKey, makerLike: abbreviationPattern(maker) });
  }
  return ways.slice(0, 1 + makerWordsMax);
}

/** Each place where letters end, until the first digit, with what stands behind it. */
function endsOfMaker(text: string): [number, string][] {
  const beforeDigits = text.match(/^\D*/)?.[0] ?? '';
  const ends = [...beforeDigits.matchAll(/\p{L}(?!\p{L})/gu)].map((match) => match.index + match[0].length);
  return ends.map((end) => [end, text.slice(end)]);
}

/** BRN abbreviates BRANTOCK: the same beginning, and its letters in their order. */
function abbreviationPattern(letters: string): string {
  return [...letters].map((letter) => `${letter}%`).join('');
}

/**
 * All that a key can have been meant for if one character is wrong, missing, one too many, or two beside each other are swapped. Empty where it
 * is no number: a word without a digit, or too short or long.
 */
export function oneErrorFrom(key: string): string[] {
  const all = [...key];
  if (!/\d/.test(key) || all.length < errorLength.min || all.length > errorLength.max) return [];
  const meant = new Set<string>();
  for (let at = 0; at <= all.length; at += 1) {
    const [before, here, next] = [all.slice(0, at).join(''), all[at], all[at + 1]];
    const [behind, behindNext] = [all.slice(at + 1).join(''), all.slice(at + 2).join('')];
    for (const character of characters) {
      meant.add(before + character + all.slice(at).join(''));
      if (here !== undefined) meant.add(before + character + behind);
    }
    if (here !== undefined) meant.add(before + behind);
    if (here !== undefined && next !== undefined) meant.add(before + next + here + behindNext);
  }
  meant.delete(key);
  return [...meant];
}
