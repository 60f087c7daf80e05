import type { Condemn } from '@corewright/contracts/goods-apart';
import type { Thing } from '@corewright/contracts/stores';
import { decimalFrom, formatDecimal } from '@corewright/quantities/decimal';
import { Injectable } from '@nestjs/common';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
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
import { logClaimChange } from '../claim-changes.js';
import { UnitJobs } from '../later-names.js';
import { claimLess, claimsOn, type LockedThing, lockOf } from '../ledger.js';
import { tellOthers } from '../tell-others.js';
import { ThingPage } from '../thing-page.js';

const inUnitsOfOurs = `
  SELECT things.id FROM balances JOIN holders ON holders.id = holder_id JOIN things ON things.id = holder_id
   WHERE thing_id = $1 AND holders.kind = 'unit' AND quantity > 0 AND things.held > 0 LIMIT 1`;
const standingPictures = `
  SELECT count(*)::integer AS count FROM pictures
   WHERE subject_id = $1 AND NOT EXISTS (SELECT FROM picture_strikes WHERE picture_id = pictures.id)`;
const inTray = `
  SELECT 1 AS there FROM balances JOIN holders ON holders.id = holder_id WHERE thing_id = $1 AND kind = 'tray' AND quantity > 0 LIMIT 1`;
const insert = 'INSERT INTO condemnations (thing_id, command_key, reason, no_picture, person_id) VALUES ($1, $2, $3, $4, $5)';

/** Condemns a thing, which is final: what jobs had reserved of it goes back to them as lacking, and nobody can use it again. */
@Injectable()
export class CondemnHandler {
  constructor(
    private readonly page: ThingPage,
    private readonly jobs: UnitJobs,
  ) {}

  async handle(transaction: Transaction, thingId: string, { reason, noPicture }: Condemn): Promise<Result<Thing>> {
    const thing = await lockOf(transaction, thingId);
    if (thing === null) return refused(notFound('That thing'));
    const { versionSeen, key, person } = transaction.command;
    if (versionSeen !== null && versionSeen !== thing.version)
      return refused(changedMeanwhile(await this.page.of(transaction, thingId)));
    const barred = await this.whyNot(transaction, thing, noPicture);
    if (barred !== null) return refused(barred);
    await tellOthers(transaction, thingId);
    await this.release(transaction, thingId, reason);
    await transaction.rows(insert, [thingId, key, reason, noPicture, person.id]);
    const after = await this.page.of(transaction, thingId);
    invariant(after !== null, 'a locked thing is in the books');
    return done(after);
  }

  private async whyNot(transaction: Transaction, thing: LockedThing, noPicture: string): Promise<Refusal | null> {
    if (thing.condemned) return stopped('condemned-already', 'Condemned already', 'This was condemned before.');
    const job = thing.kind === 'U' ? await this.jobs.nameOf(transaction, thing.id) : null;
    if (job !== null) return stopped('in-use', 'A job is on it', `There is a job on it: ${job.name}. Call the job off first.`);
    if (await transaction.row(inUnitsOfOurs, [thing.id]))
      return stopped('in-use', 'It is fitted', 'Some of it is fitted in a unit here. Take that out first, then condemn it.');
    if (await transaction.row(inTray, [thing.id]))
      return stopped('in-use', 'It lies in a tray', 'Some of it lies in the tray of a job. Put it away first, then condemn it.');
    if (Number(thing.held) + Number(thing.awaited) === 0)
      return stopped('not-here', 'Nothing of it is here', 'By the books nothing of it is held any more.');
    if (noPicture !== '') return null;
    const pictures = await transaction.row<{ count: number }>(standingPictures, [thing.id]);
    return pictures?.count === 0
      ? badInput('noPicture', 'Photograph what is wrong with it first, or say why there is no photograph.')
      : null;
  }

  private async release(transaction: Transaction, thingId: string, reason: string): Promise<void> {
    for (const { id, claimantId, purposeId, quantity } of await claimsOn(transaction, thingId)) {
      claimLess(transaction, id, quantity);
      const less = `-${formatDecimal(decimalFrom(quantity))}`;
      const why = `condemned: ${reason}`;
      logClaimChange(transaction, {
        on: { thingId },
        jobId: claimantId,
        lineId: purposeId,
        quantity: less,
        kind: 'released',
        reason: why,
      });
    }
  }
}

function stopped(code: string, title: string, words: string): Refusal {
  return { status: 409, code, title, detail: `${words} Nothing was changed.` };
}
