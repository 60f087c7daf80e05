import type { EndKept, KeptForOwner } from '@corewright/contracts/goods-apart';
import { Injectable } from '@nestjs/common';
import { WorkshopClock } from '../../people/workshop.js';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { done, invariant, notFound, type Result, refused } from '../../platform/refusal.js';
import { ChangeHoldHandler } from '../change-hold/change-hold.handler.js';
import { readPrice } from '../change-owner/change-owner.handler.js';
import { writeOwnerChange } from '../change-owner/write-owner-change.js';
import { firmNamed } from '../firm.queries.js';
import { leaveStores } from '../goods-apart/leave-stores.js';
import { type LockedThing, lockOf, scrapId, unknownOwnerId, whereIs } from '../ledger.js';
import { tellOthers } from '../tell-others.js';
import { whyNotEnded } from './decide-ending.js';
import { keptById, type LockedKept, lockOfKept, thingOfKept } from './kept.queries.js';

const end = `
  UPDATE kept_for_owners SET ended_at = clock_timestamp(), ended_how = $2, ended_words = $3, ended_by = $4, ending_key = $5 WHERE id = $1`;

/** What became of a thing that was kept: it leaves, or it stays as what it is now, and its hold goes with the keeping. */
@Injectable()
export class EndKeptHandler {
  constructor(
    private readonly holds: ChangeHoldHandler,
    private readonly clock: WorkshopClock,
  ) {}

  async handle(transaction: Transaction, keptId: string, input: EndKept): Promise<Result<KeptForOwner>> {
    const today = await this.clock.today(transaction);
    const thingId = await thingOfKept(transaction, keptId);
    if (thingId === null) return refused(notFound('That record'));
    const thing = await lockOf(transaction, thingId);
    const kept = await lockOfKept(transaction, keptId);
    invariant(thing && kept, 'a record stays, and so does its thing');
    const firm = input.ownerName === '' ? null : await firmNamed(transaction, input.ownerName);
    const named = firm?.isCustomer ? firm : null;
    const standing = {
      ...kept,
      ...thing,
      kind: kept.kind,
      isOwnerKnown: thing.ownerId !== unknownOwnerId,
      isEnded: kept.endedAt !== null,
      named,
    };
    const fault = whyNotEnded(standing, input);
    if (fault !== null) return refused(fault);
    const price = await readPrice(transaction, input.price, input.how === 'bought');
    if (!price.ok) return price;
    const { key, person } = transaction.command;
    const words = [input.words, input.restsOn].filter((each) => each !== '').join('. ');
    await transaction.rows(end, [keptId, input.how, words, person.id, key]);
    await this.carryOut(transaction, thing, input, { toOwnerId: named?.id ?? null, today, ...price.value, words });
    await this.liftHold(transaction, kept, thing, input.how);
    await tellOthers(transaction, thingId);
    transaction.news('kept-for-owners');
    const after = await keptById(transaction, keptId, today);
    invariant(after, 'a record stays');
    return done(after);
  }

  private async carryOut(
    transaction: Transaction,
    thing: LockedThing,
    { how }: EndKept,
    done: { toOwnerId: string | null; today: string; words: string } & {
      price: Parameters<typeof writeOwnerChange>[1]['price'];
      currency: string;
    },
  ): Promise<void> {
    const { toOwnerId, today, words, price, currency } = done;
    if (how === 'claimed' || how === 'bought') {
      const change = { thingId: thing.id, from: thing.ownerId, to: toOwnerId, price, currency, on: today, words };
      return writeOwnerChange(transaction, { ...change, how: how === 'bought' ? 'bought' : 'claimed' });
    }
    invariant(thing.ownerId, 'what is kept for its owner is not ours');
    const here = (await whereIs(transaction, thing.id)).filter(({ kind }) => ['place', 'outworker'].includes(kind));
    if (how === 'scrapped') leaveStores(transaction, thing.id, here, scrapId, `scrapped: ${words}`);
    else leaveStores(transaction, thing.id, here, { customerId: thing.ownerId }, `${how}: ${words}`);
  }

  /** The hold that came with it goes with it; one that somebody else had put on before stays. */
  private async liftHold(transaction: Transaction, kept: LockedKept, thing: LockedThing, how: string): Promise<void> {
    if (!kept.holds || thing.heldBackReason === null) return;
    await this.holds.put(transaction, thing.id, `no longer kept for its owner: ${how}`, false);
  }
}
