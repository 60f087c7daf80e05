import type { ScanRefusalCode } from '@corewright/contracts/bench';
import { type StoredFacts, storageLifeOf } from '../catalogue/storage-life.js';
import type { LockedThing } from '../stores/ledger.js';
import type { LineForScan, ScannedThing } from './scan-facts.js';

/** Why something is stopped, in words. */
export interface Stop {
  code: ScanRefusalCode;
  title: string;
  detail: string;
}

interface Candidate {
  thing: ScannedThing;
  locked: LockedThing;
  today: string;
}

/**
 * Whether a thing may serve a line; null when it may. Whatever stops it here, a person may override with a reason,
 * which stays on the record with the part.
 */
export function mayServe({ thing, locked, today }: Candidate, line: LineForScan | null): Stop | null {
  if (locked.heldBackReason !== null)
    return {
      code: 'held-back',
      title: 'Held back',
      detail: `This is held back: ${locked.heldBackReason}. It waits until the hold is lifted. Nothing was changed.`,
    };
  const aged = tooOld(thing, today);
  if (aged) return aged;
  return line && notAccepted(thing, line);
}

/** The same rule for stock that is only looked at. */
export function tooOld(thing: StoredFacts & { name: string }, today: string): Stop | null {
  const life = storageLifeOf(thing, today);
  if (!life.stopsFitting) return null;
  const undated = life.state === 'unknown';
  return {
    code: undated ? 'undated-rubber' : 'past-storage-life',
    title: undated ? 'Rubber without a date' : 'Past its storage life',
    detail: `${thing.name}: ${life.reasons.join(' ')} Nothing was changed.`,
  };
}

/** Which sources, makes and grades a line accepts; nothing said means any. */
export function notAccepted(
  thing: Pick<ScannedThing, 'source' | 'make' | 'gradeRank' | 'condition'>,
  line: Pick<LineForScan, 'lineNo' | 'sources' | 'makes' | 'gradeLeast' | 'gradeLeastRank'>,
): Stop | null {
  const code = 'not-accepted-by-line';
  const title = 'Not what the line accepts';
  if (line.sources.length > 0 && !line.sources.includes(thing.source))
    return {
      code,
      title,
      detail: `Line ${line.lineNo} accepts ${line.sources.join(', ')}; this is ${thing.source}. Nothing was changed.`,
    };
  if (line.makes.length > 0 && !line.makes.includes(thing.make))
    return {
      code,
      title,
      detail: `Line ${line.lineNo} accepts a make that is ${line.makes.join(' or ')}; this is ${thing.make}. Nothing was changed.`,
    };
  if (line.gradeLeastRank !== null && !meetsGrade(thing, line.gradeLeastRank))
    return {
      code,
      title,
      detail: `Line ${line.lineNo} asks for grade ${line.gradeLeast} or better; this is ${thing.condition || 'not graded'}. Nothing was changed.`,
    };
  return null;
}

/** Conditions of parts that were never used, better than any grade of a used one. */
const unused = ['as new', 'shelf-worn'];

/** What nobody has verified or graded meets no grade. */
function meetsGrade({ gradeRank, condition }: Pick<ScannedThing, 'gradeRank' | 'condition'>, leastRank: number): boolean {
  return gradeRank === null ? unused.includes(condition) : gradeRank <= leastRank;
}
