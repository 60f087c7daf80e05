import { formatCode, type LabelCode } from '@corewright/codes/label-code';
import type { LotRegrouped, SplitLot } from '@corewright/contracts/regrouping';
import { decimalFrom, formatDecimal } from '@corewright/quantities/decimal';
import { checkQuantity } from '@corewright/quantities/unit-of-measure';
import { Injectable } from '@nestjs/common';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { newId } from '../../platform/new-id.js';
import { badInput, done, notFound, type Result, refused } from '../../platform/refusal.js';
import { claimCode, giveCode } from '../../scanning/code-register.js';
import { liveCodeOf, liveCodesOf, logLabelChange, moveCode } from '../../scanning/label-changes.js';
import { boundSetOf } from '../kept-sets/kept-set.queries.js';
import { ClaimantNames } from '../later-names.js';
import { type LockedThing, lockOf, whereIs } from '../ledger.js';
import { tellOthers } from '../tell-others.js';
import { holdingsOf, openClaims, thingRow } from '../thing.queries.js';
import { decideSplit } from './decide-split.js';
import { passOver } from './pass-over.js';

const thingIsThere = 'SELECT 1 AS there FROM things WHERE id = $1';
const selectSet = `SELECT ${boundSetOf('$1')} AS id`;
const copyThing = `
  INSERT INTO things (id, kind, owner_id, held_back_reason, held_back_by, held_back_since, hold_lifter_id, hold_look_again_on, condemned)
  SELECT $1, 'L', owner_id, held_back_reason, held_back_by, held_back_since, hold_lifter_id, hold_look_again_on, condemned FROM things WHERE id = $2`;
const copyLot = `
  INSERT INTO lots (thing_id, part_id, words, source, make, maker_id, marks, condition, packet_read, packet_precision, packet_earliest, packet_latest,
                    packet_condition, fitted_once, note, donor_unit_id, donor_position, thickness_mm, bearing_packing, bearing_store)
  SELECT $1, part_id, words, source, make, maker_id, marks, condition, packet_read, packet_precision, packet_earliest, packet_latest,
         packet_condition, fitted_once, note, donor_unit_id, donor_position, thickness_mm, bearing_packing, bearing_store
    FROM lots WHERE thing_id = $2`;
// What was seen of all of it was seen of these too.
const copyInspections = `
  INSERT INTO storage_inspections (id, command_key, thing_id, inspected_on, looked_at, passed, words, preserved_anew, person_id, recorded_at)
  SELECT gen_random_uuid(), command_key, $1, inspected_on, looked_at, passed, words, preserved_anew, person_id, recorded_at
    FROM storage_inspections WHERE thing_id = $2`;
const copyHold = `
  INSERT INTO hold_changes (id, command_key, thing_id, held_back, reason, lifter_id, look_again_on, person_id)
  SELECT $3, $4, $1, true, held_back_reason, hold_lifter_id, hold_look_again_on, held_back_by FROM things WHERE id = $2 AND held_back_reason IS NOT NULL`;
// The packet says of each of them what it said of all, and who keeps a bag for the workshop's own jobs keeps both.
const copyUseBy = `
  INSERT INTO use_by_readings (id, command_key, thing_id, use_by, person_id, recorded_at)
  SELECT $3, command_key, $1, use_by, person_id, recorded_at FROM use_by_readings WHERE thing_id = $2 ORDER BY sequence DESC LIMIT 1`;
const copyKept = `
  INSERT INTO kept_for_jobs (id, command_key, thing_id, reason, kept_by, kept_at)
  SELECT $3, command_key, $1, reason, kept_by, kept_at FROM kept_for_jobs WHERE thing_id = $2 AND lifted_at IS NULL LIMIT 1`;

/** One bag turns out to be two: so many of a lot become a lot of their own, with the same facts, where they lie. */
@Injectable()
export class SplitLotHandler {
  constructor(private readonly claimants: ClaimantNames) {}

  async handle(transaction: Transaction, lotId: string, input: SplitLot): Promise<Result<LotRegrouped>> {
    const thing = await lockOf(transaction, lotId);
    if (thing === null) return refused(notFound('That thing'));
    const row = await thingRow(transaction, lotId);
    const quantity = checkQuantity(input.quantity, row?.unitOfMeasure ?? 'each');
    if (!quantity.ok) return refused(badInput('quantity', quantity.error.sentence));
    const decided = await this.decide(transaction, thing, input);
    if (!decided.ok) return decided;
    if (await transaction.row(thingIsThere, [input.id]))
      return refused(badInput('id', 'A thing with this id is in the books already.'));
    await transaction.rows(copyThing, [input.id, lotId]);
    await transaction.rows(copyLot, [input.id, lotId]);
    transaction.send(copyInspections, [input.id, lotId]);
    transaction.send(copyUseBy, [input.id, lotId, newId()]);
    transaction.send(copyKept, [input.id, lotId, newId()]);
    transaction.send(copyHold, [input.id, lotId, newId(), transaction.command.key]);
    const labelled = await labelFor(transaction, lotId, input);
    if (!labelled.ok) return labelled;
    const amount = formatDecimal(quantity.value);
    const [code, from] = [formatCode(labelled.value), formatCode((row?.code ?? '') as LabelCode)];
    passOver(transaction, {
      kind: 'split',
      fromLotId: lotId,
      toLotId: input.id,
      placeId: input.placeId,
      quantity: amount,
      reasons: [`split off as ${code}`, `split off ${from}`],
      why: input.why,
    });
    transaction.news('blank-labels');
    await tellOthers(transaction, lotId);
    await tellOthers(transaction, input.id);
    const name = row?.name ?? '';
    return done({
      lot: { id: input.id, code: labelled.value, name },
      words: `${amount} of ${from} are ${code} now: ${name}, the same in all else.`,
    });
  }

  private async decide(transaction: Transaction, thing: LockedThing, input: SplitLot): Promise<Result<null>> {
    const [set, balances, holdings, claims] = await Promise.all([
      transaction.row<{ id: string | null }>(selectSet, [thing.id]),
      whereIs(transaction, thing.id),
      holdingsOf(transaction, thing.id),
      openClaims(transaction, thing.id),
    ]);
    const here = balances.find(({ kind, holderId }) => kind === 'place' && holderId === input.placeId);
    const names = await this.claimants.namesOf(
      transaction,
      claims.map(({ claimantId }) => claimantId),
    );
    return decideSplit({
      kind: thing.kind,
      isMissing: thing.missingSince !== null,
      isOfKeptSet: set?.id != null,
      isKeptForOwner: thing.keptForOwner,
      there:
        here === undefined
          ? null
          : {
              words: holdings.find(({ holderId }) => holderId === input.placeId)?.words ?? 'that place',
              quantity: decimalFrom(here.quantity),
            },
      held: decimalFrom(thing.held),
      awaited: decimalFrom(thing.awaited),
      claimed: decimalFrom(thing.claimed),
      claims: claims.map(({ claimantId, quantity }) => `${quantity} for ${names.get(claimantId) ?? 'a job'}`),
      quantity: decimalFrom(input.quantity),
    });
  }
}

/** A new code, a blank label, or one of several labels that the lot bears: that goes with the goods on which it is. */
async function labelFor(transaction: Transaction, lotId: string, { id, code, why }: SplitLot): Promise<Result<LabelCode>> {
  if (code === null) return done(await giveCode(transaction, 'L', id));
  const live = await liveCodeOf(transaction, code, ['L']);
  if (!live.ok || live.value.subjectId !== lotId) return claimCode(transaction, 'L', id, code);
  if ((await liveCodesOf(transaction, lotId)).length < 2)
    return refused({
      status: 409,
      code: 'last-label',
      title: 'Its only label',
      detail: `${formatCode(live.value.code)} is the only label of the lot, and what stays needs one. Take a blank label for what is split off. Nothing was changed.`,
    });
  await moveCode(transaction, live.value, { subjectId: id, further: false });
  logLabelChange(transaction, { subjectId: id, code: live.value.code, kind: 'went over', fromId: lotId, why });
  return done(live.value.code);
}
