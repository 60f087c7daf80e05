import type { Transaction } from '../../platform/commands/unit-of-work.js';
import type { LastDecision } from '../line.queries.js';

const insertDecision = `
  INSERT INTO count_decisions (id, count_id, command_key, place_id, thing_id, turn, decision, counted, books, movement_id, why, person_id)
  VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12)`;

export interface DecisionToWrite {
  id: string;
  countId: string;
  placeId: string;
  thingId: string;
  /** of the decisions on its line: of two at once the database refuses one */
  turn: number;
  decision: LastDecision['decision'];
  counted: string | null;
  books: string | null;
  movementId: string | null;
  why: string;
}

export async function writeDecision(transaction: Transaction, written: DecisionToWrite): Promise<void> {
  const { id, countId, placeId, thingId, turn, decision, counted, books, movementId, why } = written;
  const { key, person } = transaction.command;
  await transaction.rows(insertDecision, [
    id,
    countId,
    key,
    placeId,
    thingId,
    turn,
    decision,
    counted,
    books,
    movementId,
    why,
    person.id,
  ]);
}
