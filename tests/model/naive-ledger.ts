/**
 * The rules of the stores, written down once more as plainly as possible: one process, no database, no locks, no code of
 * the server. Whole numbers only; a quantity is a count.
 */
export interface NaiveLot {
  partId: string;
  ownerId: string | null;
  heldBack: boolean;
  /** how many at each place and in each tray; what is in units is in `inUnits` */
  at: Map<string, number>;
  inUnits: Map<string, number>;
  /** in the order in which they were made; one for each job and line */
  claims: { jobId: string; lineId: string; quantity: number }[];
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

interface NaiveFitting {
  jobId: string;
  lineId: string;
  lotId: string;
  quantity: number;
  left: number;
  fromTray: boolean;
  ended: boolean;
}

/** What can be taken back: a movement by its number, in the order in which they were made. */
interface NaiveAct extends NaiveMovement {
  jobId: string | null;
  fitting: NaiveFitting | null;
  takenBack: boolean;
}

export interface Scan {
  lotId: string;
  jobId: string;
  quantity?: number;
  inPlaceOfLineId?: string;
  haveItHere?: boolean;
}

export const elsewhere = 'count difference';

/** What a command does; null where it is refused, and then nothing has changed. */
export type Verdict = NaiveMovement[] | null;

const sum = (values: Iterable<number>): number => [...values].reduce((total, value) => total + value, 0);

export class NaiveLedger {
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

  takeIn(lotId: string, partId: string, ownerId: string | null, quantity: number, placeId: string, seller: string): Verdict {
    if (quantity <= 0) return null;
    this.lots.set(lotId, { partId, ownerId, heldBack: false, at: new Map(), inUnits: new Map(), claims: [] });
    return this.write([{ lotId, quantity, from: seller, to: placeId, reason: 'taken in' }], null);
  }

  hold(lotId: string, holds: boolean): Verdict {
    const lot = this.lotOf(lotId);
    if (lot.heldBack === holds) return null;
    lot.heldBack = holds;
    return [];
  }

  putAway(lotId: string, placeId: string, quantity: number | undefined): Verdict {
    const lot = this.lotOf(lotId);
    const there = this.fullestFirst(lot).filter(([holder]) => holder !== placeId);
    const total = sum(there.map(([, many]) => many));
    const wanted = quantity ?? total;
    if (wanted <= 0 || wanted > total) return null;
    const shelvesFirst = [
      ...there.filter(([holder]) => !this.isTray(holder)),
      ...there.filter(([holder]) => this.isTray(holder)),
    ];
    return this.write(
      takeFrom(shelvesFirst, wanted).map(([from, many]) => ({ lotId, quantity: many, from, to: placeId, reason: 'put away' })),
      null,
    );
  }

  pick(scan: Scan): Verdict {
    const { lotId, jobId } = scan;
    const found = this.admitted(scan, 'pick');
    if (found === null) return null;
    const { lot, job, line, quantity, missing } = found;
    const inTray = lot.at.get(job.trayId) ?? 0;
    const promised = sum(lot.claims.filter((claim) => claim.jobId === jobId).map((claim) => claim.quantity));
    const idle = Math.max(promised - inTray, 0);
    const steps: NaiveMovement[] = [
      ...foundSteps(lotId, job, missing),
      ...takeFrom(this.onShelves(lot), quantity - missing).map(([from, many]) => ({
        lotId,
        quantity: many,
        from,
        to: job.trayId,
        reason: 'picked',
      })),
    ];
    if (quantity > idle) this.claim(lot, jobId, line.id, quantity - idle);
    return this.write(steps, jobId);
  }

  fit(scan: Scan): Verdict {
    const { lotId, jobId } = scan;
    const found = this.admitted(scan, 'fit');
    if (found === null) return null;
    const { lot, job, line, quantity, missing } = found;
    this.useUpClaims(lot, jobId, line.id, quantity);
    const taken = [
      ...takeFrom(this.inReach(lot, job), quantity - missing),
      ...(missing > 0 ? [[job.trayId, missing] as const] : []),
    ];
    const steps = taken.map(([from, many]) => ({ lotId, quantity: many, from, to: job.unitId, reason: 'fitted' }));
    const written = this.write(foundSteps(lotId, job, missing), null);
    for (const step of steps) {
      const fromTray = step.from === job.trayId;
      const fitting = { jobId, lineId: line.id, lotId, quantity: step.quantity, left: step.quantity, fromTray, ended: false };
      this.fittings.push(fitting);
      this.write([step], jobId, fitting);
    }
    return [...written, ...steps];
  }

  takeBack(number: number): Verdict {
    const act = this.acts[number]!;
    const lot = this.lotOf(act.lotId);
    if (act.takenBack || !['picked', 'fitted', 'put away'].includes(act.reason)) return null;
    if (act.fitting?.ended) return null;
    if (this.manyAt(lot, act.to) < act.quantity) return null;
    if (act.reason === 'picked') this.forgetClaims(lot, act.jobId!, act.quantity);
    act.takenBack = true;
    if (act.fitting) {
      act.fitting.ended = true;
      act.fitting.left = 0;
      if (act.fitting.fromTray) this.claim(lot, act.fitting.jobId, act.fitting.lineId, act.quantity);
    }
    return this.write([{ lotId: act.lotId, quantity: act.quantity, from: act.to, to: act.from, reason: 'taken back' }], null);
  }

  takeOut(number: number, quantity: number, newLotId: string, placeId: string): Verdict {
    const fitting = this.fittings[number]!;
    if (quantity <= 0 || quantity > fitting.left) return null;
    const { lotId, jobId } = fitting;
    const old = this.lotOf(lotId);
    const { unitId } = this.jobs.get(jobId)!;
    fitting.left -= quantity;
    fitting.ended = true;
    this.lots.set(newLotId, {
      partId: old.partId,
      ownerId: old.ownerId,
      heldBack: false,
      at: new Map(),
      inUnits: new Map(),
      claims: [],
    });
    return this.write(
      [
        { lotId, quantity, from: unitId, to: elsewhere, reason: 'taken out: goes on as another lot' },
        { lotId: newLotId, quantity, from: elsewhere, to: placeId, reason: 'taken out after fitting' },
      ],
      null,
    );
  }

  private lotOf(lotId: string): NaiveLot {
    return this.lots.get(lotId)!;
  }

  private isTray(holder: string): boolean {
    return !this.places.includes(holder);
  }

  private manyAt(lot: NaiveLot, holder: string): number {
    return lot.at.get(holder) ?? lot.inUnits.get(holder) ?? 0;
  }

  private fullestFirst(lot: NaiveLot): (readonly [string, number])[] {
    return [...lot.at].filter(([, many]) => many > 0).sort(([one, many], [other, more]) => more - many || (one < other ? -1 : 1));
  }

  private onShelves(lot: NaiveLot): (readonly [string, number])[] {
    return this.fullestFirst(lot).filter(([holder]) => !this.isTray(holder));
  }

  /** What a fit may take: the job's own tray, then the shelves; never another job's tray. */
  private inReach(lot: NaiveLot, job: NaiveJob): (readonly [string, number])[] {
    const tray = this.fullestFirst(lot).filter(([holder]) => holder === job.trayId);
    return [...tray, ...this.onShelves(lot)];
  }

  private fittedOn(lineId: string): number {
    return sum(this.fittings.filter((fitting) => fitting.lineId === lineId).map((fitting) => fitting.left));
  }

  private promisedFor(lineId: string): number {
    return sum(
      [...this.lots.values()].flatMap((lot) =>
        lot.claims.filter((claim) => claim.lineId === lineId).map((claim) => claim.quantity),
      ),
    );
  }

  private roomOf(line: NaiveJob['lines'][number], mode: 'pick' | 'fit'): number {
    return Math.max(line.needed - this.fittedOn(line.id) - (mode === 'pick' ? this.promisedFor(line.id) : 0), 0);
  }

  /** Whether a scan goes through, onto which line, how many, and how many of them the books did not know. */
  private admitted(scan: Scan, mode: 'pick' | 'fit') {
    const lot = this.lotOf(scan.lotId);
    const job = this.jobs.get(scan.jobId)!;
    if (lot.ownerId !== null && lot.ownerId !== job.customerId) return null;
    const candidates = job.lines.filter((line) =>
      scan.inPlaceOfLineId ? line.id === scan.inPlaceOfLineId : line.partId === lot.partId,
    );
    const line = candidates.find((each) => this.roomOf(each, mode) > 0);
    if (line === undefined || lot.heldBack) return null;
    const room = this.roomOf(line, mode);
    const { quantity: keyed } = scan;
    if (keyed !== undefined && (keyed <= 0 || keyed > room)) return null;
    const wanted = keyed ?? room;
    const others = sum(lot.claims.filter((claim) => claim.jobId !== scan.jobId).map((claim) => claim.quantity));
    const ownTray = lot.at.get(job.trayId) ?? 0;
    const reach = sum((mode === 'fit' ? this.inReach(lot, job) : this.onShelves(lot)).map(([, many]) => many));
    const free = this.heldOf(lot) - others - (mode === 'pick' ? ownTray : 0);
    const there = Math.max(Math.min(reach, free), 0);
    if (there >= wanted) return { lot, job, line, quantity: wanted, missing: 0 };
    if (scan.haveItHere) {
      if (others > 0) return null;
      const quantity = keyed === undefined && there > 0 ? there : wanted;
      return { lot, job, line, quantity, missing: quantity - there };
    }
    if (there > 0 && keyed === undefined) return { lot, job, line, quantity: there, missing: 0 };
    return null;
  }

  private claim(lot: NaiveLot, jobId: string, lineId: string, quantity: number): void {
    const same = lot.claims.find((claim) => claim.jobId === jobId && claim.lineId === lineId);
    if (same) same.quantity += quantity;
    else lot.claims.push({ jobId, lineId, quantity });
  }

  /** A fit uses up its job's claims, those of the line first. */
  private useUpClaims(lot: NaiveLot, jobId: string, lineId: string, quantity: number): void {
    const own = lot.claims.filter((claim) => claim.jobId === jobId);
    lessen([...own.filter((claim) => claim.lineId === lineId), ...own.filter((claim) => claim.lineId !== lineId)], quantity);
  }

  private forgetClaims(lot: NaiveLot, jobId: string, quantity: number): void {
    lessen(lot.claims.filter((claim) => claim.jobId === jobId).reverse(), quantity);
  }

  private write(steps: NaiveMovement[], jobId: string | null, fitting: NaiveFitting | null = null): NaiveMovement[] {
    for (const step of steps) {
      const lot = this.lotOf(step.lotId);
      this.change(lot, step.from, -step.quantity);
      this.change(lot, step.to, step.quantity);
      this.acts.push({ ...step, jobId, fitting, takenBack: false });
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

function foundSteps(lotId: string, job: NaiveJob, missing: number): NaiveMovement[] {
  return missing > 0 ? [{ lotId, quantity: missing, from: elsewhere, to: job.trayId, reason: 'found in hand' }] : [];
}

function takeFrom(holders: readonly (readonly [string, number])[], quantity: number): (readonly [string, number])[] {
  let left = quantity;
  const taken: (readonly [string, number])[] = [];
  for (const [holder, many] of holders) {
    const part = Math.min(many, left);
    if (part > 0) taken.push([holder, part]);
    left -= part;
  }
  return taken;
}

function lessen(claims: { quantity: number }[], quantity: number): void {
  let left = quantity;
  for (const claim of claims) {
    const part = Math.min(claim.quantity, left);
    claim.quantity -= part;
    left -= part;
  }
}
