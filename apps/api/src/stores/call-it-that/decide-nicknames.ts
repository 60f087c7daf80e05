import { nicknamesMost } from '@corewright/contracts/nicknames';
import { done, type Result, refused } from '../../platform/refusal.js';

const sameWords = (one: string, other: string): boolean => one.toLowerCase() === other.toLowerCase();

/** The names with one more, or one less. Said twice, or forgotten twice, they stay as they are. @param there names with semicolons between */
export function decideNicknames(there: string, { words, forget }: { words: string; forget: boolean }): Result<string> {
  const names = there
    .split(';')
    .map((name) => name.trim())
    .filter((name) => name !== '');
  const others = names.filter((name) => !sameWords(name, words));
  if (forget) return done(others.join('; '));
  if (others.length < names.length) return done(names.join('; '));
  const more = [...names, words].join('; ');
  if (more.length > nicknamesMost)
    return refused({
      status: 409,
      code: 'names-enough',
      title: 'It has names enough',
      detail: `It is called ${names.length} things already, and there is no room for one more. Take one away first. Nothing was changed.`,
    });
  return done(more);
}
