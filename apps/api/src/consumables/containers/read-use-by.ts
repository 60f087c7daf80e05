import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { newId } from '../../platform/new-id.js';
import { done, notFound, type Result, refused } from '../../platform/refusal.js';
import { lockOf } from '../../stores/ledger.js';
import { packetUseByOf } from '../consumable.queries.js';
import { lockConsumableOfLot } from './open-container.js';

const insertReading = 'INSERT INTO use_by_readings (id, command_key, thing_id, use_by, person_id) VALUES ($1, $2, $3, $4, $5)';

/** What the packet of a lot says, as somebody reads it now; null: it says nothing, whatever was keyed before. */
export async function readUseBy(
  transaction: Transaction,
  thingId: string,
  useBy: string | null,
): Promise<Result<{ id: string }>> {
  const consumable = await lockConsumableOfLot(transaction, thingId);
  if (!consumable.ok) return consumable;
  if ((await lockOf(transaction, thingId)) === null) return refused(notFound('That lot'));
  if ((await packetUseByOf(transaction, thingId)) === useBy) return done({ id: thingId });
  const { key, person } = transaction.command;
  await transaction.rows(insertReading, [newId(), key, thingId, useBy, person.id]);
  transaction.news(`thing:${thingId}`, 'stores', 'today', `part:${consumable.value.partId}`);
  return done({ id: thingId });
}
