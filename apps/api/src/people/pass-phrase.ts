import { hash, verify } from '@node-rs/argon2';
import { newSecretToken } from './secret-token.js';

/** Argon2id, the library's default kind, at the least cost that OWASP's Password Storage Cheat Sheet names: 19 MiB, two passes, one lane. */
const cost = { memoryCost: 19_456, timeCost: 2, parallelism: 1 };

/** What a name without a pass phrase is compared with, so that it takes as long to refuse as a known one. */
let nobodysHash: Promise<string> | null = null;

export function hashPassPhrase(passPhrase: string): Promise<string> {
  return hash(passPhrase.normalize('NFC'), cost);
}

/** Whether the pass phrase is the right one. `stored` is null for a name that is unknown, switched off or has none yet. */
export async function isRightPassPhrase(stored: string | null, passPhrase: string): Promise<boolean> {
  nobodysHash ??= hashPassPhrase(newSecretToken());
  const right = await verify(stored ?? (await nobodysHash), passPhrase.normalize('NFC'));
  return right && stored !== null;
}
