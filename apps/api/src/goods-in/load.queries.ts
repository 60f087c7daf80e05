import type { LabelCode } from '@corewright/codes/label-code';
import type { Named } from '@corewright/contracts/base';
import type { LoadBrief } from '@corewright/contracts/goods-in';
import type { Transaction } from '../platform/commands/unit-of-work.js';
import type { Reader } from '../platform/database/database.js';
import { cursorOf, placeOf } from '../platform/http/next-page.js';

const brief = `
  loads.id, loads.number, loads.words, parties.name AS seller, loads.bought_on AS "boughtOn",
  (SELECT count(*)::integer FROM load_rows WHERE load_id = loads.id AND NOT struck_out) AS "rowCount",
  (SELECT count(*)::integer FROM load_rows WHERE load_id = loads.id AND NOT struck_out AND NOT EXISTS (
     SELECT 1 FROM codes JOIN label_prints ON label_prints.code = codes.code WHERE codes.subject_id = load_rows.thing_id)) AS unlabelled`;

const selectLoads = `
  SELECT ${brief} FROM loads JOIN parties ON parties.id = seller_id
   WHERE $1::integer IS NULL OR loads.number < $1 ORDER BY loads.number DESC LIMIT $2`;

/** A page of loads, the newest first. */
export async function loadList(
  reader: Reader,
  limit: number,
  cursor?: string,
): Promise<{ loads: LoadBrief[]; cursor: string | null }> {
  const after = placeOf(cursor, ['number'])?.[0] ?? null;
  const rows = await reader.rows<LoadBrief & Record<string, unknown>>(selectLoads, [after, limit + 1]);
  const loads = rows.slice(0, limit);
  const last = loads.at(-1);
  return { loads, cursor: rows.length > limit && last ? cursorOf([last.number]) : null };
}

export interface Load extends LoadBrief {
  version: number;
  sellerId: string;
}

const selectLoad = `
  SELECT ${brief}, loads.version, loads.seller_id AS "sellerId" FROM loads JOIN parties ON parties.id = seller_id WHERE loads.id = $1`;

export function loadById(reader: Reader, id: string): Promise<Load | null> {
  return reader.row<Load & Record<string, unknown>>(selectLoad, [id]);
}

export interface LockedLoad {
  id: string;
  number: number;
  sellerId: string;
}

const lockLoad = `SELECT id, number, seller_id AS "sellerId" FROM loads WHERE id = $1 FOR NO KEY UPDATE`;

/** Rows of one load are written one after another, so that each finds a line of its own. */
export function lockOfLoad(transaction: Transaction, id: string): Promise<LockedLoad | null> {
  return transaction.row<LockedLoad & Record<string, unknown>>(lockLoad, [id]);
}

const selectNames = `
  SELECT thing_id AS "thingId", loads.id, loads.number FROM load_rows JOIN loads ON loads.id = load_id WHERE thing_id = ANY ($1::uuid[])
  UNION ALL
  SELECT box_takings.thing_id, loads.id, loads.number
    FROM box_takings JOIN load_rows ON load_rows.thing_id = box_id JOIN loads ON loads.id = load_id WHERE box_takings.thing_id = ANY ($1::uuid[])`;

/** The load that each of these things came with, in a box of it or by itself. */
export async function loadsOfThings(reader: Reader, thingIds: readonly string[]): Promise<ReadonlyMap<string, Named>> {
  const rows = await reader.rows<{ thingId: string; id: string; number: number }>(selectNames, [thingIds]);
  return new Map(rows.map(({ thingId, id, number }) => [thingId, { id, name: `load ${number}` }]));
}

const selectCodes = `
  SELECT codes.code FROM load_rows
    JOIN LATERAL (SELECT code FROM codes WHERE subject_id = thing_id AND voided_at IS NULL ORDER BY further, given_at DESC, code DESC LIMIT 1) AS codes ON true
   WHERE load_id = $1 AND NOT struck_out ORDER BY position`;
const loadIsThere = 'SELECT 1 AS there FROM loads WHERE id = $1';

/** The live code of each row that stands, in the order of the lines; null where there is no such load. */
export async function codesOfLoad(reader: Reader, loadId: string): Promise<LabelCode[] | null> {
  if (!(await reader.row(loadIsThere, [loadId]))) return null;
  return (await reader.rows<{ code: LabelCode }>(selectCodes, [loadId])).map((row) => row.code);
}
