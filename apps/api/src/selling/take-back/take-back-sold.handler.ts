import type { Sale, TakeBackSold } from '@corewright/contracts/selling';
import { compareDecimals, decimalFrom, formatDecimal, subtractDecimals } from '@corewright/quantities/decimal';
import { formatMoney, type Money, parseMoney, subtractMoney } from '@corewright/quantities/money';
import { checkQuantity, type UnitOfMeasure } from '@corewright/quantities/unit-of-measure';
import { Injectable } from '@nestjs/common';
import { WorkshopClock } from '../../people/workshop.js';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { badInput, done, invariant, notFound, type Result, refused } from '../../platform/refusal.js';
import { lockOf, move } from '../../stores/ledger.js';
import { placeForGoods } from '../../stores/place-for-goods.js';
import { outAgain } from '../../stores/take-off/out-again.js';
import { saleOf } from '../sale.queries.js';

interface SoldLine extends Record<string, unknown> {
  id: string;
  saleId: string;
  thingId: string;
  kind: string;
  unitOfMeasure: UnitOfMeasure;
  currency: string;
  quantity: string;
  back: string;
  price: string;
  givenBack: string;
}

interface Out extends Record<string, unknown> {
  id: string;
  quantity: string;
  fromHolderId: string;
  toHolderId: string;
}

const selectLine = `
  SELECT sale_lines.id, sale_id AS "saleId", thing_id AS "thingId", things.kind, unit_of_measure AS "unitOfMeasure", currency, quantity, price_minor::text AS price,
         coalesce((SELECT sum(quantity) FROM sale_returns WHERE sale_line_id = sale_lines.id), 0) AS back,
         coalesce((SELECT sum(given_back_minor) FROM sale_returns WHERE sale_line_id = sale_lines.id), 0)::text AS "givenBack"
    FROM sale_lines JOIN sales ON sales.id = sale_id JOIN things ON things.id = thing_id WHERE sale_lines.id = $1 AND sale_id = $2`;
const selectOut = `
  SELECT movements.id, quantity, from_holder_id AS "fromHolderId", to_holder_id AS "toHolderId"
    FROM sale_movements JOIN movements ON movements.id = movement_id WHERE sale_line_id = $1 ORDER BY sequence`;
const insertReturn = `
  INSERT INTO sale_returns (id, command_key, sale_line_id, quantity, returned_on, why, money_words, given_back_minor, fitted, new_lot_id, person_id)
  VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11)`;

/** What was sold comes back, or so many of it: never more than was sold, and no new part where it was fitted meanwhile. */
@Injectable()
export class TakeBackSoldHandler {
  constructor(private readonly clock: WorkshopClock) {}

  async handle(transaction: Transaction, saleId: string, input: TakeBackSold): Promise<Result<Sale>> {
    const first = await transaction.row<SoldLine>(selectLine, [input.lineId, saleId]);
    if (first === null) return refused(notFound('That line of a receipt'));
    await lockOf(transaction, first.thingId);
    const line = await transaction.row<SoldLine>(selectLine, [input.lineId, saleId]);
    invariant(line, 'a line of a receipt stays');
    const asked = amountsOf(line, input);
    if (!asked.ok) return asked;
    const mayLie = await placeForGoods(transaction, input.placeId);
    if (!mayLie.ok) return mayLie;
    if (input.fitted && line.kind === 'L' && input.newLotId === null)
      return refused(badInput('newLotId', 'What was fitted comes back as a lot of its own: it needs an id.'));
    await this.moveBack(transaction, line, { ...input, quantity: asked.value.quantity });
    transaction.send(insertReturn, [
      input.id,
      transaction.command.key,
      line.id,
      asked.value.quantity,
      await this.clock.today(transaction),
      input.why,
      input.money,
      asked.value.givenBack.toString(),
      input.fitted,
      input.fitted && line.kind === 'L' ? input.newLotId : null,
      transaction.command.person.id,
    ]);
    transaction.news('sales', `thing:${line.thingId}`, 'stores', 'today');
    const sale = await saleOf(transaction, saleId);
    invariant(sale, 'a sale stays');
    return done(sale);
  }

  /** A reversal where all of a movement comes back at once; else a movement of its own. */
  private async moveBack(transaction: Transaction, line: SoldLine, input: TakeBackSold): Promise<void> {
    const out = await transaction.rows<Out>(selectOut, [line.id]);
    const [first] = out;
    invariant(first, 'what was sold was moved');
    const { thingId } = line;
    if (input.fitted && line.kind === 'L' && input.newLotId !== null) {
      await outAgain(transaction, {
        thingId,
        unitId: first.toHolderId,
        newLotId: input.newLotId,
        ownerId: null,
        quantity: input.quantity,
        toHolderId: input.placeId,
        why: `sold and taken back, ${input.why}`,
      });
      transaction.news(`thing:${input.newLotId}`);
      return;
    }
    const step = { thingId, fromHolderId: first.toHolderId, toHolderId: input.placeId, reason: 'taken back from a buyer' };
    const isAll = compareDecimals(decimalFrom(input.quantity), decimalFrom(line.quantity)) === 0;
    if (isAll) for (const { id, quantity } of out) move(transaction, { ...step, quantity, reversesId: id });
    else move(transaction, { ...step, quantity: input.quantity });
  }
}

function amountsOf(line: SoldLine, input: TakeBackSold): Result<{ quantity: string; givenBack: Money }> {
  const left = subtractDecimals(decimalFrom(line.quantity), decimalFrom(line.back));
  const quantity = checkQuantity(input.quantity, line.unitOfMeasure);
  if (!quantity.ok) return refused(badInput('quantity', quantity.error.sentence));
  if (compareDecimals(quantity.value, left) > 0)
    return refused({
      status: 409,
      code: 'more-than-sold',
      title: 'More than was sold',
      detail: `${formatDecimal(left)} of this line ${left === decimalFrom('1') ? 'is' : 'are'} still with the buyer. Key no more than that. Nothing was changed.`,
    });
  const givenBack = parseMoney(input.givenBack, line.currency);
  if (!givenBack.ok) return refused(badInput('givenBack', givenBack.error.sentence));
  const paid = subtractMoney(BigInt(line.price) as Money, BigInt(line.givenBack) as Money);
  if (givenBack.value > paid)
    return refused(
      badInput(
        'givenBack',
        `${formatMoney(paid, line.currency)} of this line were paid and not given back. Key no more than that.`,
      ),
    );
  return done({ quantity: formatDecimal(quantity.value), givenBack: givenBack.value });
}
