import {
  elsewhere,
  type IdleClaim,
  lessen,
  type NaiveAct,
  NaiveBalances,
  type NaiveJob,
  type NaiveLot,
  type NaiveMovement,
  sum,
  takeFrom,
  type Verdict,
} from './naive-balances.js';

export interface Scan {
  lotId: string;
  jobId: string;
  quantity?: number;
  inPlaceOfLineId?: string;
  haveItHere?: boolean;
}

/** What is to become of a scan: it goes on, or is stopped since its line is full, or since others have it, or for good. */
type Verdicts =
  | { kind: 'goes'; lot: NaiveLot; job: NaiveJob; line: NaiveJob['lines'][number]; quantity: number; missing: number }
  | { kind: 'full' }
  | { kind: 'promised'; toFree: number }
  | { kind: 'no' };

/** The longest list of equal lots that is looked at. */
const equalMax = 8;

/**
 * The rules of the stores, written down once more as plainly as possible: one process, no database, no locks, no code of
 * the server. Whole numbers only; a quantity is a count.
 */
export class NaiveLedger extends NaiveBalances {
  takeIn(lotId: string, partId: string, ownerId: string | null, quantity: number, placeId: string, seller: string): Verdict {
    if (quantity <= 0) return null;
    this.lots.set(lotId, { partId, ownerId, heldBack: false, at: new Map(), inUnits: new Map(), takenOut: false, claims: [] });
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
    const { lot, job, line, quantity, missing, isOtherBag } = found;
    const idle = this.idleOf(lot, job, jobId);
    const forLine = Math.min(quantity, sum(idle.filter(({ claim }) => claim.lineId === line.id).map((each) => each.idle)));
    const more = quantity - forLine;
    const others = idle.filter(({ claim }) => claim.lineId !== line.id);
    const fromOthers = lessen(others, Math.max(more - Math.max(this.heldOf(lot) - this.claimedOf(lot), 0) - missing, 0));
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
    if (more > 0) this.claim(lot, jobId, line.id, more);
    const written = this.write(steps, jobId, null, { reserved: forLine + fromOthers });
    if (isOtherBag) this.giveBackSurplus(jobId, job, line);
    return written;
  }

  fit(scan: Scan): Verdict {
    const { lotId, jobId } = scan;
    const found = this.admitted(scan, 'fit');
    if (found === null) return null;
    const { lot, job, line, quantity, missing } = found;
    const there = takeFrom(this.inReach(lot, job), quantity - missing);
    const outOfTray = sum(there.filter(([from]) => from === job.trayId).map(([, many]) => many));
    const command = { reserved: this.useUpClaims(lot, jobId, line.id, { quantity, missing, outOfTray }) };
    const taken = [...there, ...(missing > 0 ? [[job.trayId, missing] as const] : [])];
    const steps = taken.map(([from, many]) => ({ lotId, quantity: many, from, to: job.unitId, reason: 'fitted' }));
    const written = this.write(foundSteps(lotId, job, missing), null);
    for (const step of steps) {
      const fromTray = step.from === job.trayId;
      const fitting = { jobId, lineId: line.id, lotId, quantity: step.quantity, left: step.quantity, fromTray, ended: false };
      this.fittings.push(fitting);
      this.write([step], jobId, fitting, command);
    }
    this.giveBackSurplus(jobId, job, line);
    return [...written, ...steps];
  }

  takeBack(number: number): Verdict {
    const act = this.acts[number]!;
    const lot = this.lotOf(act.lotId);
    if (act.takenBack || !['picked', 'fitted', 'put away'].includes(act.reason)) return null;
    if (act.fitting?.ended) return null;
    if (act.reason === 'put away') return this.putBack(act);
    if (this.manyAt(lot, act.to) < act.quantity) return null;
    const reserved = Math.min(act.scan.reserved, act.quantity);
    if (act.reason === 'picked') this.forgetClaims(lot, act.jobId!, act.quantity - reserved);
    act.takenBack = true;
    if (!act.fitting?.fromTray) act.scan.reserved -= reserved;
    if (act.fitting) {
      act.fitting.ended = true;
      act.fitting.left = 0;
      const again = act.fitting.fromTray ? act.quantity : reserved;
      if (again > 0) this.claim(lot, act.fitting.jobId, act.fitting.lineId, again);
    }
    return this.write([{ lotId: act.lotId, quantity: act.quantity, from: act.to, to: act.from, reason: 'taken back' }], null);
  }

  /** What one scan put away goes back whole, whichever place it came from. */
  private putBack({ scan, lotId, to }: NaiveAct): Verdict {
    const together = this.acts.filter((each) => each.scan === scan);
    if (this.manyAt(this.lotOf(lotId), to) < sum(together.map(({ quantity }) => quantity))) return null;
    for (const each of together) each.takenBack = true;
    return this.write(
      together.map(({ quantity, from }) => ({ lotId, quantity, from: to, to: from, reason: 'taken back' })),
      null,
    );
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
      takenOut: true,
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

  /** A fit may use up what was reserved; a pick, what was reserved of the very lot, and where a line is full of it, of others. */
  private roomOf(line: NaiveJob['lines'][number], mode: 'pick' | 'fit', reserved: number): number {
    return Math.max(line.needed - this.fittedOn(line.id) - (mode === 'pick' ? this.promisedFor(line.id) - reserved : 0), 0);
  }

  /** Whether a scan goes through, onto which line, how many, and how many of them the books did not know. */
  private admitted(scan: Scan, mode: 'pick' | 'fit') {
    const lot = this.lotOf(scan.lotId);
    const job = this.jobs.get(scan.jobId)!;
    const elsewhere = this.idleOfJob(job, scan.jobId, lot).filter(({ idle }) => idle > 0);
    let verdict = this.decide(scan, mode, []);
    const isOtherBag = verdict.kind === 'full' && mode === 'pick' && elsewhere.length > 0;
    if (isOtherBag) verdict = this.decide(scan, mode, elsewhere);
    if (verdict.kind === 'promised') {
      const before = [...this.lots.values()].map((each) => [each, each.claims.map((claim) => ({ ...claim }))] as const);
      if (this.moveAside(lot, scan.jobId, verdict.toFree)) verdict = this.decide(scan, mode, isOtherBag ? elsewhere : []);
      if (verdict.kind !== 'goes') for (const [each, claims] of before) each.claims = claims;
    }
    return verdict.kind === 'goes' ? { ...verdict, isOtherBag } : null;
  }

  private decide(scan: Scan, mode: 'pick' | 'fit', elsewhere: readonly IdleClaim[]): Verdicts {
    const lot = this.lotOf(scan.lotId);
    const job = this.jobs.get(scan.jobId)!;
    if (lot.ownerId !== null && lot.ownerId !== job.customerId) return { kind: 'no' };
    const here = this.idleOf(lot, job, scan.jobId);
    const of = (claims: readonly IdleClaim[], line: { id: string }) =>
      sum(claims.filter(({ claim }) => claim.lineId === line.id).map(({ idle }) => idle));
    const room = (line: NaiveJob['lines'][number]) => this.roomOf(line, mode, of(here, line) + of(elsewhere, line));
    const candidates = job.lines
      .filter((each) => (scan.inPlaceOfLineId ? each.id === scan.inPlaceOfLineId : each.partId === lot.partId))
      .toSorted((a, b) => (mode === 'pick' ? Number(of(here, b) > 0) - Number(of(here, a) > 0) : 0));
    const line = candidates.find((each) => room(each) > 0);
    if (line === undefined) return { kind: candidates.length > 0 ? 'full' : 'no' };
    if (lot.heldBack) return { kind: 'no' };
    const { quantity: keyed } = scan;
    if (keyed !== undefined && keyed <= 0) return { kind: 'no' };
    if (keyed !== undefined && keyed > room(line)) return { kind: 'full' };
    const wanted = keyed ?? room(line);
    const others = sum(lot.claims.filter((claim) => claim.jobId !== scan.jobId).map((claim) => claim.quantity));
    const ownTray = lot.at.get(job.trayId) ?? 0;
    const reach = sum((mode === 'fit' ? this.inReach(lot, job) : this.onShelves(lot)).map(([, many]) => many));
    const free = this.heldOf(lot) - others - (mode === 'pick' ? ownTray : 0);
    const there = Math.max(Math.min(reach, free), 0);
    const goes = { kind: 'goes' as const, lot, job, line };
    if (there >= wanted) return { ...goes, quantity: wanted, missing: 0 };
    if (scan.haveItHere && others === 0) {
      const quantity = keyed === undefined && there > 0 ? there : wanted;
      return { ...goes, quantity, missing: quantity - there };
    }
    if (!scan.haveItHere && there > 0 && keyed === undefined) return { ...goes, quantity: there, missing: 0 };
    const taken = keyed === undefined ? Math.min(wanted, reach) : wanted;
    return others > 0 && taken > there && taken <= reach ? { kind: 'promised', toFree: taken - there } : { kind: 'no' };
  }

  /** What others have reserved of a lot goes to equal ones that are free. */
  private moveAside(lot: NaiveLot, jobId: string, toFree: number): boolean {
    const equal = [...this.lots]
      .filter(([, each]) => each !== lot && each.partId === lot.partId && each.ownerId === lot.ownerId)
      .filter(([, each]) => each.takenOut === lot.takenOut && !each.heldBack && this.heldOf(each) > this.claimedOf(each))
      .sort(([one], [other]) => (one < other ? -1 : 1))
      .slice(0, equalMax);
    let left = toFree;
    for (const otherId of [...this.jobs.keys()].filter((id) => id !== jobId).sort())
      for (const { claim, idle } of this.idleOf(lot, this.jobs.get(otherId)!, otherId)) {
        let movable = idle;
        for (const [, to] of equal) {
          const many = Math.min(left, movable, this.heldOf(to) - this.claimedOf(to));
          if (many <= 0) continue;
          claim.quantity -= many;
          this.claim(to, otherId, claim.lineId, many);
          movable -= many;
          left -= many;
        }
      }
    return left < toFree;
  }
}

function foundSteps(lotId: string, job: NaiveJob, missing: number): NaiveMovement[] {
  return missing > 0 ? [{ lotId, quantity: missing, from: elsewhere, to: job.trayId, reason: 'found in hand' }] : [];
}
