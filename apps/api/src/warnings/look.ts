import type { CoveredLine } from '@corewright/contracts/coverage';
import type { WantingJob } from '../coverage/coverage-facts.js';
import type { SharedOut } from '../coverage/share-out.js';
import type { AgedClaim } from './aged-claims.js';
import type { Fates } from './fates.js';
import type { EndingReservations, Taking } from './reservations.queries.js';
import type { Standing } from './standing.js';
import type { LiveWarning } from './warning.js';

/** A line as it stands, and as it stood when it was last looked at; null: never. */
export interface LookedLine {
  line: CoveredLine;
  job: WantingJob;
  now: Standing;
  before: Standing | null;
}

/** The date that was given for a job: whether it holds, and whether it held. */
export interface LookedDate {
  job: WantingJob;
  given: string;
  holds: boolean;
  /** what decides it now */
  why: string;
  /** the earliest day now; null where there is none */
  earliest: string | null;
  customer: string | null;
  /** null where the job was never looked at */
  held: boolean | null;
}

/** What a look at the books has found, for the watches to judge. */
export interface Look {
  today: string;
  shared: SharedOut;
  lines: ReadonlyMap<string, LookedLine>;
  /** jobs of which every line was looked at */
  whole: ReadonlySet<string>;
  /** jobs of which any line was looked at */
  touched: ReadonlySet<string>;
  dates: ReadonlyMap<string, LookedDate>;
  /** of the jobs that were touched */
  aged: readonly AgedClaim[];
  /** what these jobs have reserved for a few days more */
  ending: readonly EndingReservations[];
  takings: readonly Taking[];
  fates: Fates;
  live: readonly LiveWarning[];
}
