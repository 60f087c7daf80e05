import { asProblem } from '../../api/problem.js';
import { Failure, Problem } from '../../ui/Problem.js';

/** Why the door stays shut, in words: a wrong pass phrase, a used link, too many tries, no network. */
export function EntryFailure({ error, word }: { readonly error: unknown; readonly word: string }) {
  if (error === null || error === undefined) return null;
  const problem = asProblem(error);
  if (problem.code === 'throttled' && problem.detail === '') {
    return <Problem word={word} reason="Too many tries" next="Wait a few minutes, then try once more." />;
  }
  return <Failure word={word} error={error} />;
}
