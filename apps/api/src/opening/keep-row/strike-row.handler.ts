import type { OpeningRow } from '@corewright/contracts/opening-stock';
import { formatDecimal } from '@corewright/quantities/decimal';
import { Injectable } from '@nestjs/common';
import { WhoRelies } from '../../goods-in/who-relies.js';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { whyNotCurrent } from '../../platform/commands/version-seen.js';
import { changedMeanwhile, done, invariant, notFound, type Result, refused } from '../../platform/refusal.js';
import { voidCodes } from '../../scanning/code-register.js';
import { countDifferenceId, move } from '../../stores/ledger.js';
import { whyPosted } from '../decide-change.js';
import { CostOfRow } from '../desk/cost-of-row.js';
import { openingRow } from '../opening-row.queries.js';
import { reasons } from '../reasons.js';
import { lockOpeningRow, stopped } from '../row-state.js';

const strike = "UPDATE opening_rows SET standing = 'struck out', version = version + 1 WHERE thing_id = $1";

/** A row that should never have been: it goes back through the count, its code is void, the row stays to be read. */
@Injectable()
export class StrikeOpeningRowHandler {
  constructor(
    private readonly reliance: WhoRelies,
    private readonly costs: CostOfRow,
  ) {}

  async handle(transaction: Transaction, rowId: string, reason: string): Promise<Result<OpeningRow>> {
    const state = await lockOpeningRow(transaction, rowId);
    if (state === null) return refused(notFound('That row'));
    if (whyNotCurrent(transaction.command, state) !== null)
      return refused(changedMeanwhile(await openingRow(transaction, rowId)));
    const posted = whyPosted(state);
    if (posted !== null) return refused(posted);
    const because = await this.reliance.on(transaction, state.thing);
    if (because !== null) return refused(stopped('in-use', 'In use already', `This row cannot be struck out. ${because}`));
    const quantity = formatDecimal(state.here);
    const reasonWritten = reasons.struckOut(reason);
    move(transaction, {
      thingId: rowId,
      quantity,
      fromHolderId: state.placeId,
      toHolderId: countDifferenceId,
      reason: reasonWritten,
    });
    await voidCodes(transaction, rowId, `This was a row of opening stock, which was struck out: ${reason}`);
    await this.costs.takeBack(transaction, state, `struck out: ${reason}`);
    await transaction.rows(strike, [rowId]);
    transaction.news(`thing:${rowId}`, 'stores', 'today');
    const row = await openingRow(transaction, rowId);
    invariant(row, 'a row that was struck out is there');
    return done(row);
  }
}
