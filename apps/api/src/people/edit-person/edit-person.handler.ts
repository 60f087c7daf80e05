import type { EditPerson, Person } from '@corewright/contracts/people';
import { Injectable } from '@nestjs/common';
import type * as z from 'zod';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { whyNotCurrent } from '../../platform/commands/version-seen.js';
import { done, invariant, notFound, type Result, refused } from '../../platform/refusal.js';
import { lockActiveOwners, lockPerson, readPerson } from '../people.queries.js';
import { endSessionsOf } from '../sessions.js';
import { voidTicketsOf } from '../tickets.js';
import { decideEditPerson } from './decide-edit-person.js';

const updatePerson = 'UPDATE people SET display_name = $2, role = $3, active = $4, version = version + 1 WHERE id = $1';

@Injectable()
export class EditPersonHandler {
  async handle(transaction: Transaction, id: string, change: z.infer<typeof EditPerson>): Promise<Result<Person>> {
    const owners = await lockActiveOwners(transaction);
    const person = await lockPerson(transaction, id);
    if (!person) return refused(notFound('This person'));
    const stale = whyNotCurrent(transaction.command, person);
    if (stale) return refused(stale);
    const decided = decideEditPerson(person, change, owners);
    if (!decided.ok) return decided;
    await transaction.rows(updatePerson, [id, change.displayName, change.role, change.active]);
    if (decided.value.shutOut) {
      await endSessionsOf(transaction, id);
      await voidTicketsOf(transaction, id);
    }
    transaction.news('people');
    const edited = await readPerson(transaction, id);
    invariant(edited, 'a person who was edited is there');
    return done(edited);
  }
}
