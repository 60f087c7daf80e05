import type { Sale, Sell } from '@corewright/contracts/selling';
import { formatDecimal } from '@corewright/quantities/decimal';
import { type Money, parseMoney, sumMoney } from '@corewright/quantities/money';
import { Injectable } from '@nestjs/common';
import { lockJobForScan } from '../../bench/scan-facts.js';
import { readWorkshop, WorkshopClock } from '../../people/workshop.js';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { BeginAgain } from '../../platform/database/database-failure.js';
import { newId } from '../../platform/new-id.js';
import { badInput, done, invariant, type Result, refused } from '../../platform/refusal.js';
import { logClaimChange } from '../../stores/claim-changes.js';
import { claimLess, move } from '../../stores/ledger.js';
import { linesWorseOff } from '../cover-loss.js';
import { decideSale, type SaleLinePlan } from '../decide-sale.js';
import { goodsToSell, jobsClaiming } from '../goods-to-sell.js';
import { receiptPaper } from '../receipt/receipt-paper.js';
import { saleOf } from '../sale.queries.js';
import { type Buyer, buyerOf } from './buyer.js';
import { jobsCountOnIt, stopped, takesUnsaid } from './sale-refusals.js';
import { saidOf, wordsOf } from './words-of-line.js';

interface PricedPlan extends SaleLinePlan {
  price: Money;
  letGo: string;
}

const selectSale = 'SELECT 1 AS there FROM sales WHERE id = $1';
const lockParts = `
  SELECT id FROM parts
   WHERE id IN (SELECT part_id FROM lots WHERE thing_id = ANY ($1::uuid[]) UNION SELECT part_id FROM components WHERE thing_id = ANY ($1::uuid[]))
   ORDER BY id FOR SHARE`;
const insertSale = `
  INSERT INTO sales (id, command_key, number, sold_on, buyer_id, buyer_words, paid_words, note, currency, total_minor, seller_name, seller_address, tax_words, foot_words, person_id)
  VALUES ($1, $2, 1, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12, $13, $14)`;
const insertLine = `
  INSERT INTO sale_lines (id, sale_id, line_no, thing_id, quantity, unit_of_measure, words, said, price_minor, kept_set_id, let_go_by, let_go_why)
  VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12)`;
const insertMovement = 'INSERT INTO sale_movements (movement_id, sale_line_id) VALUES ($1, $2)';

/** Sells at the counter: all lines or none, on one receipt whose number follows the one before. */
@Injectable()
export class SellHandler {
  constructor(private readonly clock: WorkshopClock) {}

  async handle(transaction: Transaction, input: Sell): Promise<Result<Sale>> {
    if (await transaction.row(selectSale, [input.id]))
      return refused(badInput('id', 'This sale was made already: look at what was sold, and begin another receipt for more.'));
    const planned = await this.plansUnderLock(transaction, input);
    if (!planned.ok) return planned;
    const plans = planned.value;
    const unsaid = takesUnsaid(transaction.command.person, plans, input.takeReason);
    if (unsaid !== null) return refused(unsaid);
    const today = await this.clock.today(transaction);
    const losses = await linesWorseOff(transaction, today, plans);
    const untold = losses.filter(({ lines }) => lines.some(({ lineId }) => !input.told.includes(lineId)));
    if (untold.length > 0) return refused(jobsCountOnIt(untold));
    const buyer = await buyerOf(transaction, input.buyerId);
    if (!buyer.ok) return buyer;
    await this.write(transaction, input, { plans, today, buyer: buyer.value });
    const sale = await saleOf(transaction, input.id);
    invariant(sale, 'a sale that was just made is there');
    return done(sale);
  }

  /** The jobs that have claimed any of it, then the parts, then the things in the order of their ids. */
  private async plansUnderLock(transaction: Transaction, input: Sell): Promise<Result<PricedPlan[]>> {
    const ids = input.lines.map(({ thingId }) => thingId);
    const jobIds = await jobsClaiming(transaction, ids);
    for (const id of jobIds) await lockJobForScan(transaction, id);
    await transaction.rows(lockParts, [ids]);
    const goods = await goodsToSell(transaction, ids, true);
    const unlocked = goods.some(({ claimants }) => claimants.some(({ id }) => !jobIds.includes(id)));
    if (unlocked) throw new BeginAgain();
    const missing = input.lines.findIndex(({ thingId }) => goods.every(({ thing }) => thing.id !== thingId));
    if (missing !== -1) return refused(badInput(`lines.${missing}.thingId`, 'That label is not in the books. Scan it again.'));
    const currency = await currencyOf(transaction);
    const prices: Money[] = [];
    for (const [index, line] of input.lines.entries()) {
      const price = parseMoney(line.price, currency);
      if (!price.ok) return refused(badInput(`lines.${index}.price`, price.error.sentence));
      prices.push(price.value);
    }
    const plans = decideSale(input.lines, goods, await this.clock.today(transaction));
    const priced = plans.map((plan, index) => ({
      ...plan,
      price: prices[index] as Money,
      letGo: input.lines[index]?.letGo ?? '',
    }));
    const refusal = stopped(transaction.command.person, priced);
    return refusal === null ? done(priced) : refused(refusal);
  }

  private async write(
    transaction: Transaction,
    input: Sell,
    { plans, today, buyer }: { plans: readonly PricedPlan[]; today: string; buyer: Buyer },
  ): Promise<void> {
    const moved = plans.map((plan) => ({ plan, movementIds: moveOut(transaction, plan, buyer.holderId, input.takeReason) }));
    const workshop = await readWorkshop(transaction);
    invariant(workshop, 'a workshop was set up before it sold anything');
    const paper = await receiptPaper(transaction);
    const { key, person } = transaction.command;
    transaction.send(insertSale, [
      input.id,
      key,
      today,
      buyer.firm?.id ?? null,
      input.buyer,
      input.paid,
      input.note,
      workshop.currency,
      sumMoney(plans.map(({ price }) => price)).toString(),
      workshop.name,
      paper.address,
      paper.taxWords,
      paper.footWords,
      person.id,
    ]);
    for (const [index, { plan, movementIds }] of moved.entries()) {
      const lineId = newId();
      const isLetGo = plan.stops.length > 0;
      transaction.send(insertLine, [
        lineId,
        input.id,
        index + 1,
        plan.goods.thing.id,
        formatDecimal(plan.quantity),
        plan.goods.thing.unitOfMeasure,
        wordsOf(plan),
        saidOf(plan),
        plan.price.toString(),
        plan.goods.thing.keptSetId,
        isLetGo ? person.id : null,
        isLetGo ? plan.letGo : '',
      ]);
      for (const movementId of movementIds) transaction.send(insertMovement, [movementId, lineId]);
    }
    transaction.news('sales', 'stores', 'today');
  }
}

/** Gives up what is taken of reservations, then moves what is sold to the buyer. @returns the ids of the movements */
function moveOut(transaction: Transaction, { goods, moves, takes }: SaleLinePlan, toHolderId: string, reason: string): string[] {
  const thingId = goods.thing.id;
  for (const { claimId, lineId, job, quantity } of takes) {
    const amount = formatDecimal(quantity);
    claimLess(transaction, claimId, amount);
    logClaimChange(transaction, {
      on: { thingId },
      jobId: job.id,
      lineId,
      quantity: `-${amount}`,
      kind: 'released',
      reason: `Sold at the counter: ${reason}`,
    });
    transaction.news(`job:${job.id}`, 'jobs');
  }
  return moves.map(({ fromHolderId, quantity }) =>
    move(transaction, { thingId, quantity: formatDecimal(quantity), fromHolderId, toHolderId, reason: 'sold at the counter' }),
  );
}

async function currencyOf(transaction: Transaction): Promise<string> {
  const workshop = await readWorkshop(transaction);
  invariant(workshop, 'a workshop was set up before it sold anything');
  return workshop.currency;
}
