import type { HoldOn, HoldPlace, PlaceHeld } from '@corewright/contracts/goods-apart';
import type { HoldBack, Thing } from '@corewright/contracts/stores';
import { Injectable } from '@nestjs/common';
import { WorkshopClock } from '../../people/workshop.js';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { newId } from '../../platform/new-id.js';
import {
  badInput,
  changedMeanwhile,
  done,
  invariant,
  notFound,
  type Refusal,
  type Result,
  refused,
} from '../../platform/refusal.js';
import { type LockedThing, lockOf, locksOf } from '../ledger.js';
import { placeBrief } from '../place.queries.js';
import { tellOthers } from '../tell-others.js';
import { ThingPage } from '../thing-page.js';
import { decideHold } from './decide-hold.js';
import { lifterOf, mayBeLifter } from './hold.queries.js';

const updateHold = `
  UPDATE things SET held_back_reason = $2, held_back_by = $3, hold_lifter_id = $4, hold_look_again_on = $5,
         held_back_since = CASE WHEN $2::text IS NOT NULL THEN clock_timestamp() END, version = version + 1 WHERE id = $1`;
const lookAgain = 'UPDATE things SET hold_look_again_on = $2, version = version + 1 WHERE id = $1';
const insertChange = `
  INSERT INTO hold_changes (id, command_key, thing_id, held_back, reason, person_id, lifter_id, look_again_on) VALUES ($1, $2, $3, $4, $5, $6, $7, $8)`;
const lyingIn = 'SELECT thing_id AS id FROM balances WHERE holder_id = $1 AND quantity > 0 ORDER BY thing_id';

/** Who may lift a hold, and when somebody is to look again. */
export interface HoldTerms {
  mayLiftId: string | null;
  lookAgainOn: string | null;
}

const anybody: HoldTerms = { mayLiftId: null, lookAgainOn: null };

type Act = ({ act: 'hold' } & HoldBack) | { act: 'lift'; reason: string } | ({ act: 'hold on' } & HoldOn);

/** Holds a thing back from use, lifts the hold, or keeps it on after a look; each with words that stay on the record. */
@Injectable()
export class ChangeHoldHandler {
  constructor(
    private readonly page: ThingPage,
    private readonly clock: WorkshopClock,
  ) {}

  async handle(transaction: Transaction, thingId: string, input: Act): Promise<Result<Thing>> {
    const thing = await lockOf(transaction, thingId);
    if (thing === null) return refused(notFound('That thing'));
    const { versionSeen, person } = transaction.command;
    if (versionSeen !== null && versionSeen !== thing.version)
      return refused(changedMeanwhile(await this.page.of(transaction, thingId)));
    const lifter = await lifterOf(transaction, thingId);
    const decision = decideHold({ ...thing, lifter }, input.act, person);
    if (!decision.ok) return decision;
    const fault = await this.faultOf(transaction, input);
    if (fault !== null) return refused(fault);
    if (input.act === 'hold on')
      await this.keepOn(transaction, thingId, { mayLiftId: lifter?.id ?? null, lookAgainOn: input.lookAgainOn }, input.words);
    else await this.put(transaction, thingId, input.reason, input.act === 'hold', input.act === 'hold' ? input : anybody);
    await tellOthers(transaction, thingId);
    const after = await this.page.of(transaction, thingId);
    invariant(after !== null, 'a locked thing is in the books');
    return done(after);
  }

  /** Holds back all that lies in a place and is not held back yet, with one reason. */
  async place(transaction: Transaction, placeId: string, input: HoldPlace): Promise<Result<PlaceHeld>> {
    const place = await placeBrief(transaction, placeId);
    if (place === null) return refused(notFound('That place'));
    const fault = await this.faultOf(transaction, { act: 'hold', ...input });
    if (fault !== null) return refused(fault);
    const things = await this.lockLying(transaction, placeId);
    const free = things.filter((thing) => thing.heldBackReason === null && !thing.condemned);
    if (free.length === 0)
      return refused({
        status: 409,
        code: 'nothing-to-hold',
        title: 'Nothing to hold back',
        detail: `${things.length === 0 ? `By the books nothing lies in ${place.path}.` : `All that lies in ${place.path} is held back or condemned already.`} Nothing was changed.`,
      });
    for (const { id } of free) {
      await this.put(transaction, id, input.reason, true, input);
      await tellOthers(transaction, id);
    }
    const before = things.length - free.length;
    const words = [
      `${free.length} ${free.length === 1 ? 'thing is' : 'things are'} held back in ${place.path}.`,
      before === 0 ? '' : `${before} ${before === 1 ? 'was' : 'were'} before.`,
    ];
    return done({ held: free.length, before, words: words.filter(Boolean).join(' ') });
  }

  /** Writes the hold of a locked thing, or its lifting, and who did it. */
  async put(transaction: Transaction, thingId: string, reason: string, holds = true, terms: HoldTerms = anybody): Promise<void> {
    const { person } = transaction.command;
    const { mayLiftId, lookAgainOn } = holds ? terms : anybody;
    await transaction.rows(updateHold, [thingId, holds ? reason : null, holds ? person.id : null, mayLiftId, lookAgainOn]);
    await this.log(transaction, thingId, holds, reason, { mayLiftId, lookAgainOn });
  }

  private async keepOn(transaction: Transaction, thingId: string, terms: HoldTerms, words: string): Promise<void> {
    await transaction.rows(lookAgain, [thingId, terms.lookAgainOn]);
    await this.log(transaction, thingId, true, `looked at again: ${words}`, terms);
  }

  private async log(transaction: Transaction, thingId: string, holds: boolean, reason: string, terms: HoldTerms): Promise<void> {
    const { key, person } = transaction.command;
    const { mayLiftId, lookAgainOn } = terms;
    await transaction.rows(insertChange, [newId(), key, thingId, holds, reason, person.id, mayLiftId, lookAgainOn]);
  }

  /** Whatever comes into the place meanwhile is not held: whoever held it did not see it. */
  private async lockLying(transaction: Transaction, placeId: string): Promise<LockedThing[]> {
    const seen = await transaction.rows<{ id: string }>(lyingIn, [placeId]);
    const things = await locksOf(
      transaction,
      seen.map(({ id }) => id),
    );
    const still = new Set((await transaction.rows<{ id: string }>(lyingIn, [placeId])).map(({ id }) => id));
    return things.filter(({ id }) => still.has(id));
  }

  private async faultOf(transaction: Transaction, input: Act): Promise<Refusal | null> {
    if (input.act === 'lift') return null;
    const today = await this.clock.today(transaction);
    if (input.lookAgainOn !== null && input.lookAgainOn < today)
      return badInput('lookAgainOn', 'That day is past. Key a day that is still to come, or leave it empty.');
    if (input.act !== 'hold' || input.mayLiftId === null) return null;
    if ((await mayBeLifter(transaction, input.mayLiftId)) !== null) return null;
    return badInput(
      'mayLiftId',
      'That person is not here any more, or only looks. Choose another, or leave it to all who keep the books.',
    );
  }
}
