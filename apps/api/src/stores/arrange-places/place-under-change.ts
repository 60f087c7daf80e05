import type { PlaceKind } from '@corewright/contracts/stores';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { whyNotCurrent } from '../../platform/commands/version-seen.js';
import type { Reader } from '../../platform/database/database.js';
import { notFound, type Result, refused } from '../../platform/refusal.js';
import type { Around, Arranged } from './decide-place.js';

const lock = `
  SELECT holder_id AS id, name, path, kind, parent_id AS "parentId", closed_at IS NOT NULL AS "isClosed", version
    FROM places WHERE holder_id = $1 FOR NO KEY UPDATE`;

/**
 * Locks a place that is to be changed; refused where somebody changed it since it was seen.
 * @param isFact somebody has done it already, as with a scan: the version counts where one was seen
 */
export async function lockPlace(transaction: Transaction, placeId: string, { isFact = false } = {}): Promise<Result<Arranged>> {
  const place = await transaction.row<Arranged & { version: number } & Record<string, unknown>>(lock, [placeId]);
  if (place === null) return refused(notFound('That place'));
  const stale = isFact && transaction.command.versionSeen === null ? null : whyNotCurrent(transaction.command, place);
  return stale === null ? { ok: true, value: place } : refused(stale);
}

const selectAround = `
  WITH RECURSIVE up AS (
    SELECT holder_id, parent_id FROM places WHERE holder_id = $1
    UNION SELECT places.holder_id, places.parent_id FROM places JOIN up ON places.holder_id = up.parent_id)
  SELECT holder_id AS id, path, kind, closed_at IS NOT NULL AS "isClosed", EXISTS (SELECT FROM up WHERE up.holder_id = $2) AS "isInside"
    FROM places WHERE holder_id = $1`;

/** The place that is to hold another; null where it is not in the books. */
export function aroundOf(reader: Reader, aroundId: string, placeId: string): Promise<Around | null> {
  return reader.row<Around & Record<string, unknown>>(selectAround, [aroundId, placeId]);
}

const namesake = `
  SELECT 1 AS there FROM places WHERE parent_id IS NOT DISTINCT FROM $1::uuid AND lower(name) = lower($2) AND holder_id <> $3`;

/** Whether another place beside it is called so. */
export async function isNameTaken(reader: Reader, parentId: string | null, name: string, placeId: string): Promise<boolean> {
  return (await reader.row(namesake, [parentId, name, placeId])) !== null;
}

const inside = 'SELECT name, kind FROM places WHERE parent_id = $1 ORDER BY name COLLATE "C"';

export function placesInside(reader: Reader, placeId: string): Promise<{ name: string; kind: PlaceKind }[]> {
  return reader.rows<{ name: string; kind: PlaceKind }>(inside, [placeId]);
}
