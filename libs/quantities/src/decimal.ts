import { accept, type Result, refuse } from './result.js';

declare const decimalBrand: unique symbol;

/**
 * An exact decimal with four places, held as a whole number of ten-thousandths: 2.5 is 25000n.
 * Its range is that of Postgres numeric(14,4): ten digits before the point, four after.
 */
export type Decimal = bigint & { readonly [decimalBrand]: true };

export type DecimalRefusal = 'not-a-number' | 'too-fine' | 'too-large';

const scale = 10_000n;
const limit = 10n ** 14n;
/** Longer than any number in range, leading and trailing noughts included: what is longer is not worth reading. */
const longestText = 40;

export const zero = 0n as Decimal;
export const one = scale as Decimal;

/** Reads a decimal as a person keys it: "3", "2.5", ".25", "-1". A point only; no exponent, no thousands separator. */
export function parseQuantity(text: string): Result<Decimal, DecimalRefusal> {
  const keyed = text.trim();
  if (keyed === '') return refuse('not-a-number', 'Nothing was keyed. Key a number, such as 3 or 2.5.');
  if (keyed.length > longestText) return refuse('too-large', 'That number is too long. At most ten figures before the point.');
  if (/^[+-]?[\d.]*,[\d.,]*$/.test(keyed)) {
    return refuse('not-a-number', `"${keyed}" has a comma. Key a point for the decimals, 2.5, and nothing between thousands.`);
  }
  const match = /^([+-]?)(\d*)(?:\.(\d*))?$/.exec(keyed);
  const whole = match?.[2] ?? '';
  const places = (match?.[3] ?? '').replace(/0+$/, '');
  if (!match || !/\d/.test(keyed)) return refuse('not-a-number', `"${keyed}" is not a number. Key figures, such as 3 or 2.5.`);
  if (places.length > 4) return refuse('too-fine', `"${keyed}" is too fine. At most four figures after the point.`);
  const magnitude = BigInt(whole || '0') * scale + BigInt(places.padEnd(4, '0'));
  if (magnitude >= limit) return refuse('too-large', `"${keyed}" is too large. At most ten figures before the point.`);
  return accept((match[1] === '-' ? -magnitude : magnitude) as Decimal);
}

/** Reads a decimal that this system wrote itself (a column, a contract). Throws a RangeError on anything else. */
export function decimalFrom(text: string): Decimal {
  const parsed = parseQuantity(text);
  if (!parsed.ok) throw new RangeError(`Not an exact decimal: ${text}`);
  return parsed.value;
}

/** Negative when a is less than b, positive when it is more, 0 when equal: for sorting. */
export function compareDecimals(a: Decimal, b: Decimal): -1 | 0 | 1 {
  if (a === b) return 0;
  return a < b ? -1 : 1;
}

/** Exact. Throws a RangeError when the sum leaves numeric(14,4). */
export function addDecimals(a: Decimal, b: Decimal): Decimal {
  return withinRange(a + b);
}

/** Exact, and may be negative. Throws a RangeError when the difference leaves numeric(14,4). */
export function subtractDecimals(a: Decimal, b: Decimal): Decimal {
  return withinRange(a - b);
}

/** Exact. The factor is a whole number; throws a RangeError on another, or when the product leaves numeric(14,4). */
export function multiplyByInteger(a: Decimal, factor: number): Decimal {
  if (!Number.isSafeInteger(factor)) throw new RangeError(`Not a whole factor: ${factor}`);
  return withinRange(a * BigInt(factor));
}

export function sumDecimals(values: Iterable<Decimal>): Decimal {
  let sum = zero;
  for (const value of values) sum = addDecimals(sum, value);
  return sum;
}

export function lesserDecimal(a: Decimal, b: Decimal): Decimal {
  return a < b ? a : b;
}

/** The quantity, or nothing where it would be less than nothing. */
export function notBelowZero(a: Decimal): Decimal {
  return a < zero ? zero : a;
}

export function isWhole(a: Decimal): boolean {
  return a % scale === 0n;
}

/** The largest whole decimal that is not above a; a is not negative. */
export function wholePartOf(a: Decimal): Decimal {
  return (a - (a % scale)) as Decimal;
}

/** "2.5", "3", "-0.0001": a point, no trailing noughts, no exponent. Reading it back gives the same decimal. */
export function formatDecimal(a: Decimal): string {
  const magnitude = a < 0n ? -a : a;
  const places = (magnitude % scale).toString().padStart(4, '0').replace(/0+$/, '');
  const figures = `${magnitude / scale}${places === '' ? '' : `.${places}`}`;
  return a < 0n ? `-${figures}` : figures;
}

function withinRange(value: bigint): Decimal {
  if (value >= limit || value <= -limit) throw new RangeError('A quantity left the range of numeric(14,4)');
  return value as Decimal;
}
