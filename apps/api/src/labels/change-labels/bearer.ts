import { formatCode, type LabelKind } from '@corewright/codes/label-code';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import type { Reader } from '../../platform/database/database.js';
import { BeginAgain } from '../../platform/database/database-failure.js';
import { invariant, type Result } from '../../platform/refusal.js';
import { type LiveCode, liveCodeOf } from '../../scanning/label-changes.js';
import { lockOf } from '../../stores/ledger.js';
import { codeOf } from '../../stores/place-words.js';
import { thingRow } from '../../stores/thing.queries.js';

/** What bears a label that can be put on, replaced and taken off. */
export interface Bearer {
  id: string;
  code: string;
  name: string;
  isPlace: boolean;
}

/** The letters of what is labelled and labelled again: things and places, trays among them. */
const kindsBorne = ['U', 'L', 'C', 'X', 'P'] as const satisfies readonly LabelKind[];

const selectPlace = `SELECT holder_id AS id, ${codeOf('holder_id')} AS code, path AS name FROM places WHERE holder_id = $1`;
const lockPlace = 'SELECT holder_id AS id FROM places WHERE holder_id = $1 FOR NO KEY UPDATE';

/** Null for what is neither a thing nor a place. */
export async function bearerOf(reader: Reader, id: string): Promise<Bearer | null> {
  const thing = await thingRow(reader, id);
  if (thing !== null) return { id, code: thing.code, name: thing.name, isPlace: false };
  const place = await reader.row<Omit<Bearer, 'isPlace'> & Record<string, unknown>>(selectPlace, [id]);
  return place === null ? null : { ...place, isPlace: true };
}

/**
 * Locks what bears a live code; whoever changes its labels at the same time waits for the other. Refused where the code is not live.
 * @throws BeginAgain where the code went over to another thing meanwhile
 */
export async function lockBearerOf(transaction: Transaction, text: string): Promise<Result<{ label: LiveCode; bearer: Bearer }>> {
  const seen = await liveCodeOf(transaction, text, kindsBorne);
  if (!seen.ok) return seen;
  if (seen.value.kind === 'P') await transaction.row(lockPlace, [seen.value.subjectId]);
  else await lockOf(transaction, seen.value.subjectId);
  const live = await liveCodeOf(transaction, text, kindsBorne);
  if (!live.ok) return live;
  if (live.value.subjectId !== seen.value.subjectId) throw new BeginAgain();
  const bearer = await bearerOf(transaction, live.value.subjectId);
  invariant(bearer, `${formatCode(live.value.code)} is borne by something`);
  return { ok: true, value: { label: live.value, bearer } };
}

/** Whoever looks at it, prints its label or lists the blank ones sees the change. */
export function tellOfLabel(transaction: Transaction, bearer: Bearer): void {
  transaction.news(`thing:${bearer.id}`, 'stores', 'blank-labels', 'today', 'jobs');
}
