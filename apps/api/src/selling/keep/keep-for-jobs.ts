import type { KeepForJobs, KeptForJobs } from '@corewright/contracts/selling';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { done, invariant, notFound, type Result, refused } from '../../platform/refusal.js';
import { lockOf } from '../../stores/ledger.js';
import { keptById } from './kept.queries.js';

const lockPart = 'SELECT id FROM parts WHERE id = $1 FOR NO KEY UPDATE';
const selectSame = 'SELECT id FROM kept_for_jobs WHERE lifted_at IS NULL AND (part_id = $1 OR thing_id = $2)';
const insert = 'INSERT INTO kept_for_jobs (id, command_key, part_id, thing_id, reason, kept_by) VALUES ($1, $2, $3, $4, $5, $6)';

/** Keeps a part, or one thing, for the workshop's own jobs. A sale holds the same row, so that one of the two comes first. */
export async function keepForJobs(transaction: Transaction, input: KeepForJobs): Promise<Result<KeptForJobs>> {
  const { partId = null, thingId = null } = input;
  const isThere =
    partId === null ? await lockOf(transaction, thingId ?? '') : await transaction.row<{ id: string }>(lockPart, [partId]);
  if (isThere === null) return refused(notFound(partId === null ? 'That thing' : 'That part'));
  if ((await transaction.row(selectSame, [partId, thingId])) !== null)
    return refused({
      status: 409,
      code: 'kept-already',
      title: 'Kept already',
      detail: 'This is kept for own jobs already. Lift that first where there is a better reason. Nothing was changed.',
    });
  transaction.send(insert, [input.id, transaction.command.key, partId, thingId, input.reason, transaction.command.person.id]);
  const kept = await keptById(transaction, input.id);
  invariant(kept, 'what was just kept is there');
  transaction.news(partId === null ? `thing:${thingId}` : `part:${partId}`, 'stores', 'sales');
  return done(kept);
}

const lockKept = `
  SELECT id, part_id AS "partId", thing_id AS "thingId", lifted_at AS "liftedAt" FROM kept_for_jobs WHERE id = $1 FOR UPDATE`;
const lift = 'UPDATE kept_for_jobs SET lifted_at = clock_timestamp(), lifted_by = $2, lifted_why = $3 WHERE id = $1';

interface KeptRow extends Record<string, unknown> {
  partId: string | null;
  thingId: string | null;
  liftedAt: string | null;
}

/** Somebody who keeps the books lifts it, by name and with a reason: it may be sold again. */
export async function liftKeeping(transaction: Transaction, id: string, why: string): Promise<Result<KeptForJobs>> {
  const row = await transaction.row<KeptRow>(lockKept, [id]);
  if (row === null) return refused(notFound('What was kept'));
  if (row.liftedAt !== null)
    return refused({
      status: 409,
      code: 'lifted-already',
      title: 'Lifted already',
      detail: 'Somebody has lifted this already. Nothing was changed.',
    });
  transaction.send(lift, [id, transaction.command.person.id, why]);
  const kept = await keptById(transaction, id);
  invariant(kept, 'what was lifted stays on the record');
  transaction.news(row.partId === null ? `thing:${row.thingId}` : `part:${row.partId}`, 'stores', 'sales');
  return done(kept);
}
