import type { Role } from '@corewright/contracts/base';
import { createParamDecorator, type ExecutionContext, SetMetadata } from '@nestjs/common';
import type { Request } from 'express';

/** The person behind a request. */
export interface SignedIn {
  id: string;
  displayName: string;
  signInName: string;
  role: Role;
}

export const PUBLIC = 'corewright:public';
export const ALLOWED = 'corewright:allowed';

/** Open to anyone who can reach the server. */
export const Public = (): MethodDecorator & ClassDecorator => SetMetadata(PUBLIC, true);

/** Open to these roles. A route with neither this nor `@Public()` is open to nobody. */
export const Allow = (roles: readonly Role[]): MethodDecorator & ClassDecorator => SetMetadata(ALLOWED, roles);

export const everyone: readonly Role[] = ['owner', 'stores', 'bench', 'viewer'];
/** Those who work with things: scans, findings, pictures, labels. */
export const hands: readonly Role[] = ['owner', 'stores', 'bench'];
/** Those who keep the books: loads, orders, jobs, imports. */
export const keepers: readonly Role[] = ['owner', 'stores'];
export const owners: readonly Role[] = ['owner'];

export const Person = createParamDecorator((_: unknown, context: ExecutionContext): SignedIn => {
  const person = context.switchToHttp().getRequest<Request & { person?: SignedIn }>().person;
  if (!person) throw new Error('A person was asked for on a public route');
  return person;
});
