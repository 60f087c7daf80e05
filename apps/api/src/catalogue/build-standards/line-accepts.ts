import type { BuildStandard } from '@corewright/contracts/base';
import type { ServingWay } from '@corewright/contracts/build-standards';
import type { Reader } from '../../platform/database/database.js';
import type { Accepts } from './accepts.js';

/** What a line of a job accepts, and by which ways another part may serve it. */
export interface LineAccepts extends Accepts {
  ways: readonly ServingWay[];
  /** of its job */
  buildStandard: BuildStandard;
}

const gradeOfLine = `coalesce(nullif(job_lines.grade_least, ''), build_standards.grade_least)`;

/** SQL: what a line accepts: what it says itself, and where it says nothing, what the build standard of its job says. */
export const lineAccepts = `
  CASE WHEN job_lines.sources = '{}' THEN build_standards.sources ELSE job_lines.sources END AS sources,
  CASE WHEN job_lines.makes = '{}' THEN build_standards.makes ELSE job_lines.makes END AS makes,
  ${gradeOfLine} AS "gradeLeast", grades.rank AS "gradeLeastRank", build_standards.ways, build_standards.name AS "buildStandard"`;

const lineAcceptsUnder = (standard: string) => `
  JOIN jobs ON jobs.id = job_lines.job_id JOIN build_standards ON build_standards.name = ${standard}
  LEFT JOIN grades ON grades.scale = 'part' AND grades.letter = ${gradeOfLine}`;

/** SQL: the joins that `lineAccepts` needs, after `job_lines`. */
export const lineAcceptsFrom = lineAcceptsUnder('jobs.build_standard');

const acceptsUnder = `SELECT job_lines.id, ${lineAccepts} FROM job_lines ${lineAcceptsUnder('$2')} WHERE job_id = $1`;

/** What the lines of a job would accept, by the line, if it were built to another standard. */
export async function acceptsOfLinesUnder(
  reader: Reader,
  jobId: string,
  standard: BuildStandard,
): Promise<ReadonlyMap<string, LineAccepts>> {
  const rows = await reader.rows<LineAccepts & { id: string }>(acceptsUnder, [jobId, standard]);
  return new Map(rows.map(({ id, ...accepts }) => [id, accepts]));
}
