import type { LabelCode } from '@corewright/codes/label-code';
import type { SharingWay } from '@corewright/contracts/costs';
import type { Reader } from '../../../platform/database/database.js';
import { scrapId } from '../../ledger.js';
import { codeOf, saidEmpty, thingFacts, thingName, typeName } from '../../place-words.js';

/** A unit or a box, or something that came out of it, with what its share rests on. */
export interface PartRow extends Record<string, unknown> {
  id: string;
  code: LabelCode;
  kind: 'U' | 'L' | 'C' | 'X';
  name: string;
  further: string;
  /** how many came out */
  quantity: string;
  owner: string | null;
  /** nothing of it is anywhere: it was put back, as a mistake */
  putBack: boolean;
  /** all of it was scrapped */
  scrapped: boolean;
  /** a component that is in the unit again */
  backInUnit: boolean;
  saidEmpty: boolean;
  worth: string | null;
  weightKg: string | null;
  typeWeightKg: string | null;
  version: number;
}

/**
 * The whole first, then what came out of it, in the order in which it did. A lot that was fitted and taken out again, or split off,
 * carries part of the cost of the lot that it was, so it is not there twice.
 */
const selectParts = `
  WITH came AS (
    SELECT $1::uuid AS id
    UNION SELECT thing_id FROM lots WHERE donor_unit_id = $1 AND taken_from_lot_id IS NULL
     AND NOT EXISTS (SELECT FROM lot_regroupings WHERE to_lot_id = thing_id AND kind = 'split')
    UNION SELECT thing_id FROM components WHERE unit_id = $1
    UNION SELECT thing_id FROM box_takings WHERE box_id = $1 AND kind = 'named')
  SELECT things.id, ${codeOf('things.id')} AS code, things.kind, ${thingName} AS name,
         CASE things.kind WHEN 'U' THEN ${typeName} ELSE coalesce(main.number, '') END AS further,
         coalesce((SELECT trim_scale(quantity)::text FROM movements WHERE movements.thing_id = things.id ORDER BY sequence LIMIT 1), '1') AS quantity,
         owners.name AS owner,
         NOT EXISTS (SELECT FROM balances WHERE balances.thing_id = things.id AND quantity > 0) AS "putBack",
         coalesce((SELECT bool_and(holder_id = '${scrapId}') FROM balances WHERE balances.thing_id = things.id AND quantity > 0), false) AS scrapped,
         things.kind = 'C' AND EXISTS (SELECT FROM balances WHERE balances.thing_id = things.id AND holder_id = $1 AND quantity > 0) AS "backInUnit",
         ${saidEmpty('things.id')} AS "saidEmpty",
         worth_minor::text AS worth, trim_scale(part_worths.weight_kg)::text AS "weightKg",
         CASE WHEN things.id <> $1 THEN trim_scale(unit_types.weight_kg)::text END AS "typeWeightKg", coalesce(part_worths.version, 1) AS version
    FROM came JOIN things ON things.id = came.id ${thingFacts}
    LEFT JOIN part_worths ON part_worths.whole_id = $1 AND part_worths.thing_id = things.id
    LEFT JOIN parties AS owners ON owners.id = things.owner_id
    LEFT JOIN LATERAL (SELECT number FROM part_numbers WHERE part_numbers.part_id = coalesce(lots.part_id, components.part_id)
                        ORDER BY is_main DESC, part_numbers.id LIMIT 1) AS main ON true
   ORDER BY things.id <> $1, things.created_at, things.id`;

export function partsOfWhole(reader: Reader, wholeId: string): Promise<PartRow[]> {
  return reader.rows<PartRow>(selectParts, [wholeId]);
}

export interface PassingRow extends Record<string, unknown> {
  id: string;
  at: string;
  by: string;
  way: SharingWay;
  cost: string;
  currency: string;
  why: string;
}

export interface PassedChange extends Record<string, unknown> {
  passingId: string;
  rowId: string;
  amount: string;
}

const passingsMax = 50;
const selectPassings = `
  SELECT cost_passings.id, recorded_at AS at, people.display_name AS by, way, bore_minor::text AS cost, currency, why
    FROM cost_passings JOIN people ON people.id = person_id WHERE whole_id = $1 ORDER BY sequence DESC LIMIT ${passingsMax}`;
const selectChanges = `
  SELECT passing_id AS "passingId", thing_id AS "rowId", amount_minor::text AS amount FROM cost_entries
   WHERE passing_id = ANY ($1::uuid[]) ORDER BY sequence`;

/** How the cost of a unit or a box was passed on, newest first, and what each time changed. */
export async function passingsOf(reader: Reader, wholeId: string): Promise<{ passings: PassingRow[]; changes: PassedChange[] }> {
  const passings = await reader.rows<PassingRow>(selectPassings, [wholeId]);
  const changes = await reader.rows<PassedChange>(selectChanges, [passings.map((passing) => passing.id)]);
  return { passings, changes };
}
