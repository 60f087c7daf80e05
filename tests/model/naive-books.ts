import { type NaiveMovement, sum, type Verdict } from './naive-balances.js';

export interface NaiveGoods {
  id: string;
  partId: string;
  ownerId: string | null;
  /** all else by which two lots are told apart */
  facts: string;
  heldBack: boolean;
  condemned: boolean;
  missing: boolean;
  /** part of another lot by now */
  merged: boolean;
  /** of a consumable: whether it is open, or was and is not any more */
  container: 'full' | 'open' | 'ended';
  /** how many at each holder, in stores or beyond the books */
  at: Map<string, number>;
  /** how many the job has reserved, picked or not, and how many reservations there had been before */
  claim: number;
  claimNumber: number;
  /** codes that open it */
  labels: string[];
  /** the row of opening stock by which it came; how many stand in it */
  row: { placeId: string; quantity: number; struck: boolean } | null;
}

export interface NaiveStep extends NaiveMovement {
  /** the command by which it was written, by its number */
  command: number;
  reverses: NaiveStep | null;
  takenBack: boolean;
  /** the count whose decision it was */
  countId: string | null;
  /** of a pick, shared by all of its steps: so many the job had reserved before */
  scan: { reserved: number };
}

export const regrouping = 'regrouping';
export const usedUp = 'used up';
export const buyer = 'buyer';
export const seller = 'seller';

export type Stride = NaiveMovement & { reverses?: NaiveStep };

/** What lies where, what is reserved of it, and every step by which it came there. Nothing is decided here but whether a step can be. */
export class NaiveBooks {
  /** the number of the command that is being given */
  command = 0;
  private claims = 0;
  readonly lots = new Map<string, NaiveGoods>();
  readonly steps: NaiveStep[] = [];

  constructor(
    /** each place with the one around it */
    readonly places: Map<string, string | null>,
    readonly trayId: string,
  ) {}

  lot(id: string): NaiveGoods {
    return this.lots.get(id)!;
  }

  held(lot: NaiveGoods): number {
    return this.inPlaces(lot) + many(lot, this.trayId);
  }

  /** Where it lies in places, the most first. */
  shelves(lot: NaiveGoods): (readonly [string, number])[] {
    return [...lot.at]
      .filter(([holder, quantity]) => this.places.has(holder) && quantity > 0)
      .sort(([one, many], [other, more]) => more - many || (one < other ? -1 : 1));
  }

  inPlaces(lot: NaiveGoods): number {
    return sum(this.shelves(lot).map(([, quantity]) => quantity));
  }

  bearing(code: string): NaiveGoods | undefined {
    return [...this.lots.values()].find(({ labels }) => labels.includes(code));
  }

  isInside(placeId: string, around: string): boolean {
    for (let up: string | null | undefined = placeId; up; up = this.places.get(up)) if (up === around) return true;
    return false;
  }

  protected ofPart(partId: string): NaiveGoods[] {
    return [...this.lots.values()].filter((lot) => lot.partId === partId);
  }

  /** So many of what is reserved do not lie in the tray. */
  protected idle(lot: NaiveGoods): number {
    return Math.max(lot.claim - many(lot, this.trayId), 0);
  }

  isOurs(holder: string): boolean {
    return holder === this.trayId || this.places.has(holder);
  }

  /** Writes steps, or none of them where they would take what is not there, or bring something into a lot that is part of another. */
  write(strides: readonly Stride[], scan = { reserved: 0 }, countId: string | null = null): Verdict {
    const after = new Map<string, number>();
    for (const { lotId, quantity, from, to, reverses } of strides) {
      if (reverses?.takenBack || (this.lot(lotId).merged && this.isOurs(to) && !this.isOurs(from))) return null;
      for (const [holder, by] of [
        [from, -quantity],
        [to, quantity],
      ] as const) {
        const key = `${lotId} ${holder}`;
        after.set(key, (after.get(key) ?? many(this.lot(lotId), holder)) + by);
      }
    }
    if ([...after].some(([key, quantity]) => quantity < 0 && this.isOurs(key.split(' ')[1]!))) return null;
    for (const { reverses = null, ...stride } of strides) {
      const lot = this.lot(stride.lotId);
      lot.at.set(stride.from, many(lot, stride.from) - stride.quantity);
      lot.at.set(stride.to, many(lot, stride.to) + stride.quantity);
      if (reverses !== null) reverses.takenBack = true;
      this.steps.push({ ...stride, command: this.command, reverses, takenBack: false, countId, scan });
    }
    return strides.map(({ lotId, quantity, from, to, reason }) => ({ lotId, quantity, from, to, reason }));
  }

  protected add(id: string, { partId, ownerId }: { partId: string; ownerId: string | null }, facts: string): NaiveGoods {
    const none = { heldBack: false, condemned: false, missing: false, merged: false, container: 'full' as const };
    const lot = { id, partId, ownerId, facts, ...none, at: new Map(), claim: 0, claimNumber: 0, labels: [], row: null };
    this.lots.set(id, lot);
    return lot;
  }

  protected reserve(lot: NaiveGoods, quantity: number): void {
    if (quantity <= 0) return;
    this.claims += 1;
    if (lot.claim === 0) lot.claimNumber = this.claims;
    lot.claim += quantity;
  }
}

export function many(lot: NaiveGoods, holder: string): number {
  return lot.at.get(holder) ?? 0;
}

export function reversed(step: NaiveStep, reason: string): Stride {
  return { lotId: step.lotId, quantity: step.quantity, from: step.to, to: step.from, reason, reverses: step };
}
