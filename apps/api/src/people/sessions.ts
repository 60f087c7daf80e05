import { hashOfToken } from '../platform/access/session-reader.js';
import type { Reader } from '../platform/database/database.js';
import { newSecretToken } from './secret-token.js';

/** A tablet at the bench stays signed in for so long. */
export const sessionSeconds = 30 * 24 * 60 * 60;

const insertSession = `
  INSERT INTO sessions (token_hash, person_id, expires_at) VALUES ($1, $2, now() + make_interval(secs => $3))`;
const deleteWornOut = 'DELETE FROM sessions WHERE person_id = $1 AND expires_at <= now()';
const deleteOne = 'DELETE FROM sessions WHERE token_hash = $1';
const deleteAll = 'DELETE FROM sessions WHERE person_id = $1';

/** Begins a session; the token goes into the cookie and is stored hashed only. */
export async function beginSession(transaction: Reader, personId: string): Promise<string> {
  const token = newSecretToken();
  await transaction.rows(deleteWornOut, [personId]);
  await transaction.rows(insertSession, [hashOfToken(token), personId, sessionSeconds]);
  return token;
}

export async function endSession(transaction: Reader, token: string): Promise<void> {
  await transaction.rows(deleteOne, [hashOfToken(token)]);
}

/** Signs a person out everywhere. */
export async function endSessionsOf(transaction: Reader, personId: string): Promise<void> {
  await transaction.rows(deleteAll, [personId]);
}
