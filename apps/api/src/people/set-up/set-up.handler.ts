import type { SetUp } from '@corewright/contracts/people';
import { Injectable } from '@nestjs/common';
import type * as z from 'zod';
import { Database } from '../../platform/database/database.js';
import { newId } from '../../platform/new-id.js';
import { RefusalError, type Result } from '../../platform/refusal.js';
import { keepAuditOf } from '../audit.js';
import { makeWorkshop } from '../make-workshop.js';
import { hashPassPhrase } from '../pass-phrase.js';
import { beginSession } from '../sessions.js';
import { FrontDoor } from '../sign-in/front-door.js';
import type { Admitted } from '../sign-in/sign-in.handler.js';
import { recordAttempt } from '../sign-in/sign-in-attempts.js';
import { useTicket } from '../tickets.js';
import { withinTransaction } from '../within-transaction.js';

/** The first act in a new workshop's books, with the token that the server printed: there is no account before it. */
@Injectable()
export class SetUpHandler {
  constructor(
    private readonly database: Database,
    private readonly door: FrontDoor,
  ) {}

  setUp(input: z.infer<typeof SetUp>, address: string): Promise<Admitted> {
    return this.door.admit({ signInName: null, address }, () =>
      withinTransaction(this.database, async (transaction): Promise<Result<Admitted>> => {
        const ticket = await useTicket(transaction, 'set-up', input.token);
        if (!ticket.ok) return ticket;
        const owner = { id: newId(), displayName: input.displayName, signInName: input.signInName };
        const made = await makeWorkshop(transaction, {
          name: input.workshopName,
          timeZone: input.timeZone,
          locale: input.locale,
          currency: input.currency,
          isExample: false,
          owner: { ...owner, passPhraseHash: await hashPassPhrase(input.passPhrase) },
        });
        // Thrown, so that the token is good for a second try.
        if (!made.ok) throw new RefusalError(made.error);
        await keepAuditOf(transaction, 'POST /api/set-up', owner.id, input.token);
        await recordAttempt(transaction, { signInName: owner.signInName, address }, 'signed-in');
        return { ok: true, value: { me: { ...owner, role: 'owner' }, token: await beginSession(transaction, owner.id) } };
      }),
    );
  }
}
