import type { LabelCode } from '@corewright/codes/label-code';
import type { Transaction } from '../platform/commands/unit-of-work.js';
import type { Refusal } from '../platform/refusal.js';

/** Clocks of devices differ, and a label keyed without the network comes in when it may: so much before is let pass. */
const forgivenMinutes = 15;

const firstMovedLater = `
  SELECT 1 AS there FROM (
    SELECT occurred_at FROM codes JOIN movements ON thing_id = subject_id WHERE code = $1 ORDER BY movements.sequence LIMIT 1) AS first
   WHERE occurred_at - interval '${forgivenMinutes} minutes' > $2::timestamptz`;

/**
 * Why a scan cannot have been at that instant: what it moves was in no book then. Nothing is asked of the database for a scan of just now.
 * @param occurredAt as the device has it; where it says nothing, when the device made the command
 */
export async function whyDatedBefore(
  transaction: Transaction,
  code: LabelCode,
  occurredAt: string | undefined,
): Promise<Refusal | null> {
  const at = occurredAt ?? transaction.command.madeAt;
  if (at === null || Date.now() - Date.parse(at) < forgivenMinutes * 60_000) return null;
  if ((await transaction.row(firstMovedLater, [code, at])) === null) return null;
  const day = new Date(at).toISOString().slice(0, 16).replace('T', ' at ');
  return {
    status: 409,
    code: 'dated-before',
    title: 'Dated too early',
    detail: `By the clock of the device it was scanned on ${day} (UTC), before it was in the books. Look at that clock, then scan it again. Nothing was changed.`,
  };
}
