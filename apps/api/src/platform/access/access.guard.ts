import type { Role } from '@corewright/contracts/base';
import { type CanActivate, type ExecutionContext, Injectable } from '@nestjs/common';
import { Reflector } from '@nestjs/core';
import type { Request } from 'express';
import { RefusalError } from '../refusal.js';
import { SessionReader } from './session-reader.js';
import { ALLOWED, PUBLIC, type SignedIn } from './signed-in.js';

/** Denies by default: a route is open to those whom it names, after sign-in. */
@Injectable()
export class AccessGuard implements CanActivate {
  constructor(
    private readonly reflector: Reflector,
    private readonly sessions: SessionReader,
  ) {}

  async canActivate(context: ExecutionContext): Promise<boolean> {
    const marks = [context.getHandler(), context.getClass()];
    if (this.reflector.getAllAndOverride<boolean>(PUBLIC, marks)) return true;
    const request = context.switchToHttp().getRequest<Request & { person?: SignedIn }>();
    const person = await this.sessions.personOf(request);
    if (!person)
      throw new RefusalError({
        status: 401,
        code: 'not-signed-in',
        title: 'Not signed in',
        detail: 'Sign in first. What you keyed is kept.',
      });
    const allowed = this.reflector.getAllAndOverride<readonly Role[] | undefined>(ALLOWED, marks) ?? [];
    if (!allowed.includes(person.role))
      throw new RefusalError({
        status: 403,
        code: 'not-allowed',
        title: 'Not yours to do',
        detail: `${person.displayName} is signed in as ${person.role}; this is for ${allowed.join(', ') || 'nobody'}. Ask an owner of the workshop.`,
      });
    request.person = person;
    return true;
  }
}
