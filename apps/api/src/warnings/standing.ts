import type { CoveredLine, CoverState } from '@corewright/contracts/coverage';
import { type Decimal, decimalFrom, formatDecimal, sumDecimals, zero } from '@corewright/quantities/decimal';
import { grouped } from '../coverage/grouped.js';
import type { SharedOut } from '../coverage/share-out.js';

/** One of the things that a line rests on. */
export interface Rest {
  state: CoverState;
  quantity: string;
  /** of the thing or the order; null where it is the unit's own, or in the unit */
  id: string | null;
  /** the code of the thing, the reference of the order */
  name: string;
  dueOn: string | null;
}

/** How a line stands, as far as it is compared with how it stood. */
export interface Standing {
  covered: string;
  lacking: string;
  restsOn: readonly Rest[];
  /** lines of other jobs that get what this one lacks and could use */
  rivals: readonly string[];
}

export function standingOf(line: CoveredLine, shared: SharedOut): Standing {
  const sum = (isLacking: boolean): string =>
    formatDecimal(
      sumDecimals(
        line.shares.filter(({ state }) => (state === 'lacking') === isLacking).map(({ quantity }) => decimalFrom(quantity)),
      ),
    );
  const orders = new Map(shared.facts.receipts.map((receipt) => [receipt.id, receipt.orderReference]));
  const restsOn = line.shares
    .filter(({ state }) => state !== 'lacking')
    .map(
      ({ state, quantity, on, receiptId, dueOn }): Rest => ({
        state,
        quantity,
        id: on?.id ?? receiptId,
        name: on?.code ?? orders.get(receiptId ?? '') ?? '',
        dueOn,
      }),
    );
  return { covered: sum(false), lacking: sum(true), restsOn, rivals: rivalsOf(line, shared) };
}

/** Critical lines of other jobs that are given of a source that may serve this one, which lacks it and is critical too. */
function rivalsOf(line: CoveredLine, { mayServe, takers }: SharedOut): string[] {
  if (!line.stops) return [];
  const rivals = (mayServe.get(line.id) ?? []).flatMap(({ source, asking }) =>
    (takers.get(source.id) ?? [])
      .filter((taker) => taker.asking.line.critical && taker.asking.job.id !== asking.job.id)
      .map((taker) => taker.asking.line.id),
  );
  return [...new Set(rivals)].toSorted();
}

export function isSameStanding(one: Standing, other: Standing): boolean {
  return keyOf(one) === keyOf(other);
}

function keyOf({ covered, lacking, restsOn, rivals }: Standing): string {
  return JSON.stringify([
    covered,
    lacking,
    rivals,
    restsOn.map(({ state, quantity, id, name, dueOn }) => [state, quantity, id, name, dueOn]),
  ]);
}

/** Covered by less than before, so that it lacks more: not where it only asks for more. */
export function hasLost(before: Standing, now: Standing): boolean {
  return decimalFrom(now.lacking) > decimalFrom(before.lacking) && decimalFrom(now.covered) < decimalFrom(before.covered);
}

/** What a line rests on less than before: by the thing, the order, or the state of what has no name. */
export function restsGone(before: Standing, now: Standing): Rest[] {
  const left = amounts(now);
  return [...amounts(before)].flatMap(([key, amount]) =>
    (left.get(key) ?? zero) < amount ? [before.restsOn.find((rest) => restKey(rest) === key) as Rest] : [],
  );
}

function amounts({ restsOn }: Standing): Map<string, Decimal> {
  return new Map(
    [...grouped(restsOn, restKey)].map(([key, rests]) => [key, sumDecimals(rests.map(({ quantity }) => decimalFrom(quantity)))]),
  );
}

function restKey({ id, state }: Rest): string {
  return id ?? state;
}

/** Whether all that is left to do for it is to take it: nothing of it is still to come. */
export function isInHand({ restsOn, lacking }: Standing): boolean {
  return decimalFrom(lacking) === zero && restsOn.every(({ state }) => inHand.includes(state));
}

const inHand: readonly CoverState[] = ['fitted', 're-used', 'picked', 'reserved', 'free in stores'];
