import type { Reader } from '../../platform/database/database.js';
import { newId } from '../../platform/new-id.js';
import { type RecentRefusals, refusalsMaxOfAddress, refusalsMaxOfName, throttleWindowSeconds } from './decide-throttle.js';

/** Who tries to come in: a sign-in name as keyed, or null for a one-time link; and the address that the try comes from. */
export interface Attempt {
  signInName: string | null;
  address: string;
}

export type AttemptOutcome = 'signed-in' | 'refused' | 'throttled';

const nameOfLinks = '(link)';

const insertAttempt = 'INSERT INTO sign_in_attempts (id, sign_in_name, address, outcome) VALUES ($1, $2, $3, $4)';
// A flood must not fill the disk: of what is turned away, one row a minute tells the story.
const insertThrottled = `
  INSERT INTO sign_in_attempts (id, sign_in_name, address, outcome)
  SELECT $1, $2, $3, 'throttled' WHERE NOT EXISTS (
    SELECT 1 FROM sign_in_attempts
     WHERE sign_in_name = $2 AND address = $3 AND outcome = 'throttled' AND at > now() - interval '1 minute')`;
// Who got in has shown who they are, so the count of that name begins anew. An address may belong to many.
const refusalsOfName = `
  SELECT extract(epoch FROM now() - at)::float8 AS age FROM sign_in_attempts
   WHERE sign_in_name = $1 AND outcome = 'refused' AND at > now() - make_interval(secs => $2)
     AND at > coalesce((SELECT max(at) FROM sign_in_attempts WHERE sign_in_name = $1 AND outcome = 'signed-in'), '-infinity')
   ORDER BY at DESC LIMIT $3`;
const refusalsOfAddress = `
  SELECT extract(epoch FROM now() - at)::float8 AS age FROM sign_in_attempts
   WHERE address = $1 AND outcome = 'refused' AND at > now() - make_interval(secs => $2)
   ORDER BY at DESC LIMIT $3`;

/** Writes a try into the audit trail. */
export async function recordAttempt(writer: Reader, attempt: Attempt, outcome: AttemptOutcome): Promise<void> {
  const name = attempt.signInName ?? nameOfLinks;
  if (outcome === 'throttled') await writer.rows(insertThrottled, [newId(), name, attempt.address]);
  else await writer.rows(insertAttempt, [newId(), name, attempt.address, outcome]);
}

export async function recentRefusals(reader: Reader, attempt: Attempt): Promise<RecentRefusals> {
  // Links are tokens of 128 bits: only who tries many of them waits, not everybody with a link.
  const byName =
    attempt.signInName === null
      ? []
      : await reader.rows<{ age: number }>(refusalsOfName, [attempt.signInName, throttleWindowSeconds, refusalsMaxOfName]);
  const byAddress = await reader.rows<{ age: number }>(refusalsOfAddress, [
    attempt.address,
    throttleWindowSeconds,
    refusalsMaxOfAddress,
  ]);
  return { ofName: byName.map((row) => row.age), ofAddress: byAddress.map((row) => row.age) };
}
