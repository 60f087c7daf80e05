import type { InspectLot, Thing } from '@corewright/contracts/stores';
import { Injectable } from '@nestjs/common';
import { storedBearing } from '../../catalogue/storage-life.js';
import { WorkshopClock } from '../../people/workshop.js';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { newId } from '../../platform/new-id.js';
import { changedMeanwhile, done, invariant, notFound, type Result, refused } from '../../platform/refusal.js';
import { ChangeHoldHandler } from '../change-hold/change-hold.handler.js';
import { lockOf } from '../ledger.js';
import { tellOthers } from '../tell-others.js';
import { thingRow } from '../thing.queries.js';
import { ThingPage } from '../thing-page.js';
import { decideInspection } from './decide-inspection.js';

const insertInspection = `
  INSERT INTO storage_inspections (id, command_key, thing_id, inspected_on, looked_at, passed, words, preserved_anew, person_id)
  VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9)`;
const touchThing = 'UPDATE things SET version = version + 1 WHERE id = $1';

/** Puts the inspection of a lot on the record; one that it does not pass holds the lot back, with what was found as the reason. */
@Injectable()
export class InspectLotHandler {
  constructor(
    private readonly page: ThingPage,
    private readonly holds: ChangeHoldHandler,
    private readonly clock: WorkshopClock,
  ) {}

  async handle(transaction: Transaction, lotId: string, input: InspectLot): Promise<Result<Thing>> {
    const locked = await lockOf(transaction, lotId);
    if (locked?.kind !== 'L') return refused(notFound('That lot'));
    const { versionSeen, key, person } = transaction.command;
    if (versionSeen !== null && versionSeen !== locked.version)
      return refused(changedMeanwhile(await this.page.of(transaction, lotId)));
    const facts = await thingRow(transaction, lotId);
    invariant(facts !== null, 'a locked thing is in the books');
    const decision = decideInspection(facts, input, await this.clock.today(transaction));
    if (!decision.ok) return decision;
    const { inspectedOn, lookedAt, passed, words } = input;
    // of a bearing, `passed` says that it was preserved anew
    const isPreserved = passed && storedBearing(facts) !== null;
    await transaction.rows(insertInspection, [newId(), key, lotId, inspectedOn, lookedAt, passed, words, isPreserved, person.id]);
    if (!passed && locked.heldBackReason === null) await this.holds.put(transaction, lotId, `did not pass inspection: ${words}`);
    else await transaction.rows(touchThing, [lotId]);
    await tellOthers(transaction, lotId);
    const after = await this.page.of(transaction, lotId);
    invariant(after !== null, 'a locked thing is in the books');
    return done(after);
  }
}
