import type { Coded, Named, UnitOfMeasure } from '@corewright/contracts/base';
import type { PartNamed } from '@corewright/contracts/relations';
import type * as z from 'zod';
import { isConsumable } from '../../catalogue/consumable-part.js';
import type { Reader } from '../../platform/database/database.js';
import { codeOf } from '../../stores/place-words.js';

export interface TypeFacts {
  unitType: z.infer<typeof Named>;
  /** ours, here, whole, and on no job */
  cores: number;
}

/**
 * SQL: a unit is a free core where it is ours and here, may be used, was neither stripped nor rebuilt, is promised to nobody and was on no job that was
 * not called off. Needs `units` and `things`.
 */
const isFreeCore = `
  owner_id IS NULL AND held_back_reason IS NULL AND NOT condemned AND missing_since IS NULL AND held > claimed AND stage = 'core'
  AND NOT EXISTS (SELECT 1 FROM jobs WHERE jobs.unit_id = units.thing_id AND jobs.state <> 'called off')`;
const freeCores = `
  SELECT unit_type_id, count(*)::integer AS cores FROM units JOIN things ON things.id = thing_id WHERE ${isFreeCore} GROUP BY unit_type_id`;

const selectTypes = `
  SELECT unit_types.id, concat_ws(' ', makers.name, model, nullif(variant, '')) AS name, coalesce(free.cores, 0) AS cores
    FROM unit_types JOIN makers ON makers.id = maker_id LEFT JOIN (${freeCores}) AS free ON free.unit_type_id = unit_types.id
   WHERE EXISTS (SELECT 1 FROM unit_type_lines WHERE unit_type_id = unit_types.id)
     AND CASE WHEN $1::uuid[] = '{}' THEN free.cores > 0 ELSE unit_types.id = ANY ($1::uuid[]) END
   ORDER BY name, unit_types.id LIMIT $2`;

/** The types that are asked for, or all that have a free core; those without a parts list are left out. */
export async function typesToBuild(reader: Reader, typeIds: readonly string[], most: number): Promise<TypeFacts[]> {
  const rows = await reader.rows<{ id: string; name: string; cores: number }>(selectTypes, [typeIds, most]);
  return rows.map(({ id, name, cores }) => ({ unitType: { id, name }, cores }));
}

export interface LineOfType extends Record<string, unknown> {
  typeId: string;
  part: PartNamed;
  unitOfMeasure: UnitOfMeasure;
  quantity: string;
  critical: boolean;
  reusable: boolean;
}

const selectLines = `
  SELECT unit_type_id AS "typeId", quantity::text, critical, reusable, unit_of_measure AS "unitOfMeasure",
         json_build_object('id', parts.id, 'name', parts.name, 'number', coalesce(main.number, ''), 'maker', coalesce(makers.name, '')) AS part
    FROM unit_type_lines JOIN parts ON parts.id = part_id
    LEFT JOIN part_numbers AS main ON main.part_id = parts.id AND main.is_main LEFT JOIN makers ON makers.id = main.maker_id
   WHERE unit_type_id = ANY ($1::uuid[]) AND NOT ${isConsumable('unit_type_lines.part_id')} ORDER BY unit_type_id, line_no`;

export function linesOfTypes(reader: Reader, typeIds: readonly string[]): Promise<LineOfType[]> {
  return reader.rows<LineOfType>(selectLines, [typeIds]);
}

/** A component by which a core can fill lines, and how many of it the core has. */
export interface GivingComponent extends Record<string, unknown> {
  typeId: string;
  typeName: string;
  position: number;
  partId: string;
  eachHas: number;
}

/** Rubber is left out: what comes out of a unit has no date, and counts as past its life. */
const selectGiving = `
  SELECT unit_types.id AS "typeId", concat_ws(' ', makers.name, model, nullif(variant, '')) AS "typeName", position, part_id AS "partId",
         floor(unit_type_components.quantity)::integer AS "eachHas"
    FROM unit_type_components JOIN unit_types ON unit_types.id = unit_type_id JOIN makers ON makers.id = maker_id JOIN parts ON parts.id = part_id
   WHERE part_id = ANY ($1::uuid[]) AND material <> 'rubber' AND unit_type_components.quantity >= 1 ORDER BY unit_type_id, position`;

export function givingComponents(reader: Reader, partIds: readonly string[]): Promise<GivingComponent[]> {
  return reader.rows<GivingComponent>(selectGiving, [partIds]);
}

export interface WholeCore extends Record<string, unknown> {
  typeId: string;
  unit: z.infer<typeof Coded>;
}

const isWhole = `
  NOT EXISTS (SELECT FROM components WHERE components.unit_id = units.thing_id)
  AND NOT EXISTS (SELECT FROM lots WHERE donor_unit_id = units.thing_id)`;
const unitCoded = `json_build_object('id', things.id, 'code', ${codeOf('things.id')}, 'name', coalesce(nullif(words, ''), 'Core'))`;

/** Free cores from which nothing was taken, of each type so many at the most, those that are longest in the books first. */
const selectWhole = `
  SELECT core.* FROM unnest($1::uuid[]) AS wanted (id) CROSS JOIN LATERAL (
    SELECT unit_type_id AS "typeId", ${unitCoded} AS unit
      FROM units JOIN things ON things.id = thing_id
     WHERE unit_type_id = wanted.id AND ${isFreeCore} AND ${isWhole} AND units.thing_id <> ALL ($3::uuid[])
     ORDER BY things.created_at, things.id LIMIT $2) AS core`;

/** @param without cores that are left out */
export function wholeCores(
  reader: Reader,
  typeIds: readonly string[],
  most: number,
  without: readonly string[] = [],
): Promise<WholeCore[]> {
  return reader.rows<WholeCore>(selectWhole, [typeIds, most, without]);
}

export interface CoreToBreak extends Record<string, unknown> {
  /** null where nobody has identified it */
  typeId: string | null;
  unit: z.infer<typeof Coded>;
  isFree: boolean;
  isWhole: boolean;
}

const selectCores = `
  SELECT unit_type_id AS "typeId", ${unitCoded} AS unit, ${isFreeCore} AS "isFree", ${isWhole} AS "isWhole"
    FROM units JOIN things ON things.id = thing_id WHERE units.thing_id = ANY ($1::uuid[])`;

/** These cores, and whether they may be thought of as broken. */
export function coresToBreak(reader: Reader, unitIds: readonly string[]): Promise<CoreToBreak[]> {
  return reader.rows<CoreToBreak>(selectCores, [unitIds]);
}
