import type { UnitOfMeasure } from '@corewright/quantities/unit-of-measure';
import { type LineForScan, linesOfIds, type ScannedThing, thingsOfIds } from '../bench/scan-facts.js';
import { type Server, serversOf } from '../catalogue/relations/served-by.js';
import { type SubstituteOfLine, substitutesOfJobs } from '../jobs/accept-substitute/substitute.queries.js';
import type { Reader } from '../platform/database/database.js';
import { takersOfSet } from '../stores/kept-sets/kept-set.queries.js';
import { type LockedThing, locksOf } from '../stores/ledger.js';

/** A line with what it has so far, what it has reserved on order included. */
export interface LineToServe extends LineForScan {
  expected: string;
}

/** A thing whose row is locked, with what is known of it and who else has a part of its kept set. */
export interface LockedGoods {
  thing: ScannedThing;
  locked: LockedThing;
  setTakenBy: readonly string[];
}

/** An order whose row is locked. */
export interface LockedOrder {
  id: string;
  orderReference: string;
  supplier: string;
  partId: string;
  partName: string;
  unitOfMeasure: UnitOfMeasure;
  outstanding: string;
  claimed: string;
  calledOff: boolean;
  forJobId: string | null;
}

/** What may serve in place of what the lines ask for. */
export interface Serving {
  servers: ReadonlyMap<string, readonly Server[]>;
  substitutes: readonly SubstituteOfLine[];
}

const expectedOf = `
  SELECT purpose_id AS "lineId", sum(quantity) AS quantity FROM expected_claims
   WHERE purpose_id = ANY ($1::uuid[]) AND quantity > 0 GROUP BY purpose_id`;
const lockRows = `
  SELECT receipts.id, order_reference AS "orderReference", parties.name AS supplier, part_id AS "partId", parts.name AS "partName",
         unit_of_measure AS "unitOfMeasure", quantity - quantity_received AS outstanding, claimed, called_off AS "calledOff",
         for_job_id AS "forJobId"
    FROM expected_receipts AS receipts JOIN parties ON parties.id = supplier_id JOIN parts ON parts.id = part_id
   WHERE receipts.id = ANY ($1::uuid[]) ORDER BY receipts.id FOR NO KEY UPDATE OF receipts`;

/** Locks orders, which come before jobs and things. */
export async function lockOrders(transaction: Reader, ids: readonly string[]): Promise<LockedOrder[]> {
  return ids.length === 0 ? [] : transaction.rows<LockedOrder & Record<string, unknown>>(lockRows, [ids]);
}

/** Locks things in the order of their ids, and reads them. */
export async function lockGoods(transaction: Reader, ids: readonly string[], forJobId: string): Promise<LockedGoods[]> {
  if (ids.length === 0) return [];
  const [locked, things] = await Promise.all([locksOf(transaction, ids), thingsOfIds(transaction, ids)]);
  const goods: LockedGoods[] = [];
  for (const thing of things) {
    const row = locked.find(({ id }) => id === thing.id);
    if (row === undefined) continue;
    const takers = thing.keptSetId === null ? [] : await takersOfSet(transaction, thing.keptSetId);
    goods.push({ thing, locked: row, setTakenBy: takers.filter((taker) => taker !== forJobId) });
  }
  return goods;
}

/** Lines of a job, which is locked. */
export async function linesToServe(reader: Reader, jobId: string, lineIds: readonly string[]): Promise<LineToServe[]> {
  if (lineIds.length === 0) return [];
  const [lines, expected] = await Promise.all([
    linesOfIds(reader, jobId, lineIds),
    reader.rows<{ lineId: string; quantity: string }>(expectedOf, [lineIds]),
  ]);
  return lines.map((line) => ({ ...line, expected: expected.find(({ lineId }) => lineId === line.id)?.quantity ?? '0' }));
}

/** Looked up only where some part is not the very one that its line asks for. */
export async function servingOf(
  reader: Reader,
  jobId: string,
  lines: readonly LineToServe[],
  pairs: readonly { lineId: string | null; partId: string | null }[],
): Promise<Serving> {
  const others = lines.filter((line) => pairs.some(({ lineId, partId }) => lineId === line.id && partId !== line.partId));
  if (others.length === 0) return { servers: new Map(), substitutes: [] };
  const [servers, substitutes] = await Promise.all([
    serversOf(
      reader,
      others.map((line) => line.partId),
    ),
    substitutesOfJobs(reader, [jobId]),
  ]);
  return { servers, substitutes };
}
