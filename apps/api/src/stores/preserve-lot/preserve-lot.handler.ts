import type { PreserveLot, Thing } from '@corewright/contracts/stores';
import { Injectable } from '@nestjs/common';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { changedMeanwhile, done, invariant, notFound, type Result, refused } from '../../platform/refusal.js';
import { lockOf } from '../ledger.js';
import { tellOthers } from '../tell-others.js';
import { thingRow } from '../thing.queries.js';
import { ThingPage } from '../thing-page.js';
import { preserve, whyNotPreserved } from './preserve.js';

const touchThing = 'UPDATE things SET version = version + 1 WHERE id = $1';

/** Says how a lot of bearings is preserved and was kept, on which its storage period depends. */
@Injectable()
export class PreserveLotHandler {
  constructor(private readonly page: ThingPage) {}

  async handle(transaction: Transaction, lotId: string, asked: PreserveLot): Promise<Result<Thing>> {
    const locked = await lockOf(transaction, lotId);
    if (locked?.kind !== 'L') return refused(notFound('That lot'));
    const { versionSeen } = transaction.command;
    if (versionSeen !== null && versionSeen !== locked.version)
      return refused(changedMeanwhile(await this.page.of(transaction, lotId)));
    const facts = await thingRow(transaction, lotId);
    const not = whyNotPreserved(asked, facts?.material ?? null);
    if (not !== null) return refused(not);
    preserve(transaction, lotId, asked);
    await transaction.rows(touchThing, [lotId]);
    await tellOthers(transaction, lotId);
    const after = await this.page.of(transaction, lotId);
    invariant(after !== null, 'a locked thing is in the books');
    return done(after);
  }
}
