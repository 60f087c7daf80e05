import type { OpenTransaction } from '../platform/commands/unit-of-work.js';
import type { Reader } from '../platform/database/database.js';
import { newId } from '../platform/new-id.js';
import type { ClaimTerms } from '../stores/ledger.js';

/** What a line of a job has reserved of what is on order; quantities are exact decimals as text. */
export interface ExpectedClaim {
  id: string;
  receiptId: string;
  jobId: string;
  lineId: string;
  quantity: string;
  until: string | null;
  madeById: string | null;
}

const columns = `
  SELECT expected_claims.id, receipt_id AS "receiptId", claimant_id AS "jobId", purpose_id AS "lineId", quantity, until, made_by AS "madeById"
    FROM expected_claims`;
const onReceipts = `${columns} WHERE receipt_id = ANY ($1::uuid[]) AND quantity > 0 ORDER BY made_at, id`;
const ofJob = `${columns} WHERE claimant_id = $1 AND quantity > 0 ORDER BY made_at, id`;
const lockOrders = `
  SELECT id FROM expected_receipts
   WHERE id IN (SELECT receipt_id FROM expected_claims WHERE claimant_id = $1 AND quantity > 0) ORDER BY id FOR NO KEY UPDATE`;
const lockJobs = 'SELECT id FROM jobs WHERE id = ANY ($1::uuid[]) ORDER BY id FOR NO KEY UPDATE';
// As of a claim on a thing: what was given up begins anew, else the longer of the two holds.
const addToClaim = `
  INSERT INTO expected_claims (id, receipt_id, claimant_id, purpose_id, quantity, until, made_by) VALUES ($1, $2, $3, $4, $5, $6, $7)
  ON CONFLICT (receipt_id, claimant_id, purpose_id) DO UPDATE SET quantity = expected_claims.quantity + EXCLUDED.quantity,
    until = CASE WHEN expected_claims.quantity = 0 THEN EXCLUDED.until
                 WHEN expected_claims.until IS NULL OR EXCLUDED.until IS NULL THEN NULL
                 ELSE greatest(expected_claims.until, EXCLUDED.until) END,
    made_by = CASE WHEN expected_claims.quantity = 0 THEN EXCLUDED.made_by ELSE expected_claims.made_by END,
    made_at = CASE WHEN expected_claims.quantity = 0 THEN EXCLUDED.made_at ELSE expected_claims.made_at END`;
const takeFromClaim = 'UPDATE expected_claims SET quantity = quantity - $2 WHERE id = $1';

/** What is reserved of these orders, the oldest first. Nobody changes it while the orders are locked. */
export function expectedClaimsOn(reader: Reader, receiptIds: readonly string[]): Promise<ExpectedClaim[]> {
  return reader.rows<ExpectedClaim & Record<string, unknown>>(onReceipts, [receiptIds]);
}

export function expectedClaimsOf(reader: Reader, jobId: string): Promise<ExpectedClaim[]> {
  return reader.rows<ExpectedClaim & Record<string, unknown>>(ofJob, [jobId]);
}

/** Locks the orders of which a job has reserved something. Orders are locked before jobs, and these before things. */
export async function lockOrdersOf(transaction: Reader, jobId: string): Promise<void> {
  await transaction.rows(lockOrders, [jobId]);
}

/** Locks jobs in the order of their ids, after the orders that concern them. */
export async function lockJobsById(transaction: Reader, jobIds: readonly string[]): Promise<void> {
  await transaction.rows(lockJobs, [jobIds]);
}

/** Claims so many more of what is to come. The database refuses claims above what is outstanding. */
export function claimExpected(transaction: OpenTransaction, receiptId: string, terms: ClaimTerms & { purposeId: string }): void {
  const { claimantId, purposeId, quantity, until, madeById } = terms;
  transaction.send(addToClaim, [newId(), receiptId, claimantId, purposeId, quantity, until, madeById]);
}

export function claimExpectedLess(transaction: OpenTransaction, claimId: string, quantity: string): void {
  transaction.send(takeFromClaim, [claimId, quantity]);
}
