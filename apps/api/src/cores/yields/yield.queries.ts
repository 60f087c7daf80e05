import type { Named } from '@corewright/contracts/base';
import type { YieldChoices } from '@corewright/contracts/yields';
import type * as z from 'zod';
import { mainNumber } from '../../catalogue/part.queries.js';
import type { Reader } from '../../platform/database/database.js';

/** Whose cores are asked about; null is not asked for. An empty grade is a unit that was never graded. */
export interface YieldsAsked {
  typeId: string | null;
  grade: string | null;
  loadId: string | null;
  sellerId: string | null;
}

export interface YieldRow extends Record<string, unknown> {
  typeId: string;
  typeName: string;
  position: number;
  name: string;
  eachHas: number;
  partId: string | null;
  partName: string | null;
  partNumber: string | null;
  looked: number;
  serviceable: number;
  afterWork: number;
  stripDowns: number;
}

/** The counts that the database keeps; asked for by type and grade alone it need not look at a single finding. */
const keptCounts = `
  SELECT unit_type_id, position, sum(looked)::integer AS looked, sum(serviceable)::integer AS serviceable, sum(after_work)::integer AS after_work
    FROM component_yields WHERE ($1::uuid IS NULL OR unit_type_id = $1) AND ($2::text IS NULL OR grade = $2)
   GROUP BY unit_type_id, position`;

const ofUnits = `($1::uuid IS NULL OR strip_downs.unit_type_id = $1) AND ($2::text IS NULL OR units.grade = $2)`;
const ofLoads = `NOT struck_out AND ($3::uuid IS NULL OR load_id = $3) AND ($4::uuid IS NULL OR seller_id = $4)`;

/**
 * Of a load or a seller: a few hundred units, whose findings are counted as they are asked for, each strip-down by itself. OFFSET 0 keeps it so:
 * those that were put right are then read once a strip-down, where a plan for all together looks for one at every finding.
 */
const countsOfLoads = `
  SELECT unit_type_id, counted.position, sum(looked)::integer AS looked, sum(serviceable)::integer AS serviceable, sum(after_work)::integer AS after_work
    FROM (SELECT strip_downs.id, strip_downs.unit_type_id
            FROM loads JOIN load_rows ON load_id = loads.id JOIN units ON units.thing_id = load_rows.thing_id
            JOIN strip_downs ON unit_id = load_rows.thing_id
           WHERE ${ofLoads} AND ${ofUnits}) AS stripped,
         LATERAL (SELECT * FROM counted_findings WHERE strip_down_id = stripped.id OFFSET 0) AS counted
   GROUP BY unit_type_id, counted.position`;

/** Once for each time that it was taken apart, which for nearly all is once. */
const stripDownsOfUnits = `
  SELECT count(*)::integer FROM strip_downs
   WHERE ($1::uuid IS NULL OR unit_type_id = $1) AND ($2::text IS NULL OR unit_id IN (SELECT thing_id FROM units WHERE grade = $2))`;
const stripDownsOfLoads = `
  SELECT count(*)::integer
    FROM loads JOIN load_rows ON load_id = loads.id JOIN units ON units.thing_id = load_rows.thing_id JOIN strip_downs ON unit_id = load_rows.thing_id
   WHERE ${ofLoads} AND ${ofUnits}`;

/** Worst first, and those of which too few were looked at after all others. Of one type also what nobody has looked at. */
const select = (counts: string, stripped: string, enough: '$3' | '$5', most: '$4' | '$6') => `
  WITH counts AS (${counts})
  SELECT unit_types.id AS "typeId", concat_ws(' ', type_makers.name, model, nullif(variant, '')) AS "typeName", component.position, component.name,
         greatest(floor(component.quantity), 1)::integer AS "eachHas", parts.id AS "partId", parts.name AS "partName", main.number AS "partNumber",
         coalesce(looked, 0) AS looked, coalesce(serviceable, 0) AS serviceable, coalesce(after_work, 0) AS "afterWork", (${stripped}) AS "stripDowns"
    FROM unit_type_components AS component JOIN unit_types ON unit_types.id = component.unit_type_id JOIN makers AS type_makers ON type_makers.id = unit_types.maker_id
    LEFT JOIN counts USING (unit_type_id, position) LEFT JOIN parts ON parts.id = component.part_id ${mainNumber}
   WHERE ($1::uuid IS NULL OR unit_types.id = $1) AND ($1::uuid IS NOT NULL OR looked > 0)
   ORDER BY coalesce(looked, 0) < ${enough}, CASE WHEN looked >= ${enough} THEN (serviceable + 0.5) / (looked + 1.0) END, coalesce(looked, 0) DESC,
         "typeName", unit_types.id, component.position
   LIMIT ${most}`;
const ofAll = select(keptCounts, stripDownsOfUnits, '$3', '$4');
const ofSomeLoads = select(countsOfLoads, stripDownsOfLoads, '$5', '$6');

/** How often each component was serviceable, worst first. */
export function yieldRows(reader: Reader, asked: YieldsAsked, enough: number, most: number): Promise<YieldRow[]> {
  const { typeId, grade, loadId, sellerId } = asked;
  if (loadId === null && sellerId === null) return reader.rows<YieldRow>(ofAll, [typeId, grade, enough, most]);
  return reader.rows<YieldRow>(ofSomeLoads, [typeId, grade, loadId, sellerId, enough, most]);
}

const countsOfPosition = `
  SELECT unit_type_id AS "typeId", position, sum(looked)::integer AS looked, sum(serviceable)::integer AS serviceable
    FROM component_yields WHERE unit_type_id = ANY ($1::uuid[]) GROUP BY unit_type_id, position`;

export interface CountsOfComponent extends Record<string, unknown> {
  typeId: string;
  position: number;
  looked: number;
  serviceable: number;
}

/** What was looked at of the components of these types, and how much of it was serviceable; what nobody has looked at is left out. */
export function countsOfTypes(reader: Reader, typeIds: readonly string[]): Promise<CountsOfComponent[]> {
  return reader.rows<CountsOfComponent>(countsOfPosition, [typeIds]);
}

const choicesMax = 200;
const typesStripped = `
  SELECT unit_types.id, concat_ws(' ', makers.name, model, nullif(variant, '')) AS name FROM unit_types JOIN makers ON makers.id = maker_id
   WHERE EXISTS (SELECT FROM unit_type_components WHERE unit_type_id = unit_types.id) ORDER BY name, unit_types.id`;
const gradesCounted = `
  SELECT DISTINCT component_yields.grade, rank FROM component_yields LEFT JOIN grades ON scale = 'core' AND letter = component_yields.grade
   WHERE looked > 0 ORDER BY rank NULLS LAST, component_yields.grade`;
const hasStripped =
  'EXISTS (SELECT FROM load_rows JOIN strip_downs ON unit_id = load_rows.thing_id WHERE load_id = loads.id AND NOT struck_out)';
const loadsStripped = `SELECT id, 'Load ' || number || ', ' || words AS name FROM loads WHERE ${hasStripped} ORDER BY number DESC LIMIT ${choicesMax}`;
const sellersStripped = `
  SELECT id, name FROM parties WHERE EXISTS (SELECT FROM loads WHERE seller_id = parties.id AND ${hasStripped}) ORDER BY name LIMIT ${choicesMax}`;

type NamedRow = z.infer<typeof Named> & Record<string, unknown>;

/** What can be asked for. The grade of what was never graded is empty. */
export async function yieldChoices(reader: Reader): Promise<YieldChoices> {
  const [unitTypes, grades, loads, sellers] = await Promise.all([
    reader.rows<NamedRow>(typesStripped),
    reader.rows<{ grade: string }>(gradesCounted),
    reader.rows<NamedRow>(loadsStripped),
    reader.rows<NamedRow>(sellersStripped),
  ]);
  return { unitTypes, grades: grades.map(({ grade }) => grade), loads, sellers };
}
