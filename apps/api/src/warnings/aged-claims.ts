import { type StoredFacts, storageLifeOf, storedFacts } from '../catalogue/storage-life.js';
import type { Reader } from '../platform/database/database.js';
import { listed } from '../platform/database/listed.js';

/** Something set aside for a job whose storage life has ended since. */
export interface AgedClaim {
  jobId: string;
  lineId: string | null;
  thingId: string;
  code: string;
  name: string;
  reasons: string;
}

interface Row extends StoredFacts, Record<string, unknown> {
  jobId: string;
  lineId: string | null;
  thingId: string;
  code: string;
  name: string;
  claimedAt: string;
}

const readClaims = `
  SELECT claimant_id AS "jobId", purpose_id AS "lineId", things.id AS "thingId", codes.code, coalesce(parts.name, nullif(lots.words, ''), 'part') AS name,
         claims.made_at AS "claimedAt", ${storedFacts}
    FROM claims JOIN things ON things.id = claims.thing_id JOIN codes ON codes.subject_id = things.id AND codes.voided_at IS NULL AND NOT codes.further
    JOIN lots ON lots.thing_id = things.id LEFT JOIN parts ON parts.id = lots.part_id
   WHERE claimant_id = ANY (${listed('$1')}) AND claims.quantity > 0 ORDER BY codes.code`;

/**
 * What is set aside for these jobs and was still good when it was set aside: what had aged before was let through by somebody, over their name.
 */
export async function agedClaimsOf(reader: Reader, jobIds: readonly string[], today: string): Promise<AgedClaim[]> {
  if (jobIds.length === 0) return [];
  const rows = await reader.rows<Row>(readClaims, [jobIds]);
  return rows.flatMap((row) => {
    const { jobId, lineId, thingId, code, name, claimedAt } = row;
    const life = storageLifeOf(row, today);
    if (!life.stopsFitting || storageLifeOf(row, claimedAt.slice(0, 10)).stopsFitting) return [];
    return [{ jobId, lineId, thingId, code, name, reasons: life.reasons.join(' ') }];
  });
}
