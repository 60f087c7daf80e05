import type { OneTimeLink } from '@corewright/contracts/people';
import { Injectable } from '@nestjs/common';
import type * as z from 'zod';
import type { Command } from '../../platform/commands/command.js';
import { UnitOfWork } from '../../platform/commands/unit-of-work.js';
import { done, notFound, RefusalError, refused } from '../../platform/refusal.js';
import { lockPerson } from '../people.queries.js';
import { makeTicket, voidTicketsOf } from '../tickets.js';

/** Makes the link with which somebody sets a pass phrase; the links made for them before are void. */
@Injectable()
export class MakeLinkHandler {
  constructor(private readonly unitOfWork: UnitOfWork) {}

  /** The token goes to the person who asks and nowhere else: the outcome that is kept does not hold it. */
  async handle(command: Command, personId: string): Promise<z.infer<typeof OneTimeLink>> {
    let token: string | null = null;
    const kept = await this.unitOfWork.run(command, async (transaction) => {
      const person = await lockPerson(transaction, personId);
      if (!person) return refused(notFound('This person'));
      if (!person.active) return refused(switchedOff(person.displayName));
      await voidTicketsOf(transaction, personId);
      const ticket = await makeTicket(transaction, 'pass-phrase', personId);
      token = ticket.token;
      return done({ expiresAt: ticket.expiresAt });
    });
    if (token === null)
      throw new RefusalError({
        status: 409,
        code: 'link-shown-once',
        title: 'Shown once',
        detail: 'This link was made and shown once; it is kept nowhere. Ask for another: the first one is void then.',
      });
    return { path: `/pass-phrase?token=${token}`, expiresAt: kept.expiresAt };
  }
}

function switchedOff(name: string) {
  return {
    status: 409,
    code: 'switched-off',
    title: 'Switched off',
    detail: `${name} is switched off. Switch them on first, then make the link.`,
  };
}
