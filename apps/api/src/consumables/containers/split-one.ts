import type { LabelCode } from '@corewright/codes/label-code';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { newId } from '../../platform/new-id.js';
import { done, type Result } from '../../platform/refusal.js';
import { claimCode, giveCode } from '../../scanning/code-register.js';
import { countDifferenceId, move } from '../../stores/ledger.js';

const insertThing = "INSERT INTO things (id, kind, owner_id) SELECT $1, 'L', owner_id FROM things WHERE id = $2";
const insertLot = `
  INSERT INTO lots (thing_id, part_id, words, source, make, maker_id, marks, condition, packet_read, packet_precision, packet_earliest, packet_latest,
                    packet_condition, fitted_once, taken_from_lot_id, note)
  SELECT $1, part_id, words, source, make, maker_id, marks, condition, packet_read, packet_precision, packet_earliest, packet_latest,
         packet_condition, fitted_once, thing_id, note
    FROM lots WHERE thing_id = $2`;
const copyUseBy = `
  INSERT INTO use_by_readings (id, command_key, thing_id, use_by, person_id)
  SELECT $1, $2, $3, use_by, person_id FROM use_by_readings WHERE thing_id = $4 ORDER BY sequence DESC LIMIT 1`;

/**
 * One of a lot, which is locked, goes on as a lot of its own with the same facts, in the same place: it ends there and begins here through the count,
 * so that both lots add up, and bears its part of what the lot cost (`costOf`).
 * @param label a blank label that is put on it; empty: it is given the next code, whether or not anybody prints it
 */
export async function splitOne(
  transaction: Transaction,
  thingId: string,
  placeId: string,
  label: string,
): Promise<Result<{ id: string; code: LabelCode }>> {
  const id = newId();
  await transaction.rows(insertThing, [id, thingId]);
  await transaction.rows(insertLot, [id, thingId]);
  const code = label === '' ? done(await giveCode(transaction, 'L', id)) : await claimCode(transaction, 'L', id, label);
  if (!code.ok) return code;
  await transaction.rows(copyUseBy, [newId(), transaction.command.key, id, thingId]);
  move(transaction, {
    thingId,
    quantity: '1',
    fromHolderId: placeId,
    toHolderId: countDifferenceId,
    reason: 'opened: goes on as a lot of one',
  });
  move(transaction, { thingId: id, quantity: '1', fromHolderId: countDifferenceId, toHolderId: placeId, reason: 'opened' });
  return done({ id, code: code.value });
}
