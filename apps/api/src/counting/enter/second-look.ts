import type { Transaction } from '../../platform/commands/unit-of-work.js';
import type { Refusal } from '../../platform/refusal.js';

/** What was entered at a place of a thing before, and whether a second look was asked for. */
export interface Before {
  /** oldest first, without those that were struck out */
  entries: { personId: string; quantity: string | null; asked: string; recordedAt: string }[];
  closers: { personId: string; recordedAt: string }[];
  /** when a second look was asked for; null where the last decision is another */
  againAt: string | null;
}

const selectEntries = `
  SELECT person_id AS "personId", quantity, asked, recorded_at AS "recordedAt" FROM count_entries
   WHERE count_id = $1 AND place_id = $2 AND thing_id = $3 AND NOT EXISTS (SELECT FROM count_entry_strikes WHERE entry_id = count_entries.id)
   ORDER BY occurred_at, sequence`;
const selectClosers = `
  SELECT person_id AS "personId", recorded_at AS "recordedAt" FROM count_closings WHERE count_id = $1 AND place_id = $2 ORDER BY sequence`;
const selectLast = `
  SELECT decision, decided_at AS "decidedAt" FROM count_decisions WHERE count_id = $1 AND place_id = $2 AND thing_id = $3 ORDER BY turn DESC LIMIT 1`;

export async function readBefore(transaction: Transaction, countId: string, placeId: string, thingId: string): Promise<Before> {
  const [entries, closers, last] = await Promise.all([
    transaction.rows<Before['entries'][number] & Record<string, unknown>>(selectEntries, [countId, placeId, thingId]),
    transaction.rows<Before['closers'][number] & Record<string, unknown>>(selectClosers, [countId, placeId]),
    transaction.row<{ decision: string; decidedAt: string }>(selectLast, [countId, placeId, thingId]),
  ]);
  return { entries, closers, againAt: last?.decision === 'again' ? last.decidedAt : null };
}

const otherHands = "SELECT 1 AS there FROM people WHERE active AND role IN ('owner', 'stores', 'bench') AND id <> $1 LIMIT 1";

/**
 * A second look is another person's: whoever looked first sees what they saw. Where nobody else works there, it is the same person's.
 * @returns null where this person may look
 */
export async function whyAnotherIsAsked(
  transaction: Transaction,
  { entries, closers, againAt }: Before,
): Promise<Refusal | null> {
  if (againAt === null) return null;
  const { person } = transaction.command;
  const isAnswered = entries.some(({ recordedAt, personId }) => recordedAt > againAt && personId !== person.id);
  if (isAnswered) return null;
  const first = [...entries, ...closers].filter(({ recordedAt }) => recordedAt <= againAt);
  const hasLooked = first.some(({ personId }) => personId === person.id);
  if (!hasLooked || (await transaction.row(otherHands, [person.id])) === null) return null;
  return {
    status: 409,
    code: 'another-is-asked',
    title: 'Another person looks again',
    detail:
      'You have counted this here before, and a second look was asked for. Let somebody else count it. Nothing was counted.',
  };
}
