import type { DeskRow } from '@corewright/contracts/opening-stock';
import { decimalFrom, formatDecimal, zero } from '@corewright/quantities/decimal';
import { Injectable } from '@nestjs/common';
import { WhoRelies } from '../../goods-in/who-relies.js';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { whyNotCurrent } from '../../platform/commands/version-seen.js';
import { changedMeanwhile, notFound, type Result, refused } from '../../platform/refusal.js';
import { move, scrapId } from '../../stores/ledger.js';
import { thingRow } from '../../stores/thing.queries.js';
import { broughtBack, scrapped } from '../reasons.js';
import { lockOpeningRow, stopped } from '../row-state.js';
import { atDesk, finished } from './at-desk.js';
import { deskRow } from './desk-row.queries.js';

const markAsked = "UPDATE opening_rows SET standing = 'asked', version = version + 1 WHERE thing_id = $1";
const askAround = 'UPDATE lots SET ask_around = true WHERE thing_id = $1';
const markBack = "UPDATE opening_rows SET standing = 'to name', version = version + 1 WHERE thing_id = $1";
const markScrapped = "UPDATE opening_rows SET standing = 'scrapped', version = version + 1 WHERE thing_id = $1";

/** What nobody at the desk can name is left for whoever is asked around; what is junk goes to scrap, by name. */
@Injectable()
export class SetByHandler {
  constructor(private readonly reliance: WhoRelies) {}

  async ask(transaction: Transaction, rowId: string): Promise<Result<DeskRow>> {
    const locked = await atDesk(transaction, rowId);
    if (!locked.ok) return locked;
    const thing = await thingRow(transaction, rowId);
    if (thing !== null && (thing.partId !== null || thing.unitTypeId !== null))
      return refused(
        stopped('named-already', 'It has a name', `It is in the books as ${thing.name}. Put that right, or go on to the next.`),
      );
    await transaction.rows(askAround, [rowId]);
    await transaction.rows(markAsked, [rowId]);
    return finished(transaction, rowId);
  }

  async scrap(transaction: Transaction, rowId: string, why: string): Promise<Result<DeskRow>> {
    const locked = await atDesk(transaction, rowId);
    if (!locked.ok) return locked;
    const { thing, here, elsewhere, placeId } = locked.value;
    if (thing.ownerId !== null)
      return refused(
        stopped('not-ours', 'A customer’s', 'It belongs to a customer, so it is not ours to scrap. Give it back to them.'),
      );
    if (elsewhere.some(({ counts }) => counts) || decimalFrom(thing.claimed) > zero)
      return refused(
        stopped(
          'in-use',
          'In use already',
          'Some of it is promised to a job, or lies elsewhere with us. Release it and bring it back first.',
        ),
      );
    if (here === zero)
      return refused(
        stopped('none-left', 'None left here', 'None of it lies on its shelf any more, so there is nothing to scrap.'),
      );
    const because = await this.reliance.on(transaction, thing);
    if (because !== null) return refused(stopped('in-use', 'In use already', because));
    move(transaction, {
      thingId: rowId,
      quantity: formatDecimal(here),
      fromHolderId: placeId,
      toHolderId: scrapId,
      reason: scrapped(why),
    });
    await transaction.rows(markScrapped, [rowId]);
    return finished(transaction, rowId);
  }

  /** It was no junk after all, and is still in the skip: it lies on its shelf again and waits for a name. */
  async bringBack(transaction: Transaction, rowId: string): Promise<Result<DeskRow>> {
    const state = await lockOpeningRow(transaction, rowId);
    if (state === null) return refused(notFound('That row'));
    if (whyNotCurrent(transaction.command, state) !== null) return refused(changedMeanwhile(await deskRow(transaction, rowId)));
    const inScrap = state.elsewhere.find(({ holderId }) => holderId === scrapId);
    if (state.standing !== 'scrapped' || inScrap === undefined)
      return refused(stopped('not-scrapped', 'Not in scrap', 'By the books this was not sent to scrap from its shelf.'));
    const quantity = formatDecimal(decimalFrom(inScrap.quantity));
    move(transaction, { thingId: rowId, quantity, fromHolderId: scrapId, toHolderId: state.placeId, reason: broughtBack });
    await transaction.rows(markBack, [rowId]);
    return finished(transaction, rowId);
  }
}
