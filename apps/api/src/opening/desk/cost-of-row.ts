import type { CostSaid } from '@corewright/contracts/opening-stock';
import { type Money, noMoney, parseMoney, subtractMoney } from '@corewright/quantities/money';
import { Injectable } from '@nestjs/common';
import { oursOf } from '../../people/workshop.js';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { badInput, done, type Result, refused } from '../../platform/refusal.js';
import { PassOn } from '../../stores/costs/pass-on/pass-on.js';
import { writeOpeningCost } from '../../stores/costs/value-ledger.js';
import type { OpeningRowState } from '../row-state.js';

const updateCost = 'UPDATE opening_rows SET cost_standing = $2, cost_minor = $3 WHERE thing_id = $1';

const entryWords = { figure: 'a figure, said of opening stock', estimate: 'an estimate, said of opening stock' } as const;

/**
 * What somebody says later that all of a row cost. It goes into the value ledger of the very thing, so that whatever was fitted or sold of it meanwhile
 * bears its part.
 */
@Injectable()
export class CostOfRow {
  constructor(private readonly passOn: PassOn) {}

  async say(transaction: Transaction, state: OpeningRowState, { standing, amount }: CostSaid): Promise<Result<null>> {
    if (standing === 'unknown') return this.unknown(transaction, state);
    if (state.thing.ownerId !== null)
      return refused(badInput('cost.amount', 'It is a customer’s, so it is no cost of ours. Leave the cost empty.'));
    const currency = await oursOf(transaction);
    const read = parseMoney(amount, currency);
    if (!read.ok) return refused(badInput('cost.amount', read.error.sentence));
    await this.write(transaction, state, { standing, amount: read.value, currency, why: entryWords[standing] });
    return done(null);
  }

  /** What was said of a row that is struck out is taken back by an entry. */
  async takeBack(transaction: Transaction, state: OpeningRowState, why: string): Promise<void> {
    if (state.costMinor === null) return;
    await this.write(transaction, state, { standing: 'figure', amount: noMoney, currency: await oursOf(transaction), why });
  }

  /** What stands in the ledger is not forgotten: a figure is put right by another. */
  private async unknown(transaction: Transaction, { id, costMinor }: OpeningRowState): Promise<Result<null>> {
    if (costMinor !== null)
      return refused(
        badInput(
          'cost.standing',
          'Somebody has said what it cost, and that stays on the record. Put it right with another figure or an estimate.',
        ),
      );
    await transaction.rows(updateCost, [id, 'unknown', null]);
    return done(null);
  }

  private async write(
    transaction: Transaction,
    { id, costMinor, thing }: OpeningRowState,
    { standing, amount, currency, why }: { standing: 'figure' | 'estimate'; amount: Money; currency: string; why: string },
  ): Promise<void> {
    await transaction.rows(updateCost, [id, standing, amount.toString()]);
    const change = costMinor === null ? amount : subtractMoney(amount, BigInt(costMinor) as Money);
    await writeOpeningCost(transaction, { currency, why }, { thingId: id, amount: change });
    if (thing.kind !== 'L') await this.passOn.anew(transaction, id, 'its cost was said anew');
  }
}
