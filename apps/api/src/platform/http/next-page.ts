import { type CallHandler, type ExecutionContext, Injectable, type NestInterceptor } from '@nestjs/common';
import type { Request, Response } from 'express';
import { type Observable, tap } from 'rxjs';
import { badInput, RefusalError } from '../refusal.js';

/** An answer whose `cursor` is not null has more pages: the Link header (RFC 8288) says where the next one is. */
@Injectable()
export class NextPageLink implements NestInterceptor {
  intercept(context: ExecutionContext, next: CallHandler): Observable<unknown> {
    const http = context.switchToHttp();
    const request = http.getRequest<Request>();
    const response = http.getResponse<Response>();
    return next.handle().pipe(
      tap((body: unknown) => {
        const cursor = (body as { cursor?: unknown } | null)?.cursor;
        if (typeof cursor !== 'string' || response.headersSent) return;
        const address = new URL(request.originalUrl, 'http://here.invalid');
        address.searchParams.set('cursor', cursor);
        response.setHeader('link', `<${address.pathname}${address.search}>; rel="next"`);
      }),
    );
  }
}

export type CursorKind = 'string' | 'number' | 'uuid';

const uuid = /^[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}$/i;

/** A place in an ordered list, as text that nobody needs to read. */
export function cursorOf(place: readonly (string | number)[]): string {
  return Buffer.from(JSON.stringify(place)).toString('base64url');
}

/**
 * Reads a cursor that `cursorOf` made.
 * @param kinds what each member of it is
 * @throws RefusalError for text that is no such cursor
 */
export function placeOf(cursor: string | undefined, kinds: readonly CursorKind[]): (string | number)[] | null {
  if (cursor === undefined || cursor === '') return null;
  const place = parsed(cursor);
  const fits =
    Array.isArray(place) && place.length === kinds.length && kinds.every((kind, index) => isOfKind(place[index], kind));
  if (!fits) throw new RefusalError(badInput('cursor', 'That page cannot be found. Start the list again from its beginning.'));
  return place as (string | number)[];
}

function isOfKind(member: unknown, kind: CursorKind): boolean {
  if (kind === 'uuid') return typeof member === 'string' && uuid.test(member);
  return typeof member === kind;
}

function parsed(cursor: string): unknown {
  try {
    return JSON.parse(Buffer.from(cursor, 'base64url').toString('utf8'));
  } catch {
    return null;
  }
}
