import type { LoadCost, ShareLoadCost } from '@corewright/contracts/costs';
import { changesOfShares, type Shares } from '@corewright/costing/share-cost';
import { Injectable } from '@nestjs/common';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { newId } from '../../platform/new-id.js';
import { changedMeanwhile, done, invariant, notFound, type Result, refused } from '../../platform/refusal.js';
import { decideSharing } from '../../stores/costs/decide-sharing.js';
import { namedShares, sameShares, sharedSoAlready } from '../../stores/costs/named-shares.js';
import { writeLoadShares } from '../../stores/costs/value-ledger.js';
import { lockOfLoad } from '../load.queries.js';
import { type LoadCostState, loadCostPage, loadCostState } from './load-cost-page.js';

const insertSharing = `
  INSERT INTO load_sharings (id, command_key, load_id, way, cost_minor, currency, not_known, why, person_id)
  VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9)`;

/**
 * Shares what a load cost over what came with it. Shared again, it writes what changes, for what was fitted or sold meanwhile too:
 * its share goes with it, and what was written before stays.
 */
@Injectable()
export class ShareCostHandler {
  async handle(transaction: Transaction, loadId: string, input: ShareLoadCost): Promise<Result<LoadCost>> {
    if ((await lockOfLoad(transaction, loadId)) === null) return refused(notFound('That load'));
    const state = await loadCostState(transaction, loadId);
    invariant(state, 'a locked load is there');
    const keyed = namedShares(input.shares, state.load.ours);
    if (!keyed.ok) return keyed;
    const decided = decideSharing(state.toShare, input.way, keyed.value);
    if (!decided.ok) return decided;
    if (input.shares.length > 0 && !sameShares(keyed.value, decided.value))
      return refused(changedMeanwhile(await loadCostPage(transaction, loadId)));
    const changes = changesOfShares(state.borne, decided.value);
    if (changes.size === 0 && saysTheSame(state, input)) return refused(sharedSoAlready);
    await this.write(transaction, state, input, changes);
    transaction.news(`load:${loadId}`, 'loads');
    const page = await loadCostPage(transaction, loadId);
    invariant(page, 'a locked load is there');
    return done(page);
  }

  private async write(transaction: Transaction, state: LoadCostState, input: ShareLoadCost, changes: Shares): Promise<void> {
    const { load, came } = state;
    const { cost } = came;
    invariant(cost !== null, 'what was shared is known');
    const { key, person } = transaction.command;
    const sharingId = newId();
    await transaction.rows(insertSharing, [
      sharingId,
      key,
      load.id,
      input.way,
      cost.toString(),
      load.ours,
      came.notKnown,
      input.why,
      person.id,
    ]);
    const entries = [...changes].map(([thingId, amount]) => ({ thingId, amount }));
    await writeLoadShares(transaction, { loadId: load.id, sharingId, currency: load.ours, why: input.why }, entries);
  }
}

function saysTheSame({ sharings: [last], came }: LoadCostState, { way }: ShareLoadCost): boolean {
  return last !== undefined && last.way === way && last.notKnown.join() === came.notKnown.join();
}
