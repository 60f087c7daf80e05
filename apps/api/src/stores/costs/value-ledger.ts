import { type Money, noMoney } from '@corewright/quantities/money';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import type { Reader } from '../../platform/database/database.js';
import { rowsInto, rowsTogether } from '../../platform/database/many-rows.js';
import { newId } from '../../platform/new-id.js';

/**
 * The value ledger stands beside the ledger of quantities: what a thing cost is the sum of its entries, in the workshop's
 * currency. An entry is never changed; what was wrong is put right by a further one. A thing without any has a cost
 * that nobody knows, which is not nought.
 */
export interface CostEntryToWrite {
  thingId: string;
  amount: Money;
}

export interface LoadShares {
  loadId: string;
  sharingId: string;
  currency: string;
  why: string;
}

const insertEntries = rowsInto(
  'cost_entries',
  'id uuid',
  'command_key uuid',
  'thing_id uuid',
  'amount_minor bigint',
  'currency text',
  'kind text',
  'load_id uuid',
  'sharing_id uuid',
  'why text',
  'person_id uuid',
);

/** Writes what the shares of a load changed, all in one statement: the database refuses them unless they come to what was shared. */
export async function writeLoadShares(
  transaction: Transaction,
  { loadId, sharingId, currency, why }: LoadShares,
  entries: readonly CostEntryToWrite[],
): Promise<void> {
  if (entries.length === 0) return;
  const { key, person } = transaction.command;
  const rows = entries.map(({ thingId, amount }) => [
    newId(),
    key,
    thingId,
    amount.toString(),
    currency,
    'load share',
    loadId,
    sharingId,
    why,
    person.id,
  ]);
  await transaction.rows(insertEntries.text, rowsTogether(rows));
  transaction.news('stores');
}

const sumEntries = `
  SELECT thing_id AS "thingId", sum(amount_minor)::text AS amount FROM cost_entries
   WHERE thing_id = ANY ($1::uuid[]) GROUP BY thing_id`;
const sumShares = `
  SELECT thing_id AS "thingId", sum(amount_minor)::text AS amount FROM cost_entries
   WHERE load_id = $1 AND kind = 'load share' GROUP BY thing_id`;

interface Sum extends Record<string, unknown> {
  thingId: string;
  amount: string;
}

/** What each of these things cost by its own entries; those of unknown cost are left out. */
export async function entriesOf(reader: Reader, thingIds: readonly string[]): Promise<ReadonlyMap<string, Money>> {
  return sums(await reader.rows<Sum>(sumEntries, [thingIds]));
}

/** The share of a load that each thing bears by what was written; things that never bore one are left out. */
export async function sharesOfLoad(reader: Reader, loadId: string): Promise<ReadonlyMap<string, Money>> {
  return sums(await reader.rows<Sum>(sumShares, [loadId]));
}

function sums(rows: readonly Sum[]): ReadonlyMap<string, Money> {
  return new Map(rows.map(({ thingId, amount }) => [thingId, amount === '0' ? noMoney : (BigInt(amount) as Money)]));
}
