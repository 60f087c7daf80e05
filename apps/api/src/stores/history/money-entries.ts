import { formatMoney, type Money } from '@corewright/quantities/money';
import { type Entries, entriesBy } from './history-registry.js';

const amount = /([A-Z]{3}) (-?\d+)$/;

/**
 * Entries that say an amount. It goes along as minor units and currency, and is put into words afterwards: the database does not know how many places a currency has.
 * @param text as of `entriesBy`; each title ends in the currency and the minor units, such as "Cost GBP 1250"
 */
export function moneyEntriesBy(text: string): Entries {
  const entries = entriesBy(text);
  return async (reader, asked) => (await entries(reader, asked)).map((row) => ({ ...row, title: inMajorUnits(row.title) }));
}

function inMajorUnits(title: string): string {
  return title.replace(
    amount,
    (_, currency: string, minor: string) => `${formatMoney(BigInt(minor) as Money, currency)} ${currency}`,
  );
}
