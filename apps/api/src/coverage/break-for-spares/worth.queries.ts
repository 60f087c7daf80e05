import type { PartNamed } from '@corewright/contracts/relations';
import type { Reader } from '../../platform/database/database.js';
import { type Paid, paidFor } from './weigh-core.js';

export interface ComponentOfType extends Record<string, unknown> {
  typeId: string;
  position: number;
  eachHas: string;
  part: PartNamed;
}

const selectComponents = `
  SELECT unit_type_id AS "typeId", position, unit_type_components.quantity::text AS "eachHas",
         json_build_object('id', parts.id, 'name', parts.name, 'number', coalesce(main.number, ''), 'maker', coalesce(makers.name, '')) AS part
    FROM unit_type_components JOIN parts ON parts.id = unit_type_components.part_id
    LEFT JOIN part_numbers AS main ON main.part_id = parts.id AND main.is_main LEFT JOIN makers ON makers.id = main.maker_id
   WHERE unit_type_id = ANY ($1::uuid[]) AND unit_type_components.part_id = ANY ($2::uuid[]) ORDER BY unit_type_id, position`;

/** The components of these types that are one of these parts. */
export function componentsThatAre(
  reader: Reader,
  typeIds: readonly string[],
  partIds: readonly string[],
): Promise<ComponentOfType[]> {
  return reader.rows<ComponentOfType>(selectComponents, [typeIds, partIds]);
}

/** What a thing cost when it came with its load, and how many of it came: what the seller gave is what is missing there. */
const boughtThings = (facts: string, key: string, wanted: string) => `
  SELECT DISTINCT ON (${key}) ${key}, sum(amount_minor)::text AS amount,
         (SELECT trim_scale(-sum(quantity))::text FROM balances JOIN holders ON holders.id = holder_id AND holders.kind = 'supplier' WHERE balances.thing_id = things.id) AS quantity
    FROM ${facts} JOIN things ON things.id = bought.thing_id JOIN cost_entries ON cost_entries.thing_id = things.id
    JOIN load_rows ON load_rows.thing_id = things.id AND NOT struck_out JOIN loads ON loads.id = load_rows.load_id
   WHERE owner_id IS NULL AND ${wanted}
   GROUP BY things.id, ${key}, loads.id
   ORDER BY ${key}, loads.bought_on DESC, loads.number DESC, things.id`;
const lastLots = boughtThings('lots AS bought', 'bought.part_id', 'bought.part_id = ANY ($1::uuid[])');
const lastUnits = boughtThings('units AS bought', 'bought.unit_type_id, bought.grade', 'bought.unit_type_id = ANY ($1::uuid[])');

interface PaidRow extends Record<string, unknown> {
  amount: string;
  quantity: string | null;
}

const known = ({ quantity }: PaidRow) => quantity !== null && Number(quantity) > 0;

/** What was last paid for each of these parts; those of which nobody knows are left out. */
export async function lastPaidForParts(reader: Reader, partIds: readonly string[]): Promise<ReadonlyMap<string, Paid>> {
  const rows = await reader.rows<PaidRow & { part_id: string }>(lastLots, [partIds]);
  return new Map(rows.filter(known).map(({ part_id, amount, quantity }) => [part_id, paidFor(amount, quantity ?? '0')]));
}

/** What was last paid for a unit of each of these types, by type and grade. */
export async function lastPaidForUnits(reader: Reader, typeIds: readonly string[]): Promise<ReadonlyMap<string, Paid>> {
  const rows = await reader.rows<PaidRow & { unit_type_id: string; grade: string }>(lastUnits, [typeIds]);
  return new Map(
    rows.filter(known).map((row) => [typeAndGrade(row.unit_type_id, row.grade), paidFor(row.amount, row.quantity ?? '0')]),
  );
}

export function typeAndGrade(typeId: string, grade: string): string {
  return `${typeId} ${grade}`;
}
