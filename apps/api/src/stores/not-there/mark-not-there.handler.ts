import type { NotThere } from '@corewright/contracts/not-there';
import type { Thing } from '@corewright/contracts/stores';
import { Injectable } from '@nestjs/common';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { newId } from '../../platform/new-id.js';
import { changedMeanwhile, done, invariant, notFound, type Result, refused } from '../../platform/refusal.js';
import { lockOf } from '../ledger.js';
import { tellOthers } from '../tell-others.js';
import { holdingsOf } from '../thing.queries.js';
import { ThingPage } from '../thing-page.js';
import { decideNotThere, sayPlaces } from './decide-not-there.js';
import { missingOf } from './missing.queries.js';

const mark = 'UPDATE things SET missing_since = clock_timestamp(), version = version + 1 WHERE id = $1';
const insertFlag = "INSERT INTO stores_flags (id, thing_id, kind, words, person_id) VALUES ($1, $2, 'not there', $3, $4)";

/** Marks what is not where the books have it: nobody counts on it until it is found. What was reserved of it stays reserved. */
@Injectable()
export class MarkNotThereHandler {
  constructor(private readonly page: ThingPage) {}

  async handle(transaction: Transaction, thingId: string, { placeId, note }: NotThere): Promise<Result<Thing>> {
    const [thing, holdings] = await Promise.all([lockOf(transaction, thingId), holdingsOf(transaction, thingId)]);
    if (thing === null) return refused(notFound('That thing'));
    const { versionSeen, person } = transaction.command;
    if (versionSeen !== null && versionSeen !== thing.version)
      return refused(changedMeanwhile(await this.page.of(transaction, thingId)));
    const decision = decideNotThere({ holdings, placeId, missing: await missingOf(transaction, thing) });
    if (!decision.ok) return decision;
    const words = [`Looked for in ${sayPlaces(decision.value)}, and not there.`, note].filter((each) => each !== '').join(' ');
    transaction.send(mark, [thingId]);
    transaction.send(insertFlag, [newId(), thingId, words, person.id]);
    await tellOthers(transaction, thingId);
    const after = await this.page.of(transaction, thingId);
    invariant(after !== null, 'a locked thing is in the books');
    return done(after);
  }
}
