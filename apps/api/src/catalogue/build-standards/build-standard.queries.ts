import type { BuildStandard } from '@corewright/contracts/base';
import type { BuildStandardRules } from '@corewright/contracts/build-standards';
import type { Reader } from '../../platform/database/database.js';

const columns = `
  SELECT build_standards.id, name, ways, sources, makes, grade_least AS "gradeLeast", build_standards.version, grades.rank AS "gradeLeastRank"
    FROM build_standards LEFT JOIN grades ON grades.scale = 'part' AND grades.letter = grade_least`;
const selectAll = `${columns} ORDER BY position`;
const selectOne = `${columns} WHERE name = $1`;
const lockOne = `${columns} WHERE build_standards.id = $1 FOR NO KEY UPDATE OF build_standards`;

export type StandardKept = BuildStandardRules & { gradeLeastRank: number | null };

export function buildStandards(reader: Reader): Promise<StandardKept[]> {
  return reader.rows<StandardKept & Record<string, unknown>>(selectAll);
}

export async function buildStandardNamed(reader: Reader, name: BuildStandard): Promise<StandardKept> {
  const row = await reader.row<StandardKept & Record<string, unknown>>(selectOne, [name]);
  if (row === null) throw new Error(`The build standard ${name} is not in the books`);
  return row;
}

export function lockBuildStandard(reader: Reader, id: string): Promise<StandardKept | null> {
  return reader.row<StandardKept & Record<string, unknown>>(lockOne, [id]);
}

export function standardShown({ gradeLeastRank: _rank, ...shown }: StandardKept): BuildStandardRules {
  return shown;
}
