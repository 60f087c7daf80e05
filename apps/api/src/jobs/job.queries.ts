import { formatCode, type LabelCode } from '@corewright/codes/label-code';
import type { Coded } from '@corewright/contracts/base';
import type { JobBrief } from '@corewright/contracts/jobs';
import type { ScanAnswer } from '@corewright/contracts/scanning';
import { isConsumable } from '../catalogue/consumable-part.js';
import type { Reader } from '../platform/database/database.js';
import { fittedOf, inTheUnit, reusedOf } from '../stores/in-the-unit.js';
import { idlePart, rankedClaims } from './idle-claims.js';

export { fittedOf, inTheUnit, reusedOf };

/** A job as it is while work goes on; what is done, released or called off is closed. */
export const closedStates = ['done', 'released', 'called off'];

/** SQL: how many lie in the tray of its job for a line. Needs `job_lines`. */
const inTrayFor = `
  (SELECT coalesce(sum(ranked.quantity - ${idlePart}), 0) FROM ${rankedClaims('claims.claimant_id = job_lines.job_id')}
    WHERE ranked.purpose_id = job_lines.id)`;

const briefColumns = `
  jobs.id, codes.code, jobs.title, jobs.state, jobs.priority, jobs.opened_on AS "openedOn",
  customer_id AS "customerId", customer.name AS "customerName",
  jobs.unit_id AS "unitId", unit_code.code AS "unitCode",
  coalesce(nullif(concat_ws(' ', unit_maker.name, unit_types.model), ''), nullif(units.words, ''), 'not yet identified') AS "unitName",
  latest.given AS "dateGiven",
  (SELECT count(*)::int FROM job_lines WHERE job_id = jobs.id) AS "lineCount",
  (SELECT count(*)::int FROM job_lines WHERE job_id = jobs.id AND (waived_reason IS NOT NULL OR ${isConsumable('job_lines.part_id')} OR quantity <= ${inTheUnit('job_lines.id')})) AS "fittedLineCount",
  CASE WHEN NOT EXISTS (SELECT FROM balances WHERE holder_id = jobs.tray_id AND quantity > 0) THEN 'nothing in the tray'
       WHEN EXISTS (SELECT FROM job_lines WHERE job_id = jobs.id AND waived_reason IS NULL AND NOT ${isConsumable('job_lines.part_id')} AND quantity > ${inTheUnit('job_lines.id')} + ${inTrayFor})
       THEN 'partly kitted' ELSE 'kitted' END AS kit`;

const briefFrom = `
  FROM jobs
  JOIN codes ON codes.subject_id = jobs.id AND codes.kind = 'J' AND codes.voided_at IS NULL
  JOIN codes AS unit_code ON unit_code.subject_id = jobs.unit_id AND unit_code.kind = 'U' AND unit_code.voided_at IS NULL AND NOT unit_code.further
  JOIN units ON units.thing_id = jobs.unit_id
  LEFT JOIN unit_types ON unit_types.id = units.unit_type_id
  LEFT JOIN makers AS unit_maker ON unit_maker.id = unit_types.maker_id
  LEFT JOIN parties AS customer ON customer.id = jobs.customer_id
  LEFT JOIN LATERAL (SELECT given FROM dates_given WHERE job_id = jobs.id ORDER BY recorded_at DESC LIMIT 1) AS latest ON true`;

const byCursor = `SELECT ${briefColumns} ${briefFrom}
  WHERE ($1::text IS NULL OR jobs.state = $1)
    AND ($2::boolean IS NULL OR (jobs.state = ANY($3)) = NOT $2)
    AND ($4::smallint IS NULL OR (jobs.priority, coalesce(latest.given, 'infinity'), jobs.opened_on, jobs.id) > ($4, coalesce($5::date, 'infinity'), $6::date, $7::uuid))
  ORDER BY jobs.priority, coalesce(latest.given, 'infinity'), jobs.opened_on, jobs.id LIMIT $8`;
const byId = `SELECT ${briefColumns} ${briefFrom} WHERE jobs.id = $1`;
const byCode = `
  SELECT codes.code, jobs.id, jobs.title, jobs.state, customer.name AS customer, places.name AS tray,
         (SELECT count(*)::int FROM job_lines WHERE job_id = jobs.id) AS lines
    FROM codes JOIN jobs ON jobs.id = codes.subject_id JOIN places ON places.holder_id = jobs.tray_id
    LEFT JOIN parties AS customer ON customer.id = jobs.customer_id
   WHERE codes.code = $1 AND voided_at IS NULL`;

interface BriefRow extends Record<string, unknown> {
  id: string;
  code: string;
  title: string;
  state: JobBrief['state'];
  priority: number;
  openedOn: string;
  customerId: string | null;
  customerName: string | null;
  unitId: string;
  unitCode: string;
  unitName: string;
  dateGiven: string | null;
  lineCount: number;
  fittedLineCount: number;
  kit: JobBrief['kit'];
}

export interface JobFilter {
  state: string | null;
  open: boolean | null;
  /** the last job of the page before: served are priority, then date given, then age */
  after: Pick<JobBrief, 'priority' | 'dateGiven' | 'openedOn' | 'id'> | null;
  limit: number;
}

export async function listJobs(reader: Reader, filter: JobFilter): Promise<JobBrief[]> {
  const rows = await reader.rows<BriefRow>(byCursor, [
    filter.state,
    filter.open,
    closedStates,
    filter.after?.priority ?? null,
    filter.after?.dateGiven ?? null,
    filter.after?.openedOn ?? null,
    filter.after?.id ?? null,
    filter.limit,
  ]);
  return rows.map(briefOf);
}

export async function jobBrief(reader: Reader, id: string): Promise<JobBrief | null> {
  const row = await reader.row<BriefRow>(byId, [id]);
  return row && briefOf(row);
}

/** What a job card opens. */
export async function openJobCard(reader: Reader, code: LabelCode): Promise<ScanAnswer | null> {
  const row = await reader.row<{
    code: string;
    id: string;
    title: string;
    state: string;
    customer: string | null;
    tray: string;
    lines: number;
  }>(byCode, [code]);
  if (!row) return null;
  return {
    code: row.code,
    kind: 'job',
    id: row.id,
    voided: false,
    name: row.title,
    detail: row.customer ? `for ${row.customer}` : 'for stock',
    where: row.tray,
    quantity: `${row.lines} lines`,
    free: row.state,
    warning: null,
    command: null,
  };
}

const namesById = 'SELECT id, title AS name FROM jobs WHERE id = ANY($1)';
const openByUnit = `
  SELECT jobs.id, unit_id AS "subjectId", codes.code, title AS name FROM jobs JOIN codes ON subject_id = jobs.id AND codes.kind = 'J'
   WHERE unit_id = ANY($1) AND state <> ALL($2)`;

interface UnitJobRow extends Record<string, unknown> {
  id: string;
  subjectId: string;
  code: string;
  name: string;
}

/** Jobs by their ids, for areas that know a claimant only by its id. */
export async function jobNames(reader: Reader, ids: readonly string[]): Promise<Map<string, string>> {
  const rows = await reader.rows<{ id: string; name: string }>(namesById, [ids]);
  return new Map(rows.map(({ id, name }) => [id, name]));
}

/** The open job on each of these units. */
export async function openJobsOn(reader: Reader, unitIds: readonly string[]): Promise<Map<string, Coded>> {
  const rows = await reader.rows<UnitJobRow>(openByUnit, [unitIds, closedStates]);
  return new Map(rows.map(({ subjectId, id, code, name }) => [subjectId, { id, code, name }]));
}

function briefOf(row: BriefRow): JobBrief {
  const { customerId, customerName, unitId, unitCode, unitName, ...rest } = row;
  return {
    ...rest,
    customer: customerId && customerName ? { id: customerId, name: customerName } : null,
    unit: { id: unitId, code: unitCode, name: unitName },
  };
}

/** A code as people read it, for sentences. */
export function spoken(code: string): string {
  return formatCode(code as LabelCode);
}
