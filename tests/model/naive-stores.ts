import { elsewhere, sum, takeFrom, type Verdict } from './naive-balances.js';
import { buyer, many, NaiveBooks, type NaiveGoods, type NaiveStep, regrouping, reversed, seller, usedUp } from './naive-books.js';

export interface NaiveSale {
  lotId: string;
  quantity: number;
  back: number;
  out: NaiveStep[];
}

/** A blank label, one that is on something already, or a new one. */
export type Label = { code: string; isBlank: boolean };

/**
 * The rules by which goods are labelled, moved, lost, found, parted, joined, sold and thrown away, written down once more as plainly as
 * possible: one process, no database, no locks, no code of the server. Whole numbers only; a quantity is a count. There is one job, of
 * ours, with one line for each part that it needs.
 */
export class NaiveStores extends NaiveBooks {
  readonly sales: NaiveSale[] = [];

  constructor(
    places: Map<string, string | null>,
    trayId: string,
    /** how many the job needs of each part */
    readonly needed: ReadonlyMap<string, number>,
    readonly consumableId: string,
  ) {
    super(places, trayId);
  }

  // ---------------------------------------------------------------- coming in, going on

  takeIn(id: string, facts: { partId: string; ownerId: string | null; quantity: number; placeId: string }): Verdict {
    if (facts.quantity <= 0) return null;
    this.add(id, facts, 'bought new');
    return this.write([{ lotId: id, quantity: facts.quantity, from: seller, to: facts.placeId, reason: 'taken in' }]);
  }

  keyRow(id: string, partId: string, quantity: number, placeId: string): Verdict {
    if (quantity <= 0) return null;
    this.add(id, { partId, ownerId: null }, 'nobody knows').row = { placeId, quantity, struck: false };
    return this.write([{ lotId: id, quantity, from: elsewhere, to: placeId, reason: 'opening stock' }]);
  }

  correctRow(id: string, quantity: number): Verdict {
    const lot = this.lot(id);
    if (quantity <= 0 || !this.rowStands(lot)) return null;
    const { placeId, quantity: before } = lot.row!;
    const more = quantity - before;
    const [from, to] = more > 0 ? [elsewhere, placeId] : [placeId, elsewhere];
    const reason = 'opening stock, count corrected';
    const written = more === 0 ? [] : this.write([{ lotId: id, quantity: Math.abs(more), from, to, reason }]);
    if (written !== null) lot.row!.quantity = quantity;
    return written;
  }

  strikeRow(id: string): Verdict {
    const lot = this.lot(id);
    if (!this.rowStands(lot) || lot.condemned) return null;
    const { placeId } = lot.row!;
    const reason = 'opening stock, struck out: keyed twice';
    lot.row!.struck = true;
    lot.labels = [];
    return this.write([{ lotId: id, quantity: many(lot, placeId), from: placeId, to: elsewhere, reason }]);
  }

  putAway(lotId: string, placeId: string, keyed: number | undefined): Verdict {
    const lot = this.lot(lotId);
    const shelves = this.shelves(lot);
    if (lot.missing && shelves.length > 0 && shelves.every(([holder]) => holder === placeId)) {
      lot.missing = false;
      return [];
    }
    const tray = [[this.trayId, many(lot, this.trayId)] as const];
    const from = [...shelves.filter(([holder]) => holder !== placeId), ...tray];
    const total = sum(from.map(([, quantity]) => quantity));
    const wanted = keyed ?? total;
    if (wanted <= 0 || wanted > total) return null;
    lot.missing = false;
    return this.write(
      takeFrom(from, wanted).map(([holder, quantity]) => ({ lotId, quantity, from: holder, to: placeId, reason: 'put away' })),
    );
  }

  moveContents(fromId: string, toId: string): Verdict {
    if (fromId === toId || fromId === this.trayId) return null;
    const going = [...this.lots.values()].filter((lot) => many(lot, fromId) > 0 && !lot.missing);
    if (going.length === 0) return null;
    const reason = 'moved together';
    return this.write(going.map((lot) => ({ lotId: lot.id, quantity: many(lot, fromId), from: fromId, to: toId, reason })));
  }

  carry(placeId: string, parentId: string): Verdict {
    if (this.isInside(parentId, placeId) || this.places.get(placeId) === parentId) return null;
    this.places.set(placeId, parentId);
    return [];
  }

  // ---------------------------------------------------------------- for the job

  pick(lotId: string, keyed: number | undefined, haveItHere: boolean): Verdict {
    const lot = this.lot(lotId);
    const needed = this.needed.get(lot.partId);
    if (needed === undefined || lot.ownerId !== null || lot.condemned || lot.heldBack) return null;
    const room = needed - (this.promised(lot.partId) - this.idle(lot));
    const idleElsewhere = sum(this.ofPart(lot.partId).map((each) => (each === lot ? 0 : this.idle(each))));
    const isFull = room <= 0 || (keyed !== undefined && keyed > room);
    const roomInAll = isFull ? room + idleElsewhere : room;
    if (roomInAll <= 0 || (keyed !== undefined && (keyed <= 0 || keyed > roomInAll))) return null;
    const wanted = keyed ?? roomInAll;
    const there = this.inPlaces(lot);
    if (there < wanted && !haveItHere && (keyed !== undefined || there === 0)) return null;
    const quantity = there < wanted && keyed === undefined && there > 0 ? there : wanted;
    return this.intoTray(lot, quantity, Math.max(quantity - there, 0), isFull);
  }

  private intoTray(lot: NaiveGoods, quantity: number, found: number, isOtherBag: boolean): Verdict {
    const reserved = Math.min(quantity, this.idle(lot));
    const { id: lotId } = lot;
    const steps = takeFrom(this.shelves(lot), quantity - found).map(([from, part]) => ({
      lotId,
      quantity: part,
      from,
      to: this.trayId,
      reason: 'picked',
    }));
    const inHand = { lotId, quantity: found, from: elsewhere, to: this.trayId, reason: 'found in hand' };
    lot.missing = false;
    this.reserve(lot, quantity - reserved);
    const written = this.write([...(found > 0 ? [inHand] : []), ...steps], { reserved });
    if (isOtherBag) this.giveBackSurplus(lot.partId);
    return written;
  }

  /** What the job has reserved beyond what it needs is free again, what was reserved last first. */
  private giveBackSurplus(partId: string): void {
    let surplus = Math.max(this.promised(partId) - this.needed.get(partId)!, 0);
    for (const lot of this.ofPart(partId).sort((one, other) => other.claimNumber - one.claimNumber)) {
      const part = Math.min(this.idle(lot), surplus);
      lot.claim -= part;
      surplus -= part;
    }
  }

  unKit(lotId: string, quantity: number, placeId: string): Verdict {
    const lot = this.lot(lotId);
    const lying = many(lot, this.trayId);
    if (quantity <= 0 || quantity > lying) return null;
    const promised = Math.min(lot.claim, lying);
    lot.claim -= Math.min(Math.max(quantity - (lying - promised), 0), promised);
    return this.write([{ lotId, quantity, from: this.trayId, to: placeId, reason: 'put back from the tray' }]);
  }

  takeBack(step: NaiveStep): Verdict {
    if (step.takenBack) return null;
    if (step.reason === 'picked') return this.takePickBack(step);
    if (step.reason !== 'put away' && step.reason !== 'moved together') return null;
    const together = this.steps.filter(({ command }) => command === step.command);
    if (together.some((each) => this.lot(each.lotId).condemned && each.from === this.trayId)) return null;
    return this.write(together.map((each) => reversed(each, 'taken back')));
  }

  private takePickBack(step: NaiveStep): Verdict {
    const lot = this.lot(step.lotId);
    if (many(lot, this.trayId) < step.quantity) return null;
    const reserved = Math.min(step.scan.reserved, step.quantity);
    lot.claim -= Math.min(lot.claim, step.quantity - reserved);
    step.scan.reserved -= reserved;
    return this.write([reversed(step, 'taken back')]);
  }

  // ---------------------------------------------------------------- what may not be used, and what is not there

  hold(lotId: string, holds: boolean): Verdict {
    const lot = this.lot(lotId);
    if (lot.condemned || lot.heldBack === holds) return null;
    lot.heldBack = holds;
    return [];
  }

  condemn(lotId: string): Verdict {
    const lot = this.lot(lotId);
    if (lot.condemned || many(lot, this.trayId) > 0 || this.held(lot) === 0) return null;
    lot.condemned = true;
    lot.claim = 0;
    return [];
  }

  notThere(lotId: string, placeId: string | null): Verdict {
    const lot = this.lot(lotId);
    const shelves = this.shelves(lot);
    if (lot.missing || shelves.length === 0) return null;
    if (placeId !== null && (shelves.length > 1 || shelves[0]![0] !== placeId)) return null;
    lot.missing = true;
    return [];
  }

  found(lotId: string, placeId: string): Verdict {
    const lot = this.lot(lotId);
    if (!lot.missing) return null;
    lot.missing = false;
    const moved = this.shelves(lot).filter(([holder]) => holder !== placeId);
    return this.write(moved.map(([from, quantity]) => ({ lotId, quantity, from, to: placeId, reason: 'found' })));
  }

  postAway(lotId: string): Verdict {
    const lot = this.lot(lotId);
    if (!lot.missing || lot.claim > many(lot, this.trayId)) return null;
    lot.missing = false;
    const reason = 'not found: never seen again';
    return this.write(this.shelves(lot).map(([from, quantity]) => ({ lotId, quantity, from, to: elsewhere, reason })));
  }

  // ---------------------------------------------------------------- labels, and lots parted and joined

  /** @returns whether it can be put on; a new one always can */
  private isFree(label: Label | null): boolean {
    return label === null || (label.isBlank && this.bearing(label.code) === undefined);
  }

  replaceLabel(code: string, by: Label | null, newCode: () => string): Verdict {
    const lot = this.bearing(code);
    if (lot === undefined || !this.isFree(by)) return null;
    lot.labels = [...lot.labels.filter((each) => each !== code), by?.code ?? newCode()];
    return [];
  }

  putFurther(code: string, further: Label | null, newCode: () => string): Verdict {
    const lot = this.bearing(code);
    if (lot === undefined || !this.isFree(further)) return null;
    lot.labels.push(further?.code ?? newCode());
    return [];
  }

  split(
    lotId: string,
    quantity: number,
    placeId: string,
    label: Label | null,
    made: () => { id: string; code: string },
  ): Verdict {
    const lot = this.lot(lotId);
    const left = this.held(lot) - quantity;
    if (lot.missing || quantity <= 0 || quantity > many(lot, placeId) || left <= 0 || lot.claim > left) return null;
    const isOwn = label !== null && lot.labels.includes(label.code);
    if (isOwn ? lot.labels.length < 2 : !this.isFree(label)) return null;
    const { id, code } = made();
    if (isOwn) lot.labels = lot.labels.filter((each) => each !== code);
    const other = this.add(id, lot, lot.facts);
    Object.assign(other, { labels: [code], heldBack: lot.heldBack, condemned: lot.condemned });
    return this.passOver(lot, other, placeId, quantity, ['split off as', 'split off']);
  }

  merge(goesId: string, into: string): Verdict {
    const [goes, stays] = [this.lot(goesId), this.bearing(into)];
    if (stays === undefined || goes === stays || goes.missing || stays.missing) return null;
    const told = ({ partId, ownerId, facts, heldBack, condemned }: NaiveGoods) =>
      [partId, ownerId, facts, heldBack, condemned].join('|');
    if (told(goes) !== told(stays) || goes.container === 'open' || stays.container === 'open') return null;
    const shelves = this.shelves(goes);
    if (many(goes, this.trayId) > 0 || shelves.length === 0) return null;
    this.reserve(stays, goes.claim);
    goes.claim = 0;
    const written = shelves.flatMap(([placeId, quantity]) =>
      this.passOver(goes, stays, placeId, quantity, ['part of from now on', 'was']),
    );
    stays.labels.push(...goes.labels);
    Object.assign(goes, { labels: [], merged: true });
    return written;
  }

  private passOver(one: NaiveGoods, other: NaiveGoods, placeId: string, quantity: number, [out, into]: [string, string]) {
    const steps = [
      { lotId: one.id, quantity, from: placeId, to: regrouping, reason: out },
      { lotId: other.id, quantity, from: regrouping, to: placeId, reason: into },
    ];
    return this.write(steps)!;
  }

  // ---------------------------------------------------------------- sold, opened, emptied

  sell(lotId: string, quantity: number, reason: string): Verdict {
    const lot = this.lot(lotId);
    const here = this.inPlaces(lot);
    if (lot.ownerId !== null || lot.condemned || lot.missing || lot.heldBack) return null;
    if (quantity <= 0 || quantity > here) return null;
    const taken = Math.max(quantity - Math.max(Math.min(here, this.held(lot) - lot.claim), 0), 0);
    if (taken > 0 && reason === '') return null;
    lot.claim -= taken;
    const first = this.steps.length;
    const written = this.write(
      takeFrom(this.shelves(lot), quantity).map(([from, part]) => ({
        lotId,
        quantity: part,
        from,
        to: buyer,
        reason: 'sold at the counter',
      })),
    );
    this.sales.push({ lotId, quantity, back: 0, out: this.steps.slice(first) });
    return written;
  }

  takeSaleBack(sale: NaiveSale, quantity: number, placeId: string): Verdict {
    if (quantity <= 0 || quantity > sale.quantity - sale.back) return null;
    const reason = 'taken back from a buyer';
    const written = this.write(
      quantity === sale.quantity
        ? sale.out.map((step) => ({ ...reversed(step, reason), to: placeId }))
        : [{ lotId: sale.lotId, quantity, from: buyer, to: placeId, reason }],
    );
    if (written !== null) sale.back += quantity;
    return written;
  }

  openOne(lotId: string, made: () => { id: string; code: string }): Verdict {
    const lot = this.lot(lotId);
    if (lot.partId !== this.consumableId || lot.condemned || lot.heldBack) return null;
    if (this.ofPart(lot.partId).some(({ container }) => container === 'open')) return null;
    const [most] = this.shelves(lot);
    if (most === undefined || this.held(lot) - lot.claim < 1) return null;
    if (this.held(lot) === 1) {
      lot.container = 'open';
      return [];
    }
    const { id, code } = made();
    const other = this.add(id, lot, lot.facts);
    Object.assign(other, { labels: [code], container: 'open' });
    return this.passOver(lot, other, most[0], 1, ['split off as', 'split off']);
  }

  empty(lotId: string): Verdict {
    const lot = this.lot(lotId);
    if (lot.container !== 'open' || lot.claim > 0) return null;
    lot.container = 'ended';
    return this.write(this.shelves(lot).map(([from, quantity]) => ({ lotId, quantity, from, to: usedUp, reason: 'used up' })));
  }

  /** As many as were keyed lie where they were keyed, none is anywhere else, and nobody relies on it. */
  private rowStands({ row, claim, at }: NaiveGoods): boolean {
    if (row === null || row.struck || claim > 0 || at.get(row.placeId) !== row.quantity) return false;
    return [...at].every(([holder, quantity]) => quantity <= 0 || holder === row.placeId || holder === elsewhere);
  }

  private promised(partId: string): number {
    return sum(this.ofPart(partId).map(({ claim }) => claim));
  }
}
