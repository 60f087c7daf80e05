import type { AddJobLine, EditJob, EditOperation, Operation, RecordFinding } from '@corewright/contracts/jobs';
import { addDecimals, compareDecimals, decimalFrom, formatDecimal } from '@corewright/quantities/decimal';
import { checkQuantity, type UnitOfMeasure } from '@corewright/quantities/unit-of-measure';
import type * as z from 'zod';
import { lockOrdersOf } from '../buying/expected-claims.js';
import { isConsumable } from '../catalogue/consumable-part.js';
import type { Transaction } from '../platform/commands/unit-of-work.js';
import { whyNotCurrent } from '../platform/commands/version-seen.js';
import type { Reader } from '../platform/database/database.js';
import { newId } from '../platform/new-id.js';
import { badInput, done, notFound, type Refusal, type Result, refused } from '../platform/refusal.js';
import { type MemberAway, membersAway } from '../stores/kept-sets/kept-set.queries.js';
import { giveBack, makeFirm } from './give-back.js';
import { giveBackSurplus } from './give-back-surplus.js';
import { closedStates, inTheUnit, spoken } from './job.queries.js';

const lockJob = 'SELECT version FROM jobs WHERE id = $1 FOR NO KEY UPDATE';
const lockPaper = `
  SELECT id, title, wanted, build_standard AS "buildStandard", priority, state, version FROM jobs WHERE id = $1 FOR NO KEY UPDATE`;
const updateJob = `
  UPDATE jobs SET title = $2, wanted = $3, build_standard = $4, priority = $5, state = $6, version = version + 1
   WHERE id = $1 RETURNING version`;

/** Changes what a job card says of itself. The release of a job is a later matter than its paper: lines must be closed first. */
export async function editJob(
  transaction: Transaction,
  jobId: string,
  input: z.infer<typeof EditJob>,
): Promise<Result<{ id: string; version: number }>> {
  if (closedStates.includes(input.state)) await lockOrdersOf(transaction, jobId);
  const job = await transaction.row<{ version: number; state: string }>(lockPaper, [jobId]);
  if (!job) return refused(notFound('This job'));
  const unseen = whyNotCurrent(transaction.command, job);
  if (unseen !== null) return refused(unseen);
  if (input.state === 'released' && job.state !== 'released') {
    const open = await unfinishedLines(transaction, jobId);
    if (open.length > 0)
      return refused({
        status: 409,
        code: 'lines-open',
        title: 'Not to be released yet',
        detail: `${open.length} lines are neither fitted, re-used nor waived: ${open.slice(0, 6).join(', ')}${open.length > 6 ? ' …' : ''}. Fit them, or waive each with a reason.`,
        values: { lines: open },
      });
    const away = await membersAway(transaction, jobId);
    if (away.length > 0) return refused(setNotWhole(away));
  }
  const row = await transaction.row<{ version: number }>(updateJob, [
    jobId,
    input.title,
    input.wanted,
    input.buildStandard,
    input.priority,
    input.state,
  ]);
  await reservationsOf(transaction, jobId, job.state, input.state);
  toldOf(transaction, jobId);
  return done({ id: jobId, version: row!.version });
}

/** A job that is closed gives back what it has not touched; an estimate that is taken on keeps for good what it had until a day. */
async function reservationsOf(transaction: Transaction, jobId: string, before: string, after: string): Promise<void> {
  if (closedStates.includes(after)) {
    await giveBack(transaction, jobId, { kind: 'job closed', reason: `The job is ${after}.`, before: null });
    return;
  }
  if (before === 'estimate' && after !== 'estimate') await makeFirm(transaction, jobId);
}

/** A set that stays together is whole when its job is released, or it was broken by somebody. */
function setNotWhole(away: readonly MemberAway[]): Refusal {
  const lacking = away.map(({ name, code, words, number }) => `${name}, ${spoken(code)}, of “${words}” ${number}`.trim());
  return {
    status: 409,
    code: 'kept-set-incomplete',
    title: 'A kept set is not whole',
    detail: `Parts of a set that this job has are elsewhere: ${lacking.join('; ')}. Fit them too, or break the set with a name and a reason. Nothing was changed.`,
    values: { members: away },
  };
}

const lineStates = `
  SELECT line_no AS "lineNo" FROM job_lines
   WHERE job_id = $1 AND waived_reason IS NULL AND NOT ${isConsumable('job_lines.part_id')} AND quantity > ${inTheUnit('job_lines.id')} ORDER BY line_no`;

/** The numbers of the lines that are neither in the unit nor waived: a job with any is not released. Consumables hold up none. */
export async function unfinishedLines(transaction: Reader, jobId: string): Promise<number[]> {
  const rows = await transaction.rows<{ lineNo: number }>(lineStates, [jobId]);
  return rows.map((row) => row.lineNo);
}

const partUnit = 'SELECT unit_of_measure AS unit FROM parts WHERE id = $1';
const nextLineNo = 'SELECT coalesce(max(line_no), 0) + 1 AS next FROM job_lines WHERE job_id = $1';
const insertLine = `
  INSERT INTO job_lines (id, job_id, line_no, part_id, quantity, operation_id, critical, further)
  SELECT $1, $2, $3, $4, $5, id, $7, true FROM job_operations WHERE id = $6 AND job_id = $2 RETURNING id`;

export interface LineWritten {
  id: string;
  lineNo: number;
}

/** A line beyond the type's parts list. */
export async function addJobLine(
  transaction: Transaction,
  jobId: string,
  input: z.infer<typeof AddJobLine>,
): Promise<Result<LineWritten>> {
  const job = await transaction.row<{ version: number }>(lockJob, [jobId]);
  if (!job) return refused(notFound('This job'));
  const part = await transaction.row<{ unit: UnitOfMeasure }>(partUnit, [input.partId]);
  if (!part) return refused(notFound('This part'));
  const quantity = checkQuantity(input.quantity, part.unit);
  if (!quantity.ok) return refused(badInput('quantity', quantity.error.sentence));
  const next = await transaction.row<{ next: number }>(nextLineNo, [jobId]);
  const row = await transaction.row(insertLine, [
    input.id,
    jobId,
    next!.next,
    input.partId,
    formatDecimal(quantity.value),
    input.operationId,
    input.critical,
  ]);
  if (!row) return refused(badInput('operationId', 'That operation is not one of this job. Choose one of its operations.'));
  toldOf(transaction, jobId);
  return done({ id: input.id, lineNo: next!.next });
}

const waive =
  'UPDATE job_lines SET waived_reason = $3, version = version + 1 WHERE id = $2 AND job_id = $1 RETURNING id, line_no AS "lineNo"';

/** The job does without this line: somebody's decision, with a reason that stays. */
export async function waiveJobLine(
  transaction: Transaction,
  jobId: string,
  lineId: string,
  reason: string,
): Promise<Result<LineWritten>> {
  await lockOrdersOf(transaction, jobId);
  await transaction.row(lockJob, [jobId]);
  const row = await transaction.row<LineWritten & Record<string, unknown>>(waive, [jobId, lineId, reason]);
  if (!row) return refused(notFound('This line'));
  await giveBackSurplus(transaction, { jobId, lineId, reason: `The job does without the line: ${reason}` });
  toldOf(transaction, jobId);
  return done({ id: row.id, lineNo: row.lineNo });
}

const operationRow = `
  SELECT id, number, name, minutes_planned AS "minutesPlanned", minutes_left AS "minutesLeft", after_numbers AS after, version
    FROM job_operations WHERE id = $2 AND job_id = $1 FOR NO KEY UPDATE`;
const updateOperation = 'UPDATE job_operations SET minutes_left = $2, version = version + 1 WHERE id = $1 RETURNING version';

/** So many minutes of an operation are left; none is "done". */
export async function editOperation(
  transaction: Transaction,
  jobId: string,
  operationId: string,
  input: z.infer<typeof EditOperation>,
): Promise<Result<Operation>> {
  const row = await transaction.row<Operation & Record<string, unknown>>(operationRow, [jobId, operationId]);
  if (!row) return refused(notFound('This operation'));
  const unseen = whyNotCurrent(transaction.command, row);
  if (unseen !== null) return refused(unseen);
  const written = await transaction.row<{ version: number }>(updateOperation, [operationId, input.minutesLeft]);
  toldOf(transaction, jobId);
  return done({ ...row, minutesLeft: input.minutesLeft, version: written!.version });
}

const lineForFinding = `
  SELECT job_lines.id, line_no AS "lineNo", quantity, reusable, parts.name FROM job_lines JOIN parts ON parts.id = part_id
   WHERE job_lines.id = $2 AND job_id = $1 FOR NO KEY UPDATE OF job_lines`;
const insertFinding = `
  INSERT INTO findings (id, command_key, job_line_id, quantity_reused, quantity_replaced, words, person_id) VALUES ($1, $2, $3, $4, $5, $6, $7)`;

/** What was seen of this unit's own part. A later finding takes the place of an earlier one; both stay. */
export async function recordFinding(
  transaction: Transaction,
  jobId: string,
  lineId: string,
  input: z.infer<typeof RecordFinding>,
): Promise<Result<LineWritten>> {
  await lockOrdersOf(transaction, jobId);
  await transaction.row(lockJob, [jobId]);
  const line = await transaction.row<{ id: string; lineNo: number; quantity: string; reusable: boolean; name: string }>(
    lineForFinding,
    [jobId, lineId],
  );
  if (!line) return refused(notFound('This line'));
  const reused = decimalFrom(input.quantityReused);
  const seen = addDecimals(reused, decimalFrom(input.quantityReplaced));
  if (compareDecimals(seen, decimalFrom(line.quantity)) > 0)
    return refused(
      badInput(
        'quantityReused',
        `Line ${line.lineNo} needs ${formatDecimal(decimalFrom(line.quantity))}; ${formatDecimal(seen)} were keyed. Key no more than the line needs.`,
      ),
    );
  if (seen === 0n) return refused(badInput('quantityReused', 'Key how many may be used again and how many not.'));
  if (reused > 0n && !line.reusable)
    return refused(badInput('quantityReused', `${line.name} is always replaced: the parts list of this type says so.`));
  const { command } = transaction;
  await transaction.rows(insertFinding, [
    newId(),
    command.key,
    lineId,
    input.quantityReused,
    input.quantityReplaced,
    input.words,
    command.person.id,
  ]);
  await giveBackSurplus(transaction, { jobId, lineId, reason: 'The line needs fewer: its own are used again.' });
  toldOf(transaction, jobId);
  return done({ id: line.id, lineNo: line.lineNo });
}

function toldOf(transaction: Transaction, jobId: string): void {
  transaction.news(`job:${jobId}`, 'jobs', 'today');
}
