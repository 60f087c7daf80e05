import { type Money, noMoney, subtractMoney } from '@corewright/quantities/money';

/** So many uses of a container, of which it is held to give so many in all: "a use is about 1/20 of a tin". Both are whole and 1 or more. */
export interface UsesOfContainer {
  readonly uses: number;
  readonly perContainer: number;
}

/** A share as a fraction in whole numbers. */
interface Fraction {
  readonly part: bigint;
  readonly whole: bigint;
}

/**
 * What each use bears of what its container cost, in the order in which they were made. With F(k) the sum of uses / perContainer over the first k,
 * never above 1, the k-th bears floor(cost F(k)) - floor(cost F(k - 1)). So together they bear floor(cost F): never more than the cost, all
 * of it to the last minor unit once the container has given what it is held to give, and nothing after that.
 * @param cost of the whole container, in minor units; nought or more
 */
export function sharesOfUses(cost: Money, uses: readonly UsesOfContainer[]): Money[] {
  let used: Fraction = { part: 0n, whole: 1n };
  let borne = noMoney;
  return uses.map((each) => {
    used = notAboveOne(add(used, { part: BigInt(each.uses), whole: BigInt(each.perContainer) }));
    const upToHere = ((cost * used.part) / used.whole) as Money;
    const share = subtractMoney(upToHere, borne);
    borne = upToHere;
    return share;
  });
}

/** How much of a container was charged by these uses, in parts of a hundred, rounded down; never above 100. */
export function chargedInHundred(uses: readonly UsesOfContainer[]): number {
  const used = uses.reduce<Fraction>(
    (sum, each) => notAboveOne(add(sum, { part: BigInt(each.uses), whole: BigInt(each.perContainer) })),
    { part: 0n, whole: 1n },
  );
  return Number((100n * used.part) / used.whole);
}

function add(one: Fraction, other: Fraction): Fraction {
  const part = one.part * other.whole + other.part * one.whole;
  const whole = one.whole * other.whole;
  const common = commonDivisor(part, whole);
  return { part: part / common, whole: whole / common };
}

function notAboveOne(fraction: Fraction): Fraction {
  return fraction.part > fraction.whole ? { part: 1n, whole: 1n } : fraction;
}

/** Euclid's; of two numbers above nought. */
function commonDivisor(one: bigint, other: bigint): bigint {
  return other === 0n ? one : commonDivisor(other, one % other);
}
