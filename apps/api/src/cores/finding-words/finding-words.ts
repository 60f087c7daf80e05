import type { EditFindingWord, FindingWord } from '@corewright/contracts/cores';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import type { Reader } from '../../platform/database/database.js';
import { badInput, changedMeanwhile, done, invariant, notFound, type Result, refused } from '../../platform/refusal.js';

const columns = 'SELECT id, word, retired, version FROM finding_words';
const selectAll = `${columns} ORDER BY retired, position, lower(word)`;
const selectOne = `${columns} WHERE id = $1`;
const lock = 'SELECT 1 AS there FROM finding_words WHERE id = $1 FOR UPDATE';
const namesake = 'SELECT word, retired FROM finding_words WHERE lower(word) = lower($1) AND id <> $2';
const insert = `
  INSERT INTO finding_words (id, word, retired, position)
  SELECT $1, $2, $3, coalesce(max(position), 0) + 1 FROM finding_words`;
const update = 'UPDATE finding_words SET word = $2, retired = $3, version = version + 1 WHERE id = $1';

/** The words that the workshop records findings with; those that are no longer offered come last. */
export function findingWords(reader: Reader): Promise<FindingWord[]> {
  return reader.rows<FindingWord & Record<string, unknown>>(selectAll);
}

/** A word that is new, without If-Match, or one that is changed, with the version that was seen. What was recorded with it stays as it was. */
export async function editFindingWord(
  transaction: Transaction,
  id: string,
  { word, retired }: EditFindingWord,
): Promise<Result<FindingWord>> {
  await transaction.row(lock, [id]);
  const before = await transaction.row<FindingWord & Record<string, unknown>>(selectOne, [id]);
  const { versionSeen } = transaction.command;
  if (before === null && versionSeen !== null) return refused(notFound('That word'));
  if (before !== null && versionSeen === null)
    return refused({
      status: 428,
      code: 'if-match-missing',
      title: 'Which one was seen?',
      detail: 'This word is in the list already. A change of it needs the header If-Match with the version that was seen.',
    });
  if (before !== null && before.version !== versionSeen) return refused(changedMeanwhile(before));
  const other = await transaction.row<{ word: string; retired: boolean }>(namesake, [word, id]);
  if (other !== null)
    return refused(
      badInput(
        'word',
        `“${other.word}” is in the list already${other.retired ? ', though it is no longer offered: offer it again' : ''}.`,
      ),
    );
  await transaction.rows(before === null ? insert : update, [id, word, retired]);
  transaction.news('settings', 'strip-downs');
  const after = await transaction.row<FindingWord & Record<string, unknown>>(selectOne, [id]);
  invariant(after, 'a word that was just written is there');
  return done(after);
}
