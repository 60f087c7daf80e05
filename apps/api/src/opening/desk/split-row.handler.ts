import type { OpeningSplit, SplitOpeningRow } from '@corewright/contracts/opening-stock';
import { decimalFrom, formatDecimal, subtractDecimals } from '@corewright/quantities/decimal';
import { checkQuantity } from '@corewright/quantities/unit-of-measure';
import { Injectable } from '@nestjs/common';
import type * as z from 'zod';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { badInput, done, invariant, type Result, refused } from '../../platform/refusal.js';
import { claimCode } from '../../scanning/code-register.js';
import { countDifferenceId, move } from '../../stores/ledger.js';
import { addLot } from '../../stores/new-things.js';
import { thingRow } from '../../stores/thing.queries.js';
import { partOf } from '../../stores/thing-page.js';
import { openingRow } from '../opening-row.queries.js';
import { reasons } from '../reasons.js';
import { stopped } from '../row-state.js';
import { atDesk } from './at-desk.js';

const thingIsThere = 'SELECT 1 AS there FROM things WHERE id = $1';
const takeOff = 'UPDATE opening_rows SET quantity = quantity - $2, version = version + 1 WHERE thing_id = $1';
const insertRow = `
  INSERT INTO opening_rows (thing_id, place_id, split_from_id, quantity, standing, keyed_by)
  SELECT $1, place_id, thing_id, $3, 'to name', $4 FROM opening_rows WHERE thing_id = $2`;

/**
 * What was keyed as one is several things: so many of them are a lot of their own from now on, with a code of its own, and wait to be named. The photographs
 * of what they were keyed with are theirs too. A cost that stands stays with the rest.
 */
@Injectable()
export class SplitRowHandler {
  async handle(transaction: Transaction, rowId: string, input: SplitOpeningRow): Promise<Result<z.infer<typeof OpeningSplit>>> {
    const locked = await atDesk(transaction, rowId);
    if (!locked.ok) return locked;
    const { thing, here, quantity, placeId } = locked.value;
    if (thing.kind !== 'L')
      return refused(
        stopped(
          'not-to-be-split',
          'One thing',
          'A unit is one thing. Out of a box things are named one by one, on its own page.',
        ),
      );
    const before = await thingRow(transaction, rowId);
    invariant(before, 'a locked thing is there');
    const count = checkQuantity(input.count, partOf(before)?.unitOfMeasure ?? 'each');
    if (!count.ok) return refused(badInput('count', count.error.sentence));
    if (count.value >= decimalFrom(quantity))
      return refused(badInput('count', `${quantity} were found, so fewer than that are split off. The rest stays what it is.`));
    if (count.value > here || count.value > subtractDecimals(decimalFrom(thing.held), decimalFrom(thing.claimed)))
      return refused(
        badInput(
          'count',
          `${formatDecimal(here)} of them still lie on the shelf, some perhaps promised to a job. Split off no more than are free there.`,
        ),
      );
    if (await transaction.row(thingIsThere, [input.id]))
      return refused(badInput('id', 'A thing with this id is in the books already.'));
    const claimed = input.code === null ? done(null) : await claimCode(transaction, 'L', input.id, input.code);
    if (!claimed.ok) return claimed;
    const packet = { asRead: '', precision: 'unknown', earliest: null, latest: null } as const;
    const facts = {
      partId: null,
      words: input.words || before.words,
      source: 'unknown',
      make: 'unknown',
      makerId: null,
    } as const;
    const rest = { marks: '', condition: '', packet, packetCondition: 'none', note: '' } as const;
    await addLot(transaction, input.id, thing.ownerId, { ...facts, ...rest }, claimed.value);
    const amount = formatDecimal(count.value);
    move(transaction, {
      thingId: rowId,
      quantity: amount,
      fromHolderId: placeId,
      toHolderId: countDifferenceId,
      reason: reasons.split,
    });
    move(transaction, {
      thingId: input.id,
      quantity: amount,
      fromHolderId: countDifferenceId,
      toHolderId: placeId,
      reason: reasons.split,
    });
    await transaction.rows(takeOff, [rowId, amount]);
    await transaction.rows(insertRow, [input.id, rowId, amount, transaction.command.person.id]);
    transaction.news(`thing:${rowId}`, `thing:${input.id}`, 'stores', 'blank-labels');
    const [row, splitOff] = [await openingRow(transaction, rowId), await openingRow(transaction, input.id)];
    invariant(row !== null && splitOff !== null, 'both parts of a split are there');
    return done({ row, splitOff });
  }
}
