import type { AddPerson, Person } from '@corewright/contracts/people';
import { Injectable } from '@nestjs/common';
import type * as z from 'zod';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { done, invariant, type Result, refused } from '../../platform/refusal.js';
import { giveBadge } from '../badge.js';
import { readPerson } from '../people.queries.js';

const selectByName = 'SELECT display_name AS "displayName" FROM people WHERE sign_in_name = $1';
const insertPerson = 'INSERT INTO people (id, sign_in_name, display_name, role) VALUES ($1, $2, $3, $4)';

/** Adds somebody without a pass phrase: they set their own through a one-time link. They get a badge at once. */
@Injectable()
export class AddPersonHandler {
  async handle(transaction: Transaction, input: z.infer<typeof AddPerson>): Promise<Result<Person>> {
    const holder = await transaction.row<{ displayName: string }>(selectByName, [input.signInName]);
    if (holder)
      return refused({
        status: 409,
        code: 'name-taken',
        title: 'Name taken',
        detail: `${holder.displayName} signs in as "${input.signInName}". Choose another sign-in name.`,
        values: { fields: [{ path: 'signInName', words: 'This sign-in name is taken.' }] },
      });
    await transaction.rows(insertPerson, [input.id, input.signInName, input.displayName, input.role]);
    await giveBadge(transaction, input.id);
    transaction.news('people');
    const person = await readPerson(transaction, input.id);
    invariant(person, 'a person who was added is there');
    return done(person);
  }
}
