import type { Me, NewPassPhrase, SignIn, SignInByLink } from '@corewright/contracts/people';
import { Injectable } from '@nestjs/common';
import type * as z from 'zod';
import { Database, type Reader } from '../../platform/database/database.js';
import { type Refusal, RefusalError, type Result, refused } from '../../platform/refusal.js';
import { keepAuditOf } from '../audit.js';
import { hashPassPhrase, isRightPassPhrase } from '../pass-phrase.js';
import { beginSession, endSessionsOf } from '../sessions.js';
import { type TicketPurpose, useTicket, voidTicketsOf } from '../tickets.js';
import { withinTransaction } from '../within-transaction.js';
import { FrontDoor } from './front-door.js';
import { recordAttempt } from './sign-in-attempts.js';

/** Somebody who came in: who they are, and the token for their cookie. */
export interface Admitted {
  me: Me;
  token: string;
}

const selectByName = `
  SELECT id, display_name AS "displayName", sign_in_name AS "signInName", role,
         CASE WHEN active THEN pass_phrase_hash END AS "passPhraseHash"
    FROM people WHERE sign_in_name = $1`;
// Locked, so that a pass phrase changed at this moment does not leave a session of the old one behind.
const stillSo = 'SELECT 1 AS so FROM people WHERE id = $1 AND active AND pass_phrase_hash = $2 FOR SHARE';
const selectActive = `
  SELECT id, display_name AS "displayName", sign_in_name AS "signInName", role FROM people WHERE id = $1 AND active FOR NO KEY UPDATE`;
const setPassPhrase = 'UPDATE people SET pass_phrase_hash = $2, version = version + 1 WHERE id = $1';

type WithHash = Me & { passPhraseHash: string | null };

@Injectable()
export class SignInHandler {
  constructor(
    private readonly database: Database,
    private readonly door: FrontDoor,
  ) {}

  /** By name and pass phrase. An unknown name is refused in the same words and the same time as a wrong pass phrase. */
  byName(input: z.infer<typeof SignIn>, address: string): Promise<Admitted> {
    const attempt = { signInName: input.signInName, address };
    return this.door.admit(attempt, async () => {
      const person = await this.database.row<WithHash>(selectByName, [input.signInName]);
      const right = await isRightPassPhrase(person?.passPhraseHash ?? null, input.passPhrase);
      if (!person || !right) return refused(wrongNameOrPassPhrase);
      const { passPhraseHash, ...me } = person;
      return withinTransaction(this.database, async (transaction): Promise<Result<Admitted>> => {
        if (!(await transaction.row(stillSo, [me.id, passPhraseHash]))) return refused(wrongNameOrPassPhrase);
        await recordAttempt(transaction, attempt, 'signed-in');
        return { ok: true, value: { me, token: await beginSession(transaction, me.id) } };
      });
    });
  }

  /** By a one-time link: the example workshop's. */
  byLink(input: z.infer<typeof SignInByLink>, address: string): Promise<Admitted> {
    return this.throughLink('sign-in', input.token, address, async () => undefined);
  }

  /** A new pass phrase by a one-time link; whoever was signed in as this person is signed out everywhere. */
  newPassPhrase(input: z.infer<typeof NewPassPhrase>, address: string): Promise<Admitted> {
    return this.throughLink('pass-phrase', input.token, address, async (transaction, personId) => {
      await transaction.rows(setPassPhrase, [personId, await hashPassPhrase(input.passPhrase)]);
      await endSessionsOf(transaction, personId);
      await voidTicketsOf(transaction, personId);
      await keepAuditOf(transaction, 'POST /api/pass-phrase', personId, input.token);
    });
  }

  private throughLink(
    purpose: TicketPurpose,
    token: string,
    address: string,
    also: (transaction: Reader, personId: string) => Promise<void>,
  ): Promise<Admitted> {
    return this.door.admit({ signInName: null, address }, () =>
      withinTransaction(this.database, async (transaction): Promise<Result<Admitted>> => {
        const ticket = await useTicket(transaction, purpose, token);
        if (!ticket.ok) return ticket;
        const me = await transaction.row<Me & Record<string, unknown>>(selectActive, [ticket.value.personId]);
        if (!me) throw new RefusalError(switchedOff);
        await also(transaction, me.id);
        await recordAttempt(transaction, { signInName: me.signInName, address }, 'signed-in');
        return { ok: true, value: { me, token: await beginSession(transaction, me.id) } };
      }),
    );
  }
}

const wrongNameOrPassPhrase: Refusal = {
  status: 403,
  code: 'sign-in-refused',
  title: 'Not signed in',
  detail:
    'Name and pass phrase do not go together. Key both again; an owner of the workshop can make a link for a new pass phrase.',
};

const switchedOff: Refusal = {
  status: 403,
  code: 'sign-in-refused',
  title: 'Switched off',
  detail: 'The person whom this link is for is switched off. Ask an owner of the workshop.',
};
