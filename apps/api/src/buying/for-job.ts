import type { Transaction } from '../platform/commands/unit-of-work.js';
import { badInput, type Refusal } from '../platform/refusal.js';

const jobState = 'SELECT state FROM jobs WHERE id = $1';
const closed = ['done', 'released', 'called off'];

/** Why an order cannot be meant for this job; null when it can. */
export async function whyNotForJob(transaction: Transaction, jobId: string | null): Promise<Refusal | null> {
  if (jobId === null) return null;
  const job = await transaction.row<{ state: string }>(jobState, [jobId]);
  if (!job) return badInput('forJobId', 'That job is not in the books. Choose a job from the list, or leave it empty.');
  if (closed.includes(job.state))
    return badInput('forJobId', `That job is ${job.state}. Choose one that goes on, or leave it empty.`);
  return null;
}

/** A date that a supplier confirmed is a date. */
export function whyNotConfirmed(input: { confirmed: boolean; dueOn: string | null }): Refusal | null {
  if (!input.confirmed || input.dueOn !== null) return null;
  return badInput(
    'dueOn',
    'A confirmed order has a due date. Key the date that the supplier confirmed, or leave it unconfirmed.',
  );
}
