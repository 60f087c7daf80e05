import type { ChangeOwner } from '@corewright/contracts/goods-apart';
import type { Thing } from '@corewright/contracts/stores';
import { type Money, parseMoney } from '@corewright/quantities/money';
import { Injectable } from '@nestjs/common';
import { whyNotYet } from '../../catalogue/day-of-record.js';
import { oursOf, WorkshopClock } from '../../people/workshop.js';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { badInput, changedMeanwhile, done, invariant, notFound, type Result, refused } from '../../platform/refusal.js';
import { firmNamed } from '../firm.queries.js';
import { UnitJobs } from '../later-names.js';
import { type LockedThing, lockOf, whereIs } from '../ledger.js';
import { tellOthers } from '../tell-others.js';
import { ThingPage } from '../thing-page.js';
import { decideOwner, type OwnerStanding } from './decide-owner.js';
import { writeOwnerChange } from './write-owner-change.js';

const selectOwner = 'SELECT name FROM parties WHERE id = $1';
const boundInSet = 'SELECT 1 AS there FROM kept_set_members WHERE thing_id = $1 AND bound LIMIT 1';

/** A thing becomes another’s by an act that is named, with its price, its day and its words. */
@Injectable()
export class ChangeOwnerHandler {
  constructor(
    private readonly page: ThingPage,
    private readonly clock: WorkshopClock,
    private readonly jobs: UnitJobs,
  ) {}

  async handle(transaction: Transaction, thingId: string, input: ChangeOwner): Promise<Result<Thing>> {
    const thing = await lockOf(transaction, thingId);
    if (thing === null) return refused(notFound('That thing'));
    const { versionSeen } = transaction.command;
    if (versionSeen !== null && versionSeen !== thing.version)
      return refused(changedMeanwhile(await this.page.of(transaction, thingId)));
    const notThen = whyNotYet('on', input.on, await this.clock.today(transaction));
    if (notThen !== null) return refused(notThen);
    const price = await readPrice(transaction, input.price, input.how === 'bought');
    if (!price.ok) return price;
    const decided = decideOwner(await this.standingOf(transaction, thing, input.ownerName), input);
    if (!decided.ok) return decided;
    const { how, on, words } = input;
    await writeOwnerChange(transaction, { thingId, from: thing.ownerId, to: decided.value, how, on, words, ...price.value });
    await tellOthers(transaction, thingId);
    const after = await this.page.of(transaction, thingId);
    invariant(after !== null, 'a locked thing is in the books');
    return done(after);
  }

  private async standingOf(transaction: Transaction, thing: LockedThing, ownerName: string): Promise<OwnerStanding> {
    const owner = await transaction.row<{ name: string }>(selectOwner, [thing.ownerId]);
    const firm = ownerName === '' ? null : await firmNamed(transaction, ownerName);
    const holders = await whereIs(transaction, thing.id);
    return {
      ...thing,
      ownerName: owner?.name ?? null,
      job: (await this.jobs.nameOf(transaction, thing.id))?.name ?? null,
      isBound: (await transaction.row(boundInSet, [thing.id])) !== null,
      isInUse: holders.some(({ kind }) => kind === 'tray' || kind === 'unit'),
      named: firm?.isCustomer ? { id: firm.id, name: firm.name } : null,
    };
  }
}

/** What was paid, in the workshop's currency; only for what is bought. */
export async function readPrice(
  transaction: Transaction,
  keyed: string,
  isBought: boolean,
): Promise<Result<{ price: Money | null; currency: string }>> {
  const currency = await oursOf(transaction);
  if (keyed === '') return done({ price: null, currency });
  if (!isBought) return refused(badInput('price', 'Only what is bought has a price. Leave it empty.'));
  const price = parseMoney(keyed, currency);
  if (!price.ok) return refused(badInput('price', price.error.sentence));
  return done({ price: price.value, currency });
}
