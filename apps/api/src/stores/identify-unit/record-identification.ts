import type { KnownType, Reading } from '@corewright/contracts/identify';
import { rankTypes } from '@corewright/identify/rank-types';
import { readingOfMarks } from '@corewright/identify/reading-of-marks';
import { knownTypes } from '../../catalogue/known-types.queries.js';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { newId } from '../../platform/new-id.js';
import { invariant } from '../../platform/refusal.js';

const insertIdentification = `
  INSERT INTO identifications (id, command_key, thing_id, unit_type_id, reading, speaks_for, speaks_against, ruled_out, why, person_id)
  VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10)`;

export interface Identified {
  id: string;
  unitId: string;
  /** null where nobody knows after all */
  type: KnownType | null;
  reading: Reading;
  why: string;
}

/** Writes down what a unit is said to be, by what, and what of it speaks for and against; it stays on the record. */
export async function recordIdentification(
  transaction: Transaction,
  { id, unitId, type, reading, why }: Identified,
): Promise<void> {
  const { key, person } = transaction.command;
  const { speaksFor, speaksAgainst, ruledOut } = standingOf(type, reading);
  await transaction.rows(insertIdentification, [
    id,
    key,
    unitId,
    type?.id ?? null,
    JSON.stringify(reading),
    speaksFor,
    speaksAgainst,
    ruledOut,
    why,
    person.id,
  ]);
}

/** The same for a type that was keyed where nothing is asked, by the marks that stand there. What needs a reason says where it was keyed. */
export async function recordTypeKeyed(
  transaction: Transaction,
  {
    unitId,
    before,
    now,
    marks,
    where,
  }: { unitId: string; before: string | null; now: string | null; marks: string; where: string },
): Promise<void> {
  const type = (await knownTypes(transaction)).find(({ id }) => id === now) ?? null;
  const reading: Reading = { maker: '', castings: [], ratio: null, features: {}, counts: {}, ...readingOfMarks(marks) };
  const needsWhy = before !== null || type === null || standingOf(type, reading).ruledOut;
  await recordIdentification(transaction, { id: newId(), unitId, type, reading, why: needsWhy ? where : '' });
}

/** What was read, as it speaks of the type that is named. */
export function standingOf(
  type: KnownType | null,
  reading: Reading,
): { speaksFor: string[]; speaksAgainst: string[]; ruledOut: boolean } {
  if (type === null) return { speaksFor: [], speaksAgainst: [], ruledOut: false };
  const { candidates, open, ruledOut } = rankTypes([type], reading);
  const [found] = [...ruledOut, ...candidates, ...open];
  invariant(found, 'a type that is ranked is in the ranking');
  return { speaksFor: found.speaksFor, speaksAgainst: found.speaksAgainst, ruledOut: ruledOut.length > 0 };
}
