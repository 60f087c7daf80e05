import type { Transaction } from '../../platform/commands/unit-of-work.js';
import type { LockedThing } from '../ledger.js';
import { tellOthers } from '../tell-others.js';
import { missingOf } from './missing.queries.js';

const clearMark = 'UPDATE things SET missing_since = NULL, version = version + 1 WHERE id = $1';
const settleFlags = `
  UPDATE stores_flags SET settled_at = clock_timestamp(), settled_by = $2, words = words || ' Settled: ' || $3::text
   WHERE thing_id = $1 AND kind = 'not there' AND settled_at IS NULL`;

/** Takes the mark off a locked thing and settles its flags with words. */
export async function noLongerMissing(transaction: Transaction, thingId: string, words: string): Promise<void> {
  transaction.send(clearMark, [thingId]);
  transaction.send(settleFlags, [thingId, transaction.command.person.id, words]);
  await tellOthers(transaction, thingId);
}

/**
 * What was missing is in somebody's hand, who did something else with it: so it is found.
 * @returns what the answer says of it; null where nobody missed it
 */
export async function foundAgain(transaction: Transaction, thing: LockedThing, how: string): Promise<string | null> {
  const missing = await missingOf(transaction, thing);
  if (missing === null) return null;
  await noLongerMissing(transaction, thing.id, `found again, ${how}.`);
  return `It was missing${missing.by === '' ? '' : `, and ${missing.by} looked for it`}: it is found, and the mark is gone.`;
}
