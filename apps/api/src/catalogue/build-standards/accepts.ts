import type { Make, Source } from '@corewright/contracts/base';

/** Which sources, makes and grades are accepted; an empty list accepts any. */
export interface Accepts {
  sources: readonly Source[];
  makes: readonly Make[];
  gradeLeast: string;
  gradeLeastRank: number | null;
}

export interface Offered {
  source: Source;
  make: Make;
  /** as keyed: a grade letter, or words such as "as new" */
  condition: string;
  /** 1 is best; null where the condition is no grade letter */
  gradeRank: number | null;
}

/** Why something is not accepted, to be put after "Line 3" or "As original"; null when it is. */
export function whyNotAccepted(offered: Offered, accepts: Accepts): string | null {
  if (accepts.sources.length > 0 && !accepts.sources.includes(offered.source))
    return `accepts ${accepts.sources.join(', ')}; this is ${offered.source}`;
  if (accepts.makes.length > 0 && !accepts.makes.includes(offered.make))
    return `accepts a make that is ${accepts.makes.join(' or ')}; this is ${offered.make}`;
  if (accepts.gradeLeastRank !== null && !meetsGrade(offered, accepts.gradeLeastRank))
    return `asks for grade ${accepts.gradeLeast} or better; this is ${offered.condition || 'not graded'}`;
  return null;
}

/** Conditions of parts that were never used, better than any grade of a used one. */
const unused = ['as new', 'shelf-worn'];

/** What nobody has verified or graded meets no grade. */
function meetsGrade({ gradeRank, condition }: Offered, leastRank: number): boolean {
  return gradeRank === null ? unused.includes(condition) : gradeRank <= leastRank;
}
