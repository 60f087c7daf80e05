import type { Reader } from '../../platform/database/database.js';

/** So much a job, in minor units as text; null where a charge has ended. */
export interface FlatCharge {
  id: string;
  partId: string;
  unitTypeId: string | null;
  unitTypeName: string;
  amountMinor: string | null;
  currency: string;
  from: string;
}

const columns = `
  flat.id, flat.part_id AS "partId", flat.unit_type_id AS "unitTypeId",
  coalesce(concat_ws(' ', makers.name, model, nullif(variant, '')), '') AS "unitTypeName", amount_minor::text AS "amountMinor", flat.currency, for_jobs_from AS from`;
const joins = 'LEFT JOIN unit_types ON unit_types.id = flat.unit_type_id LEFT JOIN makers ON makers.id = unit_types.maker_id';

const selectStanding = `
  SELECT ${columns} FROM (
    SELECT DISTINCT ON (part_id, unit_type_id) * FROM consumable_flat_charges WHERE part_id = ANY ($1::uuid[])
     ORDER BY part_id, unit_type_id, sequence DESC) AS flat ${joins}
   WHERE amount_minor IS NOT NULL ORDER BY "unitTypeName", flat.id`;

/** What a new job is charged by rule, as it was said last of each unit type. */
export function standingFlatCharges(reader: Reader, partIds: readonly string[]): Promise<FlatCharge[]> {
  return reader.rows<FlatCharge & Record<string, unknown>>(selectStanding, [partIds]);
}

// The newest that is for jobs of that day; what is said of the type goes before what is said of all, and one that has ended is none.
const selectOfJob = `
  SELECT DISTINCT ON (flat.part_id) ${columns}, parts.name FROM (
    SELECT DISTINCT ON (part_id, unit_type_id) consumable_flat_charges.* FROM consumable_flat_charges JOIN jobs ON jobs.id = $1
      JOIN units ON units.thing_id = jobs.unit_id
     WHERE for_jobs_from <= opened_on AND jobs.state <> 'called off'
       AND (consumable_flat_charges.unit_type_id IS NULL OR consumable_flat_charges.unit_type_id = units.unit_type_id)
     ORDER BY part_id, consumable_flat_charges.unit_type_id, sequence DESC) AS flat ${joins} JOIN parts ON parts.id = flat.part_id
   WHERE amount_minor IS NOT NULL ORDER BY flat.part_id, flat.unit_type_id NULLS LAST`;

/** What a job is charged by rule: one row for each consumable at most. */
export function flatChargesOfJob(reader: Reader, jobId: string): Promise<(FlatCharge & { name: string })[]> {
  return reader.rows<FlatCharge & { name: string } & Record<string, unknown>>(selectOfJob, [jobId]);
}
