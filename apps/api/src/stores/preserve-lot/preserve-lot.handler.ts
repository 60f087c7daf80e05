import type { PreserveLot, Thing } from '@corewright/contracts/stores';
import { Injectable } from '@nestjs/common';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { badInput, changedMeanwhile, done, invariant, notFound, type Result, refused } from '../../platform/refusal.js';
import { ChangeHoldHandler } from '../change-hold/change-hold.handler.js';
import { lockOf } from '../ledger.js';
import { thingRow } from '../thing.queries.js';
import { ThingPage } from '../thing-page.js';
import { canBeBearing } from './can-be-bearing.js';

const updateLot = 'UPDATE lots SET bearing_packing = $2, bearing_store = $3 WHERE thing_id = $1';
const touchThing = 'UPDATE things SET version = version + 1 WHERE id = $1';

/** Says how a lot of bearings is preserved and was kept, on which its storage period depends. */
@Injectable()
export class PreserveLotHandler {
  constructor(
    private readonly page: ThingPage,
    private readonly holds: ChangeHoldHandler,
  ) {}

  async handle(transaction: Transaction, lotId: string, { packing, store }: PreserveLot): Promise<Result<Thing>> {
    const locked = await lockOf(transaction, lotId);
    if (locked?.kind !== 'L') return refused(notFound('That lot'));
    const { versionSeen } = transaction.command;
    if (versionSeen !== null && versionSeen !== locked.version)
      return refused(changedMeanwhile(await this.page.of(transaction, lotId)));
    if (packing === null && store !== null)
      return refused(badInput('store', 'Say first how the bearing is preserved: open in preservative, or greased behind seals.'));
    const facts = await thingRow(transaction, lotId);
    if (packing !== null && !canBeBearing(facts?.material ?? null)) {
      const detail = `This is of ${facts?.material}: it goes by the rule of its material, not by that of bearings. Nothing was changed.`;
      return refused({ status: 409, code: 'not-a-bearing', title: 'Not a bearing', detail, values: { packing } });
    }
    await transaction.rows(updateLot, [lotId, packing, store]);
    await transaction.rows(touchThing, [lotId]);
    await this.holds.tellOthers(transaction, lotId);
    const after = await this.page.of(transaction, lotId);
    invariant(after !== null, 'a locked thing is in the books');
    return done(after);
  }
}
