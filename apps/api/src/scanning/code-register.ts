import { type LabelCode, type LabelKind, makeCode } from '@corewright/codes/label-code';
import type { Transaction } from '../platform/commands/unit-of-work.js';
import { invariant } from '../platform/refusal.js';

const nextSerial = 'SELECT nextval($1::regclass) AS serial';
const insertCode = 'INSERT INTO codes (code, kind, subject_id) VALUES ($1, $2, $3)';
const voidSubject = 'UPDATE codes SET voided_at = now(), void_words = $2 WHERE subject_id = $1 AND voided_at IS NULL';

/** Gives a subject the next code of its kind. Codes are never used again: one that a refusal undid stays unused. */
export async function giveCode(transaction: Transaction, kind: LabelKind, subjectId: string): Promise<LabelCode> {
  const row = await transaction.row<{ serial: number }>(nextSerial, [`code_serial_${kind.toLowerCase()}`]);
  invariant(row, 'a sequence gives a number');
  const code = makeCode(kind, row.serial);
  await transaction.rows(insertCode, [code, kind, subjectId]);
  return code;
}

/** Takes every code off a subject; each goes on saying what it was on. */
export async function voidCodes(transaction: Transaction, subjectId: string, words: string): Promise<void> {
  await transaction.rows(voidSubject, [subjectId, words]);
}
