import { createHash } from 'node:crypto';
import { Injectable, type OnModuleInit } from '@nestjs/common';
import type { Request } from 'express';
import { merge } from 'rxjs';
import { Config } from '../config/config.js';
import { Database } from '../database/database.js';
import { NewsRelay } from '../news/news-relay.js';
import type { SignedIn } from './signed-in.js';

/** A person is asked for anew after so long, should a notice get lost. */
const rememberedMilliseconds = 5_000;
/** More sessions than a small workshop has devices. */
const rememberedMax = 500;
/** News after which nobody who is remembered can be trusted to be who they were. */
const unsettling = ['sessions', 'people', 'everything'];

interface Remembered {
  person: SignedIn;
  until: number;
}

/**
 * Who is behind a session cookie. The token is stored hashed, so that the table gives nobody a way in. A session is remembered
 * for some seconds, as long as news reach this process: a sign-out or a switched-off person ends it here at once, and in
 * other processes with the notice.
 */
@Injectable()
export class SessionReader implements OnModuleInit {
  private readonly remembered = new Map<string, Remembered>();
  /** grows with each forgetting: what was read before it is not remembered after it */
  private forgettings = 0;

  constructor(
    private readonly database: Database,
    private readonly config: Config,
    private readonly relay: NewsRelay,
  ) {}

  onModuleInit(): void {
    merge(this.relay.committedHere, this.relay.news).subscribe((topics) => {
      if (topics.some((topic) => unsettling.includes(topic))) this.forget();
    });
  }

  async personOf(request: Request): Promise<SignedIn | null> {
    const token = cookieOf(request, this.config.cookieName);
    if (!token) return null;
    const known = this.remembered.get(token);
    if (known && this.relay.listening && known.until > performance.now()) return known.person;
    const before = this.forgettings;
    const person = await this.database.row<SignedIn & Record<string, unknown>>(whoIsSignedIn, [hashOfToken(token)]);
    if (person && before === this.forgettings) this.remember(token, person);
    return person;
  }

  private remember(token: string, person: SignedIn): void {
    if (this.remembered.size >= rememberedMax) this.remembered.clear();
    this.remembered.set(token, { person, until: performance.now() + rememberedMilliseconds });
  }

  private forget(): void {
    this.forgettings += 1;
    this.remembered.clear();
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
