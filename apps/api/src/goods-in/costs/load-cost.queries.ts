import type { LabelCode } from '@corewright/codes/label-code';
import type { CostPart, SharingWay } from '@corewright/contracts/costs';
import type { Money } from '@corewright/quantities/money';
import { oursOf } from '../../people/workshop.js';
import type { Reader } from '../../platform/database/database.js';
import { codeOf, thingFacts, thingName, typeName } from '../../stores/place-words.js';
import { costOfLoad, type Paid } from './what-was-paid.js';

/** What is kept of the cost of a load. */
export interface PaidLoad {
  id: string;
  version: number;
  ours: string;
  paid: Paid;
}

interface PaidColumns extends Record<string, unknown> {
  id: string;
  version: number;
  price: string | null;
  haulage: string | null;
  fees: string | null;
  currency: string | null;
  rate: string;
}

const selectPaid = `
  SELECT id, version, price_minor::text AS price, haulage_minor::text AS haulage, fees_minor::text AS fees, currency, rate FROM loads`;
const paidOfLoad = `${selectPaid} WHERE id = $1`;
const paidOfLoads = `${selectPaid} WHERE id = ANY ($1::uuid[])`;

const moneyOf = (minor: string | null): Money | null => (minor === null ? null : (BigInt(minor) as Money));

export async function paidForLoad(reader: Reader, loadId: string): Promise<PaidLoad | null> {
  const row = await reader.row<PaidColumns>(paidOfLoad, [loadId]);
  return row === null ? null : paidLoad(row, await oursOf(reader));
}

function paidLoad(row: PaidColumns, ours: string): PaidLoad {
  const { id, version, rate } = row;
  const amounts = { price: moneyOf(row.price), haulage: moneyOf(row.haulage), fees: moneyOf(row.fees) };
  return { id, version, ours, paid: { ...amounts, currency: row.currency ?? ours, rate } };
}

/** What nobody knows of the cost of these loads. */
export async function gapsOfLoads(reader: Reader, loadIds: readonly string[]): Promise<ReadonlyMap<string, readonly CostPart[]>> {
  const ours = await oursOf(reader);
  const rows = await reader.rows<PaidColumns>(paidOfLoads, [loadIds]);
  return new Map(rows.map((row) => [row.id, costOfLoad(paidLoad(row, ours).paid, ours).notKnown]));
}

/** A row of a load with what its share rests on. */
export interface RowToBear extends Record<string, unknown> {
  id: string;
  code: LabelCode;
  position: number;
  kind: 'U' | 'L' | 'C' | 'X';
  name: string;
  typeName: string;
  number: string | null;
  referenceId: string | null;
  quantity: string;
  owner: string | null;
  struckOut: boolean;
  worth: string | null;
  weightKg: string | null;
  typeWeightKg: string | null;
  version: number;
}

const selectRows = `
  SELECT load_rows.thing_id AS id, ${codeOf('load_rows.thing_id')} AS code, load_rows.position, things.kind, ${thingName} AS name,
         ${typeName} AS "typeName", main.number, coalesce(units.unit_type_id, lots.part_id) AS "referenceId",
         trim_scale(coalesce((SELECT -quantity FROM balances WHERE balances.thing_id = load_rows.thing_id
                               AND balances.holder_id = loads.seller_id), 0))::text AS quantity,
         owners.name AS owner, struck_out AS "struckOut", worth_minor::text AS worth,
         trim_scale(load_rows.weight_kg)::text AS "weightKg", trim_scale(unit_types.weight_kg)::text AS "typeWeightKg",
         worth_version AS version
    FROM load_rows JOIN loads ON loads.id = load_id JOIN things ON things.id = load_rows.thing_id ${thingFacts}
    LEFT JOIN parties AS owners ON owners.id = things.owner_id
    LEFT JOIN LATERAL (SELECT number FROM part_numbers WHERE part_numbers.part_id = lots.part_id
                        ORDER BY is_main DESC, part_numbers.id LIMIT 1) AS main ON true
   WHERE load_id = $1 ORDER BY load_rows.position`;

/** Every row of a load, struck-out ones too, in the order of their lines. */
export function rowsToBear(reader: Reader, loadId: string): Promise<RowToBear[]> {
  return reader.rows<RowToBear>(selectRows, [loadId]);
}

export interface SharingRow extends Record<string, unknown> {
  id: string;
  at: string;
  by: string;
  way: SharingWay;
  cost: string;
  currency: string;
  notKnown: CostPart[];
  why: string;
}

const sharingsMax = 50;
const selectSharings = `
  SELECT load_sharings.id, recorded_at AS at, people.display_name AS by, way, cost_minor::text AS cost, currency, not_known AS "notKnown", why
    FROM load_sharings JOIN people ON people.id = person_id WHERE load_id = $1 ORDER BY sequence DESC LIMIT ${sharingsMax}`;
const selectChanges = `
  SELECT sharing_id AS "sharingId", thing_id AS "rowId", amount_minor::text AS amount FROM cost_entries
   WHERE sharing_id = ANY ($1::uuid[]) ORDER BY sequence`;

export interface ChangeRow extends Record<string, unknown> {
  sharingId: string;
  rowId: string;
  amount: string;
}

/** How the cost of a load was shared, newest first, and what each time changed. */
export async function sharingsOf(reader: Reader, loadId: string): Promise<{ sharings: SharingRow[]; changes: ChangeRow[] }> {
  const sharings = await reader.rows<SharingRow>(selectSharings, [loadId]);
  const changes = await reader.rows<ChangeRow>(selectChanges, [sharings.map((sharing) => sharing.id)]);
  return { sharings, changes };
}

export interface SaidRow extends Record<string, unknown> {
  words: string;
  quantity: number;
  unitTypeId: string | null;
  partId: string | null;
  referenceName: string;
}

const selectSaid = `
  SELECT load_descriptions.words, quantity, load_descriptions.unit_type_id AS "unitTypeId", load_descriptions.part_id AS "partId",
         coalesce((SELECT concat_ws(' ', makers.name, model, nullif(variant, '')) FROM unit_types JOIN makers ON makers.id = maker_id
                    WHERE unit_types.id = load_descriptions.unit_type_id),
                  (SELECT number FROM part_numbers WHERE part_numbers.part_id = load_descriptions.part_id
                    ORDER BY is_main DESC, id LIMIT 1), '') AS "referenceName"
    FROM load_descriptions WHERE load_id = $1 ORDER BY position`;

/** What the seller said was in it, in the order in which it was said. */
export function saidOf(reader: Reader, loadId: string): Promise<SaidRow[]> {
  return reader.rows<SaidRow>(selectSaid, [loadId]);
}
