import { type Decimal, decimalFrom, formatDecimal, lesserDecimal, one, zero } from '@corewright/quantities/decimal';
import { type Money, noMoney, sumMoney } from '@corewright/quantities/money';
import { enoughToSay } from '@corewright/yields/component-yield';

/** What so many of something cost together; kept as it was paid, for one of them may come to a broken minor unit. */
export interface Paid {
  amount: Money;
  quantity: Decimal;
}

/** A component of a core that open jobs lack. */
export interface WantedComponent {
  partId: string;
  /** how many of it a core has, and how many jobs lack */
  eachHas: Decimal;
  lacking: Decimal;
  /** of this component in units of the type */
  serviceable: number;
  looked: number;
  /** what was last paid for the part; null where nobody knows */
  paid: Paid | null;
}

export interface WeighedComponent {
  partId: string;
  /** how many jobs could use of this one core */
  pieces: Decimal;
  /** null where it is not known */
  worth: Money | null;
  words: string;
}

export interface Weighed {
  wanted: WeighedComponent[];
  /** of those of which it is known; null where of none */
  spares: Money | null;
  isBetterBroken: boolean;
  words: string;
}

/**
 * Whether what is wanted from a core is worth more than the core whole. A worth that is not known is not nought: a core is better broken only
 * where what is known already outweighs what it is worth whole. Pure.
 */
export function weighCore(whole: Money | null, components: readonly WantedComponent[]): Weighed {
  const wanted = components.map(weigh);
  const known = wanted.flatMap(({ worth }) => (worth === null ? [] : [worth]));
  const spares = known.length === 0 ? null : sumMoney(known);
  const unknown = wanted.length - known.length;
  const isBetterBroken = whole !== null && spares !== null && spares > whole;
  return { wanted, spares, isBetterBroken, words: wordsOf({ whole, spares, unknown, wanted: wanted.length, isBetterBroken }) };
}

function weigh({ partId, eachHas, lacking, serviceable, looked, paid }: WantedComponent): WeighedComponent {
  const pieces = lesserDecimal(eachHas, lacking);
  const seen = `${serviceable} of ${looked} looked at ${serviceable === 1 ? 'was' : 'were'} serviceable`;
  if (looked < enoughToSay)
    return {
      partId,
      pieces,
      worth: null,
      words: `${looked === 0 ? 'Nobody has looked at one yet' : seen}: not enough to say what comes out.`,
    };
  if (paid === null)
    return {
      partId,
      pieces,
      worth: null,
      words: `${seen}; what one is worth is not known, for none was bought with a known cost.`,
    };
  return {
    partId,
    pieces,
    worth: expected(paid, pieces, { serviceable, looked }),
    words: `${seen}; by what was last paid for ${paid.quantity === one ? 'one' : formatDecimal(paid.quantity)}.`,
  };
}

/**
 * Pieces times the share to be expected, (1/2 + s) / (1 + n), times what one of them cost; in whole minor units, rounded down, in whole numbers all
 * the way.
 */
function expected(
  { amount, quantity }: Paid,
  pieces: Decimal,
  { serviceable, looked }: { serviceable: number; looked: number },
): Money {
  if (quantity <= zero) return noMoney;
  return ((amount * pieces * BigInt(2 * serviceable + 1)) / (quantity * BigInt(2 * looked + 2))) as Money;
}

interface Facts {
  whole: Money | null;
  spares: Money | null;
  unknown: number;
  wanted: number;
  isBetterBroken: boolean;
}

function wordsOf({ whole, spares, unknown, wanted, isBetterBroken }: Facts): string {
  if (wanted === 0) return 'No open job lacks anything that it has.';
  if (isBetterBroken)
    return unknown === 0
      ? 'What open jobs lack of it is worth more than it is whole: think of breaking it for spares.'
      : 'What is known of what open jobs lack of it is worth more already than it is whole: think of breaking it for spares.';
  if (whole === null) return 'What it is worth whole is not known, so nothing can be said against breaking it, nor for it.';
  if (spares === null) return 'What open jobs lack of it has no known worth, so nothing can be said.';
  if (unknown > 0)
    return `What is known of it is worth no more than it is whole, but ${unknown === 1 ? 'one component' : `${unknown} components`} that jobs lack ${unknown === 1 ? 'has' : 'have'} no known worth: nothing can be said.`;
  return 'What open jobs lack of it is worth no more than it is whole.';
}

/** An amount of stock as the ledger keeps it. */
export function paidFor(amount: string, quantity: string): Paid {
  return { amount: BigInt(amount) as Money, quantity: decimalFrom(quantity) };
}
