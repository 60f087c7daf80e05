import type { CountDifferences } from '@corewright/contracts/counting';
import { Injectable } from '@nestjs/common';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { newId } from '../../platform/new-id.js';
import { done, invariant, notFound, type Result, refused } from '../../platform/refusal.js';
import { lockOf, move } from '../../stores/ledger.js';
import { tellOthers } from '../../stores/tell-others.js';
import { Differences } from '../differences.js';
import { lockOpenCount } from '../open-count.js';
import { canBeTakenBack } from './can-be-taken-back.js';
import { writeDecision } from './write-decision.js';

const selectDecision = `
  SELECT count_id AS "countId", (SELECT kind = 'tray' FROM places WHERE holder_id = place_id) AS "isTray", place_id AS "placeId", thing_id AS "thingId", turn, decision, movement_id AS "movementId",
         (SELECT max(turn) FROM count_decisions AS later WHERE later.count_id = count_decisions.count_id
            AND later.place_id = count_decisions.place_id AND later.thing_id = count_decisions.thing_id) AS "lastTurn"
    FROM count_decisions WHERE id = $1`;
const selectMovement = `
  SELECT quantity, from_holder_id AS "fromHolderId", to_holder_id AS "toHolderId" FROM movements WHERE id = $1`;

interface DecisionRow extends Record<string, unknown> {
  countId: string;
  placeId: string;
  isTray: boolean;
  thingId: string;
  turn: number;
  lastTurn: number;
  decision: string;
  movementId: string | null;
}

/** A decision was a mistake: its movement is undone by a second one, and the line is open again. */
@Injectable()
export class TakeDecisionBackHandler {
  constructor(private readonly differences: Differences) {}

  async handle(transaction: Transaction, decisionId: string, why: string): Promise<Result<CountDifferences>> {
    const found = await transaction.row<DecisionRow>(selectDecision, [decisionId]);
    if (found === null) return refused(notFound('This decision'));
    const count = await lockOpenCount(transaction, found.countId, 'alone');
    if (!count.ok) return count;
    await lockOf(transaction, found.thingId);
    const decision = (await transaction.row<DecisionRow>(selectDecision, [decisionId])) ?? found;
    const { countId, placeId, thingId, lastTurn } = decision;
    if (decision.turn !== lastTurn || !canBeTakenBack(decision.decision, decision.isTray))
      return refused({
        status: 409,
        code: 'not-the-last-decision',
        title: 'Not to be taken back',
        detail:
          'Something else was decided on this line since, or it is marked as not found: that mark goes when somebody finds it. What went off a job is scanned onto it again when it turns up. Nothing was changed.',
      });
    const movementId =
      decision.movementId === null ? null : await undone(transaction, thingId, decision.movementId, count.value.number);
    const turn = lastTurn + 1;
    await writeDecision(transaction, {
      id: newId(),
      countId,
      placeId,
      thingId,
      turn,
      decision: 'taken back',
      counted: null,
      books: null,
      movementId,
      why,
    });
    if (movementId !== null) await tellOthers(transaction, thingId);
    transaction.news('counts', 'stores', 'today');
    return done(await this.differences.of(transaction, count.value));
  }
}

async function undone(transaction: Transaction, thingId: string, movementId: string, number: number): Promise<string> {
  const moved = await transaction.row<{ quantity: string; fromHolderId: string; toHolderId: string }>(selectMovement, [
    movementId,
  ]);
  invariant(moved, 'a decision names a movement of the books');
  return move(transaction, {
    thingId,
    quantity: moved.quantity,
    fromHolderId: moved.toHolderId,
    toHolderId: moved.fromHolderId,
    reason: `count ${number}: taken back`,
    reversesId: movementId,
  });
}
