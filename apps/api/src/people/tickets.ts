import { hashOfToken } from '../platform/access/session-reader.js';
import type { Reader } from '../platform/database/database.js';
import { type Refusal, type Result, refused } from '../platform/refusal.js';
import { newSecretToken } from './secret-token.js';

export type TicketPurpose = 'set-up' | 'sign-in' | 'pass-phrase';

/** How long a link is good that says nothing else. */
const hoursUsual = 24;

const insertTicket = `
  INSERT INTO sign_in_tickets (token_hash, purpose, person_id, expires_at)
  VALUES ($1, $2, $3, now() + make_interval(hours => $4)) RETURNING expires_at AS "expiresAt"`;
const useTicketOnce = `
  UPDATE sign_in_tickets SET used_at = now()
   WHERE token_hash = $1 AND purpose = $2 AND used_at IS NULL AND expires_at > now()
  RETURNING person_id AS "personId"`;
const voidOfPerson = 'UPDATE sign_in_tickets SET used_at = now() WHERE person_id = $1 AND used_at IS NULL';
const whyNotUsed = `
  SELECT used_at AS "usedAt", round(extract(epoch FROM expires_at - created_at) / 3600)::int AS hours
    FROM sign_in_tickets WHERE token_hash = $1 AND purpose = $2`;

/** Makes a link's token, good once within 24 hours or those given; it is stored hashed. */
export async function makeTicket(
  transaction: Reader,
  purpose: TicketPurpose,
  personId: string | null,
  hours: number = hoursUsual,
): Promise<{ token: string; expiresAt: string }> {
  const token = newSecretToken();
  const row = await transaction.row<{ expiresAt: string }>(insertTicket, [hashOfToken(token), purpose, personId, hours]);
  return { token, expiresAt: row!.expiresAt };
}

/** Uses a ticket up. Of two who send the same one, the database lets one through. */
export async function useTicket(
  transaction: Reader,
  purpose: TicketPurpose,
  token: string,
): Promise<Result<{ personId: string | null }>> {
  const ticket = await transaction.row<{ personId: string | null }>(useTicketOnce, [hashOfToken(token), purpose]);
  if (ticket) return { ok: true, value: ticket };
  const known = await transaction.row<{ usedAt: string | null; hours: number }>(whyNotUsed, [hashOfToken(token), purpose]);
  return refused(known ? (known.usedAt ? linkUsed(purpose) : linkOld(purpose, known.hours)) : linkUnknown(purpose));
}

/** No link that was made for this person before opens anything any more. */
export async function voidTicketsOf(transaction: Reader, personId: string): Promise<void> {
  await transaction.rows(voidOfPerson, [personId]);
}

const nextStep: Record<TicketPurpose, string> = {
  'set-up': 'Stop the server and start it again: it prints a new link.',
  'sign-in': 'Sign in with your name and pass phrase, or start the server again for a new link.',
  'pass-phrase': 'Ask an owner of the workshop for a new one; an owner makes it on the machine of the server with npm run link.',
};

function linkUsed(purpose: TicketPurpose): Refusal {
  return {
    status: 410,
    code: 'link-used',
    title: 'Link used up',
    detail: `This link opens once, and was used or replaced. ${nextStep[purpose]}`,
  };
}

function linkOld(purpose: TicketPurpose, hours: number): Refusal {
  return {
    status: 410,
    code: 'link-too-old',
    title: 'Link too old',
    detail: `This link was good for ${hours === 1 ? 'one hour' : `${hours} hours`}. ${nextStep[purpose]}`,
  };
}

function linkUnknown(purpose: TicketPurpose): Refusal {
  return {
    status: 404,
    code: 'link-unknown',
    title: 'No such link',
    detail: `This link is not known here; it may have been copied in part. ${nextStep[purpose]}`,
  };
}
