import type { WarningKind } from '@corewright/contracts/warnings';
import type { Reader } from '../platform/database/database.js';
import { listed } from '../platform/database/listed.js';
import { rowsTogether } from '../platform/database/many-rows.js';
import { newId } from '../platform/new-id.js';
import type { Rest, Standing } from './standing.js';
import type { Cause, LiveWarning } from './warning.js';

interface StandingRow extends Record<string, unknown> {
  lineId: string;
  covered: string;
  lacking: string;
  restsOn: Rest[];
  rivals: string[];
}

const readStandings = `
  SELECT line_id AS "lineId", trim_scale(covered)::text AS covered, trim_scale(lacking)::text AS lacking, rests_on AS "restsOn", rivals::text[] AS rivals
    FROM line_cover WHERE line_id = ANY (${listed('$1')})`;

/** How these lines stood when they were last looked at. */
export async function standingsBefore(reader: Reader, lineIds: readonly string[]): Promise<Map<string, Standing>> {
  const rows = await reader.rows<StandingRow>(readStandings, [lineIds]);
  return new Map(rows.map(({ lineId, ...standing }) => [lineId, standing]));
}

const writeStandings = `
  INSERT INTO line_cover (line_id, job_id, covered, lacking, rests_on, rivals)
  SELECT line_id, job_id, covered, lacking, rests_on::jsonb, ARRAY(SELECT jsonb_array_elements_text(rivals::jsonb))::uuid[]
    FROM unnest($1::uuid[], $2::uuid[], $3::numeric[], $4::numeric[], $5::text[], $6::text[]) AS given (line_id, job_id, covered, lacking, rests_on, rivals)
  ON CONFLICT (line_id) DO UPDATE
     SET covered = EXCLUDED.covered, lacking = EXCLUDED.lacking, rests_on = EXCLUDED.rests_on, rivals = EXCLUDED.rivals, looked_at = clock_timestamp()`;

export async function keepStandings(
  reader: Reader,
  stood: readonly { lineId: string; jobId: string; now: Standing }[],
): Promise<void> {
  if (stood.length === 0) return;
  const rows = stood.map(({ lineId, jobId, now }) => [
    lineId,
    jobId,
    now.covered,
    now.lacking,
    JSON.stringify(now.restsOn),
    JSON.stringify(now.rivals),
  ]);
  await reader.rows(writeStandings, rowsTogether(rows));
}

const forgetLines = 'DELETE FROM line_cover WHERE job_id = ANY ($1::uuid[])';
const forgetDates = 'DELETE FROM date_standings WHERE job_id = ANY ($1::uuid[])';

/** Jobs that are closed, or have no date any more. */
export async function forget(reader: Reader, closedIds: readonly string[], undatedIds: readonly string[]): Promise<void> {
  if (closedIds.length > 0) await reader.rows(forgetLines, [closedIds]);
  if (undatedIds.length > 0) await reader.rows(forgetDates, [undatedIds]);
}

export interface DateBefore {
  jobId: string;
  customer: string | null;
  /** as it stood when it was last looked at; null where it was not */
  given: string | null;
  held: boolean | null;
  /** whether any line of the job was looked at before */
  known: boolean;
  /** what was advised when the date that stands was given */
  advisedKind: string;
  advisedDate: string | null;
}

const readDates = `
  SELECT jobs.id AS "jobId", parties.name AS customer, date_standings.given, date_standings.holds AS held,
         EXISTS (SELECT FROM line_cover WHERE line_cover.job_id = jobs.id) AS known,
         latest.advice ->> 'kind' AS "advisedKind", latest.advice ->> 'date' AS "advisedDate"
    FROM jobs LEFT JOIN parties ON parties.id = customer_id LEFT JOIN date_standings ON date_standings.job_id = jobs.id
    JOIN LATERAL (SELECT advice FROM dates_given WHERE job_id = jobs.id ORDER BY recorded_at DESC LIMIT 1) AS latest ON true
   WHERE jobs.id = ANY ($1::uuid[])`;

/** Of jobs for which a date was given. */
export function datesBefore(reader: Reader, jobIds: readonly string[]): Promise<DateBefore[]> {
  return jobIds.length === 0 ? Promise.resolve([]) : reader.rows<DateBefore & Record<string, unknown>>(readDates, [jobIds]);
}

const writeDates = `
  INSERT INTO date_standings (job_id, given, holds) SELECT * FROM unnest($1::uuid[], $2::date[], $3::boolean[])
  ON CONFLICT (job_id) DO UPDATE SET given = EXCLUDED.given, holds = EXCLUDED.holds, looked_at = clock_timestamp()
   WHERE (date_standings.given, date_standings.holds) IS DISTINCT FROM (EXCLUDED.given, EXCLUDED.holds)`;

export async function keepDates(
  reader: Reader,
  dates: readonly { jobId: string; given: string; holds: boolean }[],
): Promise<void> {
  if (dates.length === 0) return;
  await reader.rows(writeDates, rowsTogether(dates.map(({ jobId, given, holds }) => [jobId, given, holds])));
}

interface LiveRow extends Record<string, unknown>, Omit<LiveWarning, 'kind'> {
  kind: WarningKind;
}

const readLive = `
  SELECT id, kind, subject_key AS "subjectKey", job_id AS "jobId", line_id AS "lineId", other_job_id AS "otherJobId", words, why, facts,
         settled_at IS NULL AS "isOpen"
    FROM warnings WHERE cause_gone_at IS NULL AND (job_id = ANY ($1::uuid[]) OR other_job_id = ANY ($1::uuid[]))`;

/** Warnings of these jobs whose cause was there when last looked at. */
export function liveWarnings(reader: Reader, jobIds: readonly string[]): Promise<LiveWarning[]> {
  return reader.rows<LiveRow>(readLive, [jobIds]);
}

const insertWarning = `
  INSERT INTO warnings (id, kind, job_id, line_id, other_job_id, subject_key, words, why, facts) VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9)`;
const updateWords = 'UPDATE warnings SET words = $2, why = $3, facts = $4 WHERE id = $1';
/** What somebody settled stays as they settled it. */
const endCause = `
  UPDATE warnings SET cause_gone_at = clock_timestamp(), settled_at = coalesce(settled_at, clock_timestamp()), settled_note = coalesce(settled_note, $2)
   WHERE id = $1`;

export async function raise(reader: Reader, cause: Cause): Promise<void> {
  const { kind, jobId, lineId, otherJobId, subjectKey, words, why, facts } = cause;
  await reader.rows(insertWarning, [newId(), kind, jobId, lineId, otherJobId, subjectKey, words, why, JSON.stringify(facts)]);
}

export async function reword(reader: Reader, id: string, told: Pick<Cause, 'words' | 'why' | 'facts'>): Promise<void> {
  await reader.rows(updateWords, [id, told.words, told.why, JSON.stringify(told.facts)]);
}

export async function end(reader: Reader, id: string, words: string): Promise<void> {
  await reader.rows(endCause, [id, words]);
}
