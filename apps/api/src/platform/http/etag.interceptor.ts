import { type CallHandler, type ExecutionContext, Injectable, type NestInterceptor } from '@nestjs/common';
import type { Response } from 'express';
import { type Observable, tap } from 'rxjs';

/** An answer with a `version` is a row that can be edited: its version is its ETag. */
@Injectable()
export class EtagInterceptor implements NestInterceptor {
  intercept(context: ExecutionContext, next: CallHandler): Observable<unknown> {
    const response = context.switchToHttp().getResponse<Response>();
    return next.handle().pipe(
      tap((body: unknown) => {
        const version = (body as { version?: unknown } | null)?.version;
        if (typeof version === 'number' && !response.headersSent) response.setHeader('etag', `"${version}"`);
      }),
    );
  }
}
