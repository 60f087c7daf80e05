import {
  type Decimal,
  decimalFrom,
  formatDecimal,
  lesserDecimal,
  notBelowZero,
  subtractDecimals,
  zero,
} from '@corewright/quantities/decimal';
import type { JobOfUnit, JobsOfUnits, LineOfPart } from '../cores/job-of-unit.js';
import type { Transaction } from '../platform/commands/unit-of-work.js';
import { newId } from '../platform/new-id.js';
import { closedStates } from './job.queries.js';

const lockOpenJob = `
  SELECT jobs.id, (SELECT code FROM codes WHERE subject_id = jobs.id AND kind = 'J' AND voided_at IS NULL) AS code, title AS name, tray_id AS "trayId"
    FROM jobs WHERE unit_id = $1 AND state <> ALL ($2) ORDER BY opened_on DESC, id DESC LIMIT 1 FOR NO KEY UPDATE OF jobs`;
const selectLines = `
  SELECT id, line_no AS "lineNo", reusable, quantity,
         coalesce((SELECT quantity_reused + quantity_replaced FROM findings WHERE job_line_id = job_lines.id ORDER BY recorded_at DESC, id DESC LIMIT 1), 0) AS seen
    FROM job_lines WHERE job_id = $1 AND part_id = $2 ORDER BY further, line_no FOR NO KEY UPDATE`;
const insertFinding = `
  INSERT INTO findings (id, command_key, job_line_id, quantity_reused, quantity_replaced, words, person_id) VALUES ($1, $2, $3, $4, $5, $6, $7)`;

const insertEnding = `
  INSERT INTO fitting_endings (id, command_key, fitting_id, kind, quantity, movement_id, new_lot_id, why, person_id)
  VALUES ($1, $2, $3, 'removed', $4, $5, $6, $7, $8)`;

interface Line extends LineOfPart, Record<string, unknown> {
  quantity: string;
  seen: string;
}

/** What a strip-down says of a unit's own parts counts for the lines of its job, as if somebody had recorded it on the card. */
export const strippedParts: JobsOfUnits = {
  lock: (transaction, unitId) => transaction.row<JobOfUnit & Record<string, unknown>>(lockOpenJob, [unitId, closedStates]),

  async lineOf(transaction, jobId, partId) {
    const [line] = await transaction.rows<Line>(selectLines, [jobId, partId]);
    return line ?? null;
  },

  async tell(transaction, jobId, { partId, reused, gone, words }) {
    const [line] = await transaction.rows<Line>(selectLines, [jobId, partId]);
    if (line === undefined) return null;
    const needed = decimalFrom(line.quantity);
    const again = line.reusable ? lesserDecimal(reused, needed) : zero;
    const replaced = lesserDecimal(gone, notBelowZero(subtractDecimals(needed, again)));
    // nothing seen and nothing taken back: there is nothing to say
    if (again === zero && replaced === zero && decimalFrom(line.seen) === zero) return null;
    await record(transaction, line.id, { again, replaced, words });
    return line;
  },

  async end(transaction, { fittingId, quantity, movementId, newLotId, why }) {
    const { key, person } = transaction.command;
    await transaction.rows(insertEnding, [newId(), key, fittingId, quantity, movementId, newLotId, why, person.id]);
    transaction.news('jobs', 'today');
  },
};

async function record(
  transaction: Transaction,
  lineId: string,
  { again, replaced, words }: { again: Decimal; replaced: Decimal; words: string },
): Promise<void> {
  const { key, person } = transaction.command;
  await transaction.rows(insertFinding, [newId(), key, lineId, formatDecimal(again), formatDecimal(replaced), words, person.id]);
}
