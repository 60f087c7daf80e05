import type { LabelCode } from '@corewright/codes/label-code';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { giveCode } from '../../scanning/code-register.js';
import { countDifferenceId, move } from '../ledger.js';

const insertLotFittedOnce = `
  INSERT INTO lots (thing_id, part_id, words, source, make, maker_id, marks, condition, packet_read, packet_precision, packet_earliest, packet_latest, packet_condition, fitted_once, taken_from_lot_id, note, donor_unit_id, donor_position, thickness_mm)
  SELECT $1, part_id, words, CASE source WHEN 'old stock' THEN 'harvested' ELSE source END, make, maker_id, marks, 'unverified', packet_read, packet_precision, packet_earliest, packet_latest, 'none', true, thing_id, $3, donor_unit_id, donor_position, thickness_mm
    FROM lots WHERE thing_id = $2`;
/** What was condemned stays so, whatever lot it goes on as. */
const condemnToo = `
  INSERT INTO condemnations (thing_id, command_key, reason, no_picture, person_id)
  SELECT $1, $3, coalesce(reason, 'condemned before'), 'taken out of the unit in which it was fitted', $4
    FROM things LEFT JOIN condemnations ON condemnations.thing_id = things.id WHERE things.id = $2 AND condemned`;
const insertThing = "INSERT INTO things (id, kind, owner_id) VALUES ($1, 'L', $2)";

export interface OutAgain {
  /** the lot that was fitted */
  thingId: string;
  unitId: string;
  newLotId: string;
  ownerId: string | null;
  quantity: string;
  toHolderId: string;
  why: string;
}

/**
 * So many of a lot are taken out of the unit that they were fitted in. It is no reversal but a new fact: they become a lot of their own,
 * fitted once, never new old stock again. The old lot ends for this quantity and the new one begins, both through the count difference.
 */
export async function outAgain(transaction: Transaction, step: OutAgain): Promise<{ code: LabelCode; movementId: string }> {
  const { thingId, unitId, newLotId, ownerId, quantity, toHolderId, why } = step;
  const movementId = move(transaction, {
    thingId,
    quantity,
    fromHolderId: unitId,
    toHolderId: countDifferenceId,
    reason: 'taken out: goes on as another lot',
  });
  await transaction.rows(insertThing, [newLotId, ownerId]);
  await transaction.rows(insertLotFittedOnce, [newLotId, thingId, `Fitted once, taken out again: ${why}`]);
  const { key, person } = transaction.command;
  transaction.send(condemnToo, [newLotId, thingId, key, person.id]);
  const code = await giveCode(transaction, 'L', newLotId);
  move(transaction, {
    thingId: newLotId,
    quantity,
    fromHolderId: countDifferenceId,
    toHolderId,
    reason: 'taken out after fitting',
  });
  return { code, movementId };
}
