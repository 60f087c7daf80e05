import type { Problem } from '@corewright/contracts/problem';
import { type ArgumentsHost, Catch, type ExceptionFilter, HttpException } from '@nestjs/common';
import type { Request, Response } from 'express';
import { refusalOfTrouble, refusalOfUnkeepable } from '../database/database-failure.js';
import { Log } from '../log.js';
import { type Refusal, RefusalError } from '../refusal.js';

/** The one place where a failure becomes an answer: a problem document of RFC 9457 in plain words. */
@Catch()
export class ProblemFilter implements ExceptionFilter {
  constructor(private readonly log: Log) {}

  catch(error: unknown, host: ArgumentsHost): void {
    const http = host.switchToHttp();
    const request = http.getRequest<Request & { correlationId?: string }>();
    const response = http.getResponse<Response>();
    const correlationId = request.correlationId ?? 'none';
    const refusal = refusalOf(error);
    if (refusal.status >= 500)
      this.log.error({ correlationId, route: `${request.method} ${request.path}`, error: describe(error) }, refusal.code);
    if (response.headersSent) {
      response.end();
      return;
    }
    if (refusal.status === 429 && typeof refusal.values?.retryAfterSeconds === 'number')
      response.setHeader('retry-after', String(refusal.values.retryAfterSeconds));
    const problem: Problem = { type: `urn:corewright:problem:${refusal.code}`, correlationId, ...refusal };
    response.status(refusal.status).type('application/problem+json').send(JSON.stringify(problem));
  }
}

function refusalOf(error: unknown): Refusal {
  if (error instanceof RefusalError) return error.refusal;
  const known = refusalOfTrouble(error) ?? refusalOfUnkeepable(error);
  if (known) return known;
  if (isTooLarge(error))
    return {
      status: 413,
      code: 'too-large',
      title: 'Too large',
      detail: 'That is larger than can be taken at once. Split it, or send a smaller picture.',
    };
  if (isUnreadable(error))
    return {
      status: 400,
      code: 'unreadable',
      title: 'Not readable',
      detail: 'The request is not readable JSON. Nothing was changed.',
    };
  if (error instanceof HttpException) return refusalOfHttp(error);
  return {
    status: 500,
    code: 'our-fault',
    title: 'Something broke here',
    detail:
      'This is a fault of the program, not of what you keyed. What you keyed is kept; send it again, and if it fails again tell whoever looks after the server the number below.',
  };
}

function refusalOfHttp(error: HttpException): Refusal {
  const status = error.getStatus();
  if (status === 404) return { status, code: 'not-found', title: 'Not found', detail: 'There is nothing at this address.' };
  if (error.cause instanceof URIError)
    return { status: 404, code: 'not-found', title: 'Not found', detail: 'That address is spelt in a way that cannot be read.' };
  return { status, code: 'refused', title: 'Refused', detail: error.message };
}

/** What the reader of bodies found, which the framework wraps in an error of its own. */
function foundBy(error: unknown): { type?: unknown; code?: unknown } {
  const cause: unknown = error instanceof HttpException ? error.cause : error;
  return typeof cause === 'object' && cause !== null ? cause : {};
}

function isTooLarge(error: unknown): boolean {
  const { type, code } = foundBy(error);
  return type === 'entity.too.large' || code === 'LIMIT_FILE_SIZE' || code === 'LIMIT_FILE_COUNT';
}

function isUnreadable(error: unknown): boolean {
  const { type } = foundBy(error);
  return typeof type === 'string' && /^(entity\.|encoding\.|charset\.)/.test(type);
}

function describe(error: unknown): string {
  return error instanceof Error ? (error.stack ?? error.message) : String(error);
}
