import type { Thing } from '@corewright/contracts/stores';
import { Injectable } from '@nestjs/common';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { newId } from '../../platform/new-id.js';
import { changedMeanwhile, done, invariant, notFound, type Result, refused } from '../../platform/refusal.js';
import { lockOf } from '../ledger.js';
import { tellOthers } from '../tell-others.js';
import { ThingPage } from '../thing-page.js';
import { decideHold } from './decide-hold.js';

const updateHold = `
  UPDATE things SET held_back_reason = $2, held_back_by = $3, version = version + 1 WHERE id = $1`;
const insertChange = `
  INSERT INTO hold_changes (id, command_key, thing_id, held_back, reason, person_id) VALUES ($1, $2, $3, $4, $5, $6)`;

/** Holds a thing back from use, or lifts the hold; each with a reason that stays on the record. */
@Injectable()
export class ChangeHoldHandler {
  constructor(private readonly page: ThingPage) {}

  async handle(transaction: Transaction, thingId: string, act: 'hold' | 'lift', reason: string): Promise<Result<Thing>> {
    const thing = await lockOf(transaction, thingId);
    if (thing === null) return refused(notFound('That thing'));
    const { versionSeen } = transaction.command;
    if (versionSeen !== null && versionSeen !== thing.version)
      return refused(changedMeanwhile(await this.page.of(transaction, thingId)));
    const decision = decideHold(thing.heldBackReason, act);
    if (!decision.ok) return decision;
    await this.put(transaction, thingId, reason, act === 'hold');
    await tellOthers(transaction, thingId);
    const after = await this.page.of(transaction, thingId);
    invariant(after !== null, 'a locked thing is in the books');
    return done(after);
  }

  /** Writes the hold of a locked thing, or its lifting, and who did it. */
  async put(transaction: Transaction, thingId: string, reason: string, holds = true): Promise<void> {
    const { key, person } = transaction.command;
    await transaction.rows(updateHold, [thingId, holds ? reason : null, holds ? person.id : null]);
    await transaction.rows(insertChange, [newId(), key, thingId, holds, reason, person.id]);
  }
}
