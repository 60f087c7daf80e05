import type { ToBuy } from '@corewright/contracts/consumables';
import type { TodayItem } from '@corewright/contracts/today';

const namedMax = 3;

/** What is below its minimum, and containers past their use-by date: one row for all of each; the lists have which. */
export function consumableItems({ suppliers, pastUseBy }: ToBuy): TodayItem[] {
  const items: TodayItem[] = [];
  if (pastUseBy.length > 0)
    items.push({
      id: 'past-use-by',
      section: 'stores',
      tag: null,
      title: `${pastUseBy.length} ${pastUseBy.length === 1 ? 'container is' : 'containers are'} past use-by`,
      reason: `${named(pastUseBy.map(({ thing, open }) => `${thing.name}${open ? ', open' : ''}`))}. A use of any goes over somebody’s name; or say that it was thrown away.`,
      action: { words: 'Look at them', path: '/stores/consumables' },
    });
  const rows = suppliers.flatMap((supplier) => supplier.rows);
  if (rows.length > 0)
    items.push({
      id: 'to-buy',
      section: 'stores',
      tag: null,
      title: `${rows.length} ${rows.length === 1 ? 'part is' : 'parts are'} below the minimum`,
      reason: `${named(rows.map(({ part, buy }) => `${buy} of ${part.name}`))}. What is on order is counted.`,
      action: { words: 'To the list to buy', path: '/stores/to-buy' },
    });
  return items;
}

function named(names: readonly string[]): string {
  const rest = names.length - namedMax;
  return `${names.slice(0, namedMax).join('; ')}${rest > 0 ? `; and ${rest} more` : ''}`;
}
