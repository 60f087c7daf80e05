import type { Response } from 'express';
import { badInput, RefusalError } from '../refusal.js';

/** Packs the place where a list goes on into an opaque text. */
export function cursorOf(position: readonly (string | number)[]): string {
  return Buffer.from(JSON.stringify(position)).toString('base64url');
}

/** @throws RefusalError where the text is not one that `cursorOf` made */
export function positionOf(cursor: string | undefined, length: number): (string | number)[] | null {
  if (cursor === undefined) return null;
  try {
    const position = JSON.parse(Buffer.from(cursor, 'base64url').toString()) as unknown;
    if (
      Array.isArray(position) &&
      position.length === length &&
      position.every((step) => typeof step === 'string' || typeof step === 'number')
    )
      return position;
  } catch {
    // said below
  }
  throw new RefusalError(badInput('cursor', 'That is not a cursor of this list. Begin the list again.'));
}

/** Says by RFC 8288 where the next page is. */
export function linkNext(response: Response, cursor: string | null): void {
  if (cursor === null) return;
  const at = new URL(response.req.originalUrl, 'http://here');
  at.searchParams.set('cursor', cursor);
  response.setHeader('link', `<${at.pathname}${at.search}>; rel="next"`);
}
