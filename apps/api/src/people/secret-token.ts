import { randomBytes } from 'node:crypto';

const tokenBytes = 16;

/** 128 random bits as 22 characters that may stand in a cookie or an address. Kept nowhere but hashed. */
export function newSecretToken(): string {
  return randomBytes(tokenBytes).toString('base64url');
}
