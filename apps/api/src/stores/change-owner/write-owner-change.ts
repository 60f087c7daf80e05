import { type Money, noMoney } from '@corewright/quantities/money';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { newId } from '../../platform/new-id.js';

/** Which act made a thing another’s. */
export interface OwnerChangeToWrite {
  thingId: string;
  /** null: ours */
  from: string | null;
  to: string | null;
  how: 'bought' | 'given to us' | 'given to them' | 'theirs after all' | 'claimed' | 'put right';
  price: Money | null;
  currency: string;
  on: string;
  words: string;
}

const insertChange = `
  INSERT INTO owner_changes (id, command_key, thing_id, from_owner_id, to_owner_id, how, price_minor, currency, on_day, words, person_id)
  VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11)`;
const insertCost = `
  INSERT INTO cost_entries (id, command_key, thing_id, amount_minor, currency, kind, why, person_id) VALUES ($1, $2, $3, $4, $5, 'adjustment', $6, $7)`;

/**
 * Writes the act; the database changes the owner with it, and nothing else does. What was paid for a thing, and the nothing that a gift cost,
 * is what the thing costs from now on.
 */
export async function writeOwnerChange(transaction: Transaction, change: OwnerChangeToWrite): Promise<void> {
  const { key, person } = transaction.command;
  const { thingId, from, to, how, price, currency, on, words } = change;
  const paid = how === 'bought' && price !== null ? price.toString() : null;
  await transaction.rows(insertChange, [
    newId(),
    key,
    thingId,
    from,
    to,
    how,
    paid,
    paid === null ? null : currency,
    on,
    words,
    person.id,
  ]);
  const cost = how === 'given to us' ? noMoney : how === 'bought' ? price : null;
  if (cost === null) return;
  const why = how === 'bought' ? 'bought from its owner' : 'given to us by its owner';
  await transaction.rows(insertCost, [newId(), key, thingId, cost.toString(), currency, `${why}: ${words}`, person.id]);
}
