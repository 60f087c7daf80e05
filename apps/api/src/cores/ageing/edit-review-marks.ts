import type { CoreReviewMarks, EditCoreReviewMarks } from '@corewright/contracts/core-ages';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { whyNotCurrent } from '../../platform/commands/version-seen.js';
import { done, invariant, type Result, refused } from '../../platform/refusal.js';
import { reviewMarks } from './core-age.queries.js';

const lock = 'SELECT 1 AS there FROM core_review_marks FOR NO KEY UPDATE';
const update = 'UPDATE core_review_marks SET first_months = $1, second_months = $2, version = version + 1';

/** After how many months a core is looked through again. */
export async function editReviewMarks(
  transaction: Transaction,
  { firstMonths, secondMonths }: EditCoreReviewMarks,
): Promise<Result<CoreReviewMarks>> {
  await transaction.row(lock);
  const before = await reviewMarks(transaction);
  invariant(before, 'the marks came with the migration');
  const unseen = whyNotCurrent(transaction.command, before);
  if (unseen !== null) return refused(unseen);
  await transaction.rows(update, [firstMonths, secondMonths]);
  transaction.news('settings', 'stores', 'today');
  const after = await reviewMarks(transaction);
  invariant(after, 'the marks are there');
  return done(after);
}
