import type { KeepRowWorth } from '@corewright/contracts/costs';
import { formatDecimal, parseQuantity, zero } from '@corewright/quantities/decimal';
import { parseMoney } from '@corewright/quantities/money';
import type * as z from 'zod';
import { badInput, done, type Result, refused } from '../../platform/refusal.js';

/** What something is thought to be worth, in minor units, and what it weighs, as keyed; empty is not known. */
export function worthKeyed(
  { worth, weightKg }: z.infer<typeof KeepRowWorth>,
  ours: string,
): Result<{ worth: string | null; weightKg: string | null }> {
  const amount = worth === '' ? null : parseMoney(worth, ours);
  if (amount !== null && !amount.ok) return refused(badInput('worth', amount.error.sentence));
  const weight = weightKg === '' ? null : parseQuantity(weightKg);
  if (weight !== null && !weight.ok) return refused(badInput('weightKg', weight.error.sentence));
  if (weight !== null && weight.value <= zero)
    return refused(badInput('weightKg', 'Nothing weighs nought or less. Key it in kilograms, or leave it empty.'));
  return done({
    worth: amount === null ? null : amount.value.toString(),
    weightKg: weight === null ? null : formatDecimal(weight.value),
  });
}
