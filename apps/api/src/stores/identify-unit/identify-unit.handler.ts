import type { IdentifyUnit, KnownType } from '@corewright/contracts/identify';
import type { Thing } from '@corewright/contracts/stores';
import { rankTypes } from '@corewright/identify/rank-types';
import { Injectable } from '@nestjs/common';
import { knownTypes } from '../../catalogue/known-types.queries.js';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { changedMeanwhile, done, invariant, notFound, type Result, refused } from '../../platform/refusal.js';
import { ChangeHoldHandler } from '../change-hold/change-hold.handler.js';
import { lockOf } from '../ledger.js';
import { thingRow } from '../thing.queries.js';
import { ThingPage } from '../thing-page.js';
import { decideIdentification } from './decide-identification.js';

const insertIdentification = `
  INSERT INTO identifications (id, command_key, thing_id, unit_type_id, reading, speaks_for, speaks_against, ruled_out, why, person_id)
  VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10)`;
const updateType = 'UPDATE units SET unit_type_id = $2 WHERE thing_id = $1';
const touchThing = 'UPDATE things SET version = version + 1 WHERE id = $1';

/** Says what a unit is, by what was read on it; the reading, what spoke for and against, and who said it stay on the record. */
@Injectable()
export class IdentifyUnitHandler {
  constructor(
    private readonly page: ThingPage,
    private readonly holds: ChangeHoldHandler,
  ) {}

  async handle(transaction: Transaction, unitId: string, input: IdentifyUnit): Promise<Result<Thing>> {
    const locked = await lockOf(transaction, unitId);
    if (locked?.kind !== 'U') return refused(notFound('That unit'));
    const { versionSeen, key, person } = transaction.command;
    if (versionSeen !== null && versionSeen !== locked.version)
      return refused(changedMeanwhile(await this.page.of(transaction, unitId)));
    const [facts, types] = await Promise.all([thingRow(transaction, unitId), knownTypes(transaction)]);
    invariant(facts !== null, 'a locked thing is in the books');
    const { id, unitTypeId, reading, why } = input;
    const now = types.find((type) => type.id === unitTypeId) ?? null;
    if (unitTypeId !== null && now === null) return refused(notFound('That unit type'));
    const said = standingOf(now, input);
    const before = facts.unitTypeId === null ? null : { id: facts.unitTypeId, name: facts.typeName };
    const decision = decideIdentification({ before, now, contradictions: said.ruledOut ? said.speaksAgainst : [], why });
    if (!decision.ok) return decision;
    await transaction.rows(insertIdentification, [
      id,
      key,
      unitId,
      unitTypeId,
      JSON.stringify(reading),
      said.speaksFor,
      said.speaksAgainst,
      said.ruledOut,
      why,
      person.id,
    ]);
    await transaction.rows(updateType, [unitId, unitTypeId]);
    await transaction.rows(touchThing, [unitId]);
    await this.holds.tellOthers(transaction, unitId);
    const after = await this.page.of(transaction, unitId);
    invariant(after !== null, 'a locked thing is in the books');
    return done(after);
  }
}

/** What was read, as it speaks of the type that is named. */
function standingOf(
  type: KnownType | null,
  { reading }: IdentifyUnit,
): { speaksFor: string[]; speaksAgainst: string[]; ruledOut: boolean } {
  if (type === null) return { speaksFor: [], speaksAgainst: [], ruledOut: false };
  const { candidates, open, ruledOut } = rankTypes([type], reading);
  const [found] = [...ruledOut, ...candidates, ...open];
  invariant(found, 'a type that is ranked is in the ranking');
  return { speaksFor: found.speaksFor, speaksAgainst: found.speaksAgainst, ruledOut: ruledOut.length > 0 };
}
