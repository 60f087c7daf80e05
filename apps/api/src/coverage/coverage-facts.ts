import type { Make, PacketCondition, Source } from '@corewright/contracts/base';
import type { Material } from '@corewright/standards/storage-life';
import type { LineAccepts } from '../catalogue/build-standards/line-accepts.js';
import type { Server } from '../catalogue/relations/served-by.js';
import type { StoredFacts } from '../catalogue/storage-life.js';
import type { SubstituteOfLine } from '../jobs/accept-substitute/substitute.queries.js';

/** A job that wants parts. */
export interface WantingJob {
  id: string;
  code: string;
  title: string;
  customerId: string | null;
  state: string;
  priority: number;
  /** the date that was given last */
  dateGiven: string | null;
  /** it is only supposed that this job comes before others */
  isSupposedFirst?: true;
}

/** A line of a job with what is known of it; quantities are exact decimals as text. */
export interface LineFacts extends LineAccepts {
  id: string;
  jobId: string;
  lineNo: number;
  partId: string;
  name: string;
  number: string;
  unitOfMeasure: string;
  needed: string;
  operationId: string;
  operationNumber: number;
  critical: boolean;
  reusable: boolean;
  further: boolean;
  waived: string | null;
  /** it goes by the container: no job waits for it */
  consumable: boolean;
  version: number;
  fitted: string;
  reused: string;
  /** looked at, whatever came of it */
  lookedAt: string;
  findingWords: string;
  /** what the strip-down of the unit says of its own that is neither here nor lacking: sent out, held, to be reworked; empty for most */
  ownAway: string;
}

export interface FittedFact {
  lineId: string;
  fittingId: string;
  thingId: string;
  code: string;
  name: string;
  quantity: string;
  inPlaceOf: boolean;
  why: string | null;
  evidence: string | null;
  override: string | null;
  by: string;
  at: string;
}

/** What a job has claimed of a thing: what lies in its tray, or what waits for it elsewhere. */
export interface ClaimFact {
  claimId: string;
  jobId: string;
  lineId: string | null;
  thingId: string;
  code: string;
  name: string;
  partId: string | null;
  quantity: string;
  inTray: boolean;
  where: string;
  /** the outworker that has it; null where it is here */
  firm: string | null;
  /** the last day on which it holds; null is firm */
  until: string | null;
}

/** A lot of a part that a line asks for, whether or not it may serve. */
export interface StockFact extends Pick<StoredFacts, 'inspectedOn' | 'bearingPacking' | 'bearingStore'> {
  partId: string;
  thingId: string;
  code: string;
  name: string;
  free: string;
  claimed: string;
  heldBackReason: string | null;
  condemned: boolean;
  missingSince: string | null;
  /** the kept set that it is bound in; null for nearly everything */
  setId: string | null;
  ownerId: string | null;
  source: Source;
  make: Make;
  condition: string;
  gradeRank: number | null;
  material: Material;
  polymer: string;
  packetRead: string;
  packetEarliest: string | null;
  packetLatest: string | null;
  packetCondition: PacketCondition;
  /** the component of a core that is only supposed to be broken; the thing is then the core */
  ofCore?: number;
}

/** A set that stays together, of which there is stock. */
export interface SetFact {
  id: string;
  number: string;
  words: string;
  memberIds: readonly string[];
  /** the jobs that have claimed or taken a part of it: one at most */
  takers: readonly string[];
}

/** What is on order and free, or what a line has reserved of it. */
export interface ReceiptFact {
  id: string;
  partId: string;
  orderReference: string;
  supplier: string;
  outstanding: string;
  dueOn: string | null;
  confirmed: boolean;
  /** the job that it was ordered for, or that has reserved it; null for stock */
  forJobId: string | null;
  reserved: { claimId: string; lineId: string; until: string | null } | null;
}

/** What lies at an outworker and comes back to stores. */
export interface AwayFact {
  partId: string;
  thingId: string;
  code: string;
  name: string;
  firm: string;
  free: string;
}

/** A whole core that is free to be broken, as far as it has a part that is wanted. */
export interface DonorFact {
  unitId: string;
  code: string;
  /** what the unit is */
  name: string;
  partId: string;
  position: number;
  eachHas: number;
  /** of this component in units of the type, over all grades */
  serviceable: number;
  looked: number;
}

/** Everything that the cover of jobs rests on, as far as they bear on each other. */
export interface WorkshopFacts {
  today: string;
  /** in the order in which they are served */
  jobs: readonly WantingJob[];
  lines: readonly LineFacts[];
  fitted: readonly FittedFact[];
  claims: readonly ClaimFact[];
  stock: readonly StockFact[];
  sets: readonly SetFact[];
  receipts: readonly ReceiptFact[];
  away: readonly AwayFact[];
  donors: readonly DonorFact[];
  /** by the part that is asked for: what may serve in its place */
  servers: ReadonlyMap<string, readonly Server[]>;
  substitutes: readonly SubstituteOfLine[];
}
