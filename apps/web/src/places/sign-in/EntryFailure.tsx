import { fieldWords } from '../../api/field-words.js';
import { asProblem } from '../../api/problem.js';
import { Failure, Problem } from '../../ui/Problem.js';

interface EntryFailureProps {
  readonly error: unknown;
  readonly word: string;
  /** fields that show their own fault: it is not said twice */
  readonly fields?: readonly string[];
}

/** Why the door stays shut, in words: a wrong pass phrase, a used link, too many tries, no network. */
export function EntryFailure({ error, word, fields = [] }: EntryFailureProps) {
  if (error === null || error === undefined) return null;
  const problem = asProblem(error);
  if (problem.code === 'throttled' && problem.detail === '') {
    return <Problem word={word} reason="Too many tries" next="Wait a few minutes, then try once more." />;
  }
  if (fields.some((field) => fieldWords(error, field) !== null)) {
    return <Problem word={word} reason="Something is wrong above" next="Each field says what. What you keyed is still there." />;
  }
  return <Failure word={word} error={error} />;
}
