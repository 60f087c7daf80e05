import { type Read, refuse } from '../../platform/terminal/terminal-command.js';

export interface Owner {
  id: string;
  displayName: string;
  signInName: string;
}

/** For which owner the link is to be. @param signInName null where none was named */
export function decideOwner(owners: readonly Owner[], signInName: string | null): Read<Owner> {
  const names = owners.map((owner) => owner.signInName).join(', ');
  const [first, ...others] = owners;
  if (first === undefined) return refuse('Nobody who may sign in here is an owner.');
  if (signInName === null)
    return others.length === 0
      ? { ok: true, value: first }
      : refuse(`This workshop has several owners. Say which: --person NAME, one of ${names}.`);
  const named = owners.find((owner) => owner.signInName === signInName);
  if (named) return { ok: true, value: named };
  return refuse(
    `"${signInName}" is not the sign-in name of an owner; here that is ${names}. For anybody else an owner makes the link in the settings.`,
  );
}
