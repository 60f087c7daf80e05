import { type StoredFacts, storedFacts } from '../catalogue/storage-life.js';
import type { Reader } from '../platform/database/database.js';
import { boundSetOf } from '../stores/kept-sets/kept-set.queries.js';
import { codeOf } from '../stores/place-words.js';

/** A lot that is the same as another by all that the books say, with what is free of it here. */
export interface EqualLot extends StoredFacts {
  id: string;
  code: string;
  free: string;
}

export interface JobOfClaim {
  id: string;
  title: string;
  trayId: string;
}

/** More than a scan would ever need. */
const lotsMax = 8;
/** SQL: free of a thing and here; claims may count on what is at an outworker too. */
const freeHere = 'least(things.held, things.held + things.awaited - things.claimed)';
const selectEqual = `
  SELECT things.id, ${codeOf('things.id')} AS code, ${freeHere} AS free, ${storedFacts}
    FROM lots AS wanted JOIN things AS in_hand ON in_hand.id = wanted.thing_id
    JOIN lots ON lots.part_id = wanted.part_id AND lots.thing_id <> wanted.thing_id
    JOIN things ON things.id = lots.thing_id JOIN parts ON parts.id = lots.part_id
   WHERE wanted.thing_id = $1 AND ($2::uuid[] IS NULL OR things.id = ANY ($2))
     AND things.owner_id IS NOT DISTINCT FROM in_hand.owner_id AND lots.source = wanted.source AND lots.make = wanted.make
     AND lots.maker_id IS NOT DISTINCT FROM wanted.maker_id AND lots.condition = wanted.condition
     AND lots.packet_condition = wanted.packet_condition AND lots.fitted_once = wanted.fitted_once
     AND lots.thickness_mm IS NOT DISTINCT FROM wanted.thickness_mm
     AND things.held_back_reason IS NULL AND NOT things.condemned AND things.missing_since IS NULL
     AND ${boundSetOf('things.id')} IS NULL AND ${freeHere} > 0
   ORDER BY lots.packet_earliest NULLS LAST, things.id LIMIT ${lotsMax}`;
const selectJobs = 'SELECT id, title, tray_id AS "trayId" FROM jobs WHERE id = ANY ($1::uuid[]) ORDER BY id';

/** Lots that are the same as this one and free, the oldest packet first. @param among null: any */
export function equalLots(reader: Reader, thingId: string, among: readonly string[] | null): Promise<EqualLot[]> {
  return reader.rows<EqualLot & Record<string, unknown>>(selectEqual, [thingId, among]);
}

export function jobsOfClaims(reader: Reader, claimantIds: readonly string[]): Promise<JobOfClaim[]> {
  return reader.rows<JobOfClaim & Record<string, unknown>>(selectJobs, [claimantIds]);
}
