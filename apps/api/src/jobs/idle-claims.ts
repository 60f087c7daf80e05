import type { Reader } from '../platform/database/database.js';

/** A claim of a job, and how much of it does not lie in the job's tray. */
export interface IdleClaim {
  id: string;
  thingId: string;
  lineId: string | null;
  idle: string;
  until: string | null;
  madeById: string | null;
}

/** SQL: how much of a claim of `ranked` does not lie in the tray of its job: what lies there is what was claimed first. */
export const idlePart = 'least(ranked.quantity, greatest(ranked.upto - ranked.in_tray, 0))';

/** SQL: claims on things, `ranked`, each with what the job claimed of the thing up to it and what lies in the job's tray. */
export function rankedClaims(where: string): string {
  return `(
    SELECT claims.*, sum(claims.quantity) OVER (PARTITION BY claims.thing_id, claimant_id ORDER BY claims.made_at, claims.id) AS upto,
           coalesce(balances.quantity, 0) AS in_tray
      FROM claims JOIN jobs ON jobs.id = claimant_id
      LEFT JOIN balances ON balances.thing_id = claims.thing_id AND balances.holder_id = jobs.tray_id
     WHERE ${where} AND claims.quantity > 0) AS ranked`;
}

const selectIdle = `
  SELECT id, thing_id AS "thingId", purpose_id AS "lineId", ${idlePart} AS idle, until, made_by AS "madeById"
    FROM ${rankedClaims('claimant_id = $1')} WHERE ${idlePart} > 0 ORDER BY made_at, id`;

/** What a job has reserved of things that do not lie in its tray, the oldest first. */
export function idleClaimsOf(reader: Reader, jobId: string): Promise<IdleClaim[]> {
  return reader.rows<IdleClaim & Record<string, unknown>>(selectIdle, [jobId]);
}
