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
  'whole_id uuid',
  'passing_id uuid',
  'why text',
  'person_id uuid',
);

/** What an entry rests on: the sharing of a load, the passing on of what a unit or a box cost, or what somebody says of opening stock. */
type Rests =
  | { kind: 'load share'; loadId: string; sharingId: string }
  | { kind: 'passed on'; wholeId: string; passingId: string }
  | { kind: 'opening stock' };

async function writeEntries(
  transaction: Transaction,
  rests: Rests,
  { currency, why }: { currency: string; why: string },
  entries: readonly CostEntryToWrite[],
): Promise<void> {
  if (entries.length === 0) return;
  const { key, person } = transaction.command;
  const of = columnsOf(rests);
  const rows = entries.map(({ thingId, amount }) => {
    const [kind, loadId, sharingId, wholeId, passingId] = of;
    return [newId(), key, thingId, amount.toString(), currency, kind, loadId, sharingId, wholeId, passingId, why, person.id];
  });
  await transaction.rows(insertEntries.text, rowsTogether(rows));
  transaction.news('stores');
}

function columnsOf(rests: Rests): readonly (string | null)[] {
  if (rests.kind === 'load share') return [rests.kind, rests.loadId, rests.sharingId, null, null];
  if (rests.kind === 'passed on') return [rests.kind, null, null, rests.wholeId, rests.passingId];
  return [rests.kind, null, null, null, null];
}

/** Writes what somebody says later that a thing of opening stock cost, or what that changes: the database refuses what its row does not say. */
export function writeOpeningCost(
  transaction: Transaction,
  said: { currency: string; why: string },
  entry: CostEntryToWrite,
): Promise<void> {
  return writeEntries(transaction, { kind: 'opening stock' }, said, [entry]);
}

/** Writes what the shares of a load changed, all in one statement: the database refuses them unless they come to what was shared. */
export function writeLoadShares(
  transaction: Transaction,
  { loadId, sharingId, ...said }: LoadShares,
  entries: readonly CostEntryToWrite[],
): Promise<void> {
  return writeEntries(transaction, { kind: 'load share', loadId, sharingId }, said, entries);
}

export interface PassedShares {
  wholeId: string;
  passingId: string;
  currency: string;
  why: string;
}

/** Writes what a unit or a box passes on and who bears it, in one statement: the database refuses it unless it comes to nought. */
export function writePassed(
  transaction: Transaction,
  { wholeId, passingId, ...said }: PassedShares,
  entries: readonly CostEntryToWrite[],
): Promise<void> {
  return writeEntries(transaction, { kind: 'passed on', wholeId, passingId }, said, entries);
}

const sumEntries = `
  SELECT thing_id AS "thingId", sum(amount_minor)::text AS amount FROM cost_entries
   WHERE thing_id = ANY ($1::uuid[]) GROUP BY thing_id`;
const sumShares = `
  SELECT thing_id AS "thingId", sum(amount_minor)::text AS amount FROM cost_entries
   WHERE load_id = $1 AND kind = 'load share' GROUP BY thing_id`;

const sumPassed = `
  SELECT thing_id AS "thingId", sum(amount_minor)::text AS amount FROM cost_entries WHERE whole_id = $1 GROUP BY thing_id`;
const sumBorne = `
  SELECT thing_id AS "thingId", sum(amount_minor)::text AS amount FROM cost_entries
   WHERE thing_id = $1 AND whole_id IS DISTINCT FROM thing_id GROUP BY thing_id`;

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

/** What a unit or a box bore before it passed anything on; null where nobody knows. */
export async function boreOf(reader: Reader, wholeId: string): Promise<Money | null> {
  return sums(await reader.rows<Sum>(sumBorne, [wholeId])).get(wholeId) ?? null;
}

/** What each thing bears of a unit or a box by what was written, and what the whole itself gave: below nought. */
export async function passedFrom(reader: Reader, wholeId: string): Promise<ReadonlyMap<string, Money>> {
  return sums(await reader.rows<Sum>(sumPassed, [wholeId]));
}

function sums(rows: readonly Sum[]): ReadonlyMap<string, Money> {
  return new Map(rows.map(({ thingId, amount }) => [thingId, amount === '0' ? noMoney : (BigInt(amount) as Money)]));
}
