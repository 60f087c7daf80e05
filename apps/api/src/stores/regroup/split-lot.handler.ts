import { formatCode, type LabelCode } from '@corewright/codes/label-code';
import type { LotRegrouped, SplitLot } from '@corewright/contracts/regrouping';
import { decimalFrom, formatDecimal } from '@corewright/quantities/decimal';
import { checkQuantity } from '@corewright/quantities/unit-of-measure';
import { Injectable } from '@nestjs/common';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { badInput, done, notFound, type Result, refused } from '../../platform/refusal.js';
import { boundSetOf } from '../kept-sets/kept-set.queries.js';
import { ClaimantNames } from '../later-names.js';
import { type LockedThing, lockOf, whereIs } from '../ledger.js';
import { tellOthers } from '../tell-others.js';
import { holdingsOf, openClaims, thingRow } from '../thing.queries.js';
import { decideSplit } from './decide-split.js';
import { splitOff } from './split-off.js';

const thingIsThere = 'SELECT 1 AS there FROM things WHERE id = $1';
const selectSet = `SELECT ${boundSetOf('$1')} AS id`;

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
    const amount = formatDecimal(quantity.value);
    const { placeId, why, code: label } = input;
    const labelled = await splitOff(transaction, { fromLotId: lotId, toLotId: input.id, placeId, quantity: amount, label, why });
    if (!labelled.ok) return labelled;
    const [code, from] = [formatCode(labelled.value), formatCode((row?.code ?? '') as LabelCode)];
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
