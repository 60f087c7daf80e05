import type { GradeScale } from '@corewright/contracts/catalogue';
import type { Reader } from '../../platform/database/database.js';
import { badInput, done, type Result, refused } from '../../platform/refusal.js';

/** Until whoever gives one is through, its letter does not change. */
const selectGrades = 'SELECT letter, retired FROM grades WHERE scale = $1 ORDER BY rank FOR KEY SHARE';
const scaleWords: Record<GradeScale, string> = { core: 'cores', part: 'parts' };

interface ToGive {
  /** what the thing bears already: it keeps that, though it is no longer offered */
  borne?: string | undefined;
  /** it cannot be left empty */
  isNeeded?: boolean;
}

/** A letter of one of the workshop's scales, small or capital; before it has a scale, whatever is keyed. */
export async function gradeToGive(
  reader: Reader,
  scale: GradeScale,
  keyed: string,
  { borne = '', isNeeded = false }: ToGive,
): Promise<Result<string>> {
  if (keyed === '') return done('');
  if (borne !== '' && keyed.toLowerCase() === borne.toLowerCase()) return done(borne);
  const grades = await reader.rows<{ letter: string; retired: boolean }>(selectGrades, [scale]);
  const known = grades.find(({ letter }) => letter.toLowerCase() === keyed.toLowerCase());
  if ((known !== undefined && !known.retired) || grades.length === 0) return done(known?.letter ?? keyed);
  const offered = grades.filter(({ retired }) => !retired).map(({ letter }) => letter);
  const why =
    known === undefined
      ? `“${keyed}” is not on the scale for ${scaleWords[scale]}.`
      : `Grade ${known.letter} is no longer offered.`;
  return refused(badInput('grade', `${why} ${whatNext(offered, isNeeded)}`));
}

function whatNext(offered: readonly string[], isNeeded: boolean): string {
  if (offered.length === 0) return isNeeded ? 'No grade is: offer one in Settings first.' : 'Leave it empty.';
  return `Key ${offered.join(', ')}${isNeeded ? '' : ', or leave it empty'}.`;
}
