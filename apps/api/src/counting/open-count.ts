import type { Coded } from '@corewright/contracts/base';
import type { Transaction } from '../platform/commands/unit-of-work.js';
import type { Reader } from '../platform/database/database.js';
import { done, notFound, type Refusal, type Result, refused } from '../platform/refusal.js';
import { codeOf } from '../stores/place-words.js';

export interface CountRow {
  id: string;
  number: number;
  placeId: string | null;
  partId: string | null;
  partName: string | null;
  begunAt: string;
  endedAt: string | null;
  endedBy: string | null;
}

const columns = `
  SELECT counts.id, number, counts.place_id AS "placeId", part_id AS "partId", parts.name AS "partName", begun_at AS "begunAt", ended_at AS "endedAt",
         (SELECT display_name FROM people WHERE people.id = ended_by) AS "endedBy"
    FROM counts LEFT JOIN parts ON parts.id = part_id`;
/** Many enter at once; whoever decides or ends waits for them, and they for him. */
const lockShared = `${columns} WHERE counts.id = $1 FOR SHARE OF counts`;
const lockAlone = `${columns} WHERE counts.id = $1 FOR NO KEY UPDATE OF counts`;
const selectOne = `${columns} WHERE counts.id = $1`;

export type CountLock = 'shared' | 'alone';

/** Locks a count. Orders, jobs and things come before or after it as they do elsewhere: a count comes before the things that are counted in it. */
export function lockCount(transaction: Transaction, countId: string, lock: CountLock): Promise<CountRow | null> {
  return transaction.row<CountRow & Record<string, unknown>>(lock === 'shared' ? lockShared : lockAlone, [countId]);
}

export function countRow(reader: Reader, countId: string): Promise<CountRow | null> {
  return reader.row<CountRow & Record<string, unknown>>(selectOne, [countId]);
}

/** Locks a count in which something is still to be done. */
export async function lockOpenCount(transaction: Transaction, countId: string, lock: CountLock): Promise<Result<CountRow>> {
  const count = await lockCount(transaction, countId, lock);
  if (count === null) return refused(notFound('This count'));
  return count.endedAt === null ? done(count) : refused(hasEnded(count));
}

function hasEnded({ number, endedAt, endedBy }: CountRow): Refusal {
  return {
    status: 409,
    code: 'count-ended',
    title: `Count ${number} has ended`,
    detail: `${endedBy ?? 'Somebody'} closed it on ${(endedAt ?? '').slice(0, 10)}. What comes now is not in it: begin another count of what is still in doubt. Nothing was changed.`,
  };
}

export interface PlaceCounted extends Coded {
  kind: string;
  path: string;
}

const selectPlace = `
  SELECT holder_id AS id, ${codeOf('holder_id')} AS code, name, path, kind FROM places WHERE holder_id = $1`;

/** A place in which may be counted: one of the stores, or the tray of a job. */
export async function placeToCount(reader: Reader, placeId: string): Promise<Result<PlaceCounted>> {
  const place = await reader.row<PlaceCounted & Record<string, unknown>>(selectPlace, [placeId]);
  return place === null ? refused(notFound('This place')) : done(place);
}

const upward = `
  WITH RECURSIVE up AS (
    SELECT holder_id, parent_id, 0 AS far FROM places WHERE holder_id = $1
    UNION ALL SELECT places.holder_id, places.parent_id, far + 1 FROM places JOIN up ON up.parent_id = places.holder_id)`;
const selectNearest = `
  ${upward} SELECT counts.id FROM counts JOIN up ON up.holder_id = counts.place_id WHERE ended_at IS NULL ORDER BY far LIMIT 1`;
const selectCovers = `${upward} SELECT 1 AS there FROM up WHERE holder_id = $2`;

/** The open count of a place: its own, or the nearest of a place around it; null where nobody counts there. */
export async function openCountAt(reader: Reader, placeId: string): Promise<string | null> {
  return (await reader.row<{ id: string }>(selectNearest, [placeId]))?.id ?? null;
}

/** Locks the count that somebody counts in at a place: the one that they named, or the open one of the place. */
export async function lockCountAt(
  transaction: Transaction,
  place: PlaceCounted,
  named: string | undefined,
  lock: CountLock,
): Promise<Result<CountRow>> {
  const countId = named ?? (await openCountAt(transaction, place.id));
  if (countId === null) return refused(nobodyCounts(place));
  const count = await lockOpenCount(transaction, countId, lock);
  if (!count.ok) return count;
  const { placeId, number } = count.value;
  if (placeId !== null && (await transaction.row(selectCovers, [place.id, placeId])) === null)
    return refused({
      status: 409,
      code: 'place-not-in-count',
      title: `Not a place of count ${number}`,
      detail: `${place.path} does not lie in what count ${number} is of. Choose the mode “count” anew and scan the place: that begins a count of its own. Nothing was counted.`,
    });
  return count;
}

function nobodyCounts({ path }: PlaceCounted): Refusal {
  return {
    status: 409,
    code: 'no-count-here',
    title: 'Nobody counts here',
    detail: `There is no open count of ${path}. Scan the place in the mode “count” first, then what lies there. Nothing was counted.`,
  };
}
