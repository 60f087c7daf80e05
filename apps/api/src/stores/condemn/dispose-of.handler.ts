import type { DisposeOf } from '@corewright/contracts/goods-apart';
import type { Thing } from '@corewright/contracts/stores';
import { Injectable } from '@nestjs/common';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { newId } from '../../platform/new-id.js';
import { changedMeanwhile, done, invariant, notFound, type Result, refused } from '../../platform/refusal.js';
import { leaveStores } from '../goods-apart/leave-stores.js';
import { lockOf, scrapId, whereIs } from '../ledger.js';
import { tellOthers } from '../tell-others.js';
import { ThingPage } from '../thing-page.js';
import { decideDisposal } from './decide-disposal.js';

const insert = `
  INSERT INTO condemned_disposals (id, command_key, thing_id, how, words, owners_word, person_id) VALUES ($1, $2, $3, $4, $5, $6, $7)`;
const ensureCondemnation = `
  INSERT INTO condemnations (thing_id, command_key, reason, no_picture, person_id) VALUES ($1, $2, 'condemned before this was written down', 'nobody knows', $3)
  ON CONFLICT (thing_id) DO NOTHING`;

/** What is condemned goes to scrap or back to its owner, or is kept as a pattern or for display, marked so for good. */
@Injectable()
export class DisposeOfHandler {
  constructor(private readonly page: ThingPage) {}

  async handle(transaction: Transaction, thingId: string, input: DisposeOf): Promise<Result<Thing>> {
    const [thing, balances] = await Promise.all([lockOf(transaction, thingId), whereIs(transaction, thingId)]);
    if (thing === null) return refused(notFound('That thing'));
    const { versionSeen, key, person } = transaction.command;
    if (versionSeen !== null && versionSeen !== thing.version)
      return refused(changedMeanwhile(await this.page.of(transaction, thingId)));
    const ours = balances.filter(({ kind }) => ['place', 'tray', 'outworker'].includes(kind));
    const decision = decideDisposal(
      {
        ...thing,
        hasHere: ours.some(({ kind }) => kind === 'place'),
        isElsewhere: ours.some(({ kind }) => kind !== 'place'),
      },
      input,
    );
    if (!decision.ok) return decision;
    const { how, words, ownersWord } = input;
    if (how === 'scrapped') leaveStores(transaction, thing.id, ours, scrapId, `scrapped, condemned: ${words}`);
    if (how === 'given back' && thing.ownerId !== null)
      leaveStores(transaction, thing.id, ours, { customerId: thing.ownerId }, `given back, condemned: ${words}`);
    await transaction.rows(ensureCondemnation, [thingId, key, person.id]);
    await transaction.rows(insert, [newId(), key, thingId, how, words, ownersWord, person.id]);
    await tellOthers(transaction, thingId);
    const after = await this.page.of(transaction, thingId);
    invariant(after !== null, 'a locked thing is in the books');
    return done(after);
  }
}
