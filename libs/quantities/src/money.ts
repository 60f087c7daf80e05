import { accept, type Result, refuse } from './result.js';

declare const moneyBrand: unique symbol;

/**
 * An exact amount in the minor units of a currency that stands beside it: 1250n is 12.50 in a currency of two places, 1250 in one
 * of none. It may be less than nothing, as a difference is.
 */
export type Money = bigint & { readonly [moneyBrand]: true };

export type MoneyRefusal = 'not-a-number' | 'too-fine' | 'too-large' | 'negative';

/** Far above any workshop's books, and within what the database keeps in a bigint. */
const wholeFiguresMax = 11;
/** Longer than any amount in range, leading noughts included: what is longer is not worth reading. */
const longestText = 40;
export const minorPlacesUsual = 2;

/** ISO 4217: the currencies in use whose minor unit is not a hundredth, by the number of its decimal places. */
export const otherMinorPlaces: Readonly<Record<string, number>> = {
  ...Object.fromEntries(
    ['BIF', 'CLP', 'DJF', 'GNF', 'ISK', 'JPY', 'KMF', 'KRW', 'PYG', 'RWF', 'UGX', 'UYI', 'VND', 'VUV', 'XAF', 'XOF', 'XPF'].map(
      (code) => [code, 0],
    ),
  ),
  ...Object.fromEntries(['BHD', 'IQD', 'JOD', 'KWD', 'LYD', 'OMR', 'TND'].map((code) => [code, 3])),
  CLF: 4,
  UYW: 4,
};

export const noMoney = 0n as Money;

/** How many decimal places the minor unit of a currency has, by ISO 4217; two where the standard's list of others is silent. */
export function minorPlacesOf(currency: string): number {
  return otherMinorPlaces[currency] ?? minorPlacesUsual;
}

/** Reads an amount as a person keys it: "1250", "12.5". A point only, nothing between thousands, and never less than nought. */
export function parseMoney(text: string, currency: string): Result<Money, MoneyRefusal> {
  const places = minorPlacesOf(currency);
  const keyed = text.trim();
  if (keyed === '') return refuse('not-a-number', 'Nothing was keyed. Key an amount, such as 1250 or 12.50.');
  if (keyed.length > longestText) return refuse('too-large', `That amount is too long. ${figuresMax}`);
  if (/^[+-]?[\d.]*,[\d.,]*$/.test(keyed))
    return refuse(
      'not-a-number',
      `"${keyed}" has a comma. Key a point before the pence or cents, 12.50, and nothing between thousands.`,
    );
  const match = /^([+-]?)(\d*)(?:\.(\d*))?$/.exec(keyed);
  const whole = (match?.[2] ?? '').replace(/^0+(?=\d)/, '');
  const fraction = (match?.[3] ?? '').replace(/0+$/, '');
  if (!match || !/\d/.test(keyed))
    return refuse(
      'not-a-number',
      `"${keyed}" is not an amount. Key figures alone, such as 1250 or 12.50, without a sign of the currency.`,
    );
  if (match[1] === '-') return refuse('negative', `"${keyed}" is less than nought. Key what was paid.`);
  if (fraction.length > places) return refuse('too-fine', `"${keyed}" is too fine. ${placesMax(currency, places)}`);
  if (whole.length > wholeFiguresMax) return refuse('too-large', `"${keyed}" is too large. ${figuresMax}`);
  return accept(minorUnits(whole, fraction, places));
}

/** Reads an amount that this system wrote itself, a sum or a difference of any size. Throws a RangeError on anything else. */
export function moneyFrom(text: string, currency: string): Money {
  const places = minorPlacesOf(currency);
  const match = /^(-?)(\d+)(?:\.(\d+))?$/.exec(text);
  const fraction = (match?.[3] ?? '').replace(/0+$/, '');
  if (!match || fraction.length > places) throw new RangeError(`Not an amount in ${currency}: ${text}`);
  const amount = minorUnits(match[2] ?? '', fraction, places);
  return match[1] === '-' ? (-amount as Money) : amount;
}

/** "12.50", "-0.05", "1250" in a currency without a minor unit. Reading it back gives the same amount. */
export function formatMoney(amount: Money, currency: string): string {
  const places = minorPlacesOf(currency);
  const digits = (amount < 0n ? -amount : amount).toString().padStart(places + 1, '0');
  const whole = digits.slice(0, digits.length - places);
  const fraction = places === 0 ? '' : `.${digits.slice(-places)}`;
  return `${amount < 0n ? '-' : ''}${whole}${fraction}`;
}

export function addMoney(a: Money, b: Money): Money {
  return (a + b) as Money;
}

export function subtractMoney(a: Money, b: Money): Money {
  return (a - b) as Money;
}

export function sumMoney(amounts: Iterable<Money>): Money {
  let sum: bigint = noMoney;
  for (const amount of amounts) sum += amount;
  return sum as Money;
}

/** What one unit of a currency came to in another, exactly as it was keyed. */
export interface Rate {
  readonly figures: bigint;
  readonly places: number;
}

const ratePlacesMax = 10;

/** Reads a rate: "0.8642", more than nought, a point only. */
export function parseRate(text: string): Result<Rate> {
  const keyed = text.trim();
  const match = /^(\d{0,9})(?:\.(\d*))?$/.exec(keyed);
  if (!match || !/\d/.test(keyed)) return refuse('not-a-number', 'A rate is a number such as 0.8642, with a point.');
  const fraction = (match[2] ?? '').replace(/0+$/, '');
  if (fraction.length > ratePlacesMax) return refuse('too-fine', `A rate has at most ${ratePlacesMax} figures after the point.`);
  const figures = BigInt(`${match[1] ?? ''}${fraction}` || '0');
  if (figures === 0n) return refuse('zero', 'A rate of nought turns every price into nothing. Key the rate that was paid.');
  return accept({ figures, places: fraction.length });
}

/** An amount in another currency at a rate, to the nearest minor unit; a half goes away from nought. */
export function convertMoney(amount: Money, from: string, to: string, rate: Rate): Money {
  const numerator = (amount < 0n ? -amount : amount) * rate.figures * 10n ** BigInt(minorPlacesOf(to));
  const denominator = 10n ** BigInt(rate.places + minorPlacesOf(from));
  const nearest = (2n * numerator + denominator) / (2n * denominator);
  return (amount < 0n ? -nearest : nearest) as Money;
}

const figuresMax = `At most ${wholeFiguresMax} figures before the point.`;

function placesMax(currency: string, places: number): string {
  return places === 0
    ? `${currency} has no smaller unit: key whole figures.`
    : `${currency} has ${places} figures after the point.`;
}

function minorUnits(whole: string, fraction: string, places: number): Money {
  return BigInt(`${whole || '0'}${fraction.padEnd(places, '0')}`) as Money;
}
