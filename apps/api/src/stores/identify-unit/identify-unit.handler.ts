import type { IdentifyUnit } from '@corewright/contracts/identify';
import type { Thing } from '@corewright/contracts/stores';
import { Injectable } from '@nestjs/common';
import { knownTypes } from '../../catalogue/known-types.queries.js';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { changedMeanwhile, done, invariant, notFound, type Result, refused } from '../../platform/refusal.js';
import { lockOf } from '../ledger.js';
import { tellOthers } from '../tell-others.js';
import { thingRow } from '../thing.queries.js';
import { ThingPage } from '../thing-page.js';
import { decideIdentification } from './decide-identification.js';
import { recordIdentification, standingOf } from './record-identification.js';

const updateType = 'UPDATE units SET unit_type_id = $2 WHERE thing_id = $1';
const touchThing = 'UPDATE things SET version = version + 1 WHERE id = $1';

/** Says what a unit is, by what was read on it; the reading, what spoke for and against, and who said it stay on the record. */
@Injectable()
export class IdentifyUnitHandler {
  constructor(private readonly page: ThingPage) {}

  async handle(transaction: Transaction, unitId: string, input: IdentifyUnit): Promise<Result<Thing>> {
    const locked = await lockOf(transaction, unitId);
    if (locked?.kind !== 'U') return refused(notFound('That unit'));
    const { versionSeen } = transaction.command;
    if (versionSeen !== null && versionSeen !== locked.version)
      return refused(changedMeanwhile(await this.page.of(transaction, unitId)));
    const [facts, types] = await Promise.all([thingRow(transaction, unitId), knownTypes(transaction)]);
    invariant(facts !== null, 'a locked thing is in the books');
    const { id, unitTypeId, reading, why } = input;
    const now = types.find((type) => type.id === unitTypeId) ?? null;
    if (unitTypeId !== null && now === null) return refused(notFound('That unit type'));
    const said = standingOf(now, reading);
    const before = facts.unitTypeId === null ? null : { id: facts.unitTypeId, name: facts.typeName };
    const decision = decideIdentification({ before, now, contradictions: said.ruledOut ? said.speaksAgainst : [], why });
    if (!decision.ok) return decision;
    await recordIdentification(transaction, { id, unitId, type: now, reading, why });
    await transaction.rows(updateType, [unitId, unitTypeId]);
    await transaction.rows(touchThing, [unitId]);
    await tellOthers(transaction, unitId);
    const after = await this.page.of(transaction, unitId);
    invariant(after !== null, 'a locked thing is in the books');
    return done(after);
  }
}
