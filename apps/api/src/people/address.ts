import type { Request } from 'express';

/** The other end of the connection; behind a proxy that is the proxy, since its headers can be made up. */
export function addressOf(request: Request): string {
  return request.socket.remoteAddress ?? 'unknown';
}
