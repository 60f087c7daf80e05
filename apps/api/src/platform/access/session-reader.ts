import { createHash } from 'node:crypto';
import { Injectable } from '@nestjs/common';
import type { Request } from 'express';
import { Config } from '../config/config.js';
import { Database } from '../database/database.js';
import type { SignedIn } from './signed-in.js';

/** Who is behind a session cookie. The token is stored hashed, so that the table gives nobody a way in. */
@Injectable()
export class SessionReader {
  constructor(
    private readonly database: Database,
    private readonly config: Config,
  ) {}

  async personOf(request: Request): Promise<SignedIn | null> {
    const token = cookieOf(request, this.config.cookieName);
    if (!token) return null;
    return this.database.row<SignedIn & Record<string, unknown>>(whoIsSignedIn, [hashOfToken(token)]);
  }
}

const whoIsSignedIn = `
  SELECT people.id, display_name AS "displayName", sign_in_name AS "signInName", role
    FROM sessions JOIN people ON people.id = person_id
   WHERE token_hash = $1 AND expires_at > now() AND active`;

export function hashOfToken(token: string): Buffer {
  return createHash('sha256').update(token).digest();
}

export function cookieOf(request: Request, name: string): string | null {
  for (const pair of (request.headers.cookie ?? '').split(';')) {
    const at = pair.indexOf('=');
    if (at > 0 && pair.slice(0, at).trim() === name) return pair.slice(at + 1).trim();
  }
  return null;
}
