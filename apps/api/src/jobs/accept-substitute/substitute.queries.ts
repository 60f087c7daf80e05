import type { AskingLines, SubstituteShown } from '@corewright/contracts/substitutes';
import { mainNumber } from '../../catalogue/part.queries.js';
import type { Reader } from '../../platform/database/database.js';
import { listed } from '../../platform/database/listed.js';
import { closedStates, inTheUnit } from '../job.queries.js';

/** A live substitute with the line that it is for. */
export type SubstituteOfLine = SubstituteShown & { lineId: string };

interface SubstituteRow extends Record<string, unknown> {
  id: string;
  lineId: string;
  partId: string;
  name: string;
  number: string;
  maker: string;
  marking: string;
  bore: string | null;
  outside: string | null;
  width: string | null;
  evidenceKind: SubstituteShown['evidence']['kind'];
  evidenceWords: string;
  deviation: string;
  position: string;
  relationId: string | null;
  acceptedBy: string;
  acceptedAt: string;
}

// a relation that was withdrawn since holds for no job: what was accepted on it holds for its own job alone
const columns = `
  SELECT substitutes.id, job_line_id AS "lineId", substitutes.part_id AS "partId", parts.name, coalesce(main.number, '') AS number,
         coalesce(makers.name, '') AS maker, marking, trim_scale(bore_mm)::text AS bore, trim_scale(outside_mm)::text AS outside,
         trim_scale(width_mm)::text AS width, substitutes.evidence_kind AS "evidenceKind",
         substitutes.evidence_words AS "evidenceWords", deviation,
         substitutes.position, relations.id AS "relationId", people.display_name AS "acceptedBy", substitutes.accepted_at AS "acceptedAt"
    FROM substitutes JOIN parts ON parts.id = substitutes.part_id ${mainNumber} JOIN people ON people.id = substitutes.accepted_by
         LEFT JOIN relations ON relations.id = relation_id AND relations.withdrawn_at IS NULL`;
const selectOfJobs = `
  ${columns} JOIN job_lines ON job_lines.id = job_line_id
   WHERE job_id = ANY (${listed('$1')}) AND substitutes.withdrawn_at IS NULL ORDER BY substitutes.accepted_at, substitutes.id`;
const selectOne = `${columns} WHERE substitutes.id = $1`;

function shown(row: SubstituteRow): SubstituteOfLine {
  const { partId, name, number, maker, bore, outside, width, evidenceKind, evidenceWords, ...rest } = row;
  return {
    ...rest,
    part: { id: partId, name, number, maker },
    measured: measuredWords(bore, outside, width),
    evidence: { kind: evidenceKind, words: evidenceWords },
  };
}

/** "25 × 52 × 15 mm", with "?" for what was not measured. */
function measuredWords(...figures: (string | null)[]): string {
  return figures.every((figure) => figure === null) ? '' : `${figures.map((figure) => figure ?? '?').join(' × ')} mm`;
}

/** What stands accepted for the lines of these jobs. */
export async function substitutesOfJobs(reader: Reader, jobIds: readonly string[]): Promise<SubstituteOfLine[]> {
  return (await reader.rows<SubstituteRow>(selectOfJobs, [jobIds])).map(shown);
}

export async function substituteById(reader: Reader, id: string): Promise<SubstituteOfLine | null> {
  const row = await reader.row<SubstituteRow>(selectOne, [id]);
  return row === null ? null : shown(row);
}

const linesMax = 100;
const selectAsking = `
  SELECT job_lines.id AS "lineId", line_no AS "lineNo", jobs.id AS "jobId", codes.code AS "jobCode", jobs.title AS "jobTitle",
         parts.id AS "partId", parts.name, coalesce(main.number, '') AS number, coalesce(makers.name, '') AS maker,
         job_operations.name AS position
    FROM job_lines JOIN jobs ON jobs.id = job_lines.job_id JOIN job_operations ON job_operations.id = operation_id
    JOIN codes ON codes.subject_id = jobs.id AND codes.kind = 'J' AND voided_at IS NULL
    JOIN parts ON parts.id = job_lines.part_id ${mainNumber}
   WHERE job_lines.part_id = ANY ($1::uuid[]) AND waived_reason IS NULL AND jobs.state <> ALL ($2)
     AND job_lines.quantity > ${inTheUnit('job_lines.id')}
   ORDER BY jobs.priority, codes.code, line_no LIMIT ${linesMax}`;

/** Lines of open jobs that ask for one of these parts and are not complete. */
export async function linesAskingFor(reader: Reader, partIds: readonly string[]): Promise<AskingLines['lines']> {
  const rows = await reader.rows<
    Omit<AskingLines['lines'][number], 'part'> & { partId: string; name: string; number: string; maker: string }
  >(selectAsking, [partIds, closedStates]);
  return rows.map(({ partId, name, number, maker, ...line }) => ({ ...line, part: { id: partId, name, number, maker } }));
}
