import type { Database, Reader } from '../../platform/database/database.js';
import { type Read, refuse } from '../../platform/terminal/terminal-command.js';
import { keepAuditOf } from '../audit.js';
import { makeTicket, voidTicketsOf } from '../tickets.js';
import { withinTransaction } from '../within-transaction.js';
import { readWorkshop } from '../workshop.js';
import { decideOwner, type Owner } from './decide-owner.js';

/** Shorter than a link that an owner makes for somebody: whoever keys the command is about to use it. */
export const hoursOfTerminalLink = 1;

/** What the audit trail calls it. */
const route = 'terminal link';

// Locked, so that somebody who is demoted or switched off at this moment gets no link.
const lockOwners = `
  SELECT id, display_name AS "displayName", sign_in_name AS "signInName" FROM people
   WHERE role = 'owner' AND active ORDER BY id FOR NO KEY UPDATE`;

export interface TerminalLink {
  owner: Owner;
  path: string;
  expiresAt: string;
}

/**
 * Makes the link with which an owner who has forgotten the pass phrase chooses a new one; the links made for them before are
 * void. Who may read the data folder has the books anyway, so the terminal is trusted; the trail keeps that it was done.
 * @param signInName null where there is one owner only
 */
export function makeTerminalLink(database: Database, signInName: string | null): Promise<Read<TerminalLink>> {
  return withinTransaction(database, async (transaction): Promise<Read<TerminalLink>> => {
    if (!(await readWorkshop(transaction)))
      return refuse('This workshop has not been set up yet: start the server, which prints the link to do so.');
    const owner = decideOwner(await transaction.rows<Owner & Record<string, unknown>>(lockOwners), signInName);
    return owner.ok ? { ok: true, value: await linkFor(transaction, owner.value) } : owner;
  });
}

async function linkFor(transaction: Reader, owner: Owner): Promise<TerminalLink> {
  await voidTicketsOf(transaction, owner.id);
  const { token, expiresAt } = await makeTicket(transaction, 'pass-phrase', owner.id, hoursOfTerminalLink);
  await keepAuditOf(transaction, route, owner.id, token);
  return { owner, path: `/pass-phrase?token=${token}`, expiresAt };
}
