import type { Thing } from '@corewright/contracts/stores';
import { Injectable } from '@nestjs/common';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { done, invariant, type Result } from '../../platform/refusal.js';
import { move } from '../ledger.js';
import { placeBrief } from '../place.queries.js';
import { placeForGoods } from '../place-for-goods.js';
import { ThingPage } from '../thing-page.js';
import { noLongerMissing } from './found-again.js';
import { lockMissing } from './missing-thing.js';

/** What was missing is found in a place: where that is another than the books had, it is moved there. */
@Injectable()
export class FoundHereHandler {
  constructor(private readonly page: ThingPage) {}

  async handle(transaction: Transaction, thingId: string, placeId: string): Promise<Result<Thing>> {
    const locked = await lockMissing(transaction, thingId);
    if (!locked.ok) return locked;
    const mayLie = await placeForGoods(transaction, placeId);
    if (!mayLie.ok) return mayLie;
    for (const { holderId, quantity } of locked.value.inPlaces.filter((holding) => holding.holderId !== placeId))
      move(transaction, { thingId, quantity, fromHolderId: holderId, toHolderId: placeId, reason: 'found' });
    const place = await placeBrief(transaction, placeId);
    invariant(place !== null, 'a place for goods is in the books');
    await noLongerMissing(transaction, thingId, `found in ${place.path}.`);
    const after = await this.page.of(transaction, thingId);
    invariant(after !== null, 'a locked thing is in the books');
    return done(after);
  }
}
