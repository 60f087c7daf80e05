import { type NumberAsked, numbersAsked } from '../../catalogue/search/number-asked.js';
import { longestOf, patternsOfWords } from '../../catalogue/search-words.js';
import { keyOfMark, marksPattern } from '../marks.js';

/** A shorter one would be found everywhere. */
const markLengthMin = 3;
/** A set number has two characters at least, or every part would be found by it. */
const setNumberLengthMin = 2;

/** What was keyed, read in the ways in which it may be meant. */
export interface Question {
  text: string;
  /** each way in which it may be a part number */
  numbers: readonly NumberAsked[];
  /** a code or the beginning of one; empty where it is none */
  code: string;
  /** a mark as letters, digits and `?`; empty where it is too short to tell anything */
  mark: string;
  /** a regular expression of what is stamped as a set number, whole; empty where it is too short */
  setNumber: string;
  /** each word as a pattern; all of them must be found */
  patterns: readonly string[];
  /** which words the indexes are asked for, the nearest to what was keyed first */
  words: 'as keyed' | 'begun' | { meant: string };
}

export function questionOf(text: string): Question {
  const packed = text.replace(/\s+/g, '').toUpperCase();
  const mark = keyOfMark(text);
  const legible = mark.replaceAll('?', '').length;
  return {
    text: text.trim(),
    numbers: numbersAsked(text),
    code: /^[ULCXPJ]\d{3,11}$/.test(packed) ? packed : '',
    mark: legible >= markLengthMin ? mark : '',
    setNumber: legible >= setNumberLengthMin ? `^${marksPattern(mark)}$` : '',
    patterns: patternsOfWords(text),
    words: 'as keyed',
  };
}

/** A longer word was keyed whole, unless it is the last. */
const begunMax = 4;

/**
 * SQL: `asked`, the question as one row. It is kept from the planner, which would make a plan of its own for each that it is told, and that takes longer than the search.
 * `words` is what the indexes of words are asked for, null where they say nothing. All words must be there. Each may be only begun, if it is short or the last; where nothing has
 * them so, the others as well: to gather all that begins with a common word takes as long as all the rest.
 */
export const askedColumns = `
  asked AS MATERIALIZED (
    SELECT lower($1::text) AS name, $2::text[] AS keys, $3::text[] AS texts, $4::text AS code, $5::text AS mark, $6::text AS mark_pattern, $7::text AS set_number,
           $8::text[] AS patterns, $9::text AS longest, coalesce($10::tsquery, (
             SELECT string_agg(format(CASE WHEN $11 OR length(word) <= ${begunMax} OR starts_with($12, word) THEN '%L:*' ELSE '%L' END, word), ' & ')::tsquery FROM unnest(sought_words($1)) AS word)) AS words,
           $13::integer AS most)`;

export function askedValues(question: Question, most: number): unknown[] {
  return [
    question.text,
    question.numbers.map(({ key }) => key),
    question.numbers.map(({ text }) => text),
    question.code,
    question.mark,
    marksPattern(question.mark),
    question.setNumber,
    question.patterns,
    longestOf(question.patterns),
    typeof question.words === 'string' ? null : question.words.meant,
    question.words === 'begun',
    question.text.toLowerCase().split(/\s+/).at(-1),
    most,
  ];
}

/** SQL: a column of what was asked. */
export const asked = (column: string): string => `(SELECT ${column} FROM asked)`;
