import type { Reader } from '../platform/database/database.js';
import { badInput, type Result, refused } from '../platform/refusal.js';
import { giveBadge } from './badge.js';
import { isTimeZone } from './workshop.js';

export interface NewWorkshop {
  name: string;
  timeZone: string;
  locale: string;
  currency: string;
  isExample: boolean;
  owner: {
    id: string;
    displayName: string;
    signInName: string;
    /** null: this owner comes in by a one-time link only */
    passPhraseHash: string | null;
  };
}

const insertWorkshop = `
  INSERT INTO workshop (name, time_zone, locale, currency, is_example) VALUES ($1, $2, $3, $4, $5)
  ON CONFLICT (only_row) DO NOTHING RETURNING 1 AS made`;
const insertOwner = `
  INSERT INTO people (id, sign_in_name, display_name, role, pass_phrase_hash) VALUES ($1, $2, $3, 'owner', $4)`;

/**
 * Writes the workshop and its first owner, with a badge, in the caller's transaction. There is one workshop in a database:
 * the second of two set-ups is refused.
 */
export async function makeWorkshop(transaction: Reader, workshop: NewWorkshop): Promise<Result<{ ownerId: string }>> {
  const { name, timeZone, locale, currency, isExample, owner } = workshop;
  if (!isTimeZone(timeZone))
    return refused(badInput('timeZone', `"${timeZone}" is not a time zone. Choose one such as Europe/London.`));
  if (!isLocale(locale))
    return refused(badInput('locale', `"${locale}" is not a language and country. Choose one such as en-GB.`));
  const made = await transaction.row(insertWorkshop, [name, timeZone, locale, currency, isExample]);
  if (!made)
    return refused({
      status: 409,
      code: 'set-up-already',
      title: 'Set up already',
      detail: 'This workshop is set up. Sign in, or ask its owner to add you.',
    });
  await transaction.rows(insertOwner, [owner.id, owner.signInName.toLowerCase(), owner.displayName, owner.passPhraseHash]);
  await giveBadge(transaction, owner.id);
  return { ok: true, value: { ownerId: owner.id } };
}

function isLocale(locale: string): boolean {
  try {
    return Intl.getCanonicalLocales(locale).length === 1;
  } catch {
    return false;
  }
}
