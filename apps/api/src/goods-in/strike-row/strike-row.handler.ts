import type { LoadRow } from '@corewright/contracts/goods-in';
import { formatDecimal } from '@corewright/quantities/decimal';
import { Injectable } from '@nestjs/common';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { changedMeanwhile, done, invariant, notFound, type Refusal, type Result, refused } from '../../platform/refusal.js';
import { voidCodes } from '../../scanning/code-register.js';
import { move } from '../../stores/ledger.js';
import { type LockedLoad, lockOfLoad } from '../load.queries.js';
import { RowQueries } from '../row.queries.js';
import { keptRow, type RowState, stateOf, whyNotChanged } from '../row-state.js';
import { WhoRelies } from '../who-relies.js';

const strike = 'UPDATE load_rows SET struck_out = true, version = version + 1 WHERE thing_id = $1';

/** A row that should never have been: everything goes back to the seller by a movement, its code is void, the row stays to be read. */
@Injectable()
export class StrikeRowHandler {
  constructor(
    private readonly rows: RowQueries,
    private readonly reliance: WhoRelies,
  ) {}

  async handle(transaction: Transaction, loadId: string, rowId: string, reason: string): Promise<Result<LoadRow>> {
    const load = await lockOfLoad(transaction, loadId);
    if (load === null) return refused(notFound('That load'));
    const kept = await keptRow(transaction, rowId);
    if (kept === null) return refused(notFound('That row'));
    const why = whyNotChanged(kept, load, transaction.command.versionSeen);
    if (why === 'changed-meanwhile') return refused(changedMeanwhile(await this.rows.one(transaction, rowId)));
    if (why !== null) return refused(why);
    const state = await stateOf(transaction, kept, load);
    if (Number(state.thing.claimed) === 0 && state.usedElsewhere)
      return refused(stays('Some of it is picked, fitted or sent out. Take that back first.'));
    const because = await this.reliance.on(transaction, state.thing);
    if (because !== null) return refused(stays(because));
    await this.giveBack(transaction, load, state, reason);
    transaction.news(`load:${load.id}`, 'loads', `thing:${rowId}`, 'today');
    const row = await this.rows.one(transaction, rowId);
    invariant(row, 'a row that was struck out is there');
    return done(row);
  }

  private async giveBack(transaction: Transaction, load: LockedLoad, state: RowState, reason: string): Promise<void> {
    for (const { placeId, quantity } of state.shelves)
      move(transaction, {
        thingId: state.id,
        quantity: formatDecimal(quantity),
        fromHolderId: placeId,
        toHolderId: load.sellerId,
        reason: `struck out: ${reason}`,
      });
    await voidCodes(
      transaction,
      state.id,
      `This was line ${state.position} of load ${load.number}, which was struck out: ${reason}`,
    );
    await transaction.rows(strike, [state.id]);
  }
}

function stays(because: string): Refusal {
  return {
    status: 409,
    code: 'in-use',
    title: 'In use already',
    detail: `This row cannot be struck out. ${because} Nothing was changed.`,
  };
}
