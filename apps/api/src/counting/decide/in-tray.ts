import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { type Claim, claimsOn } from '../../stores/ledger.js';
import type { LineKey } from '../line.queries.js';

/** The job of a tray with what it claims of a thing, the oldest first. */
export interface InTray {
  jobId: string;
  claims: readonly Claim[];
}

const lockJobs = 'SELECT id, tray_id AS "trayId" FROM jobs WHERE tray_id = ANY ($1::uuid[]) ORDER BY id FOR NO KEY UPDATE';

/** Locks the jobs in whose trays something was counted, before the things of the lines are. @returns the job by its tray */
export async function lockJobsOfTrays(transaction: Transaction, lines: readonly LineKey[]): Promise<ReadonlyMap<string, string>> {
  const placeIds = [...new Set(lines.map(({ placeId }) => placeId))];
  const jobs = await transaction.rows<{ id: string; trayId: string }>(lockJobs, [placeIds]);
  return new Map(jobs.map(({ id, trayId }) => [trayId, id]));
}

/** What the job of a tray claims of a thing; null where the place is no job's tray. */
export async function inTrayOf(
  transaction: Transaction,
  jobs: ReadonlyMap<string, string>,
  { placeId, thingId }: LineKey,
): Promise<InTray | null> {
  const jobId = jobs.get(placeId);
  if (jobId === undefined) return null;
  const claims = await claimsOn(transaction, thingId);
  return { jobId, claims: claims.filter(({ claimantId }) => claimantId === jobId) };
}
