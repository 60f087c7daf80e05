import type { BuildStandard } from '@corewright/contracts/base';
import type { ServingWay } from '@corewright/contracts/build-standards';
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

/** SQL: the joins that `lineAccepts` needs, after `job_lines`. */
export const lineAcceptsFrom = `
  JOIN jobs ON jobs.id = job_lines.job_id JOIN build_standards ON build_standards.name = jobs.build_standard
  LEFT JOIN grades ON grades.scale = 'part' AND grades.letter = ${gradeOfLine}`;
