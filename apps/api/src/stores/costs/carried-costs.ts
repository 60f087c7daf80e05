import { costsOfParts } from '@corewright/costing/share-cost';
import {
  compareDecimals,
  type Decimal,
  lesserDecimal,
  subtractDecimals,
  sumDecimals,
  zero,
} from '@corewright/quantities/decimal';
import { addMoney, type Money, noMoney } from '@corewright/quantities/money';

/** So many of one lot went on as another: taken out of a unit after fitting, split off, or made part of it. */
export interface WentOn {
  from: string;
  to: string;
  kind: 'taken out' | 'opened' | 'split' | 'merged';
  quantity: Decimal;
}

/** A lot with what it cost by its own entries, null where it has none; and how many of it are where, each holder by itself. */
export interface CostLot {
  id: string;
  own: Money | null;
  here: readonly Decimal[];
}

/**
 * What went from one lot to another less what came back: goods that were split off and put together again carry nothing. So no cost goes
 * in a circle, however often bags were parted and joined.
 */
export function netOf(wentOn: readonly WentOn[]): WentOn[] {
  const net: WentOn[] = [];
  for (const step of wentOn) {
    const known = net.find(({ from, to }) => from === step.from && to === step.to);
    if (known === undefined) net.push({ ...step });
    else known.quantity = sumDecimals([known.quantity, step.quantity]);
  }
  for (let circle = circleIn(net); circle !== null; circle = circleIn(net)) {
    const least = circle.map(({ quantity }) => quantity).reduce((a, b) => lesserDecimal(a, b));
    for (const step of circle) step.quantity = subtractDecimals(step.quantity, least);
  }
  return net.filter(({ quantity }) => compareDecimals(quantity, zero) > 0);
}

function circleIn(steps: readonly WentOn[]): WentOn[] | null {
  const open = steps.filter(({ quantity }) => quantity > zero);
  const done = new Set<string>();
  const from = (id: string, way: readonly WentOn[]): WentOn[] | null => {
    const start = way.findIndex((step) => step.from === id);
    if (start >= 0) return way.slice(start);
    if (done.has(id)) return null;
    for (const step of open.filter((each) => each.from === id)) {
      const found = from(step.to, [...way, step]);
      if (found !== null) return found;
    }
    done.add(id);
    return null;
  };
  for (const { from: id } of open) {
    const found = from(id, []);
    if (found !== null) return found;
  }
  return null;
}

/**
 * What each lot of a family cost: its own entries, its part of the cost of the lot that it was, and what became part of it. All of it comes
 * to what the entries come to, to the last minor unit (see `costsOfParts`), less nothing: what went on is borne by those that it went to.
 * @returns null for a lot where nobody knows
 */
export function carriedCosts(lots: readonly CostLot[], wentOn: readonly WentOn[]): ReadonlyMap<string, Money | null> {
  const net = netOf(wentOn);
  const byId = new Map(lots.map((lot) => [lot.id, lot]));
  const known = new Map<string, Money | null>();
  const costOf = (id: string): Money | null => {
    const before = known.get(id);
    if (before !== undefined) return before;
    const own = byId.get(id)?.own ?? null;
    const began = wentOn.some((step) => step.to === id && step.kind !== 'merged');
    let cost: Money | null = own ?? (began ? noMoney : null);
    for (const step of net) {
      if (step.to !== id || (own !== null && step.kind !== 'merged')) continue;
      const part = partOf(step);
      cost = cost === null || part === null ? null : addMoney(cost, part);
    }
    known.set(id, cost);
    return cost;
  };
  const partOf = (step: WentOn): Money | null => {
    const whole = costOf(step.from);
    if (whole === null) return null;
    const outgoing = net.filter(({ from }) => from === step.from);
    const here = byId.get(step.from)?.here ?? [];
    const costs = costsOfParts(whole, [...here, ...outgoing.map(({ quantity }) => quantity)]);
    return costs[here.length + outgoing.indexOf(step)] ?? null;
  };
  return new Map(lots.map(({ id }) => [id, costOf(id)]));
}
