import type { JobScan, ScanRefusal } from '@corewright/contracts/bench';
import { type Decimal } from '@corewright/quantities/decimal';
import type * as z from 'zod';
import type { Balance, Claim, LockedThing } from '../stores/ledger.js';
import type { LineInstead } from './lines-instead.js';
import type { Stop } from './may-serve.js';
import type { JobForScan, LineForScan, ScannedThing } from './scan-facts.js';

export type ScanMode = 'pick' | 'fit';
export type JobScanInput = z.infer<typeof JobScan>;

/** Everything that the decision rests on, read under the locks of the job and of the thing. */
export interface ScanState {
  mode: ScanMode;
  input: JobScanInput;
  thing: ScannedThing;
  locked: LockedThing;
  balances: readonly Balance[];
  claims: readonly Claim[];
  job: JobForScan;
  /** lines of the scanned part, and the line that the person named */
  lines: readonly LineForScan[];
  /** where no line asks for the scanned part: those that it may serve in place of theirs */
  instead: readonly LineInstead[];
  /** other jobs that have claimed or taken parts of its kept set */
  setTakenBy: readonly string[];
  today: string;
}

/** What is to be written; nothing has been written yet. */
export interface ScanPlan {
  /** null: a whole unit laid by for the job; 'further': a line that is made now */
  line: LineForScan | 'further' | null;
  quantity: Decimal;
  /** how many the books did not hold: found in a hand */
  found: Decimal;
  moves: { fromHolderId: string; quantity: Decimal }[];
  claimsLess: { claimId: string; quantity: Decimal }[];
  claimMore: Decimal;
  /** how many of it this job had reserved, and does not have reserved any longer but in its tray or its unit */
  outOfReserved: Decimal;
  reused: boolean;
  inPlaceOf: { why: string; evidence: string } | null;
  overrideReason: string | null;
}

export interface ScanStop extends Stop {
  /** claimants that hold what is wanted */
  claimants: string[];
  /** how many of what others have claimed would have to move to equal stock for the scan to go on; null where that is of no use */
  toFree: Decimal | null;
  /** what a person may accept, ready to be said */
  suggested: ScanRefusal['suggested'];
}

export type ScanDecision = { ok: true; value: ScanPlan } | { ok: false; error: ScanStop };

export function stop(error: Stop & Partial<Omit<ScanStop, keyof Stop>>): { ok: false; error: ScanStop } {
  return { ok: false, error: { claimants: [], toFree: null, suggested: null, ...error } };
}
