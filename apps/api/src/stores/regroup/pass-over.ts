import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { newId } from '../../platform/new-id.js';
import { move, regroupingId } from '../ledger.js';

export interface PassOver {
  kind: 'split' | 'merged';
  fromLotId: string;
  toLotId: string;
  placeId: string;
  quantity: string;
  /** what the movement out says, and the movement in */
  reasons: readonly [string, string];
  why: string;
}

const insertRegrouping = `
  INSERT INTO lot_regroupings (id, command_key, kind, from_lot_id, to_lot_id, quantity, out_movement_id, in_movement_id, why, person_id)
  VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10)`;

/** So many go out of one lot and into another, in the same place: what leaves the one comes into the other, which the database holds to. */
export function passOver(transaction: Transaction, step: PassOver): void {
  const { kind, fromLotId, toLotId, placeId, quantity, reasons, why } = step;
  const [out, into] = reasons;
  const outId = move(transaction, { thingId: fromLotId, quantity, fromHolderId: placeId, toHolderId: regroupingId, reason: out });
  const inId = move(transaction, { thingId: toLotId, quantity, fromHolderId: regroupingId, toHolderId: placeId, reason: into });
  const { key, person } = transaction.command;
  transaction.send(insertRegrouping, [newId(), key, kind, fromLotId, toLotId, quantity, outId, inId, why, person.id]);
}
