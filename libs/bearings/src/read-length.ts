import { millimetresPerInch } from '@corewright/quantities/inch';
import { accept, type Refusal, type Result, refuse } from '@corewright/quantities/result';

export interface MeasuredLength {
  readonly mm: number;
  readonly unit: 'mm' | 'in';
}

const codePoints: Readonly<Record<string, string>> = {
  '¼': ' 1/4',
  '½': ' 1/2',
  '¾': ' 3/4',
  '⅛': ' 1/8',
  '⅜': ' 3/8',
  '⅝': ' 5/8',
  '⅞': ' 7/8',
};
const metresMax = 5000;

/**
 * Reads a length as a person keys it: "31.75", "31,75 mm", "1.25 in", '1 1/4"', "1-1/4", "1¼". A figure without a unit is in
 * millimetres, a fraction in inches.
 */
export function readLength(keyed: string): Result<MeasuredLength, 'unreadable-length'> {
  const text = keyed
    .trim()
    .toLowerCase()
    .replace(/[¼½¾⅛⅜⅝⅞]/g, (sign) => codePoints[sign] ?? '')
    .trim();
  const match = /^(?:(\d+(?:[.,]\d+)?)|(?:(\d+)[\s-]+)?(\d+)\s?[/⁄]\s?(\d+))\s*(mm|millimetres?|in\.?|inch(?:es)?|"|″|'')?$/.exec(
    text,
  );
  if (!match) return unreadable(keyed);
  const [, decimal, whole, over, under, unitWord] = match;
  const isFraction = decimal === undefined;
  const amount = isFraction ? Number(whole ?? 0) + Number(over) / Number(under) : Number(decimal.replace(',', '.'));
  const unit = unitWord === undefined ? (isFraction ? 'in' : 'mm') : unitWord.startsWith('m') ? 'mm' : 'in';
  const mm = unit === 'in' ? amount * millimetresPerInch : amount;
  return Number.isFinite(mm) && mm > 0 && mm <= metresMax ? accept({ mm, unit }) : unreadable(keyed);
}

function unreadable(keyed: string): { readonly ok: false; readonly error: Refusal<'unreadable-length'> } {
  return refuse('unreadable-length', `"${keyed}" is no length that can be read. Key it as 31.75, 1.25 in or 1 1/4.`);
}
