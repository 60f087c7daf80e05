import type { LabelCode } from '@corewright/codes/label-code';
import type { Make, PacketCondition, Source } from '@corewright/contracts/base';
import type { UnitOfMeasure } from '@corewright/quantities/unit-of-measure';
import type { Material } from '@corewright/standards/storage-life';
import { type LineAccepts, lineAccepts, lineAcceptsFrom } from '../catalogue/build-standards/line-accepts.js';
import { isConsumable } from '../catalogue/consumable-part.js';
import { inspectedFacts, type StoredFacts } from '../catalogue/storage-life.js';
import { fittedOf, reusedOf } from '../jobs/job.queries.js';
import type { Reader } from '../platform/database/database.js';
import { boundSetOf } from '../stores/kept-sets/kept-set.queries.js';
import { codeOf } from '../stores/place-words.js';

/** What a scanned code is on, as far as fitting it depends on it. None of this changes while it is scanned. */
export interface ScannedThing extends Pick<StoredFacts, 'inspectedOn' | 'bearingPacking' | 'bearingStore'> {
  id: string;
  code: string;
  kind: 'U' | 'L' | 'C' | 'X';
  name: string;
  partId: string | null;
  partNumber: string | null;
  unitOfMeasure: UnitOfMeasure;
  material: Material;
  polymer: string;
  packetRead: string;
  packetEarliest: string | null;
  packetLatest: string | null;
  packetCondition: PacketCondition;
  source: Source;
  make: Make;
  condition: string;
  /** 1 is best; null where the condition is no grade letter */
  gradeRank: number | null;
  ownerName: string | null;
  /** for a component: the unit that it came out of */
  componentOf: string | null;
  /** the set that stays together of which it is a part; null for nearly everything */
  keptSetId: string | null;
  /** its part goes by the container: a scan charges a use */
  isConsumable: boolean;
}

export interface JobForScan {
  id: string;
  code: string;
  state: string;
  title: string;
  customerId: string | null;
  unitId: string;
  trayId: string;
}

/** A line of the job with what it has so far; quantities are exact decimals as text. */
export interface LineForScan extends LineAccepts {
  id: string;
  lineNo: number;
  name: string;
  partId: string;
  unitOfMeasure: UnitOfMeasure;
  needed: string;
  fitted: string;
  reused: string;
  /** claimed for this line on anything: in the job's tray, as a rule */
  picked: string;
  waived: boolean;
}

const thingColumns = `
  SELECT things.id, codes.code, things.kind,
         coalesce(parts.name, nullif(lots.words, ''), components.name, nullif(units.words, ''), unit_types.kind, 'not yet named') AS name,
         parts.id AS "partId", (SELECT number FROM part_numbers WHERE part_id = parts.id AND is_main) AS "partNumber",
         coalesce(parts.unit_of_measure, 'each') AS "unitOfMeasure", coalesce(parts.material, 'other') AS material, coalesce(parts.polymer, '') AS polymer,
         coalesce(packet_read, '') AS "packetRead", packet_earliest AS "packetEarliest", packet_latest AS "packetLatest",
         coalesce(packet_condition, 'none') AS "packetCondition", ${inspectedFacts},
         coalesce(source, CASE things.kind WHEN 'C' THEN 'harvested' ELSE 'unknown' END) AS source, coalesce(make, 'unknown') AS make,
         coalesce(condition, '') AS condition, grades.rank AS "gradeRank", parties.name AS "ownerName", components.unit_id AS "componentOf",
         ${boundSetOf('things.id')} AS "keptSetId", ${isConsumable('lots.part_id')} AS "isConsumable"
    FROM codes
    JOIN things ON things.id = subject_id
    LEFT JOIN lots ON lots.thing_id = things.id
    LEFT JOIN components ON components.thing_id = things.id
    LEFT JOIN units ON units.thing_id = things.id
    LEFT JOIN unit_types ON unit_types.id = units.unit_type_id
    LEFT JOIN parts ON parts.id = coalesce(lots.part_id, components.part_id)
    LEFT JOIN grades ON grades.scale = 'part' AND grades.letter = lots.condition
    LEFT JOIN parties ON parties.id = things.owner_id`;
const thingByCode = `${thingColumns} WHERE codes.code = $1 AND voided_at IS NULL`;
const thingsById = `${thingColumns} WHERE things.id = ANY ($1::uuid[]) AND codes.code = ${codeOf('things.id')}`;

const lockJob = `
  SELECT jobs.id, (SELECT code FROM codes WHERE subject_id = jobs.id AND kind = 'J') AS code, state, title,
         customer_id AS "customerId", unit_id AS "unitId", tray_id AS "trayId"
    FROM jobs WHERE id = $1 FOR NO KEY UPDATE OF jobs`;

const lineColumns = `
  SELECT job_lines.id, line_no AS "lineNo", parts.name, part_id AS "partId", parts.unit_of_measure AS "unitOfMeasure",
         quantity AS needed, ${fittedOf('job_lines.id')} AS fitted, ${reusedOf('job_lines.id')} AS reused,
         coalesce((SELECT sum(claims.quantity) FROM claims WHERE purpose_id = job_lines.id), 0) AS picked,
         waived_reason IS NOT NULL AS waived, ${lineAccepts}
    FROM job_lines JOIN parts ON parts.id = part_id ${lineAcceptsFrom}`;
const linesOfPart = `${lineColumns} WHERE job_lines.job_id = $1 AND (part_id = $2 OR job_lines.id = $3) ORDER BY critical DESC, line_no`;
const linesById = `${lineColumns} WHERE job_lines.job_id = $1 AND job_lines.id = ANY ($2::uuid[]) ORDER BY line_no`;
const allLines = `${lineColumns} WHERE job_lines.job_id = $1 AND waived_reason IS NULL ORDER BY line_no`;
const operationsOf = 'SELECT id, number, name FROM job_operations WHERE job_id = $1 ORDER BY number';
const jobsClaiming = `
  SELECT jobs.id, codes.code, title AS name FROM jobs JOIN codes ON subject_id = jobs.id AND codes.kind = 'J' WHERE jobs.id = ANY($1) ORDER BY codes.code`;
const equalStock = `
  SELECT things.id, codes.code, parts.name
    FROM lots JOIN things ON things.id = thing_id JOIN codes ON subject_id = things.id AND voided_at IS NULL AND NOT further JOIN parts ON parts.id = part_id
   WHERE part_id = $1 AND things.id <> $2 AND held > claimed AND held_back_reason IS NULL AND NOT condemned AND missing_since IS NULL
     AND owner_id IS NOT DISTINCT FROM $3
   ORDER BY packet_earliest NULLS LAST, codes.code LIMIT 3`;

export function thingOfCode(reader: Reader, code: LabelCode): Promise<ScannedThing | null> {
  return reader.row<ScannedThing & Record<string, unknown>>(thingByCode, [code]);
}

/** The same of several things by their ids, under the newest code of each. */
export function thingsOfIds(reader: Reader, ids: readonly string[]): Promise<ScannedThing[]> {
  return reader.rows<ScannedThing & Record<string, unknown>>(thingsById, [ids]);
}

/** Locks the job: all scans onto one job follow one another. */
export function lockJobForScan(reader: Reader, jobId: string): Promise<JobForScan | null> {
  return reader.row<JobForScan & Record<string, unknown>>(lockJob, [jobId]);
}

export function linesForPart(
  reader: Reader,
  jobId: string,
  partId: string | null,
  lineId: string | null,
): Promise<LineForScan[]> {
  return reader.rows<LineForScan & Record<string, unknown>>(linesOfPart, [jobId, partId, lineId]);
}

export function linesOfIds(reader: Reader, jobId: string, lineIds: readonly string[]): Promise<LineForScan[]> {
  return reader.rows<LineForScan & Record<string, unknown>>(linesById, [jobId, lineIds]);
}

export function linesOfJob(reader: Reader, jobId: string): Promise<LineForScan[]> {
  return reader.rows<LineForScan & Record<string, unknown>>(allLines, [jobId]);
}

export function operationsOfJob(reader: Reader, jobId: string): Promise<{ id: string; number: number; name: string }[]> {
  return reader.rows<{ id: string; number: number; name: string }>(operationsOf, [jobId]);
}

export function jobsNamed(reader: Reader, ids: readonly string[]): Promise<{ id: string; code: string; name: string }[]> {
  return reader.rows<{ id: string; code: string; name: string }>(jobsClaiming, [ids]);
}

/** Other free lots of the same part, oldest packet first. */
export function equalFreeStock(
  reader: Reader,
  partId: string,
  notThis: string,
  ownerId: string | null,
): Promise<{ id: string; code: string; name: string }[]> {
  return reader.rows<{ id: string; code: string; name: string }>(equalStock, [partId, notThis, ownerId]);
}
