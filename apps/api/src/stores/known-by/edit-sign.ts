import type { EditSign, SignKept } from '@corewright/contracts/identify';
import { lacksOfSign } from '@corewright/identify/lacks-of-sign';
import { whyNotYears } from '../../catalogue/day-of-record.js';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { whyNotCurrent } from '../../platform/commands/version-seen.js';
import { badInput, done, invariant, notFound, type Refusal, type Result, refused } from '../../platform/refusal.js';
import { signOf } from './known-by.queries.js';

const lockType = 'SELECT 1 AS there FROM unit_types WHERE id = $1 FOR NO KEY UPDATE';
const signOfAny = 'SELECT 1 AS there FROM unit_type_signs WHERE id = $1';
const insert = `
  INSERT INTO unit_type_signs (id, unit_type_id, number, kind, position, pattern, year_first, year_last, words, weight, withdrawn)
  SELECT $2, $1, coalesce(max(number), 0) + 1, $3, $4, $5, $6, $7, $8, $9, $10 FROM unit_type_signs WHERE unit_type_id = $1`;
const update = `
  UPDATE unit_type_signs SET kind = $3, position = $4, pattern = $5, year_first = $6, year_last = $7, words = $8, weight = $9, withdrawn = $10,
         version = version + 1
   WHERE unit_type_id = $1 AND id = $2`;

/**
 * A sign that is new, without If-Match, or one that is changed or withdrawn, with the version that was seen. What was said of units by it stays as
 * it was.
 */
export async function editSign(
  transaction: Transaction,
  unitTypeId: string,
  signId: string,
  input: EditSign,
  today: string,
): Promise<Result<SignKept>> {
  if ((await transaction.row(lockType, [unitTypeId])) === null) return refused(notFound('That unit type'));
  const before = await signOf(transaction, unitTypeId, signId);
  const isElsewhere = before === null && (await transaction.row(signOfAny, [signId])) !== null;
  if (isElsewhere || (before === null && transaction.command.versionSeen !== null)) return refused(notFound('That sign'));
  const unseen = before === null ? null : whyNotCurrent(transaction.command, before);
  if (unseen !== null) return refused(unseen);
  const fault = faultOf(input, today);
  if (fault !== null) return refused(fault);
  const { kind, position, pattern, yearFirst, yearLast, words, weight, withdrawn } = input;
  const values = [kind, position, kind === 'feature' ? '' : pattern, yearFirst, yearLast, words, weight, withdrawn];
  await transaction.rows(before === null ? insert : update, [unitTypeId, signId, ...values]);
  transaction.news('settings', 'stores');
  const after = await signOf(transaction, unitTypeId, signId);
  invariant(after, 'a sign that was just written is there');
  return done(after);
}

function faultOf(input: EditSign, today: string): Refusal | null {
  const [lack] = lacksOfSign(input);
  if (lack !== undefined) return badInput(lack.field, lack.sentence);
  const not = whyNotYears(input, today);
  return not === null ? null : badInput(not.year, not.sentence);
}
