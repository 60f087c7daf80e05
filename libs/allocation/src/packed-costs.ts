import type { Network } from './network.js';

/**
 * The costs of a part's links in as few numbers as are exact.
 *
 * Let c(i, l) >= 0 be figure i of link l, less the least that any link has of it: all ways to give the same F give the same in sum, so that what
 * every link bears alike decides nothing, and a figure that is the same in every link drops out. For a demand d let M(i, d) be the greatest
 * c(i, l) of its links, and N(i) the sum of M(i, d) over all demands.
 *   A way from a supply to a demand crosses each demand once at most, coming by one link and going back along another at most. It costs at most
 *   M(i, d) there, and at least -M(i, d); so the sum S(i) of figure i along a way lies within -N(i) … N(i), and the difference of two ways
 *   within -2 N(i) … 2 N(i).
 *   Figures i, j, …, k that follow one another are merged into the number sum over f of c(f, l) W(f), where W(k) = 1 and each W before it
 *   is the next W times B, with B(f) = 2 N(f) + 1 of that next figure. The merged sum of a way is the same sum of its S(f).
 *   Of two ways that differ in figure f first, the one with the lesser S(f) has the lesser merged sum: that difference weighs W(f) at least, and
 *   all that follow weigh together 2 N W summed over them = sum of (B - 1) W = W(f) - 1 at most.
 *   So the comparison of merged sums is that of the lists, figure by figure, for any two ways.
 *   With W = B(i) B(j) … B(k) a merged sum lies within -(W - 1) / 2 … (W - 1) / 2. The search adds to a way's sum a potential, which is the
 *   difference of two such sums (residual.ts): 3 (W - 1) / 2 in all, and W <= 2^52 keeps that below 2^53, where every whole number is exact.
 */
export interface PackedCosts {
  /** how many numbers a cost has */
  readonly width: number;
  /** which of the numbers the links of demand d have, in their order: `places` from `firstPlace[d]` up to, not with, `firstPlace[d + 1]`; the others are nought */
  readonly firstPlace: Int32Array;
  readonly places: Int32Array;
  /** those of link l, one after another, from `firstAmount[l]` on */
  readonly firstAmount: Int32Array;
  readonly amounts: Float64Array;
}

export const greatestBase = 2 ** 52;

interface Figure {
  readonly place: number;
  /** in how many links it is more than nought */
  links: number;
  least: number;
  greatest: number;
  /** the sum, over the demands before the one that is looked at, of the greatest at each */
  sum: number;
  demand: number;
  greatestAtDemand: number;
  /** which number it is merged into, and times what; none where it is the same in every link */
  number: number;
  weight: number;
}

/**
 * @param upTo the greatest product of bases that is merged; with 1 each figure stays a number of its own
 * @throws RangeError where the sum of one figure alone would be inexact
 */
export function packedCosts(network: Network, upTo = greatestBase): PackedCosts {
  const found = figuresOf(network);
  const width = merge(found.all, network, upTo);
  const { firstPlace, places } = placesOf(found.atDemand);
  return { width, firstPlace, places, ...amountsOf(network, found, width, firstPlace, places) };
}

/** What a part has of each figure, found in one pass over its links; those of one demand stand beside each other. */
interface Found {
  readonly all: readonly Figure[];
  /** which are more than nought at each demand */
  readonly atDemand: readonly (readonly Figure[])[];
  /** all that is more than nought, link by link: those of link l end before `end[l]` */
  readonly figures: readonly Figure[];
  readonly amounts: readonly number[];
  readonly end: Int32Array;
}

function figuresOf({ links, demandOf, demands }: Network): Found {
  const byPlace = new Map<number, Figure>();
  const atDemand: Figure[][] = demands.map(() => []);
  const figures: Figure[] = [];
  const amounts: number[] = [];
  const end = new Int32Array(links.length);
  let demand = 0;
  const take = (amount: number, place: number): void => {
    if (amount === 0) return;
    let figure = byPlace.get(place);
    if (figure === undefined) {
      figure = { place, links: 0, least: amount, greatest: 0, sum: 0, demand: -1, greatestAtDemand: 0, number: -1, weight: 0 };
      byPlace.set(place, figure);
    }
    if (figure.demand !== demand) {
      figure.sum += figure.greatestAtDemand;
      figure.demand = demand;
      figure.greatestAtDemand = 0;
      atDemand[demand]!.push(figure);
    }
    figure.links += 1;
    if (amount < figure.least) figure.least = amount;
    if (amount > figure.greatest) figure.greatest = amount;
    if (amount > figure.greatestAtDemand) figure.greatestAtDemand = amount;
    figures.push(figure);
    amounts.push(amount);
  };
  for (let link = 0; link < links.length; link += 1) {
    demand = demandOf[link]!;
    links[link]!.cost.forEach(take);
    end[link] = figures.length;
  }
  const all = [...byPlace.values()];
  for (const figure of all) {
    figure.sum += figure.greatestAtDemand;
    if (figure.links < links.length) figure.least = 0;
  }
  return { all, atDemand, figures, amounts, end };
}

/** Says of each figure which number it belongs to, and its weight there. @returns how many numbers there are */
function merge(all: readonly Figure[], { demands }: Network, upTo: number): number {
  const figures = all.filter(({ least, greatest }) => least < greatest).toSorted((one, other) => one.place - other.place);
  // from the lightest on, so that each weight is the product of the bases after it
  let numbers = 0;
  let product = Number.POSITIVE_INFINITY;
  for (const figure of figures.toReversed()) {
    const base = 2 * (figure.sum - figure.least * demands.length) + 1;
    if (!(base <= greatestBase)) throw new RangeError('The costs are too large to be summed exactly.');
    if (product * base > upTo) {
      numbers += 1;
      product = 1;
    }
    figure.number = numbers;
    figure.weight = product;
    product *= base;
  }
  for (const figure of figures) figure.number = numbers - figure.number;
  return numbers;
}

function placesOf(atDemand: Found['atDemand']): Pick<PackedCosts, 'firstPlace' | 'places'> {
  const firstPlace = new Int32Array(atDemand.length + 1);
  const places: number[] = [];
  for (const [demand, figures] of atDemand.entries()) {
    const numbers = new Set(figures.filter(({ weight }) => weight > 0).map(({ number }) => number));
    places.push(...[...numbers].toSorted((one, other) => one - other));
    firstPlace[demand + 1] = places.length;
  }
  return { firstPlace, places: Int32Array.from(places) };
}

function amountsOf(
  { links, firstOfDemand, demands }: Network,
  found: Found,
  width: number,
  firstPlace: Int32Array,
  places: Int32Array,
): Pick<PackedCosts, 'firstAmount' | 'amounts'> {
  const firstAmount = new Int32Array(links.length);
  const amounts = new Float64Array(sizeOfAmounts(firstOfDemand, firstPlace));
  // where, from its first amount on, a link of the demand has each number
  const at = new Int32Array(width);
  let from = 0;
  let index = 0;
  for (let demand = 0; demand < demands.length; demand += 1) {
    const first = firstPlace[demand]!;
    const end = firstPlace[demand + 1]!;
    for (let place = first; place < end; place += 1) at[places[place]!] = place - first;
    for (let link = firstOfDemand[demand]!; link < firstOfDemand[demand + 1]!; link += 1) {
      firstAmount[link] = from;
      for (; index < found.end[link]!; index += 1) {
        const { number, weight, least } = found.figures[index]!;
        if (weight > 0) amounts[from + at[number]!]! += (found.amounts[index]! - least) * weight;
      }
      from += end - first;
    }
  }
  return { firstAmount, amounts };
}

function sizeOfAmounts(firstOfDemand: Int32Array, firstPlace: Int32Array): number {
  let size = 0;
  for (let demand = 0; demand + 1 < firstPlace.length; demand += 1)
    size += (firstOfDemand[demand + 1]! - firstOfDemand[demand]!) * (firstPlace[demand + 1]! - firstPlace[demand]!);
  return size;
}
