import { type KnownType, questionOf, type Reading } from './known-type.js';
import type { Ranking } from './rank-types.js';

export interface Question {
  kind: 'feature' | 'count';
  /** what is asked; the answer stands under it in a reading */
  question: string;
  /** names of the types that it would speak for or against */
  types: string[];
}

/** So many types ahead are asked about: the rest would only make the list long. */
const typesAsked = 12;

/**
 * What to look for next: features and counts of the types that lead, those first that speak of more of them, then as the types stand. What
 * was answered stays, so that an answer can be put right.
 */
export function questionsFor(types: readonly KnownType[], { candidates, open, ruledOut }: Ranking, reading: Reading): Question[] {
  const isAnswered = (question: string): boolean =>
    Object.hasOwn(reading.features, question) || Object.hasOwn(reading.counts, question);
  const found = new Map<string, Question>();
  const ahead = [...candidates, ...open].slice(0, typesAsked);
  for (const { typeId } of [...ahead, ...ruledOut]) {
    const type = types.find(({ id }) => id === typeId);
    const isAhead = ahead.some((each) => each.typeId === typeId);
    for (const sign of type?.signs ?? []) {
      const question = questionOf(sign);
      if ((sign.kind !== 'feature' && sign.kind !== 'count') || (!isAhead && !isAnswered(question))) continue;
      const key = `${sign.kind} ${question}`;
      const known = found.get(key) ?? { kind: sign.kind, question, types: [] };
      if (type && !known.types.includes(type.name)) known.types.push(type.name);
      found.set(key, known);
    }
  }
  return [...found.values()].sort((one, other) => other.types.length - one.types.length);
}
