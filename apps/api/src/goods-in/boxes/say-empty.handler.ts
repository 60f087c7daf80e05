import type { BoxPage } from '@corewright/contracts/boxes';
import { Injectable } from '@nestjs/common';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { newId } from '../../platform/new-id.js';
import { done, invariant, type Result, refused } from '../../platform/refusal.js';
import { PassOn } from '../../stores/costs/pass-on/pass-on.js';
import { countDifferenceId, holderOf, move } from '../../stores/ledger.js';
import { boxPage } from './box-page.js';
import { decideEmptying } from './decide-taking.js';
import { lockBox } from './lock-box.js';
import { writeTaking } from './write-taking.js';

const promised = {
  status: 409,
  code: 'in-use',
  title: 'Promised to a job',
  detail: 'This box is promised to a job. Give the claim up first. Nothing was changed.',
};

/**
 * Nothing is left in a box. It leaves the stores for what came out of it, which is the holder that it has been for them; where some of
 * it was not found, for the count difference, as everything that is lost.
 */
@Injectable()
export class SayEmptyHandler {
  constructor(private readonly passOn: PassOn) {}

  async handle(transaction: Transaction, boxId: string, why: string): Promise<Result<BoxPage>> {
    const locked = await lockBox(transaction, boxId);
    if (!locked.ok) return locked;
    const { thing, state, lies } = locked.value;
    const decided = decideEmptying(state, why);
    if (!decided.ok) return decided;
    if (Number(thing.claimed) > 0) return refused(promised);
    invariant(lies, 'a box that may be emptied lies somewhere');
    const { notFound, isLoss } = decided.value;
    const lost = notFound > 0 ? `said empty, ${notFound} not found: ${why}` : `said empty, nothing named: ${why}`;
    const movementId = move(transaction, {
      thingId: boxId,
      quantity: '1',
      fromHolderId: lies.holderId,
      toHolderId: isLoss ? countDifferenceId : holderOf(transaction, boxId, 'box'),
      reason: isLoss ? lost : 'emptied',
    });
    await writeTaking(transaction, { id: newId(), boxId, kind: 'emptied', pieces: notFound, movementId, why });
    await this.passOn.anew(transaction, boxId, 'said to be empty');
    const page = await boxPage(transaction, boxId);
    invariant(page, 'a box that was emptied is in the books');
    return done(page);
  }
}
