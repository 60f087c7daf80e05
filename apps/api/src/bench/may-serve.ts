import { storageState } from '@corewright/standards/storage-life';
import type { ScanState, ScanStop } from './decide-job-scan.js';
import type { LineForScan, ScannedThing } from './scan-facts.js';

type Stop = Omit<ScanStop, 'claimants'>;

/**
 * Whether a thing may serve a line; null when it may. Whatever stops it here, a person may override with a reason,
 * which stays on the record with the part.
 */
export function mayServe({ thing, locked, today }: Pick<ScanState, 'thing' | 'locked' | 'today'>, line: LineForScan | null): Stop | null {
  if (locked.heldBackReason !== null) return { code: 'held-back', title: 'Held back', detail: `This is held back: ${locked.heldBackReason}. It waits until the hold is lifted. Nothing was changed.` };
  const aged = tooOld(thing, today);
  if (aged) return aged;
  return line && notAccepted(thing, line);
}

/** The same rule for stock that is only looked at. */
export function tooOld(thing: Pick<ScannedThing, 'material' | 'polymer' | 'packetRead' | 'packetEarliest' | 'packetLatest' | 'packetCondition' | 'name'>, today: string): Stop | null {
  const life = storageState(
    {
      material: thing.material,
      polymer: thing.polymer,
      packetDate: { asRead: thing.packetRead, earliest: thing.packetEarliest, latest: thing.packetLatest },
      packetCondition: thing.packetCondition,
      inspectedOn: null,
    },
    today,
  );
  if (!life.stopsFitting) return null;
  const undated = life.state === 'unknown';
  return {
    code: undated ? 'undated-rubber' : 'past-storage-life',
    title: undated ? 'Rubber without a date' : 'Past its storage life',
    detail: `${thing.name}: ${life.reasons.join(' ')} Nothing was changed.`,
  };
}

/** Which sources, makes and grades a line accepts; nothing said means any. */
export function notAccepted(thing: Pick<ScannedThing, 'source' | 'make' | 'gradeRank' | 'condition'>, line: Pick<LineForScan, 'lineNo' | 'sources' | 'makes' | 'gradeLeast' | 'gradeLeastRank'>): Stop | null {
  const code = 'not-accepted-by-line';
  const title = 'Not what the line accepts';
  if (line.sources.length > 0 && !line.sources.includes(thing.source))
    return { code, title, detail: `Line ${line.lineNo} accepts ${line.sources.join(', ')}; this is ${thing.source}. Nothing was changed.` };
  if (line.makes.length > 0 && !line.makes.includes(thing.make))
    return { code, title, detail: `Line ${line.lineNo} accepts a make that is ${line.makes.join(' or ')}; this is ${thing.make}. Nothing was changed.` };
  if (line.gradeLeastRank !== null && thing.gradeRank !== null && thing.gradeRank > line.gradeLeastRank)
    return { code, title, detail: `Line ${line.lineNo} asks for grade ${line.gradeLeast} or better; this is ${thing.condition}. Nothing was changed.` };
  return null;
}
