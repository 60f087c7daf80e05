import { done, type Result, refused } from '../../platform/refusal.js';

export interface Dating {
  /** when the device says that it was; null where it says nothing */
  said: string | null;
  now: Date;
  /** when the count began */
  begunAt: string;
  /** since when the books know the thing; null for what is no thing */
  knownSince: string | null;
}

export interface Dated {
  /** an instant in UTC that is possible */
  at: string;
  /** what was changed of it, for whoever counts; empty where nothing was */
  words: string;
}

/** Clocks of devices differ by so much and nobody minds. */
const noticed = 2 * 60_000;
/** So much before its count an entry is taken as its first moment. */
const forgiven = 15 * 60_000;

/**
 * When an entry was made, within what is possible: not after now, nor before its count began or the books knew the thing. A clock that is a
 * little slow is put right; one that is far out would compare the entry with the wrong moment, so that the entry is refused.
 */
export function dateOf({ said, now, begunAt, knownSince }: Dating): Result<Dated> {
  const asked = said === null ? now.getTime() : Date.parse(said);
  const at = Math.min(asked, now.getTime());
  const isFast = asked - now.getTime() > noticed;
  const begun = Date.parse(begunAt);
  const since = knownSince === null ? begun : Math.max(begun, Date.parse(knownSince));
  if (since - at > forgiven) return refused(tooEarly(at, since === begun));
  const taken = Math.min(Math.max(at, since), now.getTime());
  const words = isFast
    ? 'The clock of this device is fast: it is taken as now.'
    : taken - at > noticed
      ? 'The clock of this device is slow: it is taken as the beginning of the count.'
      : '';
  return done({ at: new Date(taken).toISOString(), words });
}

function tooEarly(at: number, isBeforeCount: boolean) {
  const day = new Date(at).toISOString().slice(0, 16).replace('T', ' at ');
  const before = isBeforeCount ? 'this count had begun' : 'the books knew this thing';
  return {
    status: 409,
    code: 'dated-before',
    title: 'Dated too early',
    detail: `By the clock of the device it was scanned on ${day} (UTC), before ${before}. Look at that clock, then scan it again. Nothing was counted.`,
  };
}
