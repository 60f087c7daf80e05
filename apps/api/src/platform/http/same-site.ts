import type { NextFunction, Request, Response } from 'express';
import { RefusalError } from '../refusal.js';

const reading = new Set(['GET', 'HEAD', 'OPTIONS']);
/** What is no JSON, and is taken with our key header only. */
const keyed = ['multipart/form-data', 'application/octet-stream', 'application/x-tar'];

/**
 * Refuses a write that another site made a browser send. Browsers say where a request comes from in Sec-Fetch-Site;
 * older ones in Origin. A form cannot send JSON, and a file upload needs our key header, which a foreign page cannot set.
 */
export function refuseForeignWrites(request: Request, _response: Response, next: NextFunction): void {
  next(reading.has(request.method) ? undefined : whyRefused(request));
}

function whyRefused(request: Request): RefusalError | undefined {
  const site = request.header('sec-fetch-site');
  const origin = request.header('origin');
  const foreign =
    site !== undefined
      ? site !== 'same-origin' && site !== 'none'
      : origin !== undefined && hostOf(origin) !== request.header('host');
  if (foreign)
    return new RefusalError({
      status: 403,
      code: 'foreign-site',
      title: 'From another site',
      detail: 'Changes are taken from the pages of this server only.',
    });
  const type = request.header('content-type') ?? '';
  const plain =
    type.startsWith('application/json') ||
    (keyed.some((each) => type.startsWith(each)) && request.header('idempotency-key') !== undefined);
  if (plain) return undefined;
  return new RefusalError({
    status: 415,
    code: 'not-json',
    title: 'Not JSON',
    detail:
      'Changes are sent as application/json; files as multipart, a photograph piece by piece as application/octet-stream, an archive of them as application/x-tar, each with an Idempotency-Key.',
  });
}

function hostOf(origin: string): string | null {
  return URL.canParse(origin) ? new URL(origin).host : null;
}
