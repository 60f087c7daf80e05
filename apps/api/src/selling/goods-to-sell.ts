import type { Coded } from '@corewright/contracts/base';
import type { KeptForJobs } from '@corewright/contracts/selling';
import { type ScannedThing, thingsOfIds } from '../bench/scan-facts.js';
import { openJobsOn } from '../jobs/job.queries.js';
import type { Reader } from '../platform/database/database.js';
import { type Balance, type Claim, claimsOn, type LockedThing, locksOf, thingsAsTheyAre, whereIs } from '../stores/ledger.js';
import { codeOf, thingFacts, thingName } from '../stores/place-words.js';
import { holdingsOf } from '../stores/thing.queries.js';
import { keptOf } from './keep/kept.queries.js';

/** So many of a thing, as they were keyed. */
export interface AskedFor {
  thingId: string;
  quantity: string;
}

/** A job that has claimed some of a thing. */
export interface ClaimingJob extends Coded {
  trayId: string;
  /** what its customer was told last */
  dateGiven: string | null;
}

/** All that a sale of a thing rests on. */
export interface Goods {
  thing: ScannedThing;
  locked: LockedThing;
  balances: readonly Balance[];
  /** where it is, in words */
  holdings: readonly { holderKind: string; words: string }[];
  claims: readonly Claim[];
  claimants: readonly ClaimingJob[];
  /** the others that are bound in the same set */
  boundWith: readonly Coded[];
  kept: readonly KeptForJobs[];
  /** the open job on the unit that it is */
  job: Coded | null;
}

const selectClaimants = `
  SELECT jobs.id, ${codeOf('jobs.id')} AS code, title AS name, tray_id AS "trayId",
         (SELECT given FROM dates_given WHERE job_id = jobs.id ORDER BY recorded_at DESC LIMIT 1) AS "dateGiven"
    FROM jobs WHERE id = ANY ($1::uuid[]) ORDER BY id`;
const selectBound = `
  SELECT other.thing_id AS id, ${codeOf('other.thing_id')} AS code, ${thingName} AS name
    FROM kept_set_members AS this JOIN kept_set_members AS other ON other.set_id = this.set_id AND other.bound
    JOIN things ON things.id = other.thing_id ${thingFacts}
   WHERE this.thing_id = $1 AND this.bound AND other.thing_id <> this.thing_id ORDER BY other.thing_id`;
const selectClaiming = `
  SELECT DISTINCT claimant_id AS id FROM claims JOIN jobs ON jobs.id = claimant_id
   WHERE thing_id = ANY ($1::uuid[]) AND claims.quantity > 0 ORDER BY claimant_id`;

/** The jobs that have claimed any of these things, in the order of their ids. */
export async function jobsClaiming(reader: Reader, thingIds: readonly string[]): Promise<string[]> {
  return (await reader.rows<{ id: string }>(selectClaiming, [thingIds])).map(({ id }) => id);
}

/**
 * Reads what is to be sold, in the order in which it was asked for; what is not in the books is left out.
 * @param isLocked whether the rows of the things are locked first, in the order of their ids
 */
export async function goodsToSell(reader: Reader, ids: readonly string[], isLocked: boolean): Promise<Goods[]> {
  const sorted = ids.toSorted();
  const [locked, things] = await Promise.all([
    isLocked ? locksOf(reader, sorted) : thingsAsTheyAre(reader, sorted),
    thingsOfIds(reader, sorted),
  ]);
  const jobs = await openJobsOn(reader, sorted);
  const goods: Goods[] = [];
  for (const id of ids) {
    const thing = things.find((each) => each.id === id);
    const row = locked.find((each) => each.id === id);
    if (thing === undefined || row === undefined) continue;
    const [balances, holdings, claims, boundWith, kept] = await Promise.all([
      whereIs(reader, id),
      holdingsOf(reader, id),
      claimsOn(reader, id),
      thing.keptSetId === null ? [] : reader.rows<Coded & Record<string, unknown>>(selectBound, [id]),
      keptOf(reader, { thingId: id, partId: thing.partId }),
    ]);
    const claimants = await claimantsOf(reader, claims);
    goods.push({ thing, locked: row, balances, holdings, claims, claimants, boundWith, kept, job: jobs.get(id) ?? null });
  }
  return goods;
}

function claimantsOf(reader: Reader, claims: readonly Claim[]): Promise<ClaimingJob[]> | ClaimingJob[] {
  if (claims.length === 0) return [];
  return reader.rows<ClaimingJob & Record<string, unknown>>(selectClaimants, [claims.map(({ claimantId }) => claimantId)]);
}
