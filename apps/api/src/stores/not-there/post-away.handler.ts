import type { Thing } from '@corewright/contracts/stores';
import { type Decimal, decimalFrom, formatDecimal, subtractDecimals, sumDecimals } from '@corewright/quantities/decimal';
import { Injectable } from '@nestjs/common';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { done, invariant, type Refusal, type Result, refused } from '../../platform/refusal.js';
import { countDifferenceId, type LockedThing, move } from '../ledger.js';
import { ThingPage } from '../thing-page.js';
import { noLongerMissing } from './found-again.js';
import { lockMissing } from './missing-thing.js';

/**
 * Nobody looks for a lot any longer: what the books have of it in places leaves them by the count difference. Whoever has it in a hand
 * one day says so at a scan onto a job, which books it as found.
 */
@Injectable()
export class PostAwayHandler {
  constructor(private readonly page: ThingPage) {}

  async handle(transaction: Transaction, thingId: string, reason: string): Promise<Result<Thing>> {
    const locked = await lockMissing(transaction, thingId);
    if (!locked.ok) return locked;
    const { thing, inPlaces } = locked.value;
    const lost = sumDecimals(inPlaces.map(({ quantity }) => decimalFrom(quantity)));
    const barred = whyKept(thing, lost);
    if (barred) return refused(barred);
    for (const { holderId, quantity } of inPlaces)
      move(transaction, {
        thingId,
        quantity,
        fromHolderId: holderId,
        toHolderId: countDifferenceId,
        reason: `not found: ${reason}`,
      });
    await noLongerMissing(transaction, thingId, `posted away: ${reason}`);
    const after = await this.page.of(transaction, thingId);
    invariant(after !== null, 'a locked thing is in the books');
    return done(after);
  }
}

function whyKept({ kind, held, awaited, claimed }: LockedThing, lost: Decimal): Refusal | null {
  if (kind !== 'L')
    return {
      status: 409,
      code: 'cannot-be-posted-away',
      title: 'It bears a tag of its own',
      detail:
        'Only a lot is posted away. A unit, a component or a box stays missing until somebody finds it; of a box say on its page that nothing is left in it. Nothing was changed.',
    };
  const left = subtractDecimals(sumDecimals([held, awaited].map(decimalFrom)), lost);
  if (decimalFrom(claimed) <= left) return null;
  return {
    status: 409,
    code: 'in-use',
    title: 'Reserved for a job',
    detail: `${formatDecimal(decimalFrom(claimed))} of it are reserved, and ${formatDecimal(left)} would be left. Release what is reserved first: the claims stand on this page. Nothing was changed.`,
  };
}
