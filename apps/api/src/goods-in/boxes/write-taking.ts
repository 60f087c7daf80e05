import type { Transaction } from '../../platform/commands/unit-of-work.js';

export interface TakingToWrite {
  id: string;
  boxId: string;
  kind: 'named' | 'emptied' | 'undone';
  thingId?: string;
  pieces: number;
  undoesId?: string;
  movementId?: string;
  why: string;
}

const insertTaking = `
  INSERT INTO box_takings (id, command_key, box_id, kind, thing_id, pieces, undoes_id, movement_id, why, person_id)
  VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10)`;

/** Puts on the record what was done with what is in a box; what was put there before stays. */
export async function writeTaking(transaction: Transaction, taking: TakingToWrite): Promise<void> {
  const { key, person } = transaction.command;
  const { id, boxId, kind, thingId = null, pieces, undoesId = null, movementId = null, why } = taking;
  await transaction.rows(insertTaking, [id, key, boxId, kind, thingId, pieces, undoesId, movementId, why, person.id]);
  transaction.news(`thing:${boxId}`, 'stores', 'loads', 'today');
}
