import { type OpenTransaction, Transaction } from '../platform/commands/unit-of-work.js';
import { newId } from '../platform/new-id.js';

export type ClaimChangeKind =
  | 'reserved'
  | 'released'
  | 'taken by another job'
  | 'taken from another job'
  | 'moved to an equal lot'
  | 'came in'
  | 'picked'
  | 'fitted'
  | 'put back'
  | 'made firm'
  | 'expired'
  | 'order called off'
  | 'fewer expected'
  | 'job closed';

/** What became of a reservation: of a thing, or of what is on order. */
export interface ClaimChange {
  on: { thingId: string } | { receiptId: string };
  jobId: string;
  lineId: string | null;
  /** signed: what the job has reserved more or less by it */
  quantity: string;
  kind: ClaimChangeKind;
  until?: string | null;
  reason?: string;
  /** where it moved from or to */
  otherThingId?: string;
  /** who took it, or from whom */
  otherJobId?: string;
}

const insertChange = `
  INSERT INTO claim_changes (id, command_key, thing_id, receipt_id, job_id, job_line_id, quantity, kind, until, reason, other_thing_id, other_job_id, person_id)
  VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12, $13)`;

/** Puts on the record what became of a reservation, by whom; by nobody where the clock brought it about. */
export function logClaimChange(transaction: OpenTransaction, change: ClaimChange): void {
  const command = transaction instanceof Transaction ? transaction.command : null;
  transaction.send(insertChange, [
    newId(),
    command?.key ?? null,
    'thingId' in change.on ? change.on.thingId : null,
    'receiptId' in change.on ? change.on.receiptId : null,
    change.jobId,
    change.lineId,
    change.quantity,
    change.kind,
    change.until ?? null,
    change.reason ?? '',
    change.otherThingId ?? null,
    change.otherJobId ?? null,
    command?.person.id ?? null,
  ]);
}
