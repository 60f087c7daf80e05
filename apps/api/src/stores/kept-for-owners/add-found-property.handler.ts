import type { AddFoundProperty, KeptForOwner } from '@corewright/contracts/goods-apart';
import { formatDecimal } from '@corewright/quantities/decimal';
import { checkQuantity } from '@corewright/quantities/unit-of-measure';
import { Injectable } from '@nestjs/common';
import { whyNotYet } from '../../catalogue/day-of-record.js';
import { WorkshopClock } from '../../people/workshop.js';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { badInput, done, invariant, type Refusal, type Result, refused } from '../../platform/refusal.js';
import { ChangeHoldHandler } from '../change-hold/change-hold.handler.js';
import { move, unknownOwnerId } from '../ledger.js';
import { addLot } from '../new-things.js';
import { placeForGoods } from '../place-for-goods.js';
import { whyNotThatDay } from './decide-keeping.js';
import { keptById } from './kept.queries.js';
import { isKeptIdUsed, reasonOfKeeping, writeKept } from './write-kept.js';

const thingIsThere = 'SELECT 1 AS there FROM things WHERE id = $1';

/** Something turned up, and nobody knows whose it is: it gets a label, is held back, and is nobody's of ours until its owner is found. */
@Injectable()
export class AddFoundPropertyHandler {
  constructor(
    private readonly holds: ChangeHoldHandler,
    private readonly clock: WorkshopClock,
  ) {}

  async handle(transaction: Transaction, input: AddFoundProperty): Promise<Result<KeptForOwner>> {
    const { id, thingId, name, placeId, foundWhere, words } = input;
    const today = await this.clock.today(transaction);
    const fault = await this.faultOf(transaction, input, today);
    if (fault !== null) return refused(fault);
    const quantity = checkQuantity(input.quantity, 'each');
    if (!quantity.ok) return refused(badInput('quantity', quantity.error.sentence));
    const place = await placeForGoods(transaction, placeId);
    if (!place.ok) return place;
    await addLot(transaction, thingId, unknownOwnerId, {
      ...unnamed,
      words: name,
      note: `Found property, nobody knows whose. Found: ${foundWhere}.`,
    });
    move(transaction, {
      thingId,
      quantity: formatDecimal(quantity.value),
      fromHolderId: unknownOwnerId,
      toHolderId: placeId,
      reason: 'found property',
    });
    await this.holds.put(transaction, thingId, reasonOfKeeping('found property', foundWhere));
    await writeKept(transaction, { ...input, words: words === '' ? name : words, kind: 'found property', holds: true });
    const kept = await keptById(transaction, id, today);
    invariant(kept, 'what was just written is there');
    return done(kept);
  }

  private async faultOf(transaction: Transaction, input: AddFoundProperty, today: string): Promise<Refusal | null> {
    if (await transaction.row(thingIsThere, [input.thingId]))
      return badInput('thingId', 'A thing with this id is in the books already.');
    if (await isKeptIdUsed(transaction, input.id)) return badInput('id', 'A record with this id is in the books already.');
    return whyNotYet('since', input.since, today) ?? whyNotThatDay(input.lookAgainOn, today);
  }
}

/** Nobody has said what part it is, and nobody needs to: it is not stock. */
const unnamed = {
  partId: null,
  source: 'unknown',
  make: 'unknown',
  makerId: null,
  marks: '',
  condition: '',
  packet: { asRead: '', precision: 'unknown', earliest: null, latest: null },
  packetCondition: 'none',
} as const;
