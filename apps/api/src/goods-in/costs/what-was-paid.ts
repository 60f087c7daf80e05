import type { CostPart, EditLoadCost } from '@corewright/contracts/costs';
import { convertMoney, formatMoney, type Money, noMoney, parseMoney, parseRate, sumMoney } from '@corewright/quantities/money';
import { badInput, done, invariant, type Result, refused } from '../../platform/refusal.js';

/** What was paid for a load, in the currency in which it was paid; null is not known. */
export interface Paid {
  price: Money | null;
  haulage: Money | null;
  fees: Money | null;
  currency: string;
  /** what one unit of the currency came to in ours, as it was keyed; empty where it is ours */
  rate: string;
}

export interface CostOfLoad {
  /** null while the price is not known: haulage alone is no cost of what was bought */
  paid: Money | null;
  /** the same in the workshop's currency: converted once, so that it is rounded once */
  cost: Money | null;
  notKnown: CostPart[];
}

const parts = ['price', 'haulage', 'fees'] as const;
/** What a load came to by what is known of it, and what is not. */
export function costOfLoad(paid: Paid, ours: string): CostOfLoad {
  const notKnown = parts.filter((part) => paid[part] === null);
  if (paid.price === null) return { paid: null, cost: null, notKnown };
  const sum = sumMoney(parts.map((part) => paid[part] ?? noMoney));
  return { paid: sum, cost: inOurs(sum, paid, ours), notKnown };
}

function inOurs(amount: Money, { currency, rate }: Paid, ours: string): Money {
  if (currency === ours) return amount;
  const read = parseRate(rate);
  invariant(read.ok, 'a load paid for in another currency has its rate');
  return convertMoney(amount, currency, ours, read.value);
}

/** Reads what was keyed of what was paid; refused with the field and what to key instead. */
export function decidePaid(keyed: EditLoadCost, ours: string): Result<Paid> {
  const { currency } = keyed;
  const read: Partial<Record<CostPart, Money | null>> = {};
  for (const part of parts) {
    const amount = amountOf(keyed[part], part, currency);
    if (!amount.ok) return amount;
    read[part] = amount.value;
  }
  const rate = rateOf(keyed, ours);
  if (!rate.ok) return rate;
  const paid = { price: read.price ?? null, haulage: read.haulage ?? null, fees: read.fees ?? null, currency, rate: rate.value };
  const { cost } = costOfLoad(paid, ours);
  if (cost !== null && (cost === noMoney || !isKeyable(cost, ours)))
    return refused(
      badInput(
        currency === ours ? 'price' : 'rate',
        `It came to ${formatMoney(cost, ours)} ${ours}, which cannot be. Look at the figures again.`,
      ),
    );
  return done(paid);
}

/** What a person could not key as an amount is more than anybody paid. */
function isKeyable(amount: Money, currency: string): boolean {
  return parseMoney(formatMoney(amount, currency), currency).ok;
}

/** Empty is not known. A price of nought is none: who was given it keys the haulage with what they paid for that as the price. */
function amountOf(keyed: string, part: CostPart, currency: string): Result<Money | null> {
  if (keyed === '') return done(null);
  const amount = parseMoney(keyed, currency);
  if (!amount.ok) return refused(badInput(part, amount.error.sentence));
  if (part === 'price' && amount.value === noMoney)
    return refused(
      badInput('price', 'A price of nought is no price. Key what was paid, or leave it empty while nobody knows it.'),
    );
  return done(amount.value);
}

function rateOf({ currency, rate }: EditLoadCost, ours: string): Result<string> {
  if (currency === ours)
    return rate === ''
      ? done('')
      : refused(
          badInput('rate', `It was paid in ${ours}, which is ours: there is no rate. Leave it empty, or key the currency.`),
        );
  if (rate === '')
    return refused(
      badInput('rate', `It was paid in ${currency}. Key the rate that was paid: what 1 ${currency} came to in ${ours}.`),
    );
  const read = parseRate(rate);
  return read.ok ? done(rate) : refused(badInput('rate', read.error.sentence));
}
