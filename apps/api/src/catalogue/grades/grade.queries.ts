import type { Grade, GradeScale } from '@corewright/contracts/catalogue';
import type { Reader } from '../../platform/database/database.js';

const columns = 'SELECT id, scale, letter, rank, meaning, retired, version FROM grades';
const selectAll = `${columns} ORDER BY scale, rank`;
const selectOfScale = `${columns} WHERE scale = $1 ORDER BY rank`;

/** The workshop's scales of condition, the best first; what is no longer offered stands among them in its rank. */
export function allGrades(reader: Reader): Promise<Grade[]> {
  return reader.rows<Grade & Record<string, unknown>>(selectAll);
}

export function gradesOfScale(reader: Reader, scale: GradeScale): Promise<Grade[]> {
  return reader.rows<Grade & Record<string, unknown>>(selectOfScale, [scale]);
}

const countOf = (table: string, column: string, words: string): string =>
  `SELECT count(*)::integer AS count, '${words}' AS what FROM ${table} WHERE ${column} = $1`;
const bearersOf: Record<GradeScale, string> = {
  core: [countOf('units', 'grade', 'unit'), countOf('acceptance_decisions', 'grade', 'decision')].join(' UNION ALL '),
  part: [
    countOf('lots', 'condition', 'lot'),
    countOf('build_standards', 'grade_least', 'build standard'),
    countOf('unit_type_lines', 'grade_least', 'line of a parts list'),
    countOf('job_lines', 'grade_least', 'line of a job'),
  ].join(' UNION ALL '),
};

/** What bears a grade or asks for it, in words: "3 units, 1 decision"; empty where nothing does. */
export async function bearersOfGrade(reader: Reader, scale: GradeScale, letter: string): Promise<string> {
  const counted = await reader.rows<{ count: number; what: string }>(bearersOf[scale], [letter]);
  return counted
    .filter(({ count }) => count > 0)
    .map(({ count, what }) => (count === 1 ? `1 ${what}` : `${count} ${plural(what)}`))
    .join(', ');
}

function plural(what: string): string {
  return what.startsWith('line ') ? what.replace('line', 'lines') : `${what}s`;
}
