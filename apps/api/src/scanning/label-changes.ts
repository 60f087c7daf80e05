import type { LabelCode, LabelKind } from '@corewright/codes/label-code';
import type { Transaction } from '../platform/commands/unit-of-work.js';
import { newId } from '../platform/new-id.js';
import { done, type Result, refused } from '../platform/refusal.js';
import { readCode, whyNothingOpens } from './resolve-code.js';

/** A live code, and what bears it. */
export interface LiveCode {
  code: LabelCode;
  kind: LabelKind;
  subjectId: string;
  /** borne beside the one that is shown */
  further: boolean;
}

const selectLive = 'SELECT code, kind, subject_id AS "subjectId", further FROM codes WHERE code = $1 AND voided_at IS NULL';
const selectLiveOf = `
  SELECT code, kind, subject_id AS "subjectId", further FROM codes WHERE subject_id = $1 AND voided_at IS NULL ORDER BY further, given_at, code`;
const voidOne = 'UPDATE codes SET voided_at = now(), void_words = $2 WHERE code = $1';
const showNewest = `
  UPDATE codes SET further = false
   WHERE code = (SELECT code FROM codes WHERE subject_id = $1 AND voided_at IS NULL ORDER BY given_at DESC, code DESC LIMIT 1)
     AND NOT EXISTS (SELECT FROM codes WHERE subject_id = $1 AND voided_at IS NULL AND NOT further)`;
const moveOne = `
  UPDATE codes SET subject_id = $2, further = $3, moved_from_id = coalesce(moved_from_id, subject_id) WHERE code = $1`;
const insertChange = `
  INSERT INTO label_changes (id, command_key, subject_id, code, kind, other_code, other_subject_id, why, person_id)
  VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9)`;

/** The live code that was scanned or keyed; refused in the words of a scan where it opens nothing. */
export async function liveCodeOf(transaction: Transaction, text: string, kinds: readonly LabelKind[]): Promise<Result<LiveCode>> {
  const read = readCode(text, kinds);
  if (!read.ok) return read;
  const live = await transaction.row<LiveCode & Record<string, unknown>>(selectLive, [read.value.code]);
  return live === null ? refused(await whyNothingOpens(transaction, read.value)) : done(live);
}

/** All live codes of a subject, the one that is shown first. */
export function liveCodesOf(transaction: Transaction, subjectId: string): Promise<LiveCode[]> {
  return transaction.rows<LiveCode & Record<string, unknown>>(selectLiveOf, [subjectId]);
}

/** Takes one code off its subject; where it was the one that is shown, the newest of the others is shown from then on. */
export async function voidCode(transaction: Transaction, { code, subjectId }: LiveCode, words: string): Promise<void> {
  await transaction.rows(voidOne, [code, words]);
  await transaction.rows(showNewest, [subjectId]);
}

/** A live code goes over to another subject; where it was the one that is shown, the newest of those that stay is shown from then on. */
export async function moveCode(
  transaction: Transaction,
  { code, subjectId }: LiveCode,
  to: { subjectId: string; further: boolean },
): Promise<void> {
  await transaction.rows(moveOne, [code, to.subjectId, to.further]);
  await transaction.rows(showNewest, [subjectId]);
}

/** What became of a label. */
export type LabelChange = { subjectId: string; code: LabelCode; why: string } & (
  | { kind: 'put on' | 'taken off' }
  | { kind: 'replaced'; by: LabelCode }
  | { kind: 'went over'; fromId: string }
);

/** Puts on the record what became of a label, by whom and why. */
export function logLabelChange(transaction: Transaction, change: LabelChange): void {
  const { key, person } = transaction.command;
  transaction.send(insertChange, [
    newId(),
    key,
    change.subjectId,
    change.code,
    change.kind,
    change.kind === 'replaced' ? change.by : null,
    change.kind === 'went over' ? change.fromId : null,
    change.why,
    person.id,
  ]);
}
