import { randomUUID } from 'node:crypto';

/**
 * A UUID of version 7 (RFC 9562): 48 bits of milliseconds, then random bits; rows made together lie together. The random
 * bits are those of a UUID of version 4, which Node draws in stock: a draw for each id would cost a scan more.
 */
export function newId(): string {
  const time = Date.now().toString(16).padStart(12, '0');
  return `${time.slice(0, 8)}-${time.slice(8)}-7${randomUUID().slice(15)}`;
}
