import type { EditPerson, Person } from '@corewright/contracts/people';
import type * as z from 'zod';
import { type Result, refused } from '../../platform/refusal.js';

export interface PersonEdited {
  /** whoever is signed in as this person is signed out, and links made for them are void */
  shutOut: boolean;
}

/**
 * Whether a person may be changed so.
 * @param activeOwnerIds every owner who is active now, this person among them if they are one
 */
export function decideEditPerson(
  person: Pick<Person, 'id' | 'active' | 'displayName'>,
  change: z.infer<typeof EditPerson>,
  activeOwnerIds: readonly string[],
): Result<PersonEdited> {
  const staysOwner = change.role === 'owner' && change.active;
  const isOnlyOwner = activeOwnerIds.length === 1 && activeOwnerIds[0] === person.id;
  if (isOnlyOwner && !staysOwner)
    return refused({
      status: 409,
      code: 'last-owner',
      title: 'The only owner',
      detail: `${person.displayName} is the only owner of the workshop. Make somebody else an owner first.`,
    });
  return { ok: true, value: { shutOut: person.active && !change.active } };
}
