import type { Response } from 'express';
import type { Config } from '../platform/config/config.js';
import { sessionSeconds } from './sessions.js';

/** `__Host-` obliges the browser to Secure, Path=/ and no Domain; pages cannot read it, other sites cannot send it. */
const attributes = 'Path=/; Secure; HttpOnly; SameSite=Strict';

export function setSessionCookie(response: Response, config: Config, token: string): void {
  response.setHeader('set-cookie', `${config.cookieName}=${token}; Max-Age=${sessionSeconds}; ${attributes}`);
  response.setHeader('cache-control', 'no-store');
}

export function clearSessionCookie(response: Response, config: Config): void {
  response.setHeader('set-cookie', `${config.cookieName}=; Max-Age=0; ${attributes}`);
}
