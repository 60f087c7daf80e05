import type { SaleCosts, SaleTotals, TotalsQuery } from '@corewright/contracts/selling';
import { type Decimal, decimalFrom, sumDecimals } from '@corewright/quantities/decimal';
import { addMoney, formatMoney, type Money, noMoney, subtractMoney } from '@corewright/quantities/money';
import { oursOf } from '../../people/workshop.js';
import type { Reader } from '../../platform/database/database.js';
import { costOf } from '../../stores/costs/thing-cost.queries.js';
import { costsOfSold } from './cost-of-sold.js';

/** A line of a receipt with what it brought and how many of it are sold for good. */
interface SoldLine extends Record<string, unknown> {
  id: string;
  saleId: string;
  thingId: string;
  on: string;
  sold: string;
  price: string;
  givenBack: string;
}

const columns = `
  SELECT sale_lines.id, sale_id AS "saleId", thing_id AS "thingId", sold_on AS on, price_minor::text AS price,
         (quantity - coalesce((SELECT sum(quantity) FROM sale_returns WHERE sale_line_id = sale_lines.id), 0))::text AS sold,
         coalesce((SELECT sum(given_back_minor) FROM sale_returns WHERE sale_line_id = sale_lines.id), 0)::text AS "givenBack"
    FROM sale_lines JOIN sales ON sales.id = sale_id`;
const selectOfThings = `${columns} WHERE thing_id = ANY ($1::uuid[]) ORDER BY number, line_no`;
const selectOfSale = `${columns} WHERE sale_id = $1 ORDER BY line_no`;
const selectBetween = `
  ${columns} WHERE ($1::date IS NULL OR sold_on >= $1) AND ($2::date IS NULL OR sold_on <= $2) ORDER BY number, line_no`;

/** What each line of a sale cost and brought. */
export async function costsOfSale(reader: Reader, saleId: string): Promise<SaleCosts> {
  const [currency, lines] = await Promise.all([oursOf(reader), reader.rows<SoldLine>(selectOfSale, [saleId])]);
  const costs = await costsOfLines(reader, lines);
  return {
    currency,
    lines: lines.map((line) => {
      const cost = costs.get(line.id) ?? null;
      return {
        lineId: line.id,
        cost: cost === null ? null : formatMoney(cost, currency),
        margin: cost === null ? null : formatMoney(subtractMoney(broughtBy(line), cost), currency),
      };
    }),
  };
}

interface Sum {
  receipts: Set<string>;
  sold: Money;
  givenBack: Money;
  cost: Money;
  margin: Money;
  unknownCosts: number;
}

/** Sums of days or months by the day of the sale, the newest first; what came back is taken off where it was sold. */
export async function totalsOf(reader: Reader, { by, from, to }: TotalsQuery): Promise<SaleTotals> {
  const [currency, lines] = await Promise.all([oursOf(reader), reader.rows<SoldLine>(selectBetween, [from ?? null, to ?? null])]);
  const costs = await costsOfLines(reader, lines);
  const sums = new Map<string, Sum>();
  for (const line of lines) {
    const period = by === 'month' ? line.on.slice(0, 7) : line.on;
    const sum = sums.get(period) ?? none();
    sums.set(period, withLine(sum, line, costs.get(line.id) ?? null));
  }
  const totals = [...sums]
    .toSorted(([one], [other]) => (one < other ? 1 : -1))
    .map(([period, sum]) => shown(period, sum, currency));
  return { currency, totals };
}

function none(): Sum {
  return { receipts: new Set(), sold: noMoney, givenBack: noMoney, cost: noMoney, margin: noMoney, unknownCosts: 0 };
}

function withLine(sum: Sum, line: SoldLine, cost: Money | null): Sum {
  return {
    receipts: sum.receipts.add(line.saleId),
    sold: addMoney(sum.sold, BigInt(line.price) as Money),
    givenBack: addMoney(sum.givenBack, BigInt(line.givenBack) as Money),
    cost: cost === null ? sum.cost : addMoney(sum.cost, cost),
    margin: cost === null ? sum.margin : addMoney(sum.margin, subtractMoney(broughtBy(line), cost)),
    unknownCosts: sum.unknownCosts + (cost === null ? 1 : 0),
  };
}

function shown(period: string, { receipts, unknownCosts, sold, givenBack, cost, margin }: Sum, currency: string) {
  const amount = (money: Money) => formatMoney(money, currency);
  return {
    period,
    receipts: receipts.size,
    sold: amount(sold),
    givenBack: amount(givenBack),
    cost: amount(cost),
    margin: amount(margin),
    unknownCosts,
  };
}

function broughtBy({ price, givenBack }: SoldLine): Money {
  return subtractMoney(BigInt(price) as Money, BigInt(givenBack) as Money);
}

/** By the line; lines of unknown cost are left out: unknown is not nought. */
async function costsOfLines(reader: Reader, lines: readonly SoldLine[]): Promise<ReadonlyMap<string, Money>> {
  const thingIds = [...new Set(lines.map(({ thingId }) => thingId))];
  const all = await reader.rows<SoldLine>(selectOfThings, [thingIds]);
  const costs = new Map<string, Money>();
  for (const thingId of thingIds) {
    const { amount, parts } = await costOf(reader, thingId);
    if (amount === null) continue;
    const whole = sumDecimals(parts.map(({ quantity }) => quantity));
    const ofThing = all.filter((line) => line.thingId === thingId);
    const sold: Decimal[] = ofThing.map((line) => decimalFrom(line.sold));
    for (const [index, cost] of costsOfSold(amount, whole, sold).entries()) costs.set(ofThing[index]?.id ?? '', cost);
  }
  return costs;
}
