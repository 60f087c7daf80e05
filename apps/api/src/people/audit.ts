import { createHash } from 'node:crypto';
import type { Reader } from '../platform/database/database.js';
import { newId } from '../platform/new-id.js';

const insertCommand = 'INSERT INTO commands (key, person_id, route, request_hash) VALUES ($1, $2, $3, $4)';
const insertOutcome = `INSERT INTO outcomes (command_key, status, body) VALUES ($1, 200, '{}')`;

/**
 * Writes into the command log what was done with a one-time link, by somebody who had no session to do it in.
 * The token alone is hashed: a pass phrase leaves no trace, hashed or not, beside its own.
 */
export async function keepAuditOf(transaction: Reader, route: string, personId: string | null, token: string): Promise<void> {
  const key = newId();
  await transaction.rows(insertCommand, [key, personId, route, createHash('sha256').update(`${route}\n${token}`).digest()]);
  await transaction.rows(insertOutcome, [key]);
}
