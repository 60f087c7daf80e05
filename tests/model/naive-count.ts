import { elsewhere, sum, type Verdict } from './naive-balances.js';
import { many, type NaiveGoods, type NaiveStep, reversed } from './naive-books.js';
import type { NaiveStores } from './naive-stores.js';

/** The rules of counting, on the naive stores: what was seen is compared with what the books held at that moment. */
export interface NaiveCount {
  id: string;
  placeId: string | null;
  partId: string | null;
  ended: boolean;
  takings: Set<string>;
  entries: (Seen & { lotId: string; quantity: number; inOwnName: boolean })[];
  closings: Seen[];
  decisions: NaiveDecision[];
}

/** By whom and with which command, by its number. */
interface Seen {
  placeId: string;
  by: string;
  at: number;
}

export interface NaiveDecision {
  kind: Decision | 'taken back';
  placeId: string;
  lotId: string;
  at: number;
  step: NaiveStep | null;
}

export type Decision = 'post' | 'move' | 'missing' | 'again' | 'leave';

interface Taken {
  quantity: number;
  books: number;
  difference: number;
}

export interface NaiveLine {
  placeId: string;
  lot: NaiveGoods;
  state: 'agrees' | 'again' | 'unsure' | 'twice' | 'found' | 'elsewhere' | 'short' | 'missing';
  taken: Taken[];
  isOpen: boolean;
}

const offered: Record<NaiveLine['state'], Decision[]> = {
  agrees: [],
  again: ['leave'],
  unsure: ['again', 'leave'],
  twice: ['post', 'again', 'leave'],
  found: ['post', 'again', 'leave'],
  elsewhere: ['move', 'post', 'again', 'leave'],
  short: ['post', 'again', 'leave'],
  missing: ['missing', 'post', 'again', 'leave'],
};

/** Who works with things. */
const hands = ['owner', 'other'];

export class NaiveCounts {
  readonly counts: NaiveCount[] = [];

  constructor(private readonly stores: NaiveStores) {}

  get open(): NaiveCount[] {
    return this.counts.filter(({ ended }) => !ended);
  }

  begin(id: string, of: { placeId: string | null; partId: string | null }): Verdict {
    const isUnderWay = this.open.some(({ placeId, partId }) =>
      of.placeId === null ? partId === of.partId : placeId !== null && this.stores.isInside(of.placeId, placeId),
    );
    if (isUnderWay) return null;
    this.counts.push({ id, ...of, ended: false, takings: new Set(), entries: [], closings: [], decisions: [] });
    return [];
  }

  take(count: NaiveCount, placeId: string, by: string): Verdict {
    if (!this.covers(count, placeId)) return null;
    const isTaken = [...count.takings].some((key) => key.startsWith(placeId) && !key.endsWith(by));
    if (isTaken && !count.takings.has(`${placeId} ${by}`)) return null;
    count.takings.add(`${placeId} ${by}`);
    return [];
  }

  enter(count: NaiveCount, placeId: string, code: string, quantity: number, by: string, inOwnName: boolean): Verdict {
    const lot = this.stores.bearing(code);
    if (lot === undefined || !this.covers(count, placeId)) return null;
    if (count.partId !== null && lot.partId !== count.partId) return null;
    const look = this.lookOf(count, placeId, lot.id, by);
    if (look === 'barred' || (look === 'own name' && !inOwnName)) return null;
    count.takings.add(`${placeId} ${by}`);
    count.entries.push({ placeId, lotId: lot.id, quantity, by, at: this.stores.command, inOwnName: look !== 'free' });
    lot.missing = false;
    return [];
  }

  close(count: NaiveCount, placeId: string, by: string, inOwnName: boolean): Verdict {
    if (!this.covers(count, placeId) || ![...count.takings].some((key) => key.startsWith(placeId))) return null;
    const looks = [...this.stores.lots.keys()]
      .filter((lotId) => this.isAwaited(count, placeId, lotId))
      .map((lotId) => this.lookOf(count, placeId, lotId, by));
    if (looks.includes('barred') || (looks.includes('own name') && !inOwnName)) return null;
    count.closings.push({ placeId, by, at: this.stores.command });
    return [];
  }

  decide(count: NaiveCount, line: NaiveLine, decision: Decision, why: string): Verdict {
    const { lot, placeId, state } = line;
    const [taken] = line.taken;
    const isShort = state === 'short' || state === 'missing';
    const isBarred = (decision === 'missing' && lot.missing) || (decision === 'post' && isShort && lot.ownerId !== null);
    if (count.ended || !line.isOpen || isBarred || !offered[state].includes(decision)) return null;
    if (decision === 'leave' && why === '') return null;
    if (decision === 'missing' && this.stores.notThere(lot.id, placeId) === null) return null;
    const step = decision === 'post' || decision === 'move' ? this.stepFor(line, decision, taken!) : null;
    if (step === 'refused') return null;
    const written = step === null ? [] : this.stores.write([step], undefined, count.id);
    if (written === null) return null;
    const last = step === null ? null : this.stores.steps.at(-1)!;
    count.decisions.push({ kind: decision, placeId, lotId: lot.id, at: this.stores.command, step: last });
    if (step?.to === elsewhere && this.stores.shelves(lot).length === 0) lot.missing = false;
    return written;
  }

  private stepFor({ placeId, lot }: NaiveLine, decision: Decision, { difference }: Taken) {
    const { id: lotId } = lot;
    if (decision === 'move') {
      const [from, lying] = this.stores.shelves(lot).find(([holder]) => holder !== placeId)!;
      return { lotId, quantity: Math.min(difference, lying), from, to: placeId, reason: 'count: it lies here' };
    }
    if (difference > 0)
      return { lotId, quantity: difference, from: elsewhere, to: placeId, reason: 'count: more than the books had' };
    const isKept = -difference > many(lot, placeId) || lot.claim > this.stores.held(lot) + difference;
    if (difference === 0 || isKept) return 'refused' as const;
    return { lotId, quantity: -difference, from: placeId, to: elsewhere, reason: 'count: fewer than the books had' };
  }

  takeBack(count: NaiveCount, decision: NaiveDecision): Verdict {
    const { placeId, lotId, step } = decision;
    const last = this.decisionsOn(count, placeId, lotId).at(-1);
    if (count.ended || last !== decision || !['post', 'move', 'leave'].includes(decision.kind)) return null;
    const lot = this.stores.lot(lotId);
    const isKept = step !== null && !this.stores.isOurs(step.from) && lot.claim > this.stores.held(lot) - step.quantity;
    const written =
      step === null ? [] : isKept ? null : this.stores.write([reversed(step, 'count: taken back')], undefined, count.id);
    if (written === null) return null;
    const back = step === null ? null : this.stores.steps.at(-1)!;
    count.decisions.push({ kind: 'taken back', placeId, lotId, at: this.stores.command, step: back });
    return written;
  }

  end(count: NaiveCount, ending: 'posted' | 'given up'): Verdict {
    if (count.ended) return null;
    const lines = this.lines(count);
    const taken = [...count.takings].map((key) => key.split(' ')[0]);
    const allClosed = taken.every((placeId) => count.closings.some((closing) => closing.placeId === placeId));
    if (ending === 'posted' && (lines.length === 0 || !allClosed || lines.some(({ isOpen }) => isOpen))) return null;
    count.ended = true;
    return [];
  }

  /** What is compared: everything in the places of which somebody has said that all is scanned. */
  lines(count: NaiveCount): NaiveLine[] {
    const closed = [...new Set(count.closings.map(({ placeId }) => placeId))];
    return closed.flatMap((placeId) => [...this.stores.lots.values()].flatMap((lot) => this.lineOf(count, placeId, lot) ?? []));
  }

  private lineOf(count: NaiveCount, placeId: string, lot: NaiveGoods): NaiveLine | null {
    const decisions = this.decisionsOn(count, placeId, lot.id);
    const again = decisions.findLast(({ kind }) => kind === 'again')?.at ?? -1;
    const entries = count.entries.filter((each) => each.placeId === placeId && each.lotId === lot.id && each.at > again);
    const standing = [...new Map(entries.map((each) => [each.by, each])).values()].sort((one, other) => one.at - other.at);
    const closing = count.closings.findLast((each) => each.placeId === placeId && each.at > again);
    const isOfPart = count.partId === null || lot.partId === count.partId;
    if (standing.length === 0 && (closing === undefined || !isOfPart))
      return again < 0 ? null : { placeId, lot, state: 'again', taken: [], isOpen: !this.isLeft(decisions, []) };
    const seen = standing.length > 0 ? standing : [{ ...closing!, quantity: 0 }];
    const read = this.read(count, placeId, lot, seen);
    if (standing.length === 0 && read.taken[0]!.books === 0 && read.taken[0]!.difference === 0) return null;
    const newer = standing.length > 0 ? standing : count.closings.filter((each) => each.placeId === placeId);
    return { placeId, lot, ...read, isOpen: read.state !== 'agrees' && !this.isLeft(decisions, newer) };
  }

  private read(
    count: NaiveCount,
    placeId: string,
    lot: NaiveGoods,
    seen: readonly { quantity: number; at: number }[],
  ): Pick<NaiveLine, 'state' | 'taken'> {
    const taken = seen.map(({ quantity, at }) => this.compare(count, placeId, lot.id, quantity, at));
    const last = seen.at(-1)!;
    if (seen.length > 1) {
      if (taken.every(({ difference }) => difference === 0)) return { state: 'agrees', taken: taken.slice(-1) };
      const inAll = sum(seen.map(({ quantity }) => quantity));
      const choices = [...taken, this.compare(count, placeId, lot.id, inAll, last.at)];
      const isSettled = this.putRight(count, placeId, lot.id) !== 0 && choices.some(({ difference }) => difference === 0);
      return { state: isSettled ? 'agrees' : 'twice', taken: choices };
    }
    const { difference } = taken[0]!;
    if (difference === 0) return { state: 'agrees', taken };
    if (this.booksAt(count, placeId, lot.id, last.at).length > 1) return { state: 'unsure', taken };
    const isElsewhere = this.stores.shelves(lot).some(([holder]) => holder !== placeId);
    if (difference > 0) return { state: isElsewhere ? 'elsewhere' : 'found', taken };
    return { state: last.quantity === 0 ? 'missing' : 'short', taken };
  }

  private compare(count: NaiveCount, placeId: string, lotId: string, quantity: number, at: number): Taken {
    const possible = this.booksAt(count, placeId, lotId, at);
    const books = possible.includes(quantity) ? quantity : possible[0]!;
    return { quantity, books, difference: quantity - books - this.putRight(count, placeId, lotId) };
  }

  /** What the books held then, and where something of before was taken back since what they would have held without it. */
  private booksAt(count: NaiveCount, placeId: string, lotId: string, at: number): number[] {
    const moved = this.moved(placeId, lotId).filter(({ countId }) => countId !== count.id);
    const before = moved.filter(({ command }) => command < at);
    const held = sum(before.map((step) => change(step, placeId)));
    const undone = moved.filter(({ command, reverses }) => command >= at && reverses !== null && before.includes(reverses));
    const otherwise = held - sum(undone.map(({ reverses }) => change(reverses!, placeId)));
    return otherwise === held ? [held] : [held, otherwise];
  }

  private putRight(count: NaiveCount, placeId: string, lotId: string): number {
    const own = this.moved(placeId, lotId).filter(({ countId }) => countId === count.id);
    return sum(own.map((step) => change(step, placeId)));
  }

  private moved(placeId: string, lotId: string): NaiveStep[] {
    return this.stores.steps.filter((step) => step.lotId === lotId && (step.from === placeId || step.to === placeId));
  }

  /** Left or marked, and nothing newer was seen since. */
  private isLeft(decisions: readonly NaiveDecision[], seen: readonly { at: number }[]): boolean {
    const last = decisions.at(-1);
    return last !== undefined && ['missing', 'leave'].includes(last.kind) && !seen.some(({ at }) => at > last.at);
  }

  /** A second look is of whoever has not looked; where all have, anybody's in their own name. */
  private lookOf(count: NaiveCount, placeId: string, lotId: string, by: string): 'free' | 'barred' | 'own name' | 'goes on' {
    const last = this.decisionsOn(count, placeId, lotId).at(-1);
    if (last?.kind !== 'again') return 'free';
    const entries = count.entries.filter((each) => each.placeId === placeId && each.lotId === lotId);
    const since = entries.filter((each) => each.at > last.at);
    if (since.findLast((each) => each.by === by)?.inOwnName) return 'goes on';
    if (since.some((each) => each.by !== by)) return 'free';
    const looks = [...entries, ...count.closings.filter((each) => each.placeId === placeId)];
    if (!looks.some((each) => each.at <= last.at && each.by === by)) return 'free';
    return hands.every((hand) => looks.some((each) => each.by === hand)) ? 'own name' : 'barred';
  }

  /** A second look was asked for and nobody has had it. */
  private isAwaited(count: NaiveCount, placeId: string, lotId: string): boolean {
    const last = this.decisionsOn(count, placeId, lotId).at(-1);
    if (last?.kind !== 'again') return false;
    const entries = count.entries.filter((each) => each.lotId === lotId);
    return ![...entries, ...count.closings].some((each) => each.placeId === placeId && each.at > last.at);
  }

  private decisionsOn(count: NaiveCount, placeId: string, lotId: string): NaiveDecision[] {
    return count.decisions.filter((each) => each.placeId === placeId && each.lotId === lotId);
  }

  private covers({ ended, placeId: around }: NaiveCount, placeId: string): boolean {
    return !ended && this.stores.places.has(placeId) && (around === null || this.stores.isInside(placeId, around));
  }
}

function change({ from, to, quantity }: NaiveStep, placeId: string): number {
  return (to === placeId ? quantity : 0) - (from === placeId ? quantity : 0);
}
