import type { AddKeptNote, KeepForOwner, KeptForOwner } from '@corewright/contracts/goods-apart';
import { Injectable } from '@nestjs/common';
import { whyNotYet } from '../../catalogue/day-of-record.js';
import { WorkshopClock } from '../../people/workshop.js';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { badInput, done, invariant, notFound, type Result, refused } from '../../platform/refusal.js';
import { ChangeHoldHandler } from '../change-hold/change-hold.handler.js';
import { lockOf, whereIs } from '../ledger.js';
import { tellOthers } from '../tell-others.js';
import { whyNotKept, whyNotThatDay } from './decide-keeping.js';
import { keptById, lockOfKept, thingOfKept } from './kept.queries.js';
import { isKeptIdUsed, reasonOfKeeping, writeKept } from './write-kept.js';

const insertNote = `
  INSERT INTO kept_for_owner_notes (id, command_key, kept_id, way, said_on, with_whom, words, person_id) VALUES ($1, $2, $3, $4, $5, $6, $7, $8)`;
const noteIsThere = 'SELECT 1 AS there FROM kept_for_owner_notes WHERE id = $1';
const putDay = 'UPDATE kept_for_owners SET look_again_on = $2 WHERE id = $1';

/** A customer's thing waits for them: it is held back, with a day on which somebody is to look again, and what is said to them is written down. */
@Injectable()
export class KeepForOwnerHandler {
  constructor(
    private readonly holds: ChangeHoldHandler,
    private readonly clock: WorkshopClock,
  ) {}

  async keep(transaction: Transaction, thingId: string, input: KeepForOwner): Promise<Result<KeptForOwner>> {
    const today = await this.clock.today(transaction);
    const [thing, balances] = await Promise.all([lockOf(transaction, thingId), whereIs(transaction, thingId)]);
    if (thing === null) return refused(notFound('That thing'));
    const fault = whyNotYet('since', input.since, today) ?? whyNotThatDay(input.lookAgainOn, today);
    if (fault !== null) return refused(fault);
    if (await isKeptIdUsed(transaction, input.id))
      return refused(badInput('id', 'A record with this id is in the books already.'));
    const barred = whyNotKept({
      ...thing,
      isHere: balances.some(({ kind }) => kind === 'place'),
      isInUse: balances.some(({ kind }) => kind === 'tray' || kind === 'unit'),
    });
    if (barred !== null) return refused(barred);
    const holds = thing.heldBackReason === null;
    if (holds) await this.holds.put(transaction, thingId, reasonOfKeeping(input.kind, input.words));
    await writeKept(transaction, { ...input, thingId, foundWhere: '', foundBy: '', holds });
    await tellOthers(transaction, thingId);
    return done(await this.shown(transaction, input.id, today));
  }

  /** A letter, a call, a visit; where a day is keyed, somebody looks again then. */
  async note(transaction: Transaction, keptId: string, input: AddKeptNote): Promise<Result<KeptForOwner>> {
    const today = await this.clock.today(transaction);
    const thingId = await thingOfKept(transaction, keptId);
    if (thingId === null) return refused(notFound('That record'));
    await lockOf(transaction, thingId);
    const kept = await lockOfKept(transaction, keptId);
    invariant(kept, 'a record stays');
    if (kept.endedAt !== null)
      return refused({
        status: 409,
        code: 'ended-already',
        title: 'Ended already',
        detail: 'Somebody has written down meanwhile what became of it, and its record is closed. Nothing was changed.',
      });
    const { id, way, on, withWhom, words, lookAgainOn } = input;
    const fault = whyNotYet('on', on, today) ?? (lookAgainOn === null ? null : whyNotThatDay(lookAgainOn, today));
    if (fault !== null) return refused(fault);
    if (await transaction.row(noteIsThere, [id])) return refused(badInput('id', 'A note with this id is in the books already.'));
    const { key, person } = transaction.command;
    await transaction.rows(insertNote, [id, key, keptId, way, on, withWhom, words, person.id]);
    if (lookAgainOn !== null) await transaction.rows(putDay, [keptId, lookAgainOn]);
    transaction.news(`thing:${thingId}`, 'stores', 'today', 'kept-for-owners');
    return done(await this.shown(transaction, keptId, today));
  }

  private async shown(transaction: Transaction, keptId: string, today: string): Promise<KeptForOwner> {
    const kept = await keptById(transaction, keptId, today);
    invariant(kept, 'what was just written is there');
    return kept;
  }
}
