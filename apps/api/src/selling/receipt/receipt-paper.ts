import type { EditReceiptPaper, ReceiptPaper } from '@corewright/contracts/selling';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { whyNotCurrent } from '../../platform/commands/version-seen.js';
import type { Reader } from '../../platform/database/database.js';
import { done, invariant, type Result, refused } from '../../platform/refusal.js';

const columns = 'address, tax_words AS "taxWords", foot_words AS "footWords", version';
const select = `SELECT ${columns} FROM receipt_paper`;
const lock = `${select} FOR NO KEY UPDATE`;
const update = `UPDATE receipt_paper SET address = $1, tax_words = $2, foot_words = $3, version = version + 1 RETURNING ${columns}`;

/** What stands on every receipt from now on; those that were written keep what stood on them. */
export async function receiptPaper(reader: Reader): Promise<ReceiptPaper> {
  const paper = await reader.row<ReceiptPaper & Record<string, unknown>>(select);
  invariant(paper, 'the paper of receipts is there from the beginning');
  return paper;
}

export async function editReceiptPaper(transaction: Transaction, input: EditReceiptPaper): Promise<Result<ReceiptPaper>> {
  const current = await transaction.row<ReceiptPaper & Record<string, unknown>>(lock);
  invariant(current, 'the paper of receipts is there from the beginning');
  const unseen = whyNotCurrent(transaction.command, current);
  if (unseen !== null) return refused(unseen);
  const { address, taxWords, footWords } = input;
  const edited = await transaction.row<ReceiptPaper & Record<string, unknown>>(update, [address, taxWords, footWords]);
  transaction.news('settings');
  return done(edited ?? current);
}
