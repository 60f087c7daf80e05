import { formatCode, type LabelCode } from '@corewright/codes/label-code';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { newId } from '../../platform/new-id.js';
import { done, type Result, refused } from '../../platform/refusal.js';
import { claimCode, giveCode } from '../../scanning/code-register.js';
import { liveCodeOf, liveCodesOf, logLabelChange, moveCode } from '../../scanning/label-changes.js';
import { codeOf } from '../place-words.js';
import { passOver } from './pass-over.js';

const copyThing = `
  INSERT INTO things (id, kind, owner_id, held_back_reason, held_back_by, held_back_since, hold_lifter_id, hold_look_again_on, condemned)
  SELECT $1, 'L', owner_id, held_back_reason, held_back_by, held_back_since, hold_lifter_id, hold_look_again_on, condemned FROM things WHERE id = $2`;
const copyLot = `
  INSERT INTO lots (thing_id, part_id, words, source, make, maker_id, marks, condition, packet_read, packet_precision, packet_earliest, packet_latest,
                    packet_condition, fitted_once, note, donor_unit_id, donor_position, thickness_mm, bearing_packing, bearing_store)
  SELECT $1, part_id, words, source, make, maker_id, marks, condition, packet_read, packet_precision, packet_earliest, packet_latest,
         packet_condition, fitted_once, note, donor_unit_id, donor_position, thickness_mm, bearing_packing, bearing_store
    FROM lots WHERE thing_id = $2`;
// What was seen of all of it was seen of these too.
const copyInspections = `
  INSERT INTO storage_inspections (id, command_key, thing_id, inspected_on, looked_at, passed, words, preserved_anew, person_id, recorded_at)
  SELECT gen_random_uuid(), command_key, $1, inspected_on, looked_at, passed, words, preserved_anew, person_id, recorded_at
    FROM storage_inspections WHERE thing_id = $2`;
const copyHold = `
  INSERT INTO hold_changes (id, command_key, thing_id, held_back, reason, lifter_id, look_again_on, person_id)
  SELECT $3, $4, $1, true, held_back_reason, hold_lifter_id, hold_look_again_on, held_back_by FROM things WHERE id = $2 AND held_back_reason IS NOT NULL`;
// The packet says of each of them what it said of all, and who keeps a bag for the workshop's own jobs keeps both.
const copyUseBy = `
  INSERT INTO use_by_readings (id, command_key, thing_id, use_by, person_id, recorded_at)
  SELECT $3, command_key, $1, use_by, person_id, recorded_at FROM use_by_readings WHERE thing_id = $2 ORDER BY sequence DESC LIMIT 1`;
const copyKept = `
  INSERT INTO kept_for_jobs (id, command_key, thing_id, reason, kept_by, kept_at)
  SELECT $3, command_key, $1, reason, kept_by, kept_at FROM kept_for_jobs WHERE thing_id = $2 AND lifted_at IS NULL LIMIT 1`;
const codeNow = `SELECT ${codeOf('$1::uuid')} AS code`;

export interface SplitOff {
  fromLotId: string;
  /** of the new lot; nothing in the books has it */
  toLotId: string;
  placeId: string;
  /** less than lies in that place, in the unit of measure of the part */
  quantity: string;
  /** a blank label, or one of several labels that the lot bears; null: it is given the next code, whether or not anybody prints it */
  label: string | null;
  why: string;
}

/**
 * So many of a lot, which is locked, go on as a lot of their own with the same facts, where they lie. What the lot cost goes with them (`costOf`).
 * Whether that may be is the caller's to decide.
 * @returns the code of the new lot; refused where the label cannot be taken
 */
export async function splitOff(transaction: Transaction, step: SplitOff): Promise<Result<LabelCode>> {
  const { fromLotId, toLotId, placeId, quantity, why } = step;
  const both = [toLotId, fromLotId];
  await transaction.rows(copyThing, both);
  await transaction.rows(copyLot, both);
  transaction.send(copyInspections, both);
  transaction.send(copyUseBy, [...both, newId()]);
  transaction.send(copyKept, [...both, newId()]);
  transaction.send(copyHold, [...both, newId(), transaction.command.key]);
  const from = await transaction.row<{ code: LabelCode }>(codeNow, [fromLotId]);
  const labelled = await labelFor(transaction, step);
  if (!labelled.ok) return labelled;
  passOver(transaction, {
    kind: 'split',
    fromLotId,
    toLotId,
    placeId,
    quantity,
    reasons: [`split off as ${formatCode(labelled.value)}`, `split off ${formatCode(from?.code ?? ('' as LabelCode))}`],
    why,
  });
  transaction.news('blank-labels');
  return labelled;
}

/** A new code, a blank label, or one of several labels that the lot bears: that goes with the goods on which it is. */
async function labelFor(transaction: Transaction, { fromLotId, toLotId, label, why }: SplitOff): Promise<Result<LabelCode>> {
  if (label === null) return done(await giveCode(transaction, 'L', toLotId));
  const live = await liveCodeOf(transaction, label, ['L']);
  if (!live.ok || live.value.subjectId !== fromLotId) return claimCode(transaction, 'L', toLotId, label);
  if ((await liveCodesOf(transaction, fromLotId)).length < 2)
    return refused({
      status: 409,
      code: 'last-label',
      title: 'Its only label',
      detail: `${formatCode(live.value.code)} is the only label of the lot, and what stays needs one. Take a blank label for what is split off. Nothing was changed.`,
    });
  await moveCode(transaction, live.value, { subjectId: toLotId, further: false });
  logLabelChange(transaction, { subjectId: toLotId, code: live.value.code, kind: 'went over', fromId: fromLotId, why });
  return done(live.value.code);
}
