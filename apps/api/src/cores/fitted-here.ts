import { formatCode, type LabelCode } from '@corewright/codes/label-code';
import { type Decimal, decimalFrom, formatDecimal, lesserDecimal, subtractDecimals, zero } from '@corewright/quantities/decimal';
import type { Reader } from '../platform/database/database.js';
import { done, type Result, refused } from '../platform/refusal.js';
import { codeOf } from '../stores/place-words.js';

/** So many of a lot that were fitted in a unit here and are in it still. They are what a component of that part consists of. */
export interface FittedHere {
  fittingId: string;
  thingId: string;
  code: LabelCode;
  name: string;
  /** of the line that it was fitted on: what it is in place of, where another part was accepted */
  partId: string;
  left: Decimal;
}

interface FittedRow extends Omit<FittedHere, 'left'>, Record<string, unknown> {
  left: string;
}

const selectFitted = `
  SELECT * FROM (
    SELECT fittings.id AS "fittingId", fittings.thing_id AS "thingId", ${codeOf('fittings.thing_id')} AS code,
           coalesce(parts.name, nullif(lots.words, ''), 'a part') AS name, job_lines.part_id AS "partId", fittings.recorded_at,
           fittings.quantity - coalesce((SELECT sum(quantity) FROM fitting_endings WHERE fitting_id = fittings.id), 0) AS left
      FROM jobs JOIN job_lines ON job_lines.job_id = jobs.id JOIN fittings ON job_line_id = job_lines.id
      JOIN lots ON lots.thing_id = fittings.thing_id LEFT JOIN parts ON parts.id = lots.part_id
     WHERE jobs.unit_id = $1) AS fitted
   WHERE "left" > 0 ORDER BY recorded_at, "fittingId"`;

/** What was fitted in a unit here and is in it still, the oldest first. */
export async function fittedHere(reader: Reader, unitId: string): Promise<FittedHere[]> {
  const rows = await reader.rows<FittedRow>(selectFitted, [unitId]);
  return rows.map(({ left, ...row }) => ({ ...row, left: decimalFrom(left) }));
}

/** The fitted lot that so many of a part are; null where none of that part was fitted here. Of several lots one is recorded at a time. Pure. */
export function fittedThatGoes(
  fitted: readonly FittedHere[],
  partId: string | null,
  quantity: Decimal,
): Result<FittedHere | null> {
  const [first, ...more] = fitted.filter((each) => each.partId === partId);
  if (first === undefined || quantity <= first.left) return done(first ?? null);
  const all = [first, ...more].map(({ left, code }) => `${formatDecimal(left)} of ${formatCode(code)}`).join(', ');
  return refused({
    status: 409,
    code: 'fitted-here',
    title: 'Fitted here',
    detail: `In this unit are, fitted here: ${all}. Each goes on as what it is: record ${formatDecimal(first.left)} at most, then the others. Nothing was changed.`,
    values: { most: formatDecimal(first.left) },
  });
}

/** The same quantity lot by lot, what was fitted here first, then what the unit came with. Pure. */
export function lotByLot(
  fitted: readonly FittedHere[],
  partId: string | null,
  quantity: Decimal,
): { quantity: Decimal; fitted: FittedHere | null }[] {
  const pieces: { quantity: Decimal; fitted: FittedHere | null }[] = [];
  let left = quantity;
  for (const each of fitted.filter((one) => one.partId === partId)) {
    const taken = lesserDecimal(left, each.left);
    if (taken > zero) pieces.push({ quantity: taken, fitted: each });
    left = subtractDecimals(left, taken);
  }
  return left > zero ? [...pieces, { quantity: left, fitted: null }] : pieces;
}

/** What is fitted still after so many of one were taken out, so that two components of one part do not take the same. Pure. */
export function lessFitted(fitted: readonly FittedHere[], taken: FittedHere | null, quantity: Decimal): FittedHere[] {
  return fitted
    .map((each) => (each.fittingId === taken?.fittingId ? { ...each, left: subtractDecimals(each.left, quantity) } : each))
    .filter((each) => each.left > zero);
}
