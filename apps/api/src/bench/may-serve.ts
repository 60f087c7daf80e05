import type { ScanRefusalCode } from '@corewright/contracts/bench';
import { type Accepts, type Offered, whyNotAccepted } from '../catalogue/build-standards/accepts.js';
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

/** Which sources, makes and grades a line accepts, by itself or by its job's build standard; nothing said means any. */
export function notAccepted(thing: Offered, line: Accepts & { lineNo: number }): Stop | null {
  const why = whyNotAccepted(thing, line);
  if (why === null) return null;
  return {
    code: 'not-accepted-by-line',
    title: 'Not what the line accepts',
    detail: `Line ${line.lineNo} ${why}. Nothing was changed.`,
  };
}
