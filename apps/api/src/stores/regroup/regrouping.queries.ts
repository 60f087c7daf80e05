import type { LotPutRight, RegroupingShown, Regroupings } from '@corewright/contracts/regrouping';
import type { Reader } from '../../platform/database/database.js';
import { thingRows } from '../thing.queries.js';

interface Row extends Record<string, unknown> {
  id: string;
  kind: 'split' | 'merged';
  fromId: string;
  toId: string;
  quantity: string;
  why: string;
  by: string;
  at: string;
}

/** Of several places there is a row each: they are one act. */
const selectRegroupings = `
  SELECT min(lot_regroupings.id::text) AS id, kind, from_lot_id AS "fromId", to_lot_id AS "toId", trim_scale(sum(quantity))::text AS quantity, why,
         people.display_name AS by, min(recorded_at) AS at
    FROM lot_regroupings JOIN people ON people.id = person_id
   WHERE from_lot_id = $1 OR to_lot_id = $1
   GROUP BY command_key, kind, from_lot_id, to_lot_id, why, people.display_name ORDER BY max(sequence) DESC`;
const selectCorrections = `
  SELECT lot_corrections.id, words, why, people.display_name AS by, recorded_at AS at
    FROM lot_corrections JOIN people ON people.id = person_id WHERE lot_id = $1 ORDER BY recorded_at DESC, lot_corrections.id`;
const selectPartOf = 'SELECT merged_into_id AS id FROM things WHERE id = $1';
const selectMergedIn = `
  WITH RECURSIVE part AS (
    SELECT id FROM things WHERE merged_into_id = $1
    UNION SELECT things.id FROM things JOIN part ON merged_into_id = part.id)
  SELECT id FROM part ORDER BY id`;

/** What was split off a lot or became part of it, and what it is part of; null where there is no such thing. */
export async function regroupingsOf(reader: Reader, lotId: string): Promise<Regroupings | null> {
  const thing = await reader.row<{ id: string | null }>(selectPartOf, [lotId]);
  if (thing === null) return null;
  const rows = await reader.rows<Row>(selectRegroupings, [lotId]);
  const ids = [...rows.flatMap(({ fromId, toId }) => [fromId, toId]), ...(thing.id === null ? [] : [thing.id])];
  const lots = new Map((await thingRows(reader, [...new Set(ids)])).map(({ id, code, name }) => [id, { id, code, name }]));
  const changes = rows.flatMap(({ fromId, toId, ...row }): RegroupingShown[] => {
    const [from, to] = [lots.get(fromId), lots.get(toId)];
    return from === undefined || to === undefined ? [] : [{ ...row, from, to }];
  });
  return {
    partOf: thing.id === null ? null : (lots.get(thing.id) ?? null),
    wasSplitOff: rows.some(({ kind, toId }) => kind === 'split' && toId === lotId),
    changes,
    putRight: await reader.rows<LotPutRight & Record<string, unknown>>(selectCorrections, [lotId]),
  };
}

/** The lots that became part of this one, and those that had become part of them. */
export async function mergedInto(reader: Reader, lotId: string): Promise<string[]> {
  return (await reader.rows<{ id: string }>(selectMergedIn, [lotId])).map(({ id }) => id);
}
