import { formatCode, type LabelCode, type LabelKind, makeCode } from '@corewright/codes/label-code';
import type { Transaction } from '../platform/commands/unit-of-work.js';
import { done, invariant, type Refusal, type Result, refused } from '../platform/refusal.js';
import { isBlank, readCode } from './resolve-code.js';

const nextSerial = 'SELECT nextval($1::regclass) AS serial';
const insertCode = 'INSERT INTO codes (code, kind, subject_id, further) VALUES ($1, $2, $3, $4)';
const nextSerials = 'SELECT nextval($1::regclass) AS serial FROM generate_series(1, $2::integer)';
const insertBlank = 'INSERT INTO blank_codes (code, block_id) SELECT unnest($1::text[]), $2';
const claim = `
  INSERT INTO codes (code, kind, subject_id, further) VALUES ($1, $2, $3, $4) ON CONFLICT (code) DO NOTHING RETURNING code`;
const voidSubject = 'UPDATE codes SET voided_at = now(), void_words = $2 WHERE subject_id = $1 AND voided_at IS NULL';

/**
 * Gives a subject the next code of its kind. Codes are never used again: one that a refusal undid stays unused.
 * @param further borne beside the one that is shown
 */
export async function giveCode(
  transaction: Transaction,
  kind: LabelKind,
  subjectId: string,
  further = false,
): Promise<LabelCode> {
  const row = await transaction.row<{ serial: number }>(nextSerial, [serialsOf(kind)]);
  invariant(row, 'a sequence gives a number');
  const code = makeCode(kind, row.serial);
  await transaction.rows(insertCode, [code, kind, subjectId, further]);
  return code;
}

/** Sets codes aside that nothing bears yet; the block that they belong to is there. In their order. */
export async function setCodesAside(
  transaction: Transaction,
  kind: LabelKind,
  blockId: string,
  count: number,
): Promise<LabelCode[]> {
  const rows = await transaction.rows<{ serial: number }>(nextSerials, [serialsOf(kind), count]);
  const codes = rows.map(({ serial }) => makeCode(kind, serial)).sort();
  await transaction.rows(insertBlank, [codes, blockId]);
  return codes;
}

/** Puts a code that was printed beforehand on a subject. Of two who claim it at once one is refused. @param further as of `giveCode` */
export async function claimCode(
  transaction: Transaction,
  kind: LabelKind,
  subjectId: string,
  text: string,
  further = false,
): Promise<Result<LabelCode>> {
  const read = readCode(text, [kind]);
  if (!read.ok) return read;
  const { code } = read.value;
  const [blank, claimed] = await Promise.all([
    transaction.row(isBlank, [code]),
    transaction.row<{ code: LabelCode }>(claim, [code, kind, subjectId, further]),
  ]);
  if (claimed === null) return refused(bornAlready(code));
  return blank === null ? refused(neverPrinted(code)) : done(code);
}

function bornAlready(code: LabelCode): Refusal {
  return {
    status: 409,
    code: 'code-claimed',
    title: 'This label is on something else',
    detail: `${formatCode(code)} was claimed before: scan it to see for what. Take another blank label for this one. Nothing was changed.`,
    values: { code },
  };
}

function neverPrinted(code: LabelCode): Refusal {
  return {
    status: 422,
    code: 'code-never-printed',
    title: 'No blank label of ours',
    detail: `${formatCode(code)} reads well, but is of no block that was printed here: it may belong to another workshop. Take a blank label of ours. Nothing was changed.`,
    values: { code },
  };
}

function serialsOf(kind: LabelKind): string {
  return `code_serial_${kind.toLowerCase()}`;
}

/** Takes every code off a subject; each goes on saying what it was on. */
export async function voidCodes(transaction: Transaction, subjectId: string, words: string): Promise<void> {
  await transaction.rows(voidSubject, [subjectId, words]);
}
