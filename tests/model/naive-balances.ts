export interface NaiveLot {
  partId: string;
  ownerId: string | null;
  heldBack: boolean;
  /** how many at each place and in each tray; what is in units is in `inUnits` */
  at: Map<string, number>;
  inUnits: Map<string, number>;
  /** it was fitted once, and no longer the same as what never was */
  takenOut: boolean;
  /** in the order in which they were made; one for each job and line */
  claims: NaiveClaim[];
}

export interface NaiveClaim {
  jobId: string;
  lineId: string;
  quantity: number;
  /** which of all claims it was */
  number: number;
}

/** So much of a claim does not lie in the tray of its job: what lies there is what was claimed first. */
export interface IdleClaim {
  claim: NaiveClaim;
  idle: number;
}

export interface NaiveJob {
  unitId: string;
  trayId: string;
  customerId: string | null;
  /** in the order of their numbers */
  lines: { id: string; partId: string; needed: number }[];
}

export interface NaiveMovement {
  lotId: string;
  quantity: number;
  from: string;
  to: string;
  reason: string;
}

export interface NaiveFitting {
  jobId: string;
  lineId: string;
  lotId: string;
  quantity: number;
  left: number;
  fromTray: boolean;
  ended: boolean;
}

/** What can be taken back: a movement by its number, in the order in which they were made. */
export interface NaiveAct extends NaiveMovement {
  jobId: string | null;
  fitting: NaiveFitting | null;
  takenBack: boolean;
  /** shared by the acts of one scan: how many of it the job had reserved before */
  scan: { reserved: number };
}

export const elsewhere = 'count difference';

/** What a command does; null where it is refused, and then nothing has changed. */
export type Verdict = NaiveMovement[] | null;

export const sum = (values: Iterable<number>): number => [...values].reduce((total, value) => total + value, 0);

/** What lies where, in places, trays and units, and what jobs have claimed of it. Nothing is decided here. */
export class NaiveBalances {
  private claimsMade = 0;
  readonly lots = new Map<string, NaiveLot>();
  readonly jobs = new Map<string, NaiveJob>();
  readonly acts: NaiveAct[] = [];
  readonly fittings: NaiveFitting[] = [];

  constructor(readonly places: readonly string[]) {}

  heldOf(lot: NaiveLot): number {
    return sum(lot.at.values());
  }

  claimedOf(lot: NaiveLot): number {
    return sum(lot.claims.map((claim) => claim.quantity));
  }

  protected lotOf(lotId: string): NaiveLot {
    return this.lots.get(lotId)!;
  }

  protected isTray(holder: string): boolean {
    return !this.places.includes(holder);
  }

  protected manyAt(lot: NaiveLot, holder: string): number {
    return lot.at.get(holder) ?? lot.inUnits.get(holder) ?? 0;
  }

  protected fullestFirst(lot: NaiveLot): (readonly [string, number])[] {
    return [...lot.at].filter(([, many]) => many > 0).sort(([one, many], [other, more]) => more - many || (one < other ? -1 : 1));
  }

  protected onShelves(lot: NaiveLot): (readonly [string, number])[] {
    return this.fullestFirst(lot).filter(([holder]) => !this.isTray(holder));
  }

  /** What a fit may take: the job's own tray, then the shelves; never another job's tray. */
  protected inReach(lot: NaiveLot, job: NaiveJob): (readonly [string, number])[] {
    const tray = this.fullestFirst(lot).filter(([holder]) => holder === job.trayId);
    return [...tray, ...this.onShelves(lot)];
  }

  protected fittedOn(lineId: string): number {
    return sum(this.fittings.filter((fitting) => fitting.lineId === lineId).map((fitting) => fitting.left));
  }

  protected promisedFor(lineId: string): number {
    return sum(
      [...this.lots.values()].flatMap((lot) =>
        lot.claims.filter((claim) => claim.lineId === lineId).map((claim) => claim.quantity),
      ),
    );
  }

  protected idleOf(lot: NaiveLot, job: NaiveJob, jobId: string): IdleClaim[] {
    let inTray = lot.at.get(job.trayId) ?? 0;
    return inOrder(lot.claims.filter((claim) => claim.jobId === jobId && claim.quantity > 0)).map((claim) => {
      const laidBy = Math.min(claim.quantity, inTray);
      inTray -= laidBy;
      return { claim, idle: claim.quantity - laidBy };
    });
  }

  /** Of all lots, or of all but one, what a job has reserved and not in its tray. */
  protected idleOfJob(job: NaiveJob, jobId: string, but: NaiveLot | null): IdleClaim[] {
    return [...this.lots.values()].filter((lot) => lot !== but).flatMap((lot) => this.idleOf(lot, job, jobId));
  }

  /** What a line has reserved beyond what it needs is free again, what was reserved last first. */
  protected giveBackSurplus(jobId: string, job: NaiveJob, line: NaiveJob['lines'][number]): void {
    const surplus = Math.max(this.fittedOn(line.id) + this.promisedFor(line.id) - line.needed, 0);
    const idle = this.idleOfJob(job, jobId, null).filter(({ claim }) => claim.lineId === line.id);
    lessen(
      idle.sort((a, b) => b.claim.number - a.claim.number),
      surplus,
    );
  }

  /** A claim that was given up begins anew. */
  protected claim(lot: NaiveLot, jobId: string, lineId: string, quantity: number): void {
    const same = lot.claims.find((claim) => claim.jobId === jobId && claim.lineId === lineId);
    this.claimsMade += 1;
    if (same === undefined) lot.claims.push({ jobId, lineId, quantity, number: this.claimsMade });
    else {
      if (same.quantity === 0) same.number = this.claimsMade;
      same.quantity += quantity;
    }
  }

  /**
   * A fit uses up its job's claims on the lot for the line, then as much of those for other lines as came out of the tray or is not free.
   * @returns how many had been reserved and did not lie in the tray
   */
  protected useUpClaims(
    lot: NaiveLot,
    jobId: string,
    lineId: string,
    { quantity, missing, outOfTray }: { quantity: number; missing: number; outOfTray: number },
  ): number {
    const own = inOrder(lot.claims.filter((claim) => claim.jobId === jobId)).map((claim) => ({ claim, idle: claim.quantity }));
    const free = Math.max(this.heldOf(lot) - this.claimedOf(lot), 0) + missing;
    const first = lessen(
      own.filter(({ claim }) => claim.lineId === lineId),
      quantity,
    );
    const atLeast = Math.max(outOfTray, quantity - free);
    const further = lessen(
      own.filter(({ claim }) => claim.lineId !== lineId),
      Math.max(atLeast - first, 0),
    );
    return Math.max(first + further - outOfTray, 0);
  }

  protected forgetClaims(lot: NaiveLot, jobId: string, quantity: number): void {
    const own = inOrder(lot.claims.filter((claim) => claim.jobId === jobId)).map((claim) => ({ claim, idle: claim.quantity }));
    lessen(own.reverse(), quantity);
  }

  protected write(
    steps: NaiveMovement[],
    jobId: string | null,
    fitting: NaiveFitting | null = null,
    scan = { reserved: 0 },
  ): NaiveMovement[] {
    for (const step of steps) {
      const lot = this.lotOf(step.lotId);
      this.change(lot, step.from, -step.quantity);
      this.change(lot, step.to, step.quantity);
      this.acts.push({ ...step, jobId, fitting, takenBack: false, scan });
    }
    return steps;
  }

  private change(lot: NaiveLot, holder: string, by: number): void {
    const isUnit = [...this.jobs.values()].some((job) => job.unitId === holder);
    const isOurs = this.places.includes(holder) || [...this.jobs.values()].some((job) => job.trayId === holder);
    const book = isUnit ? lot.inUnits : isOurs ? lot.at : null;
    book?.set(holder, (book.get(holder) ?? 0) + by);
  }
}

export function takeFrom(holders: readonly (readonly [string, number])[], quantity: number): (readonly [string, number])[] {
  let left = quantity;
  const taken: (readonly [string, number])[] = [];
  for (const [holder, many] of holders) {
    const part = Math.min(many, left);
    if (part > 0) taken.push([holder, part]);
    left -= part;
  }
  return taken;
}

function inOrder(claims: NaiveClaim[]): NaiveClaim[] {
  return claims.sort((a, b) => a.number - b.number);
}

/** @returns by how many they were lessened in all */
export function lessen(claims: readonly IdleClaim[], quantity: number): number {
  let left = quantity;
  for (const { claim, idle } of claims) {
    const part = Math.min(idle, left);
    claim.quantity -= part;
    left -= part;
  }
  return quantity - left;
}
