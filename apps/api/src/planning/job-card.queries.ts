import type { BuildStandard } from '@corewright/contracts/base';
import type { Advice } from '@corewright/contracts/coverage';
import type { DateGiven, JobCard, Operation, RecordEntry } from '@corewright/contracts/jobs';
import type * as z from 'zod';
import { mainNumber } from '../catalogue/part.queries.js';
import { grouped } from '../coverage/grouped.js';
import type { Reader } from '../platform/database/database.js';
import { reservationEntries } from '../reservations/record-words.js';
import { codeSaid, placePath } from '../stores/place-words.js';

interface JobRow extends Record<string, unknown> {
  id: string;
  version: number;
  customerId: string | null;
  wanted: string;
  buildStandard: BuildStandard;
  state: string;
  trayId: string;
  trayCode: string;
  trayName: string;
  unitType: string;
  grade: string;
  marks: string;
  owner: string;
  weightKg: string | null;
  where: string;
  unitId: string;
}

const readJob = `
  SELECT jobs.id, jobs.version, jobs.customer_id AS "customerId", wanted, build_standard AS "buildStandard", state,
         tray_id AS "trayId", tray_code.code AS "trayCode", tray.name AS "trayName",
         coalesce(concat_ws(' ', makers.name, unit_types.model, nullif(unit_types.variant, '')) || CASE WHEN unit_types.ratio <> '' THEN ', ' || unit_types.ratio ELSE '' END, 'not yet identified') AS "unitType",
         units.grade, units.marks, coalesce(owner.name, 'the workshop') AS owner, trim_scale(unit_types.weight_kg) AS "weightKg",
         coalesce((SELECT ${placePath('balances.holder_id')} FROM balances WHERE balances.thing_id = jobs.unit_id AND with_us AND balances.quantity > 0), 'not here') AS where,
         jobs.unit_id AS "unitId"
    FROM jobs
    JOIN units ON units.thing_id = unit_id JOIN things ON things.id = unit_id
    JOIN places AS tray ON tray.holder_id = tray_id
    JOIN codes AS tray_code ON tray_code.subject_id = tray_id AND tray_code.voided_at IS NULL AND NOT tray_code.further
    LEFT JOIN unit_types ON unit_types.id = unit_type_id LEFT JOIN makers ON makers.id = unit_types.maker_id
    LEFT JOIN parties AS owner ON owner.id = things.owner_id
   WHERE jobs.id = $1`;

const operationColumns = `
  id, number, name, minutes_planned AS "minutesPlanned", minutes_left AS "minutesLeft", after_numbers AS after, version`;
const readOperations = `SELECT ${operationColumns} FROM job_operations WHERE job_id = $1 ORDER BY number`;
const readOperationsOf = `
  SELECT job_id AS "jobId", ${operationColumns}
    FROM job_operations WHERE job_id = ANY ($1::uuid[]) ORDER BY job_id, number`;

const readDates = `
  SELECT dates_given.id, given, against_advice AS "againstAdvice", reason, coalesce(people.display_name, '') AS by, recorded_at AS at, advice
    FROM dates_given LEFT JOIN people ON people.id = person_id WHERE job_id = $1 ORDER BY recorded_at DESC`;

/** SQL: "30306 of Halloran in place of line 12"; needs `substitutes` and `job_lines`. */
const insteadOfLine = `(SELECT coalesce(main.number || coalesce(' of ' || makers.name, ''), parts.name) FROM parts ${mainNumber} WHERE parts.id = substitutes.part_id) || ' in place of line ' || line_no`;

const readRecord = `
  SELECT * FROM (
    SELECT dates_given.recorded_at AS at, person_id, 'date' AS kind,
           'gave ' || to_char(given, 'FMDD Mon YYYY') || CASE WHEN against_advice THEN ' against advice: ' || reason ELSE '' END AS words
      FROM dates_given WHERE job_id = $1
    UNION ALL
    SELECT findings.recorded_at, person_id, 'finding', 'line ' || line_no || ': ' || trim_scale(quantity_reused) || ' to be used again, ' || trim_scale(quantity_replaced) || ' not' || CASE WHEN words <> '' THEN ': ' || words ELSE '' END
      FROM findings JOIN job_lines ON job_lines.id = job_line_id WHERE job_id = $1
    UNION ALL
    SELECT fittings.recorded_at, person_id, CASE WHEN override_reason IS NOT NULL THEN 'override' ELSE 'fitting' END,
           concat_ws('; ', 'fitted ' || trim_scale(fittings.quantity) || ' of ' || coalesce(${codeSaid('thing_id')}, '') || CASE WHEN in_place_of THEN ' in place of line ' ELSE ', line ' END || line_no,
                     CASE WHEN in_place_of THEN why || ' (' || evidence || ')' END, CASE WHEN override_reason IS NOT NULL THEN 'all the same: ' || override_reason END)
      FROM fittings JOIN job_lines ON job_lines.id = job_line_id WHERE job_id = $1
    UNION ALL
    SELECT fitting_endings.recorded_at, fitting_endings.person_id, 'fitting',
           CASE fitting_endings.kind WHEN 'removed' THEN 'took out again ' ELSE 'took back ' END || trim_scale(fitting_endings.quantity) || ', line ' || line_no || CASE WHEN fitting_endings.why <> '' THEN ': ' || fitting_endings.why ELSE '' END
      FROM fitting_endings JOIN fittings ON fittings.id = fitting_id JOIN job_lines ON job_lines.id = job_line_id WHERE job_id = $1
    UNION ALL
    SELECT accepted_at, accepted_by, 'substitute', concat_ws('; ', 'accepted ' || ${insteadOfLine}, nullif(concat_ws(' ', CASE WHEN marking <> '' THEN 'old one marked ' || marking END, CASE WHEN measured_read <> '' THEN 'measured ' || measured_read END), ''),
           evidence_kind || ': ' || evidence_words, CASE WHEN deviation <> '' THEN 'differs: ' || deviation END, 'goes to: ' || substitutes.position, CASE WHEN relation_id IS NOT NULL THEN 'for every job' ELSE 'for this job alone' END)
      FROM substitutes JOIN job_lines ON job_lines.id = job_line_id WHERE job_id = $1
    UNION ALL
    SELECT withdrawn_at, withdrawn_by, 'substitute', 'no longer accepts ' || ${insteadOfLine} || ': ' || withdrawn_why
      FROM substitutes JOIN job_lines ON job_lines.id = job_line_id WHERE job_id = $1 AND withdrawn_at IS NOT NULL
    UNION ALL ${reservationEntries}
  ) AS entries LEFT JOIN LATERAL (SELECT coalesce(display_name, '') AS by FROM people WHERE people.id = entries.person_id) AS someone ON true
  ORDER BY at DESC LIMIT 100`;

export type JobFacts = JobRow;

export function readJobFacts(reader: Reader, id: string): Promise<JobFacts | null> {
  return reader.row<JobRow>(readJob, [id]);
}

export function readJobOperations(reader: Reader, id: string): Promise<Operation[]> {
  return reader.rows<Operation & Record<string, unknown>>(readOperations, [id]);
}

/** The operations of several jobs, by the job. */
export async function readOperationsOfJobs(
  reader: Reader,
  jobIds: readonly string[],
): Promise<ReadonlyMap<string, readonly Operation[]>> {
  const rows = await reader.rows<Operation & { jobId: string }>(readOperationsOf, [jobIds]);
  return grouped(rows, ({ jobId }) => jobId);
}

export async function readDatesGiven(reader: Reader, id: string): Promise<z.infer<typeof DateGiven>[]> {
  const rows = await reader.rows<{
    id: string;
    given: string;
    againstAdvice: boolean;
    reason: string | null;
    by: string;
    at: string;
    advice: Advice;
  }>(readDates, [id]);
  return rows.map(({ advice, ...row }) => ({
    ...row,
    advised: { kind: advice.kind, date: advice.date, sentence: advice.sentence },
  }));
}

export async function readRecordOf(reader: Reader, id: string): Promise<z.infer<typeof RecordEntry>[]> {
  const rows = await reader.rows<{ at: string; by: string | null; words: string; kind: z.infer<typeof RecordEntry>['kind'] }>(
    readRecord,
    [id],
  );
  return rows.map(({ at, by, words, kind }) => ({ at, by: by ?? '', words, kind }));
}

/** The parts of a card that its own row gives. */
export function cardFacts(
  row: JobFacts,
): Pick<z.infer<typeof JobCard>, 'version' | 'wanted' | 'buildStandard' | 'tray' | 'unitFacts'> {
  return {
    version: row.version,
    wanted: row.wanted,
    buildStandard: row.buildStandard,
    tray: { id: row.trayId, code: row.trayCode, name: row.trayName },
    unitFacts: {
      unitType: row.unitType,
      grade: row.grade,
      marks: row.marks,
      owner: row.owner,
      weightKg: row.weightKg,
      where: row.where,
    },
  };
}
